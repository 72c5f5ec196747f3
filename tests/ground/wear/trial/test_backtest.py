"""Origins, bands of a reading and scores, against sums done by hand."""

from datetime import date
from itertools import pairwise

import numpy as np
import pytest

from floorcare.ground.wear.forecast import LEVELS
from floorcare.ground.wear.trial.backtest import (
    FEW_READINGS,
    HeldAgainst,
    by_horizon,
    joined,
    no_rows,
    origins,
    reading_bands,
    score,
)

TODAY = date(2026, 3, 2)


def held(days=(10, 40, 70, 120), reading=(1, 1, 2, 3)):
    count = len(days)
    read = np.array([50.0, 50.0, 40.0, 60.0])[:count]
    forecast = np.array([52.0, 49.0, 40.0, 70.0])[:count]
    half = np.array([[0.5], [1.5], [5.0]])
    return HeldAgainst(
        reading=np.array(reading),
        days_ahead=np.array(days),
        read_gu=read,
        forecast_gu=forecast,
        lower_gu=forecast - half,
        upper_gu=forecast + half,
        rivals_gu=np.stack([read + 1.0, read - 2.0, read + 3.0, read + 4.0]),
    )


def test_origins_lie_thirty_days_apart_and_end_thirty_days_ago():
    days = origins(TODAY, 12)
    assert len(days) == 12
    assert days[-1] == date(2026, 1, 31)
    assert {(b - a).days for a, b in pairwise(days)} == {30}
    assert origins(TODAY, 1) == (date(2026, 1, 31),)


def test_errors_bias_and_rivals_are_means_over_forecasts():
    found = score(held(), np.array([True, True, True, False]))
    assert (found.readings, found.forecasts) == (2, 3)
    assert found.mean_error_gu == pytest.approx(1.0)
    assert found.bias_gu == pytest.approx(1 / 3)
    assert found.inside == pytest.approx((1 / 3, 2 / 3, 1.0))
    assert found.rivals_gu == pytest.approx((1.0, 2.0, 3.0, 4.0))
    assert found.few


def test_nothing_hidden_is_no_score():
    found = score(no_rows(), np.zeros(0, dtype=bool))
    assert (found.readings, found.mean_error_gu, found.inside) == (0, None, None)


def test_days_ahead_are_grouped_and_what_lies_beyond_ninety_stands_apart():
    groups = by_horizon(held(days=(30, 31, 90, 91)), np.ones(4, dtype=bool))
    assert [group.forecasts for group in groups] == [1, 1, 1, 1]
    assert by_horizon(held(days=(1, 30, 60, 180)), np.ones(4, dtype=bool))[0].forecasts == 2


def test_few_are_fewer_than_ten_different_readings():
    many = joined([held(days=(5,), reading=(n,)) for n in range(FEW_READINGS)])
    assert not score(many, np.ones(FEW_READINGS, dtype=bool)).few
    assert score(many, np.arange(FEW_READINGS) > 0).few


def test_a_band_of_a_reading_covers_gloss_and_error_together():
    random = np.random.default_rng(8)
    gloss = np.log(50.0) + 0.04 * random.standard_normal(400_000)
    read = np.exp(gloss + 0.03 * random.standard_normal(gloss.size))
    tails = [(1 - level) / 2 for level in LEVELS]
    lower, upper = reading_bands(
        np.exp(np.median(gloss, keepdims=True)),
        np.exp(np.quantile(gloss, tails))[:, None],
        np.exp(np.quantile(gloss, [1 - tail for tail in tails]))[:, None],
        np.array([0.03]),
    )
    inside = ((lower <= read) & (read <= upper)).mean(axis=1)
    assert inside == pytest.approx(LEVELS, abs=0.004)


def test_without_error_a_band_stays_as_it_is():
    lower, upper = np.array([[48.0], [46.0], [45.0]]), np.array([[52.0], [55.0], [58.0]])
    made = reading_bands(np.array([50.0]), lower, upper, np.zeros(1))
    assert made[0] == pytest.approx(lower)
    assert made[1] == pytest.approx(upper)
