from dataclasses import replace

import numpy as np
import pytest

from floorcare.ground.trade.surface import Effect
from floorcare.ground.wear.draws import draw
from floorcare.ground.wear.estimate import estimate
from floorcare.ground.wear.forecast import bands
from floorcare.ground.wear.watch.later import Supposed, cut_at, expect, known_columns, set_apart
from tests.ground.wear.fleets import BURNISH, LAW, make_fleet

FLEET = make_fleet(zones=6, days=400, ahead=0, seed=11, readings=14)
COLUMNS = FLEET.columns
ZONES = np.arange(6)
KNOWN = np.array([200, 250, 300, 300, 260, 210])
LAST = np.full(6, 399)


def test_later_readings_are_those_after_the_last_known_day_and_all_of_them():
    later = set_apart(COLUMNS, ZONES, KNOWN, LAST)
    for row in range(6):
        own = COLUMNS.reading_zone == row
        want = np.flatnonzero(own & (COLUMNS.reading_day > KNOWN[row]))[:12]
        assert sorted(later.reading[row][later.there[row]]) == sorted(want)
        assert later.before[row] == (own & (COLUMNS.reading_day <= KNOWN[row])).sum()
        there = later.there[row]
        assert (later.day[row][there] == COLUMNS.reading_day[later.reading[row][there]]).all()


def test_the_last_day_looked_at_bounds_them():
    later = set_apart(COLUMNS, ZONES, KNOWN, KNOWN + 30)
    assert (later.day <= (KNOWN + 30)[:, None]).all()


def test_a_zone_as_known_on_a_day_gives_the_fit_of_that_day():
    known = known_columns(COLUMNS, np.array([3, 1]), np.array([300, 250]))
    fit = estimate(known, LAW)
    for row, (zone, day) in enumerate(((3, 300), (1, 250))):
        alone = estimate(cut_at(COLUMNS, day), LAW)
        assert fit.mean[row] == pytest.approx(alone.mean[zone], abs=1e-6)


def test_expectations_are_the_forecasts_own():
    later = set_apart(COLUMNS, np.array([3]), np.array([300]), np.array([399]))
    (expected,) = expect(COLUMNS, LAW, later, (Supposed(),))
    known = cut_at(COLUMNS, 300)
    ahead = slice(301, 400)
    plan = tuple((effect, done[:, ahead]) for effect, done in COLUMNS.treatments)
    passes = COLUMNS.thousand_passes[:, ahead]
    draws = draw(estimate(known, LAW), 512)
    for after in (False, True):
        seen = bands(draws, LAW, passes, plan, (0.6827,), after=after)
        for place in np.flatnonzero(later.there[0]).tolist():
            if COLUMNS.reading_after_burnish[later.reading[0, place]] != after:
                continue
            day = later.day[0, place] - 301
            assert expected.ln[0, place] == pytest.approx(np.log(seen.median[3, day]), abs=0.01)
            sd = np.log(seen.upper[0, 3, day] / seen.lower[0, 3, day]) / 2
            assert np.sqrt(expected.covariance[0, place, place]) == pytest.approx(sd, rel=0.25)


def test_a_zones_expectation_knows_nothing_of_its_later_readings():
    later = set_apart(COLUMNS, ZONES, KNOWN, LAST)
    (before,) = expect(COLUMNS, LAW, later, (Supposed(),))
    shifted = COLUMNS.reading_ln.copy()
    shifted[later.reading[later.there]] += 0.3
    (after,) = expect(replace(COLUMNS, reading_ln=shifted), LAW, later, (Supposed(),))
    assert np.array_equal(before.ln, after.ln, equal_nan=True)
    assert np.array_equal(before.covariance, after.covariance)


def test_more_traffic_or_less_work_lets_gloss_fall_lower():
    later = set_apart(COLUMNS, ZONES, KNOWN, LAST)
    weaker = tuple(
        replace(effect, haze_kept=0.9) if effect == BURNISH else effect
        for effect, _ in COLUMNS.treatments
    )
    supposed = (Supposed(), Supposed(passes_times=2.0), Supposed(effects=weaker))
    plain, busier, weak = expect(COLUMNS, LAW, later, supposed)
    there = later.there
    assert (busier.ln[there] < plain.ln[there]).all()
    assert (weak.ln[there] <= plain.ln[there] + 1e-12).all()


def test_a_treatment_left_out_on_the_first_day_is_missed_afterwards():
    zone, day = (index[:1] for index in np.nonzero(COLUMNS.treatments[1][1][:, 150:350]))
    later = set_apart(COLUMNS, zone, day + 149, np.array([399]))
    supposed = (Supposed(), Supposed(first_left_out=True))
    done, left_out = expect(COLUMNS, LAW, later, supposed)
    first = later.day[0] > day[0] + 150
    assert (left_out.ln[0][later.there[0] & first] < done.ln[0][later.there[0] & first]).any()


def test_covariances_are_symmetric_and_positive():
    later = set_apart(COLUMNS, ZONES, KNOWN, LAST)
    (expected,) = expect(COLUMNS, LAW, later, (Supposed(),))
    for row in range(6):
        own = expected.covariance[row][np.ix_(later.there[row], later.there[row])]
        assert own == pytest.approx(own.T)
        assert (np.linalg.eigvalsh(own) > -1e-12).all()


def test_without_any_reading_nothing_is_expected():
    none = cut_at(COLUMNS, 0)
    later = set_apart(none, ZONES, np.zeros(6, dtype=np.int64), np.zeros(6, dtype=np.int64))
    (expected,) = expect(none, LAW, later, (Supposed(),))
    assert expected.ln.shape == (6, 0)


def test_a_level_that_may_have_moved_makes_what_is_read_after_it_less_certain():
    day = 300
    done = np.zeros(COLUMNS.thousand_passes.shape, dtype=np.bool_)
    done[3, day] = True
    jumping = replace(COLUMNS, treatments=(*COLUMNS.treatments, (Effect(level_sd=0.05), done)))
    later = set_apart(COLUMNS, np.array([3]), np.array([260]), np.array([399]))
    (plain,), (jumped,) = (expect(c, LAW, later, (Supposed(),)) for c in (COLUMNS, jumping))
    assert np.array_equal(plain.ln, jumped.ln, equal_nan=True)
    after = (later.day[0] > day) & later.there[0]
    assert after.any()
    assert (~after & later.there[0]).any()
    more = (jumped.covariance - plain.covariance)[0]
    assert more[np.ix_(after, after)] == pytest.approx(0.05**2)
    assert not more[~after].any()
