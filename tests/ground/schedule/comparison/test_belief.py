import numpy as np
import pytest

from floorcare.ground.schedule.comparison.belief import belief_of, carried, corrected
from floorcare.ground.wear.draws import Draws
from floorcare.ground.wear.model import ln_gloss
from tests.builders import a_course, a_floor, without_noise

DAYS = 60


def draws(zones=2, count=24):
    floor = a_floor(zones, draws=count, rate_sd=0.4)
    random = np.random.default_rng(3)
    level = floor.level + 0.05 * random.standard_normal(floor.level.shape)
    return Draws(rates=floor.rates, level=level, shock=floor.shock, state=floor.state)


def course(zones=2, promise=40.0, passes=2.0):
    return a_course([[passes] * DAYS] * zones, [promise] * zones)


def shown(floor, course, day):
    ln = floor.level + course.drift[:, day] + floor.shock
    return ln + ln_gloss(floor.state, course.law)


def test_belief_is_the_same_in_every_future_of_a_zone_and_none_of_them():
    belief = belief_of(draws(), course(), futures=3, first=8)
    assert belief.floor.zone.tolist() == [0, 0, 0, 1, 1, 1]
    assert belief.floor.level.shape == (6, 16)
    assert np.array_equal(belief.floor.level[0], belief.floor.level[2])
    assert np.array_equal(belief.floor.level[0], draws().level[0, 8:])
    assert belief.course.drift.shape == (16, DAYS)


def test_a_belief_of_nothing_is_refused():
    with pytest.raises(ValueError, match="none is left to believe"):
        belief_of(draws(count=8), course(), futures=3, first=8)


def test_each_row_is_carried_to_its_own_day():
    belief = belief_of(draws(), course(), futures=1, first=8)
    together, _ = carried(belief.floor, belief.course, 4, np.array([7, 11]))
    for row, until in enumerate((7, 11)):
        one = belief.floor.rows(np.array([row]))
        alone, _ = carried(one, belief.course, 4, np.array([until]))
        assert np.allclose(together.state.haze[row], alone.state.haze[0])
        assert np.allclose(together.shock[row], alone.shock[0])


def test_more_floors_keep_a_lower_promise_on_the_way():
    shares = []
    for promise in (45.0, 57.0, 70.0):
        belief = belief_of(draws(1), course(1, promise), futures=1, first=8)
        shares.append(float(carried(belief.floor, belief.course, -1, np.array([20]))[1][0]))
    assert shares[0] == 1.0
    assert shares[2] == 0.0
    assert shares == sorted(shares, reverse=True)


def test_a_reading_draws_belief_towards_it_and_narrows_it():
    belief = belief_of(draws(1, 40), without_noise(course(1)), futures=1, first=8)
    floor, _ = carried(belief.floor, belief.course, -1, np.array([30]))
    before = shown(floor, belief.course, 30)
    reading = before.mean(axis=1) - 0.2
    known = corrected(floor, belief.course, 30, reading, 0.03)
    after = shown(known, belief.course, 30)
    assert abs(after.mean() - reading[0]) < abs(before.mean() - reading[0])
    assert after.std() < before.std()
    # floors that read low wear faster, so the rates rise
    assert known.rates.haze.mean() > floor.rates.haze.mean()


def test_of_straight_line_beliefs_the_correction_is_bayes_rule():
    belief = belief_of(draws(1, 408), without_noise(course(1)), futures=1, first=8)
    floor, before = belief.floor, shown(belief.floor, belief.course, 0)
    variance, error = before.var(ddof=1), 0.04
    reading = before.mean() + 0.1
    known = corrected(floor, belief.course, 0, np.array([reading]), error)
    gain = variance / (variance + error**2)
    after = shown(known, belief.course, 0)
    assert after.mean() - before.mean() == pytest.approx(gain * 0.1, rel=1e-9)
    assert after.var(ddof=1) == pytest.approx(variance * (1 - gain), rel=1e-9)


def test_one_floor_alone_is_left_as_it_is():
    belief = belief_of(draws(1, 9), course(1), futures=1, first=8)
    known = corrected(belief.floor, belief.course, 0, np.array([9.0]), 0.03)
    assert known is belief.floor


def test_states_stay_possible_whatever_is_read():
    belief = belief_of(draws(1), course(1), futures=1, first=8)
    floor, _ = carried(belief.floor, belief.course, -1, np.array([30]))
    for reading in (1.0, 7.0):
        known = corrected(floor, belief.course, 30, np.array([reading]), 0.001)
        assert ((known.state.haze >= 0) & (known.state.haze <= 1)).all()
        assert ((known.state.film >= 0) & (known.state.film <= 1)).all()
        assert (known.state.scratch >= 0).all()
        assert (known.rates.haze > 0).all()
