"""Who goes to a visit: parts, hours and drives that cannot be are refused."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from floorcare.ground.trade.assignment import Assignment

AT_TEN = datetime(2026, 12, 1, 22, 0, tzinfo=UTC)
WHOLE = Assignment(
    visit="5b0f",
    crew="NIGHT",
    on=date(2026, 12, 1),
    starts_at=AT_TEN,
    ends_at=AT_TEN + timedelta(hours=4),
)


def test_an_assignment_is_of_the_whole_visit_unless_it_says_otherwise():
    assert (WHOLE.part, WHOLE.parts, WHOLE.zones, WHOLE.held) == (1, 1, (), False)


@pytest.mark.parametrize(("part", "parts"), [(0, 1), (3, 2), (1, 0)])
def test_a_part_beyond_the_number_of_parts_is_refused(part, parts):
    with pytest.raises(ValueError, match=f"part {part} of {parts}"):
        replace(WHOLE, part=part, parts=parts)


def test_an_instant_without_its_zone_is_refused():
    with pytest.raises(ValueError, match="need their zone"):
        replace(WHOLE, starts_at=datetime(2026, 12, 1, 22, 0))  # noqa: DTZ001


def test_an_end_before_the_start_is_refused():
    with pytest.raises(ValueError, match="before it starts"):
        replace(WHOLE, ends_at=AT_TEN - timedelta(minutes=1))


def test_a_negative_drive_is_refused():
    with pytest.raises(ValueError, match="-1 minutes of drive"):
        replace(WHOLE, travel_minutes=-1)
