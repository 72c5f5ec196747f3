"""Great circles, against worked examples others published.

Source: E. Williams, Aviation Formulary, section "Worked Examples": Los Angeles (33°57' N,
118°24' W) to New York (40°38' N, 73°47' W) is 0.623585 radians, 2144 nautical miles of one minute
of arc. Source: Rosetta Code, task "Haversine formula": Nashville (36.12, -86.67) to Los Angeles
(33.94, -118.40) is 2886.44444283798 km on a radius of 6371.0 km. Both figures were read where
others cite them, not on the pages themselves.
"""

from math import pi

import pytest

from floorcare.ground.schedule.travel import EARTH_RADIUS_KM, great_circle_km


def radians_between(*degrees: float) -> float:
    return great_circle_km(*degrees) / EARTH_RADIUS_KM


def test_los_angeles_to_new_york_is_the_angle_of_the_aviation_formulary() -> None:
    angle = radians_between(33 + 57 / 60, -(118 + 24 / 60), 40 + 38 / 60, -(73 + 47 / 60))
    assert angle == pytest.approx(0.623585, abs=5e-7)
    assert round(angle * 180 * 60 / pi) == 2144


def test_nashville_to_los_angeles_is_the_distance_of_the_haversine_task() -> None:
    angle = radians_between(36.12, -86.67, 33.94, -118.40)
    assert angle * 6371.0 == pytest.approx(2886.44444283798, abs=1e-8)
    assert angle * 6372.8 == pytest.approx(2887.25995060711, abs=1e-8)
