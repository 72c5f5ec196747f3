from datetime import date

import pytest

from floorcare.ground.rules.evidence import Evidence, evidence_against
from floorcare.ground.trade.book import TreatmentDone
from floorcare.ground.trade.reading import Measure, RoundValue, SurfaceState
from floorcare.ground.trade.treatment import Work
from tests.builders import DAY, TODAY, a_book, look_promised, polished

DONE_ON = TODAY - 40 * DAY


def a_round(on: date, value: float, state: SurfaceState = SurfaceState.AFTER_BURNISH) -> RoundValue:
    return RoundValue(
        zone="LANE",
        on=on,
        measure=Measure.GLOSS,
        geometry_deg=60,
        state=state,
        value=value,
        stations=3,
    )


def against(
    *rounds: RoundValue, done: Work = Work.FINE_BURNISH, also: tuple[TreatmentDone, ...] = ()
) -> Evidence | None:
    book = a_book(done=(*also, TreatmentDone(work=done, done_on=DONE_ON)))
    return evidence_against(book, polished(), rounds, look_promised(60.0), 48.0)


@pytest.mark.parametrize(
    ("done", "climbs_to"),
    [
        (Work.FINE_BURNISH, Work.RECOAT),
        (Work.RECOAT, Work.REPOLISH),
        (Work.REPOLISH, Work.FULL_RESTORATION),
        (Work.FULL_RESTORATION, Work.FULL_RESTORATION),
    ],
)
def test_a_reading_still_too_low_after_a_rung_climbs_exactly_one_rung(
    done: Work, climbs_to: Work
) -> None:
    found = against(a_round(DONE_ON + 7 * DAY, 44.0), done=done)
    assert found is not None
    assert (found.rung, found.after) == (climbs_to, done)
    assert (found.done_on, found.read_on) == (DONE_ON, DONE_ON + 7 * DAY)
    assert (found.read_gu, found.promise_gu) == (44.0, 48.0)


def test_a_reading_that_keeps_the_promise_or_just_meets_it_is_no_evidence() -> None:
    assert against(a_round(DONE_ON + 7 * DAY, 48.0)) is None
    # later wear does not unsay that the rung had done it
    assert against(a_round(DONE_ON + 3 * DAY, 50.0), a_round(DONE_ON + 9 * DAY, 45.0)) is None


def test_a_reading_too_late_to_tell_of_the_rung_is_no_evidence() -> None:
    hold = polished().methods[Work.FINE_BURNISH].worthwhile_hold_days
    assert hold == 14
    assert against(a_round(DONE_ON + 14 * DAY, 44.0)) is not None
    assert against(a_round(DONE_ON + 15 * DAY, 44.0)) is None
    # a coat is worth laying from 45 days on, so it is judged for so long
    assert against(a_round(DONE_ON + 15 * DAY, 44.0), done=Work.RECOAT) is not None


def test_readings_before_the_rung_or_on_its_night_say_nothing_of_it() -> None:
    assert against(a_round(DONE_ON - DAY, 30.0), a_round(DONE_ON, 30.0)) is None
    assert against() is None


def test_a_reading_in_another_state_than_the_promise_s_is_no_evidence() -> None:
    cleaned = a_round(DONE_ON + 5 * DAY, 44.0, SurfaceState.AFTER_CLEANING)
    assert against(cleaned) is None


def test_burnishing_and_cleaning_are_judged_by_the_forecast_alone() -> None:
    assert against(a_round(DONE_ON + 2 * DAY, 44.0), done=Work.BURNISH) is None
    assert against(a_round(DONE_ON + 2 * DAY, 44.0), done=Work.CLEAN) is None


def test_the_latest_rung_is_judged_and_of_one_night_s_the_hardest() -> None:
    earlier = TreatmentDone(work=Work.REPOLISH, done_on=DONE_ON - 90 * DAY)
    found = against(a_round(DONE_ON + 7 * DAY, 44.0), also=(earlier,))
    assert found is not None
    assert found.after is Work.FINE_BURNISH
    together = TreatmentDone(work=Work.RECOAT, done_on=DONE_ON)
    found = against(a_round(DONE_ON + 7 * DAY, 44.0), also=(together,))
    assert found is not None
    assert found.after is Work.RECOAT


def test_a_rung_on_part_of_a_zone_proves_nothing() -> None:
    book = a_book(done=(TreatmentDone(work=Work.RECOAT, done_on=DONE_ON, share=0.5),))
    rounds = [a_round(DONE_ON + 7 * DAY, 40.0)]
    assert evidence_against(book, polished(), rounds, look_promised(), 48.0) is None


def test_where_the_coats_are_used_up_the_next_rung_is_the_one_above() -> None:
    coats = tuple(
        TreatmentDone(work=Work.RECOAT, done_on=DONE_ON - (60 + 30 * c) * DAY)
        for c in range(polished().coat_limit)
    )
    found = against(a_round(DONE_ON + 7 * DAY, 44.0), also=coats[1:])
    assert found is not None
    assert found.rung is Work.RECOAT
    found = against(a_round(DONE_ON + 7 * DAY, 44.0), also=coats)
    assert found is not None
    assert found.rung is Work.REPOLISH
