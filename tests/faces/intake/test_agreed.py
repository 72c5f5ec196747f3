import datetime as dt

import pytest

from floorcare.ground.trade.promise import Policy, PromiseKind
from floorcare.ground.trade.reading import SurfaceState
from floorcare.ground.trade.routine import Performer, Proof
from floorcare.ground.trade.treatment import Work

PROMISE = (
    "contract,site,zone,kind,starts_on,ends_on,reference_gu,reference_on,reference_state,"
    "loss_share,confidence,policy,slip_method,slip_limit,slip_place,response_hours"
)


def promise(kind, starts_on="2025-01-01", ends_on="2027-12-31", *, zone="LANE", **cells):
    columns = PROMISE.split(",")
    row = {"contract": "K-1", "site": "MARKET", "zone": zone, "kind": kind}
    row |= {"starts_on": starts_on, "ends_on": ends_on} | cells
    return ",".join(row.get(column, "") for column in columns)


def put(folder, *rows):
    folder.write("promises.csv", "\n".join((PROMISE, *rows)) + "\n")


def zone(folder, code="LANE"):
    taken = folder.read()
    assert [str(f) for f in taken.findings] == []
    return taken.portfolio.books[0].zone(code)


def test_a_routine_carries_what_its_row_says(folder):
    folder.write(
        "routines.csv",
        "site,zone,work,every,starts_on,performer,proof,ends_on,except_on,minutes,promised\n"
        'MARKET,LANE,burnishing,"Tu,Fr",2025-01-07,us,confirmed,2026-12-31,'
        "2025-12-26 2025-12-24,90,yes\n",
    )
    (routine,) = zone(folder).routines
    assert (routine.work, routine.rule) == (Work.BURNISH, "FREQ=WEEKLY;BYDAY=TU,FR")
    assert (routine.performer, routine.proof) == (Performer.US, Proof.CONFIRMED)
    assert routine.except_on == (dt.date(2025, 12, 24), dt.date(2025, 12, 26))
    assert (routine.minutes, routine.promised) == (90, True)
    assert zone(folder, "EDGE").routines == ()


def test_a_recurrence_rule_may_be_written_out(folder):
    folder.change("routines.csv", "daily", "FREQ=WEEKLY;INTERVAL=2")
    assert zone(folder).routines[0].rule == "FREQ=WEEKLY;INTERVAL=2"


@pytest.mark.parametrize("every", ["now and then", "biweekly", "FREQ=HOURLY", "every 0 weeks"])
def test_a_rhythm_that_is_not_understood_is_a_finding(folder, every):
    folder.change("routines.csv", "daily", every)
    finding = folder.one()
    assert (finding.column, finding.value) == ("every", every)
    assert "every 6 weeks" in finding.allowed
    assert finding.mend


def test_a_row_for_every_zone_leaves_out_those_whose_care_has_ended(folder):
    folder.change("zones.csv", "area,from_on\n", "area,from_on,to_on\n")
    folder.write(
        "zones.csv",
        "site,zone,name,surface,area_m2,traffic,area,from_on,to_on\n"
        "MARKET,LANE,Main lane,polished_concrete,420,heavy,HALL,2025-01-01,\n"
        "MARKET,EDGE,Edge,polished_concrete,80.5,light,HALL,2020-01-01,2024-06-30\n",
    )
    assert len(zone(folder).routines) == 1
    assert zone(folder, "EDGE").routines == ()


def test_a_promise_carries_what_its_row_says(folder):
    put(
        folder,
        promise(
            "appearance",
            reference_gu="52.5",
            reference_on="2025-01-02",
            reference_state="after cleaning",
            loss_share="15 %",
            confidence="0.8",
            policy="as agreed",
        ),
        promise("slip", slip_method="wet dcof", slip_limit="0.45", slip_place="ramp"),
        promise("response", response_hours="24"),
        promise("rhythm"),
    )
    lines = {line.kind: line for line in zone(folder).promises}
    look = lines[PromiseKind.APPEARANCE]
    assert (look.reference_gu, look.reference_on) == (52.5, dt.date(2025, 1, 2))
    assert look.reference_state is SurfaceState.AFTER_CLEANING
    assert (look.loss_share, look.confidence, look.policy) == (0.15, 0.8, Policy.AS_AGREED)
    slip = lines[PromiseKind.SLIP]
    assert (slip.slip_method, slip.slip_limit, slip.slip_place) == ("wet DCOF", 0.45, "ramp")
    assert lines[PromiseKind.RESPONSE].response_hours == 24


