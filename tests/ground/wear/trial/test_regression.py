"""The pooled regression: right where the truth is its own, robust, and a serious rival."""

from dataclasses import replace

import numpy as np
import pytest

from floorcare.ground.wear.trial.covariates import course_of, covariates
from floorcare.ground.wear.trial.regression import (
    fit_regression,
    regression_at,
    regression_forecast,
)
from floorcare.ground.wear.trial.rivals import LooksAhead, last_value
from tests.ground.wear.fleets import LAW, make_fleet

FLEET = make_fleet(zones=60, days=365, ahead=90, seed=21, readings=10)
DAYS = (30, 60, 90)


def forecast(columns):
    return regression_forecast(columns, LAW, FLEET.passes_ahead, FLEET.plan, DAYS)


def off(forecast_gu):
    truth = FLEET.truth.before[:, [FLEET.today + day for day in DAYS]]
    return np.abs(forecast_gu - truth).mean()


def test_it_finds_a_truth_that_is_a_regression():
    columns, random = FLEET.columns, np.random.default_rng(3)
    course = course_of(columns, LAW, FLEET.passes_ahead, FLEET.plan)
    order = np.lexsort((columns.reading_day, columns.reading_zone))
    zone, day = columns.reading_zone[order], columns.reading_day[order]
    rows = covariates(course, LAW, zone, day, columns.reading_after_burnish[order])
    level = 4.0 + 0.2 * random.standard_normal(columns.zones)
    ln = level[zone] - 0.2 * rows[:, 1] - 0.3 * rows[:, 2] - 0.5 * rows[:, 3]
    ln += 0.01 * random.standard_normal(ln.size)
    made = replace(
        columns,
        reading_zone=zone,
        reading_day=day,
        reading_ln=ln,
        reading_after_burnish=columns.reading_after_burnish[order],
    )
    zones = np.arange(columns.zones)
    ahead = covariates(course, LAW, zones, zones * 0 + columns.days + 59, zones < 0)
    expected = np.exp(level - 0.2 * ahead[:, 1] - 0.3 * ahead[:, 2] - 0.5 * ahead[:, 3])
    assert np.median(np.abs(forecast(made)[:, 1] / expected - 1)) < 0.01


def test_it_beats_the_last_value():
    zone = np.repeat(np.arange(FLEET.columns.zones), len(DAYS))
    looks = LooksAhead(
        zone=zone,
        days_ahead=np.tile(DAYS, FLEET.columns.zones),
        after=np.zeros(zone.size, dtype=bool),
    )
    last = last_value(FLEET.columns, looks).reshape(-1, len(DAYS))
    assert off(forecast(FLEET.columns)) < 0.6 * off(last)


def test_a_slipped_decimal_point_hardly_moves_it():
    columns = FLEET.columns
    wrong = columns.reading_ln.copy()
    wrong[5] += np.log(10.0)
    moved = forecast(replace(columns, reading_ln=wrong)) / forecast(columns) - 1
    assert np.abs(moved[columns.reading_zone[5]]).max() < 0.05
    assert np.median(np.abs(moved)) < 0.005


def test_a_zone_without_readings_is_not_forecast_and_costs_the_others_nothing():
    columns = FLEET.columns
    kept = columns.reading_zone != 7
    silent = replace(
        columns,
        **{
            name: getattr(columns, name)[kept]
            for name in columns.__slots__
            if name.startswith("reading_")
        },
    )
    made = forecast(silent)
    assert np.isnan(made[7]).all()
    assert np.isfinite(np.delete(made, 7, axis=0)).all()


def test_no_reading_at_all_gives_no_forecast():
    columns = replace(
        FLEET.columns,
        **{
            name: getattr(FLEET.columns, name)[:0]
            for name in FLEET.columns.__slots__
            if name.startswith("reading_")
        },
    )
    assert np.isnan(forecast(columns)).all()


def test_the_order_of_the_readings_does_not_matter():
    columns = FLEET.columns
    turned = replace(
        columns,
        **{
            name: getattr(columns, name)[::-1]
            for name in columns.__slots__
            if name.startswith("reading_")
        },
    )
    assert np.allclose(forecast(turned), forecast(columns), rtol=1e-9)


def test_days_outside_the_plan_are_refused():
    for day in (0, 91):
        with pytest.raises(ValueError, match="1 to 90"):
            regression_forecast(FLEET.columns, LAW, FLEET.passes_ahead, FLEET.plan, (day,))


def test_a_look_after_the_burnish_is_forecast_as_such():
    fleet = make_fleet(zones=120, days=365, ahead=30, seed=22, readings=16)
    burnished = np.argwhere(fleet.plan[2][1])
    zone, day = burnished[:, 0], burnished[:, 1] + 1
    before, after = (
        regression_at(
            fleet.columns, LAW, fleet.passes_ahead, fleet.plan, zone, day, np.full(zone.size, late)
        )
        for late in (False, True)
    )
    truth = fleet.truth.after[zone, fleet.today + day]
    assert np.abs(after - truth).mean() < 0.9 * np.abs(before - truth).mean()


def test_a_fleet_of_two_readings_is_fitted_without_trouble():
    rows = np.ones((2, 5))
    fitted = fit_regression(
        np.array([0, 1]), np.array([3, 9]), rows, np.array([3.9, 4.1]), np.ones(2), 2
    )
    assert np.isfinite(fitted.slopes).all()
    assert fitted.slopes[0] == pytest.approx(4.0, abs=0.05)
