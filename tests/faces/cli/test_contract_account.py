from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path

import pytest

from floorcare.faces.cli.contract_account import (
    MOST_NIGHTS,
    contract_history,
    contract_list,
    fee_words,
    money,
    standing_words,
)
from floorcare.ground.contracts.history import RowKind
from floorcare.ground.contracts.promised import PromiseStanding
from floorcare.ground.contracts.terms import TermState
from floorcare.ground.trade.contract import FeeKind, FeeLine
from floorcare.ground.trade.treatment import Work
from floorcare.services.show_contracts import ContractList
from tests.golden.contract_sheets import HISTORY, LISTED, LOOSE, ON, TERM, lane


def listed(*terms) -> list[str]:
    return contract_list(ContractList(on=ON, terms=terms)).splitlines()


def told(*paths: Path, **changes) -> list[str]:
    return contract_history(replace(HISTORY, **changes), paths).splitlines()


@pytest.mark.parametrize(
    ("amount", "said"),
    [
        ("1850.00", "1,850.00 EUR"),
        ("0.125", "0.125 EUR"),
        ("410.5", "410.5 EUR"),
        ("1E+3", "1,000 EUR"),
        ("1234567890123456789.01", "1,234,567,890,123,456,789.01 EUR"),
    ],
)
def test_money_is_said_to_the_digit(amount, said):
    assert money(Decimal(amount), "EUR") == said


def test_a_fee_says_what_it_is_paid_for():
    visit = FeeLine(kind=FeeKind.PER_VISIT, amount=Decimal("95.00"), site="HALL")
    assert fee_words(visit, "USD") == "95.00 USD per visit at HALL"


def test_the_list_answers_in_its_first_line():
    assert contract_list(LISTED).splitlines()[0] == (
        "1 contract; 1 notice date within 90 days; 1 zone below promise today; 1 code without a "
        "contract or terms entered."
    )
    assert listed() == ["No contracts are entered, and no promises name one."]


def test_a_term_stands_with_notice_fees_and_promise_in_columns():
    assert listed(TERM)[2:7] == [
        "  K-7  Eastholm Markets, Care of the market floors",
        "    term     1 January 2025 to 31 December 2026, in force; renews by itself, to 31 "
        "December 2028, unless notice is given",
        "    notice   theirs by Fri 01 May 2026 (in 60 days); ours by Sun 01 Nov 2026 (in 244 "
        "days)",
        "    fees     1,850.00 EUR fixed monthly; 0.125 EUR per recoat at MARKET",
        "    promise  2 zones: 1 below promise, 1 guarded for slip; 2 measured",
    ]
    assert listed(TERM)[-1] == "Next: floorcare contracts K-7"


@pytest.mark.parametrize(
    ("days", "said"),
    [(-1, "(passed 1 day ago)"), (0, "(today)"), (1, "(in 1 day)"), (90, "(in 90 days)")],
)
def test_days_to_a_notice_date_are_said_and_counted_up_to_90(days, said):
    term = replace(
        TERM, our_notice_on=ON + timedelta(days=days), our_notice_in=days, their_notice_in=500
    )
    lines = listed(term)
    assert said in lines[4]
    assert f"; {'no' if days < 0 else '1'} notice date within 90 days" in lines[0]


def test_a_term_to_come_says_its_zones_and_nothing_of_today():
    lines = listed(replace(TERM, state=TermState.NEXT, standing=None))
    assert lines[-3] == "    promise  2 zones"
    assert "no zone below promise today" in lines[0]


def test_a_contract_nobody_entered_says_so():
    lines = listed(LOOSE)
    assert (
        lines[3] == "    no contract entered; promises 1 January 2025 to 31 December 2026, in force"
    )
    assert not any(line.startswith("Next") for line in lines)
    bare = listed(replace(LOOSE, then="no terms entered", zones=0, standing=None))
    assert bare[3:] == ["    no terms entered", "    promise  none in this term"]
    assert listed(replace(TERM, fees=(), zones=0))[5:7] == [
        "    fees     none entered",
        "    promise  none in this term",
    ]


def test_one_contract_tells_its_other_terms_and_what_does_not_count():
    lines = told()
    assert "    others   1 January 2023 to 31 December 2024 (ended)" in lines
    assert (
        "    excluded 1 July 2025 to 14 July 2025, MARKET/LANE-1: stalls rebuilt by the customer"
        in lines
    )
    assert told(promises=())[-1] == "All nights, and the dates: --out FOLDER"


def test_promises_stand_with_their_reference_and_todays_estimate():
    lines = told()
    at = next(n for n, line in enumerate(lines) if line.startswith("  MARKET/LANE-1"))
    assert lines[at].split("  ")[-1] == "measured, below promise"
    assert " 44  " in lines[at]
    assert lines[at + 1] == (
        "    reference 56.6 GU on 20 December 2024, after burnish; policy gentlest, confidence 75%"
    )
    (slip,) = (line for line in lines if line.startswith("  MARKET/ENTRANCE"))
    assert slip.endswith("guarded for slip")
    assert "wet DCOF 0.43, 06 Oct 2025" in slip
    assert "  No promises in this term." in told(promises=())


def test_counts_stand_in_columns_of_what_there_is():
    lines = told()
    at = next(n for n, line in enumerate(lines) if line.startswith("  work"))
    assert lines[at].split() == ["work", "done", "in", "part", "planned", "nothing", "reported"]
    assert lines[at + 1].split() == ["burnish", "0", "0", "1", "1"]
    assert (
        "  clean at MARKET by site team, reported: 426 days so far, 304 to come, 2 zones" in lines
    )
    assert "  Nothing done or planned." in told(works=(), rhythms=())


def test_the_nights_next_to_today_are_printed_with_their_works():
    lines = told()
    last, coming = lines.index("  Last nights:"), lines.index("  Next nights:")
    assert lines[coming - 1] == (
        "    Tue 17 Feb 2026  MARKET          burnish (nothing reported) 1 zone"
    )
    assert lines[coming + 1] == "    Wed 04 Mar 2026  MARKET          recoat 1 zone, burnish 1 zone"
    assert last < coming
    many = tuple(
        lane(date(2026, 4, 1) + timedelta(days=n), RowKind.PLANNED, Work.RECOAT) for n in range(30)
    )
    longer = told(rows=many)
    assert sum("2026  MARKET" in line for line in longer) == MOST_NIGHTS
    assert "  No night in this term." in told(rows=())


def test_files_are_named_last():
    lines = told(Path("out/a.pdf"), Path("out/a.ics"))
    assert lines[-2:] == ["Written: out/a.pdf", "Written: out/a.ics"]


def test_promised_slip_nobody_tested_is_said():
    assert standing_words(PromiseStanding(below=0, guarded=0, evidence=(), slip_unknown=2)) == (
        "none below promise, 2 never tested for slip, so not known to keep it"
    )


def test_a_slip_promise_never_tested_says_so_in_its_row():
    (row,) = (row for row in HISTORY.promises if row.zone == "MARKET/ENTRANCE")
    untested = replace(row, read="never tested", read_on=None, is_guarded=False)
    (slip,) = (line for line in told(promises=(untested,)) if line.startswith("  MARKET/ENTRANCE"))
    assert slip.endswith("never tested")
