"""Bands cover what comes, and the first day below promise is followed path by path."""

from dataclasses import replace

import numpy as np
import pytest

from floorcare.ground.wear.draws import draw
from floorcare.ground.wear.estimate import estimate
from floorcare.ground.wear.forecast import bands, first_below
from floorcare.ground.wear.model import ln_gloss
from tests.ground.wear.fleets import BURNISH, LAW, make_fleet

FLEET = make_fleet(zones=80, days=400, ahead=120, seed=41, readings=8)
DRAWS = draw(estimate(FLEET.columns, LAW))
PROMISE = 0.8 * np.exp(FLEET.truth.level[:, 0])


@pytest.mark.parametrize("seed", [51, 52, 53])
def test_ninety_per_cent_bands_cover_about_ninety_per_cent(seed: int) -> None:
    fleet = make_fleet(zones=300, days=500, ahead=90, seed=seed, readings=11)
    ahead = bands(draw(estimate(fleet.columns, LAW)), LAW, fleet.passes_ahead, fleet.plan)
    for day in (30, 60, 90):
        truth = fleet.truth.before[:, fleet.today + day]
        inside = (ahead.lower[2, :, day - 1] <= truth) & (truth <= ahead.upper[2, :, day - 1])
        assert 0.82 <= inside.mean() <= 0.97


def test_wider_levels_hold_narrower_ones() -> None:
    ahead = bands(DRAWS, LAW, FLEET.passes_ahead, FLEET.plan)
    assert ahead.levels == (0.5, 0.8, 0.9)
    assert (np.diff(ahead.lower, axis=0) <= 0).all()
    assert (np.diff(ahead.upper, axis=0) >= 0).all()
    assert ((ahead.lower[0] <= ahead.median) & (ahead.median <= ahead.upper[0])).all()


def test_after_treatment_differs_only_on_days_of_treatment() -> None:
    before = bands(DRAWS, LAW, FLEET.passes_ahead, FLEET.plan).median
    after = bands(DRAWS, LAW, FLEET.passes_ahead, FLEET.plan, after=True).median
    worked = np.any([days for _, days in FLEET.plan], axis=0)
    assert (after[worked] > before[worked]).mean() > 0.95
    assert after[~worked].tolist() == before[~worked].tolist()


def test_first_passage_comes_no_later_than_any_marginal_says() -> None:
    """P(broken by day t) is at least the largest P(below on a day up to t)."""
    draws = DRAWS
    found = first_below(draws, LAW, FLEET.passes_ahead, FLEET.plan, PROMISE, 1.0)
    ahead = bands(draws, LAW, FLEET.passes_ahead, FLEET.plan, levels=(0.5,))
    # Where the median lies below promise, at least half the draws are below on that very day.
    below = ahead.median < PROMISE[:, None]
    marginal = np.where(below.any(axis=1), below.argmax(axis=1) + 1.0, np.inf)
    middle = found.days[:, found.quantiles.index(0.5)]
    assert (middle <= marginal).all()
    assert (middle < marginal).any()


def test_the_chance_of_a_break_never_falls_and_gives_the_quantiles() -> None:
    found = first_below(DRAWS, LAW, FLEET.passes_ahead, FLEET.plan, PROMISE)
    assert (np.diff(found.prob_by_day, axis=1) >= 0).all()
    assert (found.days[:, 0] <= found.days[:, 1]).all()
    assert (found.days[:, 1] <= found.days[:, 2]).all()
    for place, share in enumerate(found.quantiles):
        for zone in np.flatnonzero(np.isfinite(found.days[:, place])):
            day = int(found.days[zone, place])
            assert found.prob_by_day[zone, day - 1] >= share
            assert day == 1 or found.prob_by_day[zone, day - 2] < share
    assert np.isinf(found.days[found.prob_by_day[:, -1] < 0.05]).all()


def test_a_floor_already_below_breaks_tomorrow() -> None:
    found = first_below(DRAWS, LAW, FLEET.passes_ahead, FLEET.plan, np.full(80, 500.0))
    assert (found.days == 1.0).all()


def test_with_no_day_ahead_nothing_is_broken_within_them() -> None:
    none = tuple((effect, days[:, :0]) for effect, days in FLEET.plan)
    found = first_below(DRAWS, LAW, FLEET.passes_ahead[:, :0], none, PROMISE)
    assert np.isinf(found.days).all()
    assert found.prob_by_day.shape == (80, 0)


def test_zones_without_promise_or_readings_have_no_date() -> None:
    promise = PROMISE.copy()
    promise[3] = np.nan
    unread = replace(DRAWS, level=np.where(np.arange(80)[:, None] == 4, np.nan, DRAWS.level))
    found = first_below(unread, LAW, FLEET.passes_ahead, FLEET.plan, promise)
    ahead = bands(unread, LAW, FLEET.passes_ahead, FLEET.plan)
    assert np.isnan(found.days[[3, 4]]).all()
    assert np.isnan(found.prob_by_day[[3, 4]]).all()
    assert not np.isnan(found.days[5:]).any()
    assert np.isnan(ahead.median[4]).all()
    assert not np.isnan(ahead.median[[3, 5]]).any()


def test_seen_as_after_a_burnish_the_promise_holds_no_shorter() -> None:
    none = tuple((effect, days & False) for effect, days in FLEET.plan)
    lying = first_below(DRAWS, LAW, FLEET.passes_ahead, none, PROMISE, 1.0).prob_by_day
    burnished = first_below(DRAWS, LAW, FLEET.passes_ahead, none, PROMISE, 0.3).prob_by_day
    assert burnished.mean() < lying.mean()


def test_a_burnish_tonight_leaves_its_share_of_haze_and_shock() -> None:
    tonight = ((BURNISH, np.arange(2)[None, :] == np.zeros((80, 1))),)
    still = np.zeros((80, 2))
    quiet = replace(LAW, drift_sd=0.0, shock_sd=0.0, ageing=0.0)
    after = bands(DRAWS, quiet, still, tonight, after=True).median[:, 0]
    state = replace(DRAWS.state, haze=0.3 * DRAWS.state.haze)
    expected = np.median(DRAWS.level + 0.3 * DRAWS.shock + ln_gloss(state, LAW), axis=1)
    assert after == pytest.approx(np.exp(expected), rel=1e-9)
