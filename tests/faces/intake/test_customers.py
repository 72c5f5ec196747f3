from datetime import UTC, date, datetime

import pytest

from floorcare.ground.trade.people import (
    CallKind,
    CallReceived,
    Contact,
    RequirementKind,
    SiteRequirement,
)
from tests.faces.intake.conftest import UUID

CALLS = "call,site,zone,kind,received_at,reported_by,text,spot_m2,closed_at\n"


def call(full, **cells):
    right = {
        "call": UUID,
        "site": "MARKET",
        "zone": "LANE",
        "kind": "stain",
        "received_at": "2026-09-14 08:20",
        "reported_by": "Robin Vale",
        "text": "Oil",
        "spot_m2": "0.5",
        "closed_at": "2026-09-15 23:10",
    }
    full.write("calls.csv", CALLS + ",".join((right | cells).values()) + "\n")


def test_a_contact_carries_what_its_row_says(full):
    full.write(
        "contacts.csv",
        "contact,customer,name,site,role,email,phone\n"
        "C-2,HARBOUR,Jo March,,buyer,jo@harbour.example,+49 40 5550 101\n"
        "C-1,HARBOUR,Robin Vale,MARKET,,,\n",
    )
    assert full.right().contacts == (
        Contact(code="C-1", customer="HARBOUR", name="Robin Vale", site="MARKET"),
        Contact(
            code="C-2",
            customer="HARBOUR",
            name="Jo March",
            role="buyer",
            email="jo@harbour.example",
            phone="+49 40 5550 101",
        ),
    )


def test_a_contacts_site_of_another_customer_is_asked_about(full):
    full.add("customers.csv", "COLLEGE,The College")
    full.change("contacts.csv", "HARBOUR", "COLLEGE")
    finding = full.one()
    assert (finding.column, finding.weight) == ("site", "asks")
    assert finding.problem == "the site belongs to customer HARBOUR"


def test_a_customer_that_only_a_site_names_may_have_contacts(full):
    full.drop("customers.csv")
    assert full.right().contacts[0].customer == "HARBOUR"


def test_requirements_stand_in_the_sites_book(full):
    full.write(
        "requirements.csv",
        "site,kind,name,each_worker,expires_on\n"
        "MARKET,insurance,liability,no,2026-11-24\nMARKET,induction,Market induction,yes,\n",
    )
    assert full.right().books[0].requirements == (
        SiteRequirement(kind=RequirementKind.INDUCTION, name="Market induction", each_worker=True),
        SiteRequirement(
            kind=RequirementKind.INSURANCE,
            name="liability",
            each_worker=False,
            expires_on=date(2026, 11, 24),
        ),
    )


def test_a_requirement_that_ran_out_yesterday_is_asked_about(full):
    full.write(
        "requirements.csv",
        "site,kind,name,each_worker,expires_on\nMARKET,permit,hot work,no,2026-11-23\n",
    )
    finding = full.one()
    assert (finding.row, finding.column, finding.weight) == (2, "expires_on", "asks")
    assert finding.problem == "the permit has run out, so the site may not be worked"
    assert finding.mend == "renew it and write the new day"


def test_a_calls_times_are_the_sites_own_clock(full):
    call(full, call=UUID.upper())
    assert full.right().calls == (
        CallReceived(
            uuid=UUID,
            site="MARKET",
            zone="LANE",
            kind=CallKind.STAIN,
            received_at=datetime(2026, 9, 14, 6, 20, tzinfo=UTC),
            reported_by="Robin Vale",
            text="Oil",
            spot_m2=0.5,
            closed_at=datetime(2026, 9, 15, 21, 10, tzinfo=UTC),
        ),
    )


def test_a_call_may_be_of_the_whole_site_and_still_open(full):
    call(full, zone="", spot_m2="", closed_at="", received_at="2026-01-05")
    (open_call,) = full.right().calls
    assert (open_call.zone, open_call.spot_m2, open_call.closed_at) == ("", None, None)
    assert open_call.received_at == datetime(2026, 1, 5, 11, 0, tzinfo=UTC)


@pytest.mark.parametrize(
    ("cells", "column", "mend"),
    [
        ({"call": "17"}, "call", "write it whole, or let a spreadsheet make one"),
        ({"site": "MARKT"}, "site", 'write "MARKET" if that is meant'),
        ({"zone": "LAME"}, "zone", 'write "LANE" if that is meant'),
        ({"kind": "stane"}, "kind", 'write "stain" if that is meant'),
        ({"received_at": "2026-12-01 08:00"}, "received_at", "correct the date"),
        ({"received_at": "2024-12-01 08:00"}, "received_at", "correct the date, or from_on"),
        ({"closed_at": "2026-09-14 08:19"}, "closed_at", "correct one of the two times"),
        ({"closed_at": "2026-12-01"}, "closed_at", "correct the date"),
        ({"spot_m2": "-1"}, "spot_m2", "correct the sign"),
    ],
)
def test_a_call_that_cannot_be_is_a_finding_with_its_mend(full, cells, column, mend):
    call(full, **cells)
    finding = full.one()
    assert (finding.file, finding.row, finding.column) == ("calls.csv", 2, column)
    assert finding.weight == "stops"
    assert finding.mend.startswith(mend)


def test_a_withdrawn_call_is_brought_in_as_taken_back(full):
    row = f"{UUID},MARKET,LANE,stain,2026-09-14 08:20,Robin Vale,Oil,,,yes\n"
    full.write("calls.csv", CALLS.replace("\n", ",withdrawn\n") + row)
    portfolio = full.right()
    (taken_back,) = portfolio.withdrawn
    assert [call.uuid for call in portfolio.calls] == [UUID]
    assert (taken_back.kind, taken_back.site, taken_back.zone) == ("call", "MARKET", "LANE")
    assert taken_back.key == (UUID,)


@pytest.mark.parametrize(
    ("name", "old", "new", "column", "mend"),
    [
        ("contacts.csv", "HARBOUR", "HARBOR", "customer", 'write "HARBOUR" if that is meant'),
        ("contacts.csv", "MARKET", "MARKT", "site", 'write "MARKET" if that is meant'),
        ("requirements.csv", "MARKET", "MARKT", "site", 'write "MARKET" if that is meant'),
        ("requirements.csv", "induction,", "inducton,", "kind", 'write "induction"'),
        ("requirements.csv", "yes", "some", "each_worker", "write yes or no"),
    ],
)
def test_what_cannot_be_of_a_customer_is_a_finding_with_its_mend(
    full, name, old, new, column, mend
):
    full.change(name, old, new)
    finding = full.one()
    assert (finding.file, finding.row, finding.column) == (name, 2, column)
    assert finding.mend.startswith(mend)


@pytest.mark.parametrize(
    ("name", "row", "column"),
    [
        ("contacts.csv", "C-1,HARBOUR,Again,", "contact"),
        ("requirements.csv", "MARKET,induction,Market induction,no", "name"),
        ("calls.csv", f"{UUID},MARKET,LANE,spill,2026-09-15,Jo,Again", "call"),
    ],
)
def test_what_is_given_twice_names_the_row_of_the_first(full, name, row, column):
    full.add(name, row)
    finding = full.one()
    assert (finding.file, finding.column) == (name, column)
    assert "given twice; the first stands in row 2" in finding.problem
