from dataclasses import replace

import numpy as np
import pytest

from floorcare.ground.rules.floor import (
    Course,
    Floor,
    keeps_promise,
    routinely_treated,
    worn,
    worn_a_week,
)
from floorcare.ground.trade.treatment import Work
from floorcare.ground.wear.model import FloorState, expose, ln_gloss
from tests.builders import a_course, a_floor, polished, without_noise


def a_week(floor: Floor, course: Course, day: int) -> Floor:
    for ahead in range(7):
        floor = routinely_treated(worn(floor, course, day + ahead), course, day + ahead)
    return floor


def same(one: FloorState, other: FloorState, tolerance: float = 1e-12) -> bool:
    parts = ("haze", "film", "scratch")
    return all(
        np.allclose(getattr(one, p), getattr(other, p), rtol=0, atol=tolerance) for p in parts
    )


def test_a_day_adds_its_passes_its_ageing_and_its_shock() -> None:
    course = a_course([[1.0, 4.0], [0.5, 0.0]], [48.0, 48.0])
    floor = a_floor(2)
    after = worn(floor, course, 1)
    by_hand = expose(floor.state, floor.rates, course.law, np.array([[4.0], [0.0]]))
    assert same(after.state, by_hand)
    assert np.array_equal(after.shock, np.vstack([course.shocks[:, 1]] * 2))
    assert np.all(floor.shock == 0)


def test_only_the_zones_of_a_night_are_treated_and_their_shock_is_cut_with_the_haze() -> None:
    course = a_course([[2.0] * 3] * 2, [48.0] * 2, treatments={Work.BURNISH: [[1], [2]]})
    floor = worn(a_floor(2), course, 0)
    after = routinely_treated(floor, course, 1)
    kept = polished().methods[Work.BURNISH].effect.haze_kept
    assert np.allclose(after.state.haze[0], floor.state.haze[0] * kept)
    assert np.allclose(after.shock[0], floor.shock[0] * kept)
    assert np.array_equal(after.state.haze[1], floor.state.haze[1])
    assert np.array_equal(after.shock[1], floor.shock[1])


def test_a_week_at_a_time_is_seven_days_one_by_one() -> None:
    random = np.random.default_rng(3)
    course = a_course(random.uniform(0, 5, (2, 30)).tolist(), [48.0] * 2)
    slow, quick = a_week(a_floor(2), course, 4), worn_a_week(a_floor(2), course, 4)
    assert same(slow.state, quick.state)
    assert np.allclose(slow.shock, quick.shock)


def test_a_burnish_in_the_week_stands_in_its_middle() -> None:
    course = a_course([[2.0] * 14], [48.0], treatments={Work.BURNISH: [[10]]})
    exact, quick = a_week(a_floor(), course, 7), worn_a_week(a_floor(), course, 7)
    # day 10 is the fourth of the week: three days before it, four from it on
    shift = worn(worn(worn(a_floor(), course, 7), course, 8), course, 9)
    middle = shift.treated(polished().methods[Work.BURNISH].effect)
    for day in (10, 11, 12, 13):
        middle = worn(middle, course, day)
    assert same(quick.state, middle.state)
    assert np.abs(quick.state.haze - exact.state.haze).max() < 0.06


def test_the_promise_is_looked_at_in_the_state_it_refers_to() -> None:
    course = without_noise(a_course([[2.0] * 40], [50.0], seen_haze_kept=0.3))
    floor = a_floor(rate_sd=0.0)
    for day in range(40):
        floor = worn(floor, course, day)
    gloss_lying = float(np.exp(floor.level + ln_gloss(floor.state, course.law))[0, 0])
    burnished = replace(floor.state, haze=0.3 * floor.state.haze)
    gloss_burnished = float(np.exp(floor.level + ln_gloss(burnished, course.law))[0, 0])
    assert gloss_lying < gloss_burnished - 2

    between = np.log([(gloss_lying + gloss_burnished) / 2])
    assert keeps_promise(floor, replace(course, promise_ln=between), 39).all()
    as_it_lies = replace(course, promise_ln=between, seen_haze_kept=np.ones(1))
    assert not keeps_promise(floor, as_it_lies, 39).any()


def test_where_nothing_is_promised_nothing_is_broken() -> None:
    course = a_course([[2.0] * 5], [float("nan")])
    assert keeps_promise(a_floor(level_gu=2.0), course, 0).all()


def test_beyond_the_horizon_the_same_weekday_of_the_last_year_comes_back() -> None:
    short, long = a_course([[1.0] * 30], [48.0]), a_course([[1.0] * 400], [48.0])
    for course in (short, long):
        assert [course.on(day) for day in range(course.days)] == list(range(course.days))
        beyond = [course.on(day) for day in range(course.days, course.days + 1000)]
        assert all((day - column) % 7 == 0 for day, column in enumerate(beyond, course.days))
        assert all(0 <= column < course.days for column in beyond)
    assert len({long.on(day) for day in range(400, 764)}) == 364


def test_a_treatment_of_some_draws_leaves_the_others_as_they_are() -> None:
    floor = a_floor(2)
    hazy = replace(floor, state=replace(floor.state, haze=np.full(floor.level.shape, 0.5)))
    where = np.zeros(floor.level.shape, dtype=bool)
    where[0, 3] = where[1, 7] = True
    found = hazy.treated_where(polished().methods[Work.BURNISH].effect, where)
    assert found.state.haze[where].tolist() == pytest.approx([0.15, 0.15])
    assert (found.state.haze[~where] == 0.5).all()
    assert (hazy.state.haze == 0.5).all()
