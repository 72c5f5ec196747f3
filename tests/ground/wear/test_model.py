"""The floor's state: closed forms, treatments, shapes."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from floorcare.ground.trade.surface import Effect
from floorcare.ground.wear.model import (
    FloorState,
    expose,
    ln_gloss,
    rates_from,
    treat,
    wear_by,
)
from tests.ground.wear.fleets import BURNISH, LAW, RECOAT, REPOLISH


def test_two_hundred_days_equal_the_exponential_closed_form() -> None:
    u_haze, u_rest = np.array([0.3]), np.array([-0.4])
    rates = rates_from(LAW, u_haze, u_rest)
    state = FloorState.fresh(1, LAW)
    for _ in range(200):
        state = expose(state, rates, LAW, 1.9)
    exposure = 200 * (1.9 + 0.10)
    film = np.exp(-0.0044 * np.exp(-0.4) * exposure)
    assert state.haze == pytest.approx(1 - np.exp(-0.025 * np.exp(0.3) * exposure), rel=1e-12)
    assert state.film == pytest.approx(film, rel=1e-12)
    grown = 0.00018 * np.exp(-0.4) * exposure - 0.7 * (0.00018 / 0.0044) * (1 - film)
    assert state.scratch == pytest.approx(0.03 + grown, rel=1e-12)


def test_the_law_is_the_solution_of_its_differential_equations() -> None:
    """dh/dx = k_h(1 − h), df/dx = −k_f f, dω/dx = k_r(1 − η f), solved by scipy."""

    def slopes(_: float, y: np.ndarray) -> list[float]:
        haze, film, _ = y
        return [0.025 * (1 - haze), -0.0044 * film, 0.00018 * (1 - 0.7 * film)]

    solved = solve_ivp(slopes, (0, 300), [0.2, 0.6, 0.1], rtol=1e-10, atol=1e-12).y[:, -1]
    start = FloorState(haze=np.array(0.2), film=np.array(0.6), scratch=np.array(0.1))
    ours = wear_by(start, rates_from(LAW, np.array(0.0), np.array(0.0)), LAW, 300.0)
    assert [ours.haze, ours.film, ours.scratch] == pytest.approx(solved, rel=1e-7)


def test_a_surface_without_film_wear_scratches_at_the_spared_rate() -> None:
    law = replace(LAW, film_rate=0.0)
    worn = wear_by(FloorState.fresh(1, law), rates_from(law, np.zeros(1), np.zeros(1)), law, 100.0)
    assert worn.scratch == pytest.approx(0.03 + 0.00018 * 100 * (1 - 0.7))


@pytest.mark.parametrize(
    ("effect", "expected"),
    [
        (BURNISH, (0.15, 0.4, 0.2)),
        (RECOAT, (0.0, 1.0, 0.2)),
        (REPOLISH, (0.0, 1.0, 0.03)),
        (Effect(haze_kept=0.1, film_kept=0.5, scratch_kept=0.5), (0.05, 0.2, 0.1)),
        (Effect(film_to=0.0), (0.5, 0.0, 0.2)),
    ],
)
def test_a_treatment_does_what_its_effect_says(
    effect: Effect, expected: tuple[float, float, float]
) -> None:
    state = FloorState(haze=np.array(0.5), film=np.array(0.4), scratch=np.array(0.2))
    after = treat(state, effect)
    assert (after.haze, after.film, after.scratch) == pytest.approx(expected)


def test_only_the_zones_marked_are_treated() -> None:
    state = FloorState(haze=np.full((2, 3), 0.5), film=np.zeros((2, 3)), scratch=np.ones((2, 3)))
    after = treat(state, REPOLISH, np.array([[True], [False]]))
    assert after.haze.tolist() == [[0.0] * 3, [0.5] * 3]
    assert after.film.tolist() == [[1.0] * 3, [0.0] * 3]
    assert after.scratch.tolist() == [[0.03] * 3, [1.0] * 3]


def test_gloss_of_a_worn_floor_is_the_written_formula() -> None:
    state = FloorState(haze=np.array(0.4), film=np.array(0.5), scratch=np.array(0.3))
    finish = 0.4 + 0.6 * np.exp(-0.3)
    assert ln_gloss(state, LAW) == pytest.approx(np.log(finish) + np.log(0.9) + 0.1 * -0.5)


def test_states_of_zones_and_draws_broadcast_with_a_day_of_passes() -> None:
    rates = rates_from(LAW, np.zeros((4, 5)), np.zeros((4, 5)))
    worn = expose(FloorState.fresh((4, 5), LAW), rates, LAW, np.arange(4.0)[:, None])
    assert worn.haze.shape == worn.film.shape == worn.scratch.shape == (4, 5)
    assert (np.diff(worn.haze[:, 0]) > 0).all()
