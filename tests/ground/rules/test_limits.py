from dataclasses import replace
from datetime import date

import pytest

from floorcare.ground.rules.limits import (
    RungLimits,
    coats_since_film_came_off,
    first_allowed,
    last_done,
    limits_of,
    routinely_done,
)
from floorcare.ground.trade.book import TreatmentDone, ZoneBook
from floorcare.ground.trade.routine import Performer, Proof
from floorcare.ground.trade.treatment import Work
from tests.builders import BEGUN, DAY, TODAY, a_book, a_zone, polished, routinely


def done(work: Work, on: date, share: float = 1.0) -> TreatmentDone:
    return TreatmentDone(work=work, done_on=on, share=share)


def limits(book: ZoneBook, work: Work) -> RungLimits:
    return limits_of(book, polished(), [work], TODAY)[0]


def test_new_concrete_is_not_polished_for_28_days_but_may_be_swept_at_once() -> None:
    book = a_book(zone=a_zone(from_on=TODAY, poured_on=TODAY))
    for work in (Work.BURNISH, Work.RECOAT, Work.REPOLISH):
        assert limits(book, work).not_before == TODAY + 28 * DAY
        assert limits(book, work).not_before_why == "28 days after the pour"
    assert limits(book, Work.CLEAN).not_before == TODAY
    assert limits(book, Work.CLEAN).not_before_why == ""


def test_an_old_pour_binds_nothing() -> None:
    book = a_book(zone=a_zone(poured_on=BEGUN - 400 * DAY))
    assert limits(book, Work.REPOLISH).not_before == BEGUN
    assert limits(book, Work.REPOLISH).not_before_why == ""


def test_a_burnish_waits_a_day_after_the_densifier_and_the_later_of_two_waits_binds() -> None:
    book = a_book(done=(done(Work.DENSIFY, TODAY - 9 * DAY), done(Work.DENSIFY, TODAY)))
    assert limits(book, Work.BURNISH).not_before == TODAY + DAY
    assert limits(book, Work.BURNISH).not_before_why == "24 h after the densifier"
    fresh = a_book(zone=a_zone(from_on=TODAY, poured_on=TODAY), done=book.done)
    assert limits(fresh, Work.BURNISH).not_before_why == "28 days after the pour"
    # full restoration densifies anew, so it need not wait
    assert limits(book, Work.FULL_RESTORATION).not_before == TODAY


@pytest.mark.parametrize(("hours", "days"), [(0, 0), (1, 1), (24, 1), (25, 2), (48, 2)])
def test_hours_after_the_densifier_end_on_the_night_they_run_out(hours: int, days: int) -> None:
    surface = polished()
    rung = replace(surface.methods[Work.BURNISH], after_densify_hours=hours)
    slower = replace(surface, methods={**surface.methods, Work.BURNISH: rung})
    book = a_book(done=(done(Work.DENSIFY, TODAY),))
    assert limits_of(book, slower, [Work.BURNISH], TODAY)[0].not_before == TODAY + days * DAY


def test_a_cap_runs_from_the_last_whole_treatment_or_from_the_start_of_care() -> None:
    cap = polished().methods[Work.RECOAT].cap_days
    assert cap is not None
    assert limits(a_book(), Work.RECOAT).cap_on == BEGUN + cap * DAY
    half = a_book(done=(done(Work.RECOAT, TODAY - 30 * DAY, 0.5),))
    assert limits(half, Work.RECOAT).cap_on == BEGUN + cap * DAY
    whole = a_book(done=(done(Work.RECOAT, TODAY - 30 * DAY),))
    assert limits(whole, Work.RECOAT).cap_on == TODAY + (cap - 30) * DAY
    assert limits(whole, Work.REPOLISH).cap_on is None


def test_a_re_polish_counts_as_a_coat_and_a_typed_polish_date_as_a_re_polish() -> None:
    polished_on = date(2025, 9, 1)
    book = a_book(zone=a_zone(polished_on=polished_on))
    assert last_done(book, Work.REPOLISH) == polished_on
    assert last_done(book, Work.RECOAT) == polished_on
    assert last_done(book, Work.BURNISH) is None
    later = a_book(zone=a_zone(polished_on=polished_on), done=(done(Work.REPOLISH, TODAY),))
    assert last_done(later, Work.RECOAT) == TODAY


def test_whatever_lays_a_whole_film_renews_the_coat_and_a_strip_does_not() -> None:
    restored = a_book(done=(done(Work.FULL_RESTORATION, TODAY - 10 * DAY),))
    assert limits(restored, Work.RECOAT).last_on == TODAY - 10 * DAY
    stripped = a_book(done=(done(Work.STRIP, TODAY - 10 * DAY),))
    assert limits(stripped, Work.RECOAT).last_on is None


def test_a_routine_that_runs_by_itself_needs_no_cap_and_one_that_is_missed_does() -> None:
    runs = routinely(Work.BURNISH, "FREQ=WEEKLY")
    assert limits(a_book(routines=(runs,)), Work.BURNISH).cap_on is None
    missed = routinely(Work.BURNISH, "FREQ=WEEKLY", proof=Proof.KNOWN_MISSED)
    assert limits(a_book(routines=(missed,)), Work.BURNISH).cap_on is not None
    visits = routinely(Work.BURNISH, "FREQ=MONTHLY")
    assert limits(a_book(routines=(visits,)), Work.BURNISH).cap_on is not None
    theirs = routinely(Work.BURNISH, "FREQ=MONTHLY", by=Performer.SITE_TEAM)
    assert limits(a_book(routines=(theirs,)), Work.BURNISH).cap_on is None


def test_coats_are_counted_since_the_film_last_came_off() -> None:
    coats = tuple(done(Work.RECOAT, TODAY - ago * DAY) for ago in (90, 60, 30))
    assert coats_since_film_came_off(a_book(done=coats)) == 3
    stripped = (*coats, done(Work.STRIP, TODAY - 45 * DAY))
    assert coats_since_film_came_off(a_book(done=stripped)) == 1
    half = (*coats, done(Work.REPOLISH, TODAY - 10 * DAY, 0.5))
    assert coats_since_film_came_off(a_book(done=half)) == 3
    typed = a_book(zone=a_zone(polished_on=TODAY - 75 * DAY), done=coats)
    assert coats_since_film_came_off(typed) == 2


def test_a_routine_that_has_ended_neither_lifts_a_cap_nor_does_the_work() -> None:
    routine = routinely(Work.BURNISH, "FREQ=WEEKLY")
    for days, still in ((-1, False), (0, True), (1, True)):
        book = a_book(routines=(replace(routine, ends_on=TODAY + days * DAY),))
        assert routinely_done(book, Work.BURNISH, TODAY) is still
        asked = replace(polished().methods[Work.BURNISH], cap_days=30)
        surface = replace(polished(), methods={**polished().methods, Work.BURNISH: asked})
        (found,) = limits_of(book, surface, [Work.BURNISH], TODAY)
        assert (found.cap_on is None) is still


def test_the_first_day_of_a_work_is_that_of_its_age_and_wait() -> None:
    fresh = a_book(zone=a_zone(from_on=TODAY, poured_on=TODAY))
    expected = (TODAY + 28 * DAY, "28 days after the pour")
    assert first_allowed(fresh, polished(), Work.SPOT_REPAIR) == expected
    assert first_allowed(fresh, polished(), Work.CLEAN) == (TODAY, "")
    assert first_allowed(fresh, polished(), Work.READING_ROUND) == (date.min, "")
