"""Gloss at another angle: the line is found, its error is honest, too few rounds teach nothing."""

from datetime import date, timedelta
from math import exp, log

import numpy as np
import pytest

from floorcare.ground.trade.reading import Measure, RoundValue, SurfaceState
from floorcare.ground.wear.books.angles import LEAST_DAYS_BOTH, angle_line, at_main_angle
from tests.ground.wear.fleets import LAW

START = date(2026, 1, 5)


def a_round(day: int, value: float, angle: int = 60, **more: object) -> RoundValue:
    whole: dict[str, object] = {
        "zone": "A",
        "on": START + timedelta(days=day),
        "measure": Measure.GLOSS,
        "geometry_deg": angle,
        "state": SurfaceState.AFTER_CLEANING,
        "value": value,
        "stations": 5,
        **more,
    }
    return RoundValue(**whole)  # type: ignore[arg-type]


def pair(day: int, main_gu: float, slope: float = 0.6, at_50: float = 20.0) -> list[RoundValue]:
    """A round at 60° and what 20° shows where ln 60° goes by `slope` of ln 20°."""
    other = at_50 * exp(log(main_gu / 50.0) / slope)
    return [a_round(day, main_gu), a_round(day, other, 20)]


def both(count: int) -> list[RoundValue]:
    return [r for i in range(count) for r in pair(10 * i, 30.0 + 5.0 * i)]


def test_a_day_with_the_other_angle_alone_speaks_by_the_line_the_zone_taught() -> None:
    alone = pair(200, 41.0)[1]
    (turned,) = at_main_angle([*both(8), alone], {"A": 60}, LAW)
    assert turned.value == pytest.approx(41.0, rel=0.02)
    assert (turned.geometry_deg, turned.on, turned.stations) == (60, alone.on, 5)
    assert turned.more_sd > 0


@pytest.mark.parametrize(("days", "turned"), [(LEAST_DAYS_BOTH - 1, 0), (LEAST_DAYS_BOTH, 1)])
def test_too_few_days_with_both_teach_no_line(days: int, turned: int) -> None:
    assert len(at_main_angle([*both(days), pair(200, 41.0)[1]], {"A": 60}, LAW)) == turned


def test_a_day_read_at_the_main_angle_is_not_read_twice() -> None:
    assert at_main_angle(both(8), {"A": 60}, LAW) == ()


def test_what_one_zone_taught_says_nothing_of_another() -> None:
    stranger = a_round(200, 20.0, 20, zone="B")
    own = a_round(100, 50.0, zone="B")
    assert at_main_angle([*both(8), own, stranger], {"A": 60, "B": 60}, LAW) == ()


def test_a_day_read_at_two_other_angles_counts_once_by_the_better_line() -> None:
    flat = [a_round(10 * i, 90.0 + (-1) ** i * 30.0, 85) for i in range(8)]
    alone = [pair(200, 41.0)[1], a_round(200, 90.0, 85)]
    (turned,) = at_main_angle([*both(8), *flat, *alone], {"A": 60}, LAW)
    assert turned.value == pytest.approx(41.0, rel=0.02)


def test_wet_floors_and_zeros_are_left_alone() -> None:
    wet = a_round(200, 20.0, 20, state=SurfaceState.WET)
    assert at_main_angle([*both(8), wet, a_round(210, 0.0, 20)], {"A": 60}, LAW) == ()


def test_rounds_lie_about_the_line_as_far_as_it_says() -> None:
    random = np.random.default_rng(5)
    error, inside, trials = 0.03, 0, 400
    for _ in range(trials):
        true = random.uniform(3.4, 4.1, 11)
        other = 0.4 + true / 0.7 + error * random.standard_normal(11)
        main = true + error * random.standard_normal(11)
        ln, sd = angle_line(main[:-1].tolist(), other[:-1].tolist(), error).at(float(other[-1]))
        inside += abs(ln - main[-1]) <= 1.645 * sd
    assert 0.87 <= inside / trials <= 0.97


def test_far_from_what_taught_it_a_line_is_less_certain() -> None:
    line = angle_line([3.9, 3.92, 3.95, 3.97], [3.0, 3.03, 3.08, 3.1], 0.02)
    assert line.at(3.0)[1] < line.at(2.5)[1] < line.at(1.5)[1]


def test_gloss_that_never_moved_leaves_the_slope_as_believed_before() -> None:
    line = angle_line([3.9] * 5, [3.0] * 5, 0.02)
    assert (line.slope, line.slope_sd) == (1.0, 0.5)
    assert line.scatter_sd == pytest.approx(0.02 * 2**0.5)


def test_a_line_needs_three_rounds() -> None:
    with pytest.raises(ValueError, match="allowed 3 or more"):
        angle_line([1.0, 2.0], [1.0, 2.0], 0.02)
