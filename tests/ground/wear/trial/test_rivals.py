"""The plain rivals, each against an answer known beforehand."""

from dataclasses import replace

import numpy as np
import pytest

from floorcare.ground.wear.trial.rivals import (
    LEAST_GU,
    RIVALS,
    LooksAhead,
    exponential_fit,
    last_value,
    linear_trend,
    rival_forecasts,
)
from tests.ground.wear.fleets import LAW, make_fleet

FLEET = make_fleet(zones=3, days=400, ahead=90, seed=2, readings=2)


def read(*readings, recoated_on=None):
    """Columns with readings (zone, day, GU, after burnish) and at most one recoat, of zone 0."""
    zone, day, gloss, after = (np.array(part) for part in zip(*readings, strict=True))
    treatments = [(effect, np.zeros_like(done)) for effect, done in FLEET.columns.treatments]
    if recoated_on is not None:
        treatments[1][1][0, recoated_on] = True
    return replace(
        FLEET.columns,
        treatments=tuple(treatments),
        reading_zone=zone,
        reading_day=day,
        reading_ln=np.log(gloss),
        reading_stations=np.full(zone.size, 3),
        reading_after_burnish=after.astype(bool),
    )


def looks(*asked):
    zone, ahead, after = (np.array(part) for part in zip(*asked, strict=True))
    return LooksAhead(zone=zone, days_ahead=ahead, after=after.astype(bool))


def test_the_last_value_is_of_the_same_state_where_there_is_one():
    columns = read((0, 300, 50.0, 0), (0, 350, 55.0, 1), (0, 100, 60.0, 0), (1, 20, 44.0, 1))
    asked = looks((0, 30, 0), (0, 30, 1), (1, 30, 0), (2, 30, 0))
    assert last_value(columns, asked) == pytest.approx([50.0, 55.0, 44.0, np.nan], nan_ok=True)


def test_a_trend_goes_on_in_a_straight_line_since_the_last_coat():
    fell = [(0, day, 60.0 - 0.02 * (day - 200), 0) for day in (220, 260, 300, 390)]
    columns = read((0, 50, 30.0, 0), *fell, recoated_on=200)
    made = linear_trend(columns, looks((0, 30, 0), (0, 90, 1)))
    assert made == pytest.approx([60.0 - 0.02 * 229, 60.0 - 0.02 * 289])


def test_a_trend_of_three_readings_in_the_state_asked_for_goes_before_all():
    before = [(0, day, 50.0 - 0.01 * day, 0) for day in (100, 200, 300)]
    after = [(0, day, 58.0 - 0.03 * day, 1) for day in (100, 200, 300)]
    made = linear_trend(read(*before, *after), looks((0, 1, 0), (0, 1, 1)))
    assert made == pytest.approx([50.0 - 4.0, 58.0 - 12.0])


def test_too_few_readings_since_the_coat_leave_the_last_value():
    columns = read((0, 100, 60.0, 0), (0, 150, 58.0, 0), (0, 300, 57.0, 0), recoated_on=200)
    asked = looks((0, 90, 0))
    assert linear_trend(columns, asked) == pytest.approx([57.0])
    assert exponential_fit(columns, asked) == pytest.approx([57.0])


def test_readings_of_one_day_make_no_trend():
    columns = read((0, 300, 50.0, 0), (0, 300, 51.0, 0), (0, 300, 52.0, 0))
    assert linear_trend(columns, looks((0, 90, 0)))[0] in (50.0, pytest.approx(52.0))


def test_a_trend_never_leaves_what_a_meter_shows():
    steep = [(0, day, 60.0 - 0.5 * (day - 300), 0) for day in (300, 340, 399)]
    assert linear_trend(read(*steep), looks((0, 90, 0))) == pytest.approx([LEAST_GU])


def test_an_exponential_fit_finds_its_own_curve_and_ends_above_zero():
    def curve(day):
        return 40.0 + 20.0 * np.exp(-day / 120.0)

    columns = read(*((0, day, curve(day), 0) for day in range(0, 400, 40)))
    made = exponential_fit(columns, looks((0, 90, 0)))
    assert made == pytest.approx([curve(489)], rel=0.005)


def test_an_exponential_fit_of_the_same_reading_again_and_again_stays_there():
    columns = read(*((0, day, 48.0, 0) for day in range(0, 400, 80)))
    assert exponential_fit(columns, looks((0, 90, 0))) == pytest.approx([48.0], abs=0.1)


def test_all_rivals_answer_the_same_looks_and_none_without_a_reading():
    columns = read((0, 300, 50.0, 0), (1, 350, 55.0, 1), (1, 380, 54.0, 0))
    asked = looks((0, 30, 0), (1, 60, 1), (2, 90, 0))
    made = rival_forecasts(columns, LAW, FLEET.passes_ahead, FLEET.plan, asked)
    assert made.shape == (len(RIVALS), 3)
    assert np.isfinite(made[:, :2]).all()
    assert np.isnan(made[:, 2]).all()
