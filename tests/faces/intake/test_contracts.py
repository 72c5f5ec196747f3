from datetime import date
from decimal import Decimal

import pytest

from floorcare.ground.trade.contract import Exclusion, FeeKind, FeeLine, RenewalKind
from floorcare.ground.trade.treatment import Work

NOTICE_MEND = "write the days of the clause; 60 is the usual public default (FAR 52.217-9)"


def test_a_contract_carries_its_terms_fees_and_exclusions(full):
    full.change("terms.csv", "automatic,", "automatic,2030-12-31")
    full.add("fees.csv", "K-1,2025-01-01,by result,10")
    (contract,) = full.right().contracts
    assert (contract.code, contract.customer, contract.currency) == ("K-1", "HARBOUR", "EUR")
    (term,) = contract.terms
    assert (term.our_notice_days, term.their_notice_days) == (90, 60)
    assert (term.renewal, term.cap_on) == (RenewalKind.AUTOMATIC, date(2030, 12, 31))
    assert term.their_notice_on == date(2027, 11, 1)
    assert [fee.kind for fee in term.fees] == [FeeKind.BY_RESULT, FeeKind.MONTHLY]
    assert contract.exclusions == (
        Exclusion(
            site="MARKET",
            zone="",
            from_on=date(2026, 5, 4),
            to_on=date(2026, 5, 8),
            cause="burst pipe",
        ),
    )


def test_an_amount_is_read_to_the_last_decimal(full):
    full.write(
        "fees.csv",
        "contract;starts_on;kind;amount;site;work\n"
        "K-1;2025-01-01;monthly;1.234,50;MARKET;\n"
        "K-1;2025-01-01;per work;0,1;;recoating\n",
    )
    assert full.right().contracts[0].terms[0].fees == (
        FeeLine(kind=FeeKind.MONTHLY, amount=Decimal("1234.50"), site="MARKET"),
        FeeLine(kind=FeeKind.PER_WORK, amount=Decimal("0.1"), work=Work.RECOAT),
    )


@pytest.mark.parametrize("column", ["our_notice_days", "their_notice_days"])
def test_notice_days_are_never_guessed(full, column):
    full.change("terms.csv", "90,60", ",60" if column == "our_notice_days" else "90,")
    finding = full.one()
    assert (finding.file, finding.row, finding.column) == ("terms.csv", 2, column)
    assert finding.weight == "stops"
    assert finding.mend == NOTICE_MEND


def test_a_missing_column_of_notice_days_says_what_to_write(full):
    full.change("terms.csv", "their_notice_days", "notes")
    stops = [finding for finding in full.findings() if finding.weight == "stops"]
    (finding,) = [each for each in stops if each.column == "their_notice_days"]
    assert finding.mend == f'add a column "their_notice_days" and {NOTICE_MEND}'


def test_terms_of_one_contract_may_not_overlap(full):
    full.add("terms.csv", "K-1,2027-12-31,2028-12-31,90,60,option,")
    finding = full.one()
    assert (finding.file, finding.row, finding.column) == ("terms.csv", 3, "starts_on")
    assert finding.problem == "two terms of one contract overlap; the other is row 2"
    assert finding.mend == "let one term end the day before the next starts"


def test_terms_that_follow_each_other_and_those_of_another_contract_are_no_clash(full):
    full.add("contracts.csv", "K-2,HARBOUR,Market glass,EUR")
    full.add(
        "terms.csv",
        "K-1,2028-01-01,2028-12-31,90,60,tender,",
        "K-2,2025-01-01,2026-12-31,30,30,rolling,",
    )
    assert [len(contract.terms) for contract in full.right().contracts] == [2, 1]


