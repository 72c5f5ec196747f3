"""What a fleet teaches: the rates of its classes, its noise, and how honest its bands are."""

from dataclasses import fields, replace

import numpy as np
import pytest

from floorcare.ground.trade.surface import WearLaw
from floorcare.ground.wear import learn as learning
from floorcare.ground.wear.estimate import estimate
from floorcare.ground.wear.learn import HIDDEN_DAYS, LEAST_READINGS, ORIGINS, learn
from floorcare.ground.wear.pooled import CLASSES, Noise, Pooled, class_places, pooled_as
from tests.ground.wear.fleets import LAW, Fleet, make_fleet, only_zone, some_readings

ZONES, DAYS, MODERATE = 250, 400, 2
STEADY = replace(LAW, instrument_sd=0.01, station_sd=0.03)
"""Good instruments, so that a zone says something of its rates."""
LN_HAZE, LN_REST = 0.4, -0.3
TRUE = replace(
    STEADY,
    haze_rate=STEADY.haze_rate * np.exp(LN_HAZE),
    film_rate=STEADY.film_rate * np.exp(LN_REST),
    scratch_rate=STEADY.scratch_rate * np.exp(LN_REST),
    rate_sd_counted=0.2,
    rate_sd_assumed=0.6,
    drift_sd=0.003,
    shock_sd=0.012,
)
"""How the invented fleet wears: another law than the surface file says."""


def _classes(fleet: Fleet) -> np.ndarray:
    counted = fleet.columns.counted
    return class_places(np.full(counted.size, MODERATE), counted)


FLEET = make_fleet(zones=ZONES, days=DAYS, ahead=1, seed=1, readings=24, law=TRUE)
CLASS = _classes(FLEET)
POOLED = learn(FLEET.columns, STEADY, CLASS)
ASSUMED, COUNTED = 2 * MODERATE, 2 * MODERATE + 1


def _same(one: Pooled, other: Pooled) -> bool:
    return one.noise == other.noise and all(
        np.array_equal(getattr(one, f.name), getattr(other, f.name), equal_nan=True)
        for f in fields(Pooled)
        if f.name != "noise"
    )


@pytest.mark.parametrize("of_class", [ASSUMED, COUNTED])
def test_the_class_means_of_a_made_fleet_are_found(of_class: int) -> None:
    """Against the fleet's own means. Film and finish show late in readings and are found less well:
    the likelihood of slow wear is flat, and the tangent takes it as symmetrical."""
    own = of_class == CLASS
    assert POOLED.zones[of_class] == own.sum()
    assert POOLED.mean_haze[of_class] == pytest.approx(LN_HAZE + FLEET.u_haze[own].mean(), abs=0.14)
    rest = LN_REST + FLEET.u_rest[own].mean()
    assert POOLED.mean_rest[of_class] == pytest.approx(rest, abs=0.28)
    assert abs(POOLED.mean_rest[of_class] - rest) < abs(rest)


def test_the_spread_of_the_rates_is_told_apart_by_class() -> None:
    """True spreads 0.6 and 0.2, the surface file's 0.55 and 0.35."""
    assert POOLED.sd_haze[ASSUMED] == pytest.approx(0.6, abs=0.17)
    assert POOLED.sd_haze[COUNTED] == pytest.approx(0.2, abs=0.09)
    assert POOLED.sd_rest[ASSUMED] == pytest.approx(0.6, abs=0.17)
    assert POOLED.sd_rest[COUNTED] < 0.33
    assert (np.abs(POOLED.correlation) < 1).all()


def test_the_noise_of_a_made_fleet_is_found() -> None:
    """The surface file says 0.002 and 0.006 for the walks, 0.10 for the first reading."""
    noise = POOLED.noise
    assert noise.drift_sd == pytest.approx(TRUE.drift_sd, rel=0.15)
    assert noise.shock_sd == pytest.approx(TRUE.shock_sd, rel=0.15)
    assert noise.first_reading_sd < 0.04  # really as any other: 0.017
    assert noise.day_sd < 0.012  # really none; the search begins at 0.02
    assert (noise.instrument_sd, noise.station_sd) == (0.01, 0.03)


def test_a_days_own_effect_is_told_from_the_walks() -> None:
    """Readings that share nothing but 3 % of their own day; the surface file names an effect."""
    random = np.random.default_rng(3)
    columns = FLEET.columns
    shaken = replace(
        columns, reading_ln=columns.reading_ln + 0.03 * random.standard_normal(24 * ZONES)
    )
    noise = learn(shaken, replace(STEADY, day_sd=0.02), CLASS).noise
    assert noise.day_sd == pytest.approx(0.035, abs=0.01)
    assert noise.drift_sd == pytest.approx(TRUE.drift_sd, rel=0.15)
    assert noise.shock_sd < 1.2 * TRUE.shock_sd


