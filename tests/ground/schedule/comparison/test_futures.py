from dataclasses import replace

import numpy as np
import pytest

from floorcare.ground.rules.floor import keeps_promise, routinely_treated, worn
from floorcare.ground.schedule.comparison.futures import (
    Lives,
    days_of,
    futures_of,
    live_by_calendar,
    reading_errors,
)
from floorcare.ground.trade.treatment import Work
from floorcare.ground.wear.draws import Draws, walk_noise
from tests.builders import a_course, a_floor, polished

DAYS, COUNT = 60, 16
NAMES = ("NORTH/LANE", "NORTH/EDGE", "SOUTH/DOOR")


def made(names=NAMES, count=COUNT, **more):
    floor = a_floor(len(names), draws=COUNT)
    course = a_course(
        [[2.0] * DAYS] * len(names),
        [55.0] * len(names),
        draws=COUNT,
        treatments={Work.BURNISH: [list(range(3, DAYS, 7))] * len(names)},
    )
    draws = Draws(rates=floor.rates, level=floor.level, shock=floor.shock, state=floor.state)
    return futures_of(names, draws, course, np.full(len(names), DAYS), count, **more)


def test_no_future_is_refused():
    with pytest.raises(ValueError, match="0 futures: at least 1"):
        made(count=0)


def test_each_future_takes_a_draw_of_its_own_and_none_is_taken_twice():
    futures = made()
    assert (np.sort(futures.order, axis=1) == np.arange(COUNT)).all()
    assert not np.array_equal(futures.order[0], futures.order[1])


def test_a_zone_lives_the_same_futures_whichever_others_are_asked_for():
    all_three, one = made(), made(names=("SOUTH/DOOR",))
    assert np.array_equal(all_three.order[2], one.order[0])
    errors = reading_errors(all_three, 3, 0.02), reading_errors(one, 3, 0.02)
    assert np.array_equal(errors[0][2], errors[1][0])


def test_a_future_lives_as_the_walk_of_the_horizon_carries_its_draw():
    futures = made()
    drift, shocks = walk_noise(COUNT, DAYS, futures.law)
    course = replace(futures.course, drift=drift, shocks=shocks)
    floor, kept = a_floor(len(NAMES), draws=COUNT), np.zeros((len(NAMES), COUNT), dtype=int)
    for day in range(DAYS):
        floor = worn(floor, course, day)
        kept += keeps_promise(floor, course, day)
        floor = routinely_treated(floor, course, day)
    lived = live_by_calendar(futures, (), np.zeros((0, len(NAMES), DAYS), dtype=bool))
    assert np.array_equal(lived, np.take_along_axis(kept, futures.order, axis=1))
    assert 0 < lived.sum() < lived.size * DAYS


def test_days_after_the_end_of_care_do_not_count():
    futures = replace(made(), care_days=np.array([10, 60, 0]))
    lived = live_by_calendar(futures, (), np.zeros((0, 3, DAYS), dtype=bool))
    assert lived[0].max() <= 10
    assert lived[2].max() == 0


def test_a_treatment_reaches_only_the_futures_that_get_it():
    futures = made()
    lives = Lives(futures)
    lives.live(0)
    lives.live(1)
    before = lives.ln_seen(1)
    where = np.zeros((3, COUNT), dtype=bool)
    where[1, 4] = True
    lives.treat(polished().methods[Work.RECOAT].effect, where)
    changed = lives.ln_seen(1) != before
    assert np.array_equal(changed, where)


def test_errors_of_readings_are_normal_with_the_sd_asked_for_and_new_each_round():
    names = tuple(f"SITE/ZONE{n}" for n in range(500))
    futures = made(names=names)
    first, second = reading_errors(futures, 1, 0.03), reading_errors(futures, 2, 0.03)
    assert first.std() == pytest.approx(0.03, rel=0.03)
    assert abs(first.mean()) < 0.002
    assert abs(np.corrcoef(first.ravel(), second.ravel())[0, 1]) < 0.04


def test_days_touched_are_those_of_any_zone():
    mask = np.array([[True, False, False], [False, False, True]])
    assert days_of(mask).tolist() == [True, False, True]
