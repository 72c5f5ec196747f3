"""Forecasts along the tangent agree with following every draw, and say what they cannot know."""

import itertools
from dataclasses import replace
from statistics import NormalDist

import numpy as np
import pytest

from floorcare.ground.wear.ahead import first_day_below, gloss_ahead
from floorcare.ground.wear.columns import OpeningCode
from floorcare.ground.wear.draws import draw
from floorcare.ground.wear.estimate import Fit, estimate
from floorcare.ground.wear.forecast import bands, first_below
from floorcare.ground.wear.model import expose, ln_gloss, treat
from floorcare.ground.wear.sight import LEVEL, SHOCK, today_under
from tests.ground.wear.fleets import LAW, make_fleet, only_zone, some_readings

ZONES, DAYS, PATHS = 40, 90, 512
LAWFUL = replace(LAW, day_sd=0.01)
FLEET = make_fleet(zones=ZONES, days=400, ahead=DAYS, seed=61, readings=24, law=LAWFUL)
FIT = estimate(FLEET.columns, LAWFUL)
DRAWS = draw(FIT, PATHS)
AHEAD = np.array([1, 30, 60, 90])
LEVEL_GU = np.exp(FLEET.truth.level[:, 0])
NEAR = 1e-3
"""GU; how much old haze is dropped depends a little on the days asked for."""


def _gloss(fit: Fit = FIT, **asked: object) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    return gloss_ahead(fit, FLEET.passes_ahead, FLEET.plan, AHEAD, **asked)  # type: ignore[arg-type]


def _days(promise: np.ndarray, fit: Fit = FIT, **asked: object) -> np.ndarray:
    return first_day_below(  # type: ignore[arg-type]
        fit, FLEET.passes_ahead, FLEET.plan, promise, **{"draws": PATHS, **asked}
    )


@pytest.mark.parametrize("after", [False, True])
def test_on_well_read_floors_the_tangent_gives_the_bands_of_the_draws(after: bool) -> None:
    """Median within 0.6 %, edges within 2 % of gloss, where a band is some 9 % wide."""
    drawn = bands(DRAWS, LAWFUL, FLEET.passes_ahead, FLEET.plan, levels=(0.9,), after=after)
    median, lower, upper = _gloss(after=after)
    assert median == pytest.approx(drawn.median[:, AHEAD - 1], rel=0.006)
    for edge, of_draws in ((lower, drawn.lower[0]), (upper, drawn.upper[0])):
        apart = np.log(edge / of_draws[:, AHEAD - 1])
        assert np.abs(apart).max() < 0.02
        assert np.abs(apart).mean() < 0.004
    assert 0.07 < np.log(upper / lower).mean() < 0.12


@pytest.mark.parametrize("share", [0.7, 0.8, 0.9])
def test_on_well_read_floors_first_days_are_those_of_the_draws(share: float) -> None:
    """Of as many paths; within a day and a half on average, and a fortnight at most."""
    drawn = first_below(DRAWS, LAWFUL, FLEET.passes_ahead, FLEET.plan, share * LEVEL_GU).days
    found = _days(share * LEVEL_GU)
    capped, other = np.minimum(found, DAYS + 1), np.minimum(drawn, DAYS + 1)
    assert np.abs(capped - other).max() <= 14
    assert np.abs(capped - other).mean() < 1.5
    assert ((found[:, 1] < DAYS) & (found[:, 1] > 1)).any() or share < 0.9


def test_few_paths_wander_by_a_few_days_only() -> None:
    many, few = _days(0.85 * LEVEL_GU), _days(0.85 * LEVEL_GU, draws=64)
    middle = np.minimum(np.stack([many[:, 1], few[:, 1]]), DAYS + 1)
    assert np.abs(middle[0] - middle[1]).mean() < 2.5


def test_the_median_is_the_most_probable_floor_lived_ahead_day_by_day() -> None:
    state, rates = today_under(FIT.columns, LAWFUL, FIT.sight, FIT.mean[:, :2].T[:, None])
    shock = FIT.mean[:, SHOCK]
    expected = {}
    for day in range(DAYS):
        state = expose(state, rates, LAWFUL, FLEET.passes_ahead[:, day])
        before = FIT.mean[:, LEVEL] + shock + ln_gloss(state, LAWFUL)[0]
        for effect, done in FLEET.plan:
            state = treat(state, effect, done[:, day])
            shock = np.where(done[:, day], effect.haze_kept * shock, shock)
        expected[day + 1] = (before, FIT.mean[:, LEVEL] + shock + ln_gloss(state, LAWFUL)[0])
    for after in (False, True):
        ln = np.stack([expected[day][after] for day in AHEAD.tolist()], axis=1)
        # Haze of before HAZE_FORGOTTEN is dropped: a quarter of a thousandth of gloss.
        assert np.log(_gloss(after=after)[0]) == pytest.approx(ln, abs=3e-4)


def test_the_spread_grows_by_the_walks_variance() -> None:
    """Nothing done, nobody walks: only the walks and the day's own effect widen the band."""
    law = replace(LAWFUL, ageing=0.0)
    fit, still = replace(FIT, law=law), np.zeros((ZONES, DAYS))
    none = tuple((effect, done & False) for effect, done in FLEET.plan)
    _, lower, upper = gloss_ahead(fit, still, none, np.array([1, 41]))
    var = (np.log(upper / lower) / (2 * NormalDist().inv_cdf(0.95))) ** 2
    grown = var[:, 1] - var[:, 0]
    assert grown == pytest.approx(np.full(ZONES, 40 * (law.drift_sd**2 + law.shock_sd**2)))


