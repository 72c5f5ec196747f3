"""Draws: fixed, even, and in agreement with the readings."""

from dataclasses import replace

import numpy as np
import pytest

from floorcare.ground.wear.draws import draw, standard_normals, walk_noise
from floorcare.ground.wear.estimate import estimate
from floorcare.ground.wear.model import ln_gloss
from tests.ground.wear.fleets import LAW, make_fleet

FLEET = make_fleet(zones=100, days=400, ahead=1, seed=31, readings=10)
FIT = estimate(FLEET.columns, LAW)


def test_the_fixed_numbers_are_standard_normal_and_the_same_each_time() -> None:
    normals = standard_normals(128, 8)
    assert normals.tolist() == standard_normals(128, 8).tolist()
    assert normals.mean(axis=0) == pytest.approx(np.zeros(8), abs=0.03)
    assert normals.std(axis=0) == pytest.approx(np.ones(8), abs=0.05)
    assert standard_normals(100, 8).tolist() == normals[:100].tolist()


def test_draws_have_the_posterior_of_the_rates() -> None:
    draws = draw(FIT, 512)
    u_haze = np.log(draws.rates.haze / LAW.haze_rate)
    assert u_haze.mean(axis=1) == pytest.approx(FIT.mean[:, 0], abs=0.02)
    assert u_haze.std(axis=1) == pytest.approx(np.sqrt(FIT.covariance[:, 0, 0]), rel=0.05)
    assert draws.count == 512


def test_gloss_today_lies_in_the_draws_as_often_as_it_should() -> None:
    draws = draw(FIT)
    gloss = np.exp(draws.level + draws.shock + ln_gloss(draws.state, LAW))
    low, high = np.quantile(gloss, [0.05, 0.95], axis=1)
    truth = FLEET.truth.after[:, FLEET.today]
    assert np.mean((low <= truth) & (truth <= high)) == pytest.approx(0.90, abs=0.07)


def test_every_draw_is_a_possible_floor() -> None:
    state = draw(FIT).state
    assert ((state.haze >= 0) & (state.haze <= 1)).all()
    assert ((state.film >= 0) & (state.film <= 1)).all()
    assert (state.scratch >= 0).all()


def test_no_draw_at_all_is_refused() -> None:
    with pytest.raises(ValueError, match="at least 1"):
        draw(FIT, 0)


def test_walks_ahead_are_fixed_and_a_shorter_look_is_their_beginning() -> None:
    drift, shock = walk_noise(128, 90, LAW)
    shorter, _ = walk_noise(128, 30, LAW)
    assert drift.shape == shock.shape == (128, 90)
    assert shorter.tolist() == drift[:, :30].tolist()
    assert drift.mean(axis=0) == pytest.approx(np.zeros(90), abs=1e-12)
    assert walk_noise(7, 5, LAW)[0].shape == (7, 5)


def test_what_single_days_do_fades_and_a_shorter_look_is_its_beginning() -> None:
    law = replace(LAW, drift_sd=0.0, day_sd=0.02)
    effects, shock = walk_noise(128, 90, law)
    shorter, _ = walk_noise(128, 30, law)
    assert shorter.tolist() == effects[:, :30].tolist()
    assert effects[:, 0].std() == pytest.approx(0.02, rel=1e-9)
    assert effects.std(axis=0).mean() == pytest.approx(0.02, rel=0.1)
    after = (effects[:, :-10] * effects[:, 10:]).mean() / (effects**2).mean()
    assert after == pytest.approx(np.exp(-1.0), abs=0.1)
    assert shock.std(axis=0) == pytest.approx(np.full(90, LAW.shock_sd), rel=1e-6)


def test_draws_are_scaled_about_their_mean_gloss() -> None:
    plain, wide = draw(FIT), draw(FIT, band_scale=np.full(100, 1.5))
    one, other = (d.level + d.shock + ln_gloss(d.state, LAW) for d in (plain, wide))
    assert other.mean(axis=1) == pytest.approx(one.mean(axis=1), abs=1e-9)
    assert other.std(axis=1) == pytest.approx(1.5 * one.std(axis=1), rel=1e-9)


def test_walks_ahead_have_the_variance_of_the_law() -> None:
    drift, shock = walk_noise(8_192, 50, LAW)
    assert drift[:, -1].std() == pytest.approx(LAW.drift_sd * np.sqrt(50), rel=0.03)
    assert shock.std(axis=0) == pytest.approx(np.full(50, LAW.shock_sd), rel=0.03)


def test_few_draws_have_the_walks_spread_exactly_and_know_nothing_of_today() -> None:
    drift, shock = walk_noise(128, 120, LAW)
    days = np.arange(1, 121)
    assert drift.std(axis=0) == pytest.approx(LAW.drift_sd * np.sqrt(days), rel=1e-6)
    assert shock.std(axis=0) == pytest.approx(np.full(120, LAW.shock_sd), rel=1e-6)
    assert shock[:, 27:54].sum(axis=1).std() == pytest.approx(LAW.shock_sd * np.sqrt(27), rel=1e-6)
    today = standard_normals(128, 8)
    assert today.T @ drift == pytest.approx(np.zeros((8, 120)), abs=1e-9)
    assert np.abs(drift / LAW.drift_sd / np.sqrt(days)).max() < 5
