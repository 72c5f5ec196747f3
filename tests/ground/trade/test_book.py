from dataclasses import replace
from datetime import UTC, date, datetime

import pytest

from floorcare.ground.trade.book import TreatmentDone, Withdrawal, withdrawal_of
from floorcare.ground.trade.people import CallKind, CallReceived
from floorcare.ground.trade.promise import PromiseKind
from floorcare.ground.trade.reading import Measure, Reading, SurfaceState
from floorcare.ground.trade.routine import Performer, Proof, Routine
from floorcare.ground.trade.traffic import TrafficRow
from floorcare.ground.trade.treatment import Work
from floorcare.ground.worktime.shut import ShutDay
from tests.builders import DAY, TODAY, a_book, a_site_book, look_promised, slip_promised


def test_a_promise_holds_on_both_ends_of_its_term_and_not_beside_it() -> None:
    line = look_promised(starts_on=date(2026, 1, 1), ends_on=date(2026, 12, 31))
    book = a_book(promises=(line,))
    kind = PromiseKind.APPEARANCE
    assert book.promise_on(date(2026, 1, 1), kind) is line
    assert book.promise_on(date(2026, 12, 31), kind) is line
    assert book.promise_on(date(2025, 12, 31), kind) is None
    assert book.promise_on(date(2027, 1, 1), kind) is None


def test_the_latest_of_two_terms_wins_and_kinds_are_not_mixed() -> None:
    old, new, slip = look_promised(60.0), look_promised(55.0, starts_on=TODAY), slip_promised()
    book = a_book(promises=(old, slip, new))
    assert book.promise_on(TODAY - DAY, PromiseKind.APPEARANCE) is old
    assert book.promise_on(TODAY, PromiseKind.APPEARANCE) is new
    assert book.promise_on(TODAY, PromiseKind.SLIP) is slip
    assert book.promise_on(TODAY, PromiseKind.RESPONSE) is None


def test_a_site_finds_its_zones_by_code() -> None:
    site = a_site_book("NORTH", a_book("LANE"), a_book("EDGE"))
    found = site.zone("EDGE")
    assert found is not None
    assert found.zone.code == "EDGE"
    assert site.zone("HALL") is None


@pytest.mark.parametrize("share", [0.0, -0.1, 1.01])
def test_a_treatment_of_none_or_more_than_all_of_a_zone_is_refused(share: float) -> None:
    done = TreatmentDone(work=Work.BURNISH, done_on=TODAY)
    with pytest.raises(ValueError, match="allowed above 0 up to 1"):
        replace(done, share=share)


def test_a_withdrawal_names_a_row_by_its_key_and_not_by_its_values() -> None:
    reading = Reading(
        zone="LANE",
        station="P1",
        taken_on=TODAY,
        taken_minute=600,
        measure=Measure.GLOSS,
        value=50.0,
        state=SurfaceState.AFTER_BURNISH,
        geometry_deg=60,
        instrument="M1",
    )
    back = withdrawal_of("NORTH", "LANE", reading)
    key = ("P1", TODAY.isoformat(), "600", "gloss", "60", "", "M1", "after burnish")
    assert back == Withdrawal(kind="reading", site="NORTH", zone="LANE", key=key)
    assert withdrawal_of("NORTH", "LANE", replace(reading, value=51.0, reader="R. Vale")) == back
    assert withdrawal_of("NORTH", "LANE", replace(reading, station="P2")) != back


@pytest.mark.parametrize(
    ("row", "kind", "key"),
    [
        (
            TreatmentDone(work=Work.RECOAT, done_on=date(2026, 3, 2)),
            "treatment done",
            ("recoat", "2026-03-02"),
        ),
        (
            ShutDay(from_on=date(2026, 5, 1), to_on=date(2026, 5, 2), why="fair"),
            "shut day",
            ("2026-05-01",),
        ),
        (
            TrafficRow(kind="foot", per_day=1.0, counted=True, from_on=date(2026, 3, 2)),
            "traffic",
            ("foot", "2026-03-02"),
        ),
        (
            Routine(
                work=Work.BURNISH,
                rule="FREQ=WEEKLY",
                starts_on=date(2026, 3, 2),
                performer=Performer.US,
                proof=Proof.CONFIRMED,
            ),
            "routine",
            ("burnish", "2026-03-02"),
        ),
        (
            look_promised(starts_on=date(2026, 1, 1)),
            "promise",
            ("C-1", "appearance", "2026-01-01"),
        ),
        (
            CallReceived(
                uuid="a-uuid",
                site="NORTH",
                zone="LANE",
                kind=CallKind.SPILL,
                received_at=datetime(2026, 3, 2, 7, 0, tzinfo=UTC),
                reported_by="A. Low",
                text="oil",
            ),
            "call",
            ("a-uuid",),
        ),
    ],
    ids=["treatment", "shut day", "traffic", "routine", "promise", "call"],
)
def test_every_kind_of_row_that_can_be_taken_back_has_its_key(row, kind, key) -> None:
    assert withdrawal_of("NORTH", "LANE", row) == Withdrawal(
        kind=kind, site="NORTH", zone="LANE", key=key
    )
