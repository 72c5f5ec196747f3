import math

import pytest

from floorcare.ground.units.rates import (
    ft2_per_hour,
    hours_for,
    minutes_per_1000_ft2,
    obstructed_rate,
    practical_m2_per_hour,
    rates_disagree,
)

CLEAR = {"width_m": 0.5, "step_over_share": 1.0, "speed_m_per_min": 60.0, "efficiency": 1.0}


def test_minutes_and_rate_are_each_other_s_inverse() -> None:
    assert math.isclose(minutes_per_1000_ft2(ft2_per_hour(7.5)), 7.5)


def test_a_rate_is_width_times_speed_shared_over_step_efficiency_and_passes() -> None:
    assert practical_m2_per_hour(**CLEAR) == 1800.0
    assert practical_m2_per_hour(**CLEAR | {"step_over_share": 0.25}) == 450.0
    assert practical_m2_per_hour(**CLEAR | {"efficiency": 0.5}, passes=4) == 225.0


@pytest.mark.parametrize(
    ("wrong", "named"),
    [
        ({"width_m": 0.0}, "width_m 0"),
        ({"speed_m_per_min": float("nan")}, "speed_m_per_min nan"),
        ({"step_over_share": 1.1}, "step_over_share 1.1"),
        ({"efficiency": 0.0}, "efficiency 0"),
        ({"passes": 0}, "passes 0"),
    ],
)
def test_a_figure_out_of_range_is_named(wrong: dict[str, float], named: str) -> None:
    with pytest.raises(ValueError, match=named):
        practical_m2_per_hour(**CLEAR | wrong)


def test_obstacles_slow_a_floor_by_their_share_of_its_time() -> None:
    assert obstructed_rate(100, 0) == 100
    assert obstructed_rate(100, 1, factor=0.5) == 50
    # half at 100 and half at 50 m²/h: 100 m² take 0.5 h + 1 h
    assert math.isclose(obstructed_rate(100, 0.5, factor=0.5), 100 / 1.5)
    with pytest.raises(ValueError, match="obstruction share"):
        obstructed_rate(100, 1.2)


def test_a_rate_of_nothing_is_refused() -> None:
    for refused in (lambda: hours_for(10, 0), lambda: ft2_per_hour(0), lambda: hours_for(-1, 5)):
        with pytest.raises(ValueError, match="allowed"):
            refused()


def test_two_per_cent_still_agree_whichever_comes_first() -> None:
    assert not rates_disagree(98, 100)
    assert not rates_disagree(100, 98)
    assert rates_disagree(97.9, 100)
    assert rates_disagree(100, 97.9)
    assert not rates_disagree(0, 0)
