"""OpeningCode states: fresh, about, unknown."""

from dataclasses import replace

import numpy as np
import pytest

from floorcare.ground.wear.columns import OpeningCode
from floorcare.ground.wear.model import FloorState, rates_from, wear_by
from floorcare.ground.wear.opening import OFFSETS, opening_state
from tests.ground.wear.fleets import LAW, make_fleet

COLUMNS = replace(
    make_fleet(zones=4, days=60, ahead=1, seed=2, readings=2).columns,
    opening=np.array(
        [OpeningCode.FRESH, OpeningCode.DATED, OpeningCode.ABOUT, OpeningCode.UNKNOWN]
    ),
    opening_about_days=np.array([0.0, 0.0, 20.0, 0.0]),
)
RATES = rates_from(LAW, np.zeros((1, 4)), np.zeros((1, 4)))


def _state(offset: float) -> FloorState:
    return opening_state(COLUMNS, LAW, np.full((OFFSETS, 1, 4), offset), RATES)


def test_fresh_and_dated_floors_are_fresh_whatever_the_offsets() -> None:
    for offset in (-2.0, 0.0, 2.0):
        state = _state(offset)
        assert state.haze[0, :2].tolist() == [0.0, 0.0]
        assert state.film[0, :2].tolist() == [1.0, 1.0]
        assert state.scratch[0, :2].tolist() == [0.03, 0.03]


def test_a_floor_polished_about_then_is_fresh_so_many_days_earlier() -> None:
    passes = COLUMNS.thousand_passes[2].mean() + LAW.ageing
    expected = wear_by(
        FloorState.fresh((1, 1), LAW), RATES.rows((slice(None), np.array([2]))), LAW, 20 * passes
    )
    state = _state(1.0)
    assert state.haze[0, 2] == pytest.approx(expected.haze[0, 0])
    assert state.scratch[0, 2] == pytest.approx(expected.scratch[0, 0])


def test_a_later_polish_than_thought_joins_up_at_its_true_date() -> None:
    passes = COLUMNS.thousand_passes[2].mean() + LAW.ageing
    joined = wear_by(_state(-1.0), RATES, LAW, 20 * passes)
    assert joined.haze[0, 2] == pytest.approx(0.0, abs=1e-12)
    assert joined.film[0, 2] == pytest.approx(1.0)
    assert joined.scratch[0, 2] == pytest.approx(0.03)


def test_an_unknown_floor_is_spread_widely_and_never_impossible() -> None:
    normals = np.random.default_rng(1).standard_normal((OFFSETS, 4000, 4))
    state = opening_state(
        COLUMNS, LAW, normals, rates_from(LAW, np.zeros((4000, 4)), np.zeros((4000, 4)))
    )
    for share in (state.haze[:, 3], state.film[:, 3]):
        assert share.min() > 0
        assert share.max() < 1
        assert np.quantile(share, [0.1, 0.5, 0.9]) == pytest.approx([0.1, 0.5, 0.9], abs=0.04)
    low, middle, high = np.quantile(state.scratch[:, 3] - 0.03, [0.05, 0.5, 0.95])
    assert low > 0
    assert high / middle == pytest.approx(np.exp(1.645), rel=0.1)