def test_days_are_answered_in_the_order_asked_and_unknown_ones_not_at_all() -> None:
    plain = _gloss()
    asked = np.array([60, 0, 1, 60, 91, -3])
    for part, whole in zip(
        gloss_ahead(FIT, FLEET.passes_ahead, FLEET.plan, asked), plain, strict=True
    ):
        assert part[:, [0, 3]] == pytest.approx(np.repeat(whole[:, [2]], 2, axis=1), abs=NEAR)
        assert part[:, 2] == pytest.approx(whole[:, 0], abs=NEAR)
        assert np.isnan(part[:, [1, 4, 5]]).all()
    for part in gloss_ahead(FIT, FLEET.passes_ahead, FLEET.plan, np.array([500])):
        assert np.isnan(part).all()


def test_bands_are_scaled_about_their_median_and_widen_with_their_level() -> None:
    scale = np.linspace(0.5, 2.0, ZONES)
    median, lower, upper = _gloss()
    same, down, up = _gloss(band_scale=scale)
    assert same.tolist() == median.tolist()
    assert np.log(up / same) == pytest.approx(scale[:, None] * np.log(upper / median))
    assert np.log(same / down) == pytest.approx(scale[:, None] * np.log(median / lower))
    _, narrow, _ = _gloss(level=0.5)
    assert (narrow > lower).all()


def test_first_days_spread_with_the_band() -> None:
    promise = 0.85 * LEVEL_GU
    narrow, wide = _days(promise, band_scale=0.5), _days(promise, band_scale=2.0)
    assert (wide[:, 0] <= narrow[:, 0]).mean() > 0.95
    assert (wide[:, 0] < narrow[:, 0]).any()
    assert np.mean(np.isfinite(narrow[:, 0])) < np.mean(np.isfinite(wide[:, 0]))


def test_days_below_come_no_later_under_a_higher_promise() -> None:
    found = [_days(share * LEVEL_GU) for share in (0.3, 0.6, 0.7, 0.8, 0.9, 1.2)]
    for lower, higher in itertools.pairwise(found):
        assert (higher <= lower).all()
    assert np.isinf(found[0]).all()
    assert (found[-1] == 1.0).all()
    for days in found:
        assert (days[:, 0] <= days[:, 1]).all()
        assert (days[:, 1] <= days[:, 2]).all()


def test_with_no_day_ahead_nothing_is_broken_within_them() -> None:
    none = tuple((effect, done[:, :0]) for effect, done in FLEET.plan)
    days = first_day_below(FIT, FLEET.passes_ahead[:, :0], none, LEVEL_GU)
    assert np.isinf(days).all()


def test_fewer_days_ahead_say_the_same_of_those_days() -> None:
    promise = 0.85 * LEVEL_GU
    short = tuple((effect, done[:, :30]) for effect, done in FLEET.plan)
    near = first_day_below(FIT, FLEET.passes_ahead[:, :30], short, promise, draws=PATHS)
    far = _days(promise)
    assert near.tolist() == np.where(far > 30, np.inf, far).tolist()


def test_seen_as_it_lies_the_promise_holds_no_longer() -> None:
    none = tuple((effect, done & False) for effect, done in FLEET.plan)
    promise = 0.8 * LEVEL_GU
    lying = first_day_below(FIT, FLEET.passes_ahead, none, promise, seen_haze_kept=1.0)
    burnished = first_day_below(FIT, FLEET.passes_ahead, none, promise)
    assert (lying <= burnished).all()
    assert (lying < burnished).any()


def test_zones_without_promise_or_readings_have_no_answer() -> None:
    columns = some_readings(FLEET.columns, FLEET.columns.reading_zone != 4)
    promise = 0.85 * LEVEL_GU
    promise[3] = np.nan
    fit = estimate(columns, LAWFUL)
    found = _days(promise, fit)
    assert np.isnan(found[[3, 4]]).all()
    assert not np.isnan(found[5:]).any()
    assert np.isnan(_gloss(fit)[0][4]).all()
    assert not np.isnan(_gloss(fit)[0][[3, 5]]).any()


def test_a_floor_taken_over_unknown_is_foretold_within_wider_bands() -> None:
    columns = replace(FLEET.columns, opening=np.full(ZONES, OpeningCode.UNKNOWN))
    fit = estimate(columns, LAWFUL)
    (_, lower, upper), (_, low, high) = _gloss(fit), _gloss()
    assert np.log(upper / lower).mean() > np.log(high / low).mean()
    drawn = bands(draw(fit, PATHS), LAWFUL, FLEET.passes_ahead, FLEET.plan, levels=(0.9,))
    # Curved openings bend the draws' edges more than a tangent: 1.5 % on average, not 0.4 %.
    assert np.abs(np.log(lower / drawn.lower[0][:, AHEAD - 1])).mean() < 0.015


def test_a_zone_alone_gives_what_it_gives_among_others() -> None:
    promise = 0.85 * LEVEL_GU
    together, days = _gloss(), _days(promise)
    for zone in (0, 17, 39):
        alone = estimate(only_zone(FLEET.columns, zone), LAWFUL)
        plan = tuple((effect, done[[zone]]) for effect, done in FLEET.plan)
        passes = FLEET.passes_ahead[[zone]]
        for part, whole in zip(gloss_ahead(alone, passes, plan, AHEAD), together, strict=True):
            assert part[0] == pytest.approx(whole[zone], rel=1e-9)
        own = first_day_below(alone, passes, plan, promise[[zone]], draws=PATHS)
        assert own[0].tolist() == days[zone].tolist()