def test_a_term_that_ends_before_it_starts_is_a_finding(folder):
    put(folder, promise("rhythm", "2026-01-01", "2025-12-31"))
    finding = folder.one()
    assert (finding.column, finding.value) == ("ends_on", "2025-12-31")


def test_two_promises_of_one_kind_may_not_overlap_on_a_zone(folder):
    put(
        folder,
        promise("rhythm", "2025-01-01", "2025-12-31"),
        promise("rhythm", "2025-12-31", "2026-12-31"),
    )
    finding = folder.one()
    assert finding.row == 3
    assert "row 2 promises rhythm on zone MARKET/LANE until 2025-12-31" in finding.problem


def test_a_promise_on_every_zone_overlaps_one_on_a_single_zone(folder):
    put(folder, promise("rhythm"), promise("rhythm", zone=""))
    assert folder.one().row == 3


def test_terms_that_follow_each_other_and_other_kinds_are_no_clash(folder):
    put(
        folder,
        promise("rhythm", "2025-01-01", "2025-12-31"),
        promise("rhythm", "2026-01-01", "2026-12-31"),
        promise("response", response_hours="8"),
    )
    assert len(zone(folder).promises) == 3


@pytest.mark.parametrize(
    ("cells", "column"),
    [
        ({"kind": "slip", "slip_limit": "0.42"}, "slip_method"),
        ({"kind": "slip", "slip_method": "wet DCOF"}, "slip_limit"),
        ({"kind": "slip", "slip_method": "ASTM C1028", "slip_limit": "0.6"}, "slip_method"),
        ({"kind": "slip", "slip_method": "by shoe", "slip_limit": "0.6"}, "slip_method"),
        ({"kind": "response"}, "response_hours"),
        ({"kind": "rhythm", "loss_share": "95"}, "loss_share"),
        ({"kind": "rhythm", "confidence": "1"}, "confidence"),
        ({"kind": "appearance", "reference_gu": "520"}, "reference_gu"),
        (
            {"kind": "appearance", "reference_gu": "52", "reference_on": "2027-01-01"},
            "reference_on",
        ),
    ],
)
def test_a_promise_that_lacks_or_spoils_something_is_a_finding(folder, cells, column):
    put(folder, promise(**cells))
    finding = folder.one()
    assert (finding.column, finding.weight) == (column, "stops")


def test_a_look_promised_without_a_reference_is_asked_about(folder):
    put(folder, promise("appearance"))
    finding = folder.one()
    assert (finding.column, finding.weight) == ("reference_gu", "asks")


def test_a_withdrawn_routine_of_every_zone_is_taken_back_on_each(folder):
    folder.write(
        "routines.csv",
        "site,zone,work,every,starts_on,performer,withdrawn\n"
        "MARKET,,clean,daily,2025-01-01,site team,yes\n",
    )
    portfolio = folder.right()
    assert [len(each.routines) for each in portfolio.books[0].zones] == [1, 1]
    assert [(w.kind, w.zone, w.key) for w in portfolio.withdrawn] == [
        ("routine", "EDGE", ("clean", "2025-01-01")),
        ("routine", "LANE", ("clean", "2025-01-01")),
    ]


def test_a_withdrawn_promise_makes_room_for_the_right_one(folder):
    heading = f"{PROMISE},withdrawn"
    wrong = promise("appearance", reference_gu="25")
    right = promise("appearance", starts_on="2025-02-01", reference_gu="52")
    folder.write("promises.csv", f"{heading}\n{wrong},yes\n{right},\n")
    portfolio = folder.right()
    assert [line.reference_gu for line in portfolio.books[0].zone("LANE").promises] == [25, 52]
    (taken_back,) = portfolio.withdrawn
    assert (taken_back.kind, taken_back.key) == ("promise", ("K-1", "appearance", "2025-01-01"))


def test_a_promise_that_is_brought_in_and_taken_back_is_a_finding(folder):
    row = promise("rhythm")
    folder.write("promises.csv", f"{PROMISE},withdrawn\n{row},yes\n{row},\n")
    assert "given twice; the first stands in row 2" in folder.one().problem
