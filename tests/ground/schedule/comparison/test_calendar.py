from datetime import timedelta

import numpy as np
import pytest

from floorcare.ground.rules.rhythm import COVERED_DAYS
from floorcare.ground.schedule.comparison.calendar import calendar_works, fixed_calendar, laid_by
from floorcare.ground.trade.book import TreatmentDone
from floorcare.ground.trade.routine import Performer, Proof
from floorcare.ground.trade.treatment import Work
from tests.builders import BEGUN, DAY, TODAY, a_book, a_case, polished, routinely

DAYS = 400


def of(case, barred=frozenset()):
    return fixed_calendar([case], polished(), [barred])


def gap(case, work):
    calendar = of(case)
    return float(calendar.gap_days[calendar.works.index(work), 0])


def nights(calendar, work, factor=1.0, every=7):
    opportunity = np.zeros((1, DAYS), dtype=bool)
    opportunity[:, ::every] = True
    mask = laid_by(calendar, opportunity, factor)[calendar.works.index(work), 0]
    return np.flatnonzero(mask).tolist()


def book(*routines, done=()):
    return a_book(routines=routines, done=done)


def test_a_routine_of_ours_is_its_gap():
    case = a_case(book(routinely(Work.RECOAT, "FREQ=WEEKLY;INTERVAL=10", starts_on=BEGUN)))
    assert gap(case, Work.RECOAT) == 70


def test_without_a_routine_work_goes_on_as_often_as_it_was_done_since_the_floor_was_fresh():
    done = tuple(
        TreatmentDone(work=Work.RECOAT, done_on=BEGUN + timedelta(days=d)) for d in (80, 200)
    )
    assert gap(a_case(book(done=done)), Work.RECOAT) == 100


def test_without_either_the_surface_cap_is_the_calendar_and_what_has_none_is_not_on_it():
    case = a_case(book())
    assert gap(case, Work.RECOAT) == polished().methods[Work.RECOAT].cap_days
    assert gap(case, Work.REPOLISH) == np.inf


def test_standing_rounds_work_of_others_and_known_missed_rhythms_are_not_on_it():
    standing = routinely(Work.BURNISH, "FREQ=WEEKLY")
    others = routinely(Work.RECOAT, "FREQ=MONTHLY", by=Performer.OTHER)
    missed = routinely(Work.REPOLISH, "FREQ=YEARLY", proof=Proof.KNOWN_MISSED)
    case = a_case(book(standing, others, missed))
    for work in (Work.BURNISH, Work.RECOAT, Work.REPOLISH):
        assert gap(case, work) == np.inf


def test_a_work_the_site_has_no_night_for_is_not_on_it():
    case = a_case(book())
    calendar = of(case, frozenset({Work.RECOAT}))
    assert np.isinf(calendar.gap_days[calendar.works.index(Work.RECOAT), 0])


def test_dates_run_on_from_the_last_time_and_wait_for_the_next_opportunity():
    done = (TreatmentDone(work=Work.RECOAT, done_on=TODAY - 20 * DAY),)
    routine = routinely(Work.RECOAT, "FREQ=WEEKLY;INTERVAL=10", starts_on=BEGUN)
    calendar = of(a_case(book(routine, done=done)))
    # 49 days after tomorrow, then every 70
    assert nights(calendar, Work.RECOAT) == [49, 119, 189, 259, 329, 399]
    assert nights(calendar, Work.RECOAT, every=30)[:2] == [60, 120]


def test_overdue_work_comes_first_thing_and_its_rhythm_runs_on_from_there():
    routine = routinely(Work.RECOAT, "FREQ=WEEKLY;INTERVAL=10", starts_on=BEGUN)
    assert nights(of(a_case(book(routine))), Work.RECOAT)[:3] == [0, 70, 140]


def test_a_factor_stretches_every_gap_but_the_promised():
    own = routinely(Work.RECOAT, "FREQ=WEEKLY;INTERVAL=10", starts_on=TODAY)
    sold = routinely(Work.RECOAT, "FREQ=WEEKLY;INTERVAL=10", starts_on=TODAY, promised=True)
    habit, promised = (of(a_case(book(routine))) for routine in (own, sold))
    assert nights(habit, Work.RECOAT) == nights(promised, Work.RECOAT)
    assert np.diff(nights(habit, Work.RECOAT, 0.5)).tolist()[:2] == [35, 35]
    assert nights(promised, Work.RECOAT, 0.5) == nights(promised, Work.RECOAT)
    assert nights(habit.only_promised(), Work.RECOAT) == []
    assert nights(promised.only_promised(), Work.RECOAT) == nights(promised, Work.RECOAT)


def test_denser_calendars_never_hold_fewer_nights():
    own = routinely(Work.RECOAT, "FREQ=WEEKLY;INTERVAL=10", starts_on=TODAY)
    counts = [len(nights(of(a_case(book(own))), Work.RECOAT, f)) for f in (2.0, 1.0, 0.5, 0.1)]
    assert counts == sorted(counts)


def test_a_habit_is_left_out_near_harder_work_and_a_promised_rhythm_is_not():
    hard = routinely(Work.REPOLISH, "FREQ=WEEKLY;INTERVAL=20", starts_on=TODAY)
    mild = routinely(Work.RECOAT, "FREQ=WEEKLY;INTERVAL=10", starts_on=TODAY)
    sold = routinely(Work.RECOAT, "FREQ=WEEKLY;INTERVAL=10", starts_on=TODAY, promised=True)
    calendar = of(a_case(book(hard, mild)))
    polishes, coats = nights(calendar, Work.REPOLISH), nights(calendar, Work.RECOAT)
    assert coats
    assert all(abs(c - p) > COVERED_DAYS for c in coats for p in polishes)
    kept = nights(of(a_case(book(hard, sold))), Work.RECOAT)
    assert any(abs(c - p) <= COVERED_DAYS for c in kept for p in polishes)


def test_a_factor_of_nothing_is_refused():
    with pytest.raises(ValueError, match="factor 0: allowed above 0"):
        laid_by(of(a_case(book())), np.ones((1, 10), dtype=bool), 0.0)


def test_works_that_change_nothing_are_not_compared():
    assert Work.CLEAN not in calendar_works(polished())
    assert Work.REPOLISH in calendar_works(polished())
