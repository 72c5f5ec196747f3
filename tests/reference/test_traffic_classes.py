"""Traffic classes of whole buildings, under the name of their source.

Source: cleanlink.com, Floor Care Tips Based On Traffic Conditions, 16540, read as an excerpt:
low 100-500 people a day, weekly care; medium 500-1,500, daily; high 1,500 and more, several times a
day. The page puts 500 into two classes; a limit belonging to the class above it is our choice.
"""

import pytest

from floorcare.ground.trade.traffic import LEVEL_LIMITS
from floorcare.ground.units.traffic_class import cleanlink_16540_care, cleanlink_16540_class


@pytest.mark.parametrize(
    ("people", "name", "care"),
    [
        (100, "low", "weekly"),
        (499, "low", "weekly"),
        (500, "medium", "daily"),
        (1499, "medium", "daily"),
        (1500, "high", "several times a day"),
        (12_000, "high", "several times a day"),
    ],
)
def test_a_building_falls_into_the_page_s_class(people: int, name: str, care: str) -> None:
    assert cleanlink_16540_class(people) == name
    assert cleanlink_16540_care(people) == care


def test_our_own_levels_have_other_limits_and_are_not_the_published_ones() -> None:
    assert not {limit for limit, _ in LEVEL_LIMITS} & {100, 500, 1500}