@pytest.mark.parametrize(
    ("name", "old", "new", "column", "mend"),
    [
        ("terms.csv", "2027-12-31", "2024-12-31", "ends_on", "correct one of the two dates"),
        ("terms.csv", "automatic,", "automatic,2027-06-30", "cap_on", "correct one of the two"),
        ("terms.csv", "K-1", "K1", "contract", 'write "K-1" if that is meant'),
        ("terms.csv", "automatic", "automatik", "renewal", 'write "automatic" if that is meant'),
        ("terms.csv", "90,60", "900,60", "our_notice_days", "was a decimal point lost? Write 90"),
        ("contracts.csv", "HARBOUR", "HARBOR", "customer", 'write "HARBOUR" if that is meant'),
        ("contracts.csv", "EUR", "EURO", "currency", "write such as USD or EUR"),
        ("contracts.csv", "EUR", "€", "currency", "write such as USD or EUR"),
        ("fees.csv", "K-1", "K-7", "contract", 'write "K-1" if that is meant'),
        ("fees.csv", "2025-01-01", "2025-02-01", "starts_on", "write the first day of one of its"),
        ("fees.csv", "1450", "-1450", "amount", "correct the sign"),
        ("fees.csv", "1450", "1450.00001", "amount", "round it"),
        ("fees.csv", "1450", "1450 EUR", "amount", "write the number alone, without a unit"),
        ("fees.csv", "fixed monthly", "per work", "work", "name the treatment that is paid"),
        ("exclusions.csv", "MARKET", "MARKT", "site", 'write "MARKET" if that is meant'),
        ("exclusions.csv", "2026-05-08", "2026-05-03", "to_on", "correct one of the two dates"),
    ],
)
def test_what_cannot_be_of_a_contract_is_a_finding_with_its_mend(
    full, name, old, new, column, mend
):
    full.change(name, old, new)
    finding = next(each for each in full.findings() if each.file == name)
    assert (finding.row, finding.column, finding.weight) == (2, column, "stops")
    assert finding.mend.startswith(mend)


def test_a_fee_names_the_terms_there_are(full):
    full.change("fees.csv", "2025-01-01", "2025-02-01")
    assert full.one().allowed == "2025-01-01"
    full.drop("terms.csv")
    mends = [each.mend for each in full.findings() if each.file == "fees.csv"]
    assert mends == ["add the term first"]


def test_work_belongs_to_a_fee_per_work_alone(full):
    full.write(
        "fees.csv", "contract,starts_on,kind,amount,work\nK-1,2025-01-01,per visit,80,burnish\n"
    )
    finding = full.one()
    assert (finding.column, finding.value, finding.mend) == ("work", "burnish", "leave it empty")


def test_an_exclusion_may_name_a_zone_and_its_evidence(full):
    heading = "contract,site,from_on,to_on,cause,zone,evidence\n"
    row = "K-1,MARKET,2026-05-04,2026-05-08,flood,{},photos\n"
    full.write("exclusions.csv", heading + row.format("LANE"))
    (exclusion,) = full.right().contracts[0].exclusions
    assert (exclusion.zone, exclusion.evidence) == ("LANE", "photos")
    full.write("exclusions.csv", heading + row.format("LANES"))
    assert full.one().mend == 'write "LANE" if that is meant'


def test_a_site_of_another_customer_is_asked_about(full):
    full.add("customers.csv", "COLLEGE,The College")
    full.change("contracts.csv", "HARBOUR", "COLLEGE")
    finding = full.one()
    assert (finding.file, finding.weight) == ("exclusions.csv", "asks")
    assert finding.problem == "the site belongs to customer HARBOUR, the contract to COLLEGE"


def test_a_promise_that_no_term_covers_is_asked_about(full):
    full.change("terms.csv", "2027-12-31", "2026-12-31")
    finding = full.one()
    assert (finding.file, finding.column, finding.weight) == ("promises.csv", "contract", "asks")
    assert finding.problem == (
        "no term of K-1 in terms.csv covers the promise from 2025-01-01 to 2027-12-31"
    )
    assert finding.mend == "add the term, or correct the promise's dates"


def test_a_promise_may_run_over_terms_that_follow_each_other(full):
    full.change("terms.csv", "2027-12-31", "2026-06-30")
    text = (full.path / "terms.csv").read_text(encoding="utf-8")
    full.write("terms.csv", text + "K-1,2026-07-01,2028-06-30,90,60,option,\n")
    assert len(full.right().contracts[0].terms) == 2


def test_a_promise_of_a_contract_that_contracts_csv_does_not_name_is_asked_about(full):
    full.change("promises.csv", "K-1", "K-10")
    finding = full.one()
    assert (finding.column, finding.value, finding.weight) == ("contract", "K-10", "asks")
    assert finding.mend == 'write "K-1" if that is meant'


def test_without_contracts_csv_a_contract_is_only_its_code(folder):
    assert folder.right().contracts == ()