def test_classes_nobody_read_keep_the_surfaces_own_figures() -> None:
    start = pooled_as(STEADY)
    others = np.setdiff1d(np.arange(CLASSES), [ASSUMED, COUNTED])
    for name in ("mean_haze", "mean_rest", "sd_haze", "sd_rest", "correlation"):
        found = getattr(POOLED, name)[others]
        assert found == pytest.approx(getattr(start, name)[others], abs=1e-6)
    assert POOLED.zones[others].tolist() == POOLED.hidden[others].tolist() == [0] * 6
    assert np.isnan(POOLED.inside[others]).all()


@pytest.mark.parametrize("readings", [0, LEAST_READINGS - 1])
def test_without_readings_enough_the_laws_own_figures_stand(readings: int) -> None:
    kept = np.arange(24 * ZONES) % 24 < readings
    found = learn(some_readings(FLEET.columns, kept), STEADY, CLASS)
    assert _same(found, pooled_as(STEADY))
    assert found.noise == Noise.of(STEADY)


def test_learning_twice_gives_the_same_to_the_last_bit() -> None:
    assert _same(POOLED, learn(FLEET.columns, STEADY, CLASS))


def test_recent_readings_of_well_read_zones_are_hidden_and_counted() -> None:
    columns = FLEET.columns
    expected = np.zeros(CLASSES, dtype=np.int64)
    for quarter in range(1, ORIGINS + 1):
        begins = DAYS - quarter * HIDDEN_DAYS
        before = columns.reading_day < begins
        enough = np.bincount(columns.reading_zone[before], minlength=ZONES) >= LEAST_READINGS
        inside = ~before & (columns.reading_day < begins + HIDDEN_DAYS)
        hidden = inside & enough[columns.reading_zone]
        expected += np.bincount(CLASS[columns.reading_zone[hidden]], minlength=CLASSES)
    assert POOLED.hidden.tolist() == expected.tolist()


def test_bands_of_a_lawful_fleet_need_little_scaling() -> None:
    """90 % bands of good readings hold some 88 % of all, 4 % of them gross."""
    for of_class in (ASSUMED, COUNTED):
        assert POOLED.inside[of_class] == pytest.approx(0.88, abs=0.05)
        assert POOLED.band_scale[of_class] == pytest.approx(1.0, abs=0.2)


def test_where_hidden_readings_fall_outside_the_bands_are_widened() -> None:
    """Half the uncounted zones changed in their last quarter; the counted ones did not."""
    columns = FLEET.columns
    changed = (CLASS == ASSUMED) & (np.arange(ZONES) % 2 == 0)
    late = (columns.reading_day >= DAYS - HIDDEN_DAYS) & changed[columns.reading_zone]
    found = learn(replace(columns, reading_ln=columns.reading_ln - 0.15 * late), STEADY, CLASS)
    assert found.inside[ASSUMED] < POOLED.inside[ASSUMED] - 0.1
    assert found.band_scale[ASSUMED] > POOLED.band_scale[ASSUMED] + 0.2
    assert found.band_scale[ASSUMED] > found.band_scale[COUNTED]


def test_of_a_large_fleet_some_zones_evenly_spaced_teach_all(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(learning, "LEARNING_ZONES", 100)
    monkeypatch.setattr(learning, "NOISE_ZONES", 50)
    found = learn(FLEET.columns, STEADY, CLASS)
    chosen = np.linspace(0, ZONES - 1, 100).astype(np.int64)
    alone = learn(FLEET.columns.rows(chosen), STEADY, CLASS[chosen])
    assert found.zones.tolist() == POOLED.zones.tolist()
    assert found.mean_haze.tolist() == alone.mean_haze.tolist()
    assert found.mean_haze != pytest.approx(POOLED.mean_haze, abs=1e-6)


def test_given_the_pooled_values_a_zone_is_independent_of_the_others() -> None:
    law: WearLaw = POOLED.law(STEADY)
    together = estimate(FLEET.columns, law, POOLED.prior(CLASS))
    for zone in (0, 100, 249):
        alone = estimate(only_zone(FLEET.columns, zone), law, POOLED.prior(CLASS[[zone]]))
        assert alone.mean[0] == pytest.approx(together.mean[zone], abs=1e-9)
        assert alone.covariance[0] == pytest.approx(together.covariance[zone], abs=1e-9)


def test_zones_of_unknown_opening_teach_too() -> None:
    columns = replace(FLEET.columns, opening=np.full(ZONES, 3)).rows(np.arange(60))
    found = learn(columns, STEADY, CLASS[:60])
    assert found.zones.sum() == 60
    assert np.isfinite(found.mean_haze).all()
    assert (found.sd_haze > 0).all()
