"""The estimate finds what is true, is not fooled, and says when it does not know."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import minimize

from floorcare.ground.trade.surface import Effect
from floorcare.ground.wear.columns import OpeningCode
from floorcare.ground.wear.draws import draw
from floorcare.ground.wear.estimate import Fit, estimate
from floorcare.ground.wear.forecast import bands
from floorcare.ground.wear.model import FloorState, ln_gloss
from floorcare.ground.wear.prior import prior_from
from floorcare.ground.wear.sight import LEVEL, live_through
from tests.ground.wear.fleets import LAW, make_fleet, only_zone, quiet, some_readings, taken_over

FLEET = make_fleet(zones=200, days=540, ahead=90, seed=101, readings=12)
FIT = estimate(FLEET.columns, LAW)


def _ln_today(fit: Fit) -> np.ndarray:
    """Median ln gloss today over draws, (Z,)."""
    draws = draw(fit)
    return np.median(draws.level + draws.shock + ln_gloss(draws.state, LAW), axis=1)


def test_rates_are_recovered_from_many_exact_readings() -> None:
    law = replace(
        quiet(), instrument_sd=1e-3, station_sd=0.0, first_reading_sd=1e-3, gross_share=1e-9
    )
    fleet = make_fleet(zones=20, days=540, ahead=1, seed=5, readings=60, law=law)
    busy = fleet.columns.thousand_passes.mean(axis=1) > 0.5
    fit = estimate(fleet.columns, law)
    assert fit.settled.all()
    assert fit.mean[busy, 0] == pytest.approx(fleet.u_haze[busy], abs=0.08)
    assert fit.mean[busy, 1] == pytest.approx(fleet.u_rest[busy], abs=0.15)


def test_posterior_spread_of_the_rates_is_honest() -> None:
    spread = np.sqrt(np.stack([FIT.covariance[:, k, k] for k in (0, 1)], axis=1))
    off = (FIT.mean[:, :2] - np.stack([FLEET.u_haze, FLEET.u_rest], axis=1)) / spread
    assert np.mean(np.abs(off) < 1.645) == pytest.approx(0.90, abs=0.05)
    assert abs(off.mean()) < 0.2


def test_the_answer_is_the_most_probable_one_found_by_a_general_minimiser() -> None:
    law = replace(quiet(), gross_share=1e-12)
    columns = only_zone(
        make_fleet(zones=1, days=300, ahead=1, seed=9, readings=8, law=law).columns, 0
    )
    fit = estimate(columns, law)
    prior = prior_from(law, columns.counted)
    precision = np.linalg.inv(prior.covariance()[0])
    variance = fit.sight.variance

    def cost(x: np.ndarray) -> float:
        curved = np.array([[[x[0]]], [[x[1]]]])
        off = fit.sight.ln - x[2] - live_through(columns, law, fit.sight, curved)[0][0]
        level = (x[2] - np.log(40.0)) / 2.0
        return float(x[:2] @ precision @ x[:2] + level**2 + (off**2 / variance).sum())

    best = minimize(
        cost,
        [0.0, 0.0, 3.8],
        method="Nelder-Mead",
        options={"xatol": 1e-9, "fatol": 1e-12, "maxiter": 5000},
    )
    assert fit.mean[0, [0, 1, LEVEL]] == pytest.approx(best.x, abs=2e-4)


@pytest.mark.parametrize("gross_factor", [6.0, 10.0])
@pytest.mark.parametrize("times", [10.0, 0.1])
def test_one_reading_ten_times_off_fools_nobody(gross_factor: float, times: float) -> None:
    law = replace(LAW, gross_factor=gross_factor, gross_share=0.04)
    fleet = make_fleet(
        zones=60, days=400, ahead=1, seed=17, readings=8, law=replace(law, gross_share=0.0)
    )
    clean = _ln_today(estimate(fleet.columns, law))
    for place in (0, 3, 7):
        wrong = fleet.columns.reading_ln.copy()
        hit = np.arange(60) * 8 + place
        wrong[hit] += np.log(times)
        fit = estimate(replace(fleet.columns, reading_ln=wrong), law)
        assert fit.gross[hit].all()
        assert fit.gross.sum() <= 62
        # Without the true reading there is less to go by; with it gone nothing else may move.
        without = np.delete(np.arange(480), hit)
        gone = estimate(some_readings(fleet.columns, without), law)
        assert np.abs(_ln_today(fit) - _ln_today(gone)).max() < 0.02
        assert np.abs(_ln_today(fit) - clean).mean() < 0.02


def test_gross_readings_are_found_and_good_ones_left_alone() -> None:
    found = FIT.gross & FLEET.gross
    assert found.sum() > 0.6 * FLEET.gross.sum()
    assert (FIT.gross & ~FLEET.gross).sum() <= 0.01 * FLEET.gross.size


def test_an_unknown_floor_is_not_believed_fresh() -> None:
    """Zones 600 days old, taken over; they will be re-polished 30 days from today."""
    fleet = make_fleet(zones=150, days=700, ahead=60, seed=23, readings=16)
    old = (FLEET.columns.thousand_passes.mean() > 0) & ~fleet.columns.treatments[0][1].any(axis=1)
    plan = tuple(
        (effect, days | (np.arange(60) == 29) if place == 0 else days)
        for place, (effect, days) in enumerate(fleet.plan)
    )
    level = fleet.truth.level[:, fleet.today]
    ln_fresh = ln_gloss(FloorState.fresh(1, LAW), LAW)
    error, width, inside = {}, {}, {}
    for opening in (OpeningCode.FRESH, OpeningCode.UNKNOWN):
        fit = estimate(taken_over(fleet.columns, 600, opening), LAW)
        ahead = bands(draw(fit), LAW, fleet.passes_ahead, plan, after=True)
        known = old & (fit.readings > 0)
        truth = np.exp(level + ln_fresh)[known]
        error[opening] = np.abs(ahead.median[known, 29] - truth).mean()
        width[opening] = (ahead.upper - ahead.lower)[2, known, 29].mean()
        inside[opening] = (
            (ahead.lower[2, known, 29] <= truth) & (truth <= ahead.upper[2, known, 29])
        ).mean()
    assert inside[OpeningCode.UNKNOWN] > 0.8
    assert inside[OpeningCode.FRESH] < inside[OpeningCode.UNKNOWN] - 0.15
    assert width[OpeningCode.UNKNOWN] > 1.3 * width[OpeningCode.FRESH]
    assert error[OpeningCode.UNKNOWN] < error[OpeningCode.FRESH]


def test_a_date_known_about_is_wider_than_a_known_one_and_narrower_than_unknown() -> None:
    columns = only_zone(make_fleet(zones=4, days=30, ahead=1, seed=3, readings=2).columns, 2)
    columns = replace(columns, opening_about_days=np.array([60.0]))
    spread = {}
    for opening in OpeningCode:
        fit = estimate(replace(columns, opening=np.array([opening])), LAW)
        spread[opening] = float(draw(fit).level.std())
    assert spread[OpeningCode.FRESH] == spread[OpeningCode.DATED]
    assert spread[OpeningCode.FRESH] < spread[OpeningCode.ABOUT] < spread[OpeningCode.UNKNOWN]


def test_a_zone_alone_gives_what_it_gives_among_others() -> None:
    columns = replace(
        FLEET.columns, opening=np.arange(200) % 4, opening_about_days=np.full(200, 9.0)
    )
    together = estimate(columns, LAW)
    many = draw(together)
    ahead = bands(many, LAW, FLEET.passes_ahead, FLEET.plan)
    for zone in (0, 1, 2, 3, 77, 199):
        alone = estimate(only_zone(columns, zone), LAW)
        assert alone.mean[0] == pytest.approx(together.mean[zone], abs=1e-9)
        assert alone.covariance[0] == pytest.approx(together.covariance[zone], abs=1e-9)
        one = draw(alone)
        assert one.level[0] == pytest.approx(many.level[zone], abs=1e-9)
        plan = tuple((effect, days[[zone]]) for effect, days in FLEET.plan)
        own = bands(one, LAW, FLEET.passes_ahead[[zone]], plan)
        assert own.lower[:, 0] == pytest.approx(ahead.lower[:, zone], rel=1e-9)


def test_a_zone_without_readings_keeps_the_belief_and_has_no_level() -> None:
    own = FLEET.columns.reading_zone != 5
    fit = estimate(some_readings(FLEET.columns, np.flatnonzero(own)), LAW)
    assert np.isnan(fit.mean[5, LEVEL])
    assert fit.mean[5, :2].tolist() == [0.0, 0.0]
    assert fit.covariance[5, :2, :2] == pytest.approx(
        prior_from(LAW, FLEET.columns.counted).covariance()[5]
    )
    assert (fit.readings[5], fit.rounds[5], fit.last_day[5]) == (0, 0, -1)
    assert np.isnan(fit.last_residual[5])
    assert not np.isnan(fit.mean[6]).any()
    assert np.isnan(draw(fit).level[5]).all()


def test_no_reading_at_all_is_no_trouble() -> None:
    fit = estimate(some_readings(FLEET.columns, np.array([], dtype=np.int64)), LAW)
    assert np.isnan(fit.mean[:, LEVEL]).all()
    assert fit.settled.all()


def test_readings_are_taken_in_any_order() -> None:
    mixed = np.random.default_rng(3).permutation(FLEET.columns.reading_ln.size)
    fit = estimate(some_readings(FLEET.columns, mixed), LAW)
    assert fit.mean == pytest.approx(FIT.mean, abs=1e-9)
    assert fit.gross.tolist() == FIT.gross[mixed].tolist()


def test_rounds_count_days_and_leave_gross_readings_out() -> None:
    zone = int(FLEET.columns.reading_zone[np.flatnonzero(FIT.gross)[0]])
    own = (FLEET.columns.reading_zone == zone) & ~FIT.gross
    assert FIT.readings[zone] == 12
    assert FIT.rounds[zone] == np.unique(FLEET.columns.reading_day[own]).size
    assert FIT.last_day[zone] == FLEET.columns.reading_day[own].max()


def test_a_prior_of_another_length_is_refused() -> None:
    with pytest.raises(ValueError, match="one value for each of 200 zones"):
        estimate(FLEET.columns, LAW, prior_from(LAW, np.ones(3, dtype=bool)))


def test_a_learned_prior_moves_a_zone_without_its_own_evidence() -> None:
    none = some_readings(FLEET.columns, np.array([], dtype=np.int64))
    learned = replace(prior_from(LAW, none.counted), mean_haze=np.full(200, 0.4))
    assert estimate(none, LAW, learned).mean[:, 0].tolist() == [0.4] * 200


def test_nothing_happens_to_a_zone_before_its_start_day() -> None:
    columns = only_zone(FLEET.columns, 3)
    late = np.zeros((1, 50))
    held = replace(
        columns,
        thousand_passes=np.concatenate([late + 5.0, columns.thousand_passes], axis=1),
        treatments=tuple(
            (effect, np.concatenate([late > -1, done], axis=1))
            for effect, done in columns.treatments
        ),
        reading_day=columns.reading_day + 50,
        start_day=np.array([50]),
    )
    assert estimate(held, LAW).mean == pytest.approx(estimate(columns, LAW).mean, abs=1e-9)


def test_a_hidden_reading_is_foretold_and_not_believed() -> None:
    """As if it had never been taken, but with the answer what the others say of it."""
    hidden = np.arange(FLEET.columns.reading_ln.size) % 12 == 11
    fit = estimate(FLEET.columns, LAW, hidden=hidden)
    without = estimate(some_readings(FLEET.columns, ~hidden), LAW)
    assert fit.mean == pytest.approx(without.mean, abs=1e-3)
    spread = np.sqrt(np.stack([f.covariance[:, LEVEL, LEVEL] for f in (fit, without)]))
    assert spread[0] == pytest.approx(spread[1], rel=1e-3)
    wrong = np.where(hidden, 1.0, FLEET.columns.reading_ln)
    moved = estimate(replace(FLEET.columns, reading_ln=wrong), LAW, hidden=hidden)
    assert moved.mean == pytest.approx(fit.mean, abs=0.02)
    good = hidden & ~FLEET.gross
    assert np.mean(np.abs(fit.residual[good]) < 1.645) == pytest.approx(0.90, abs=0.07)
    total = np.hypot(fit.foretold_sd, fit.error_sd)
    assert (total[hidden] > fit.error_sd[hidden]).all()


def test_a_treatment_that_may_move_the_level_lets_it_move() -> None:
    """Twenty readings, the level another from day 100 on; that day's work may do so or not."""
    done = (np.arange(200) == 100)[None]
    days = np.r_[0:200:10]
    columns = replace(
        only_zone(make_fleet(zones=1, days=200, ahead=1, seed=8, readings=20).columns, 0),
        thousand_passes=np.full((1, 200), 0.2),
        reading_day=days,
        reading_ln=np.log(50.0) - 0.12 * (days > 100),
        reading_after_burnish=np.ones(20, dtype=bool),
    )
    level, spread = {}, {}
    for sd in (0.0, 0.1):
        fit = estimate(replace(columns, treatments=((Effect(level_sd=sd), done),)), LAW)
        level[sd], spread[sd] = fit.mean[0, LEVEL], fit.covariance[0, LEVEL, LEVEL]
        assert fit.mean.shape == (1, 7)
    assert level[0.1] < level[0.0] - 0.01
    assert spread[0.1] > 1.05 * spread[0.0]
