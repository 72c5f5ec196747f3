from dataclasses import replace
from math import pi

import pytest

from floorcare.ground.schedule.travel import (
    BY_MAP,
    EARTH_RADIUS_KM,
    SPEED_KM_PER_HOUR,
    UNKNOWN_MINUTES,
    Travel,
    great_circle_km,
    travel_minutes,
)
from floorcare.ground.trade.site import TravelLeg
from tests.builders import a_branch, a_site

QUARTER_KM = EARTH_RADIUS_KM * pi / 2


# The closed form: a quarter of a great circle is a quarter of 2·pi·R whichever way it runs.
@pytest.mark.parametrize(
    "ends", [(0, 0, 0, 90), (0, 0, 90, 0), (0, 10, 0, -80), (45, 0, -45, 0), (90, 7, 0, 123)]
)
def test_a_quarter_of_the_way_round_the_earth_is_a_quarter_of_its_circumference(
    ends: tuple[float, float, float, float],
) -> None:
    assert great_circle_km(*ends) == pytest.approx(QUARTER_KM, rel=1e-12)


def test_antipodes_are_half_the_way_round_and_a_place_is_nowhere_from_itself() -> None:
    assert great_circle_km(30.0, 20.0, -30.0, -160.0) == pytest.approx(2 * QUARTER_KM, rel=1e-9)
    assert great_circle_km(51.5, -0.1, 51.5, -0.1) == 0.0


def test_distance_is_the_same_there_and_back_and_across_the_date_line() -> None:
    out, back = great_circle_km(40, -74, 35, 139), great_circle_km(35, 139, 40, -74)
    assert out == pytest.approx(back, rel=1e-12)
    assert great_circle_km(0, 179.5, 0, -179.5) == pytest.approx(QUARTER_KM / 90, rel=1e-9)


def test_travel_is_by_road_at_a_van_s_pace_rounded_up() -> None:
    branch = a_branch(latitude=0.0, longitude=0.0)
    # a tenth of a degree is 11.12 km, 14.455 km by road, 19.27 minutes at 45 km/h
    near = a_site(latitude=0.0, longitude=0.1)
    assert travel_minutes(branch, near) == 20
    assert travel_minutes(branch, replace(near, longitude=0.0)) == 0


@pytest.mark.parametrize("lacking", ["latitude", "longitude"])
def test_where_a_place_is_not_known_half_an_hour_is_taken(lacking: str) -> None:
    branch, site = a_branch(latitude=1.0, longitude=1.0), a_site(latitude=1.0, longitude=1.0)
    assert travel_minutes(branch, site) == 0
    assert travel_minutes(branch, replace(site, **{lacking: None})) == UNKNOWN_MINUTES
    assert travel_minutes(replace(branch, **{lacking: None}), site) == UNKNOWN_MINUTES


def test_between_two_sites_the_same_rule_holds_both_ways():
    near, far = (
        a_site("NEAR", latitude=0.1, longitude=0.0),
        a_site("FAR", latitude=0.2, longitude=0.0),
    )
    assert travel_minutes(near, far) == travel_minutes(far, near) == 20
    assert travel_minutes(near, replace(far, longitude=None)) == UNKNOWN_MINUTES


BRANCH = a_branch(latitude=0.0, longitude=0.0)
NEAR = a_site("NEAR", latitude=0.1, longitude=0.0)
FAR = a_site("FAR", latitude=0.2, longitude=0.0)
NOWHERE = a_site("NOWHERE")


def leg(leaves: str, reaches: str, minutes: int, **more: object) -> TravelLeg:
    own = {"branch": BRANCH.code, **more}
    return TravelLeg(leaves=leaves, reaches=reaches, minutes=minutes, **own)  # type: ignore[arg-type]


def test_a_typed_drive_outranks_the_map_and_the_rest_is_the_maps() -> None:
    travel = Travel.of(BRANCH.code, [leg("", "NEAR", 55, km=31.5)])
    assert (travel.minutes(BRANCH, NEAR), travel.km(BRANCH, NEAR)) == (55, 31.5)
    assert travel.minutes(BRANCH, FAR) == travel_minutes(BRANCH, FAR) == 39
    assert travel.km(BRANCH, FAR) == pytest.approx(QUARTER_KM / 450 * 1.3, rel=1e-9)


def test_a_drive_typed_one_way_only_is_taken_for_the_way_back() -> None:
    one = Travel.of(BRANCH.code, [leg("", "NEAR", 55, km=31.5)])
    assert (one.minutes(NEAR, BRANCH), one.km(NEAR, BRANCH)) == (55, 31.5)
    both = Travel.of(BRANCH.code, [leg("", "NEAR", 55), leg("NEAR", "", 40)])
    assert (both.minutes(BRANCH, NEAR), both.minutes(NEAR, BRANCH)) == (55, 40)


def test_from_a_place_to_itself_is_no_drive_even_where_nobody_knows_the_place() -> None:
    assert BY_MAP.minutes(NOWHERE, NOWHERE) == BY_MAP.minutes(BRANCH, BRANCH) == 0
    assert BY_MAP.km(NOWHERE, NOWHERE) == 0.0


def test_without_coordinates_minutes_are_assumed_and_kilometres_are_not() -> None:
    assert BY_MAP.minutes(BRANCH, NOWHERE) == UNKNOWN_MINUTES
    assert BY_MAP.km(BRANCH, NOWHERE) is None
    typed = Travel.of(BRANCH.code, [leg("", "NOWHERE", 20)])
    assert typed.minutes(NOWHERE, BRANCH) == 20


def test_a_drive_typed_in_minutes_only_is_as_long_as_a_van_gets_in_them() -> None:
    travel = Travel.of(BRANCH.code, [leg("", "NEAR", 20)])
    assert travel.km(BRANCH, NEAR) == pytest.approx(SPEED_KM_PER_HOUR / 3)
    assert travel.typed_km(BRANCH, NEAR) is None
    assert Travel.of(BRANCH.code, [leg("", "NEAR", 0, km=2.0)]).typed_km(NEAR, BRANCH) == 2.0


def test_drives_of_another_branch_are_not_ours() -> None:
    travel = Travel.of(BRANCH.code, [leg("", "NEAR", 55, branch="ELSEWHERE")])
    assert travel == BY_MAP
