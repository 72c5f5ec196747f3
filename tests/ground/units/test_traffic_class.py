import pytest

from floorcare.ground.trade.traffic import TrafficLevel
from floorcare.ground.units.traffic_class import (
    CLASS_FROM,
    Cleanlink16540,
    cleanlink_16540_care,
    cleanlink_16540_class,
)


def test_a_building_with_fewer_people_than_the_page_speaks_of_has_no_class_and_no_care() -> None:
    for people in (0, 99.9):
        assert cleanlink_16540_class(people) is Cleanlink16540.BELOW
        assert cleanlink_16540_care(people) == ""


def test_every_class_from_the_table_begins_at_its_limit() -> None:
    for start, name, care in CLASS_FROM:
        assert cleanlink_16540_class(start) == name
        assert cleanlink_16540_care(start) == care
        assert cleanlink_16540_class(start - 1) != name


def test_the_published_classes_and_our_own_levels_share_no_word() -> None:
    assert not {str(c) for c in Cleanlink16540} & {str(level) for level in TrafficLevel}


@pytest.mark.parametrize("people", [-1.0, float("nan")])
def test_people_below_none_are_refused(people: float) -> None:
    for asked in (cleanlink_16540_class, cleanlink_16540_care):
        with pytest.raises(ValueError, match="allowed 0 or more"):
            asked(people)
