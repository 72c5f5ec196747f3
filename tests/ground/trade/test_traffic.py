import pytest

from floorcare.ground.trade.traffic import (
    FOOTFALL_OF_LEVEL,
    LEVEL_LIMITS,
    TrafficLevel,
    TrafficRow,
    level_of,
)
from tests.builders import DAY, TODAY


@pytest.mark.parametrize(
    ("footfall", "level"),
    [
        (0, "light"),
        (249, "light"),
        (250, "moderate"),
        (999, "moderate"),
        (1000, "heavy"),
        (3999, "heavy"),
        (4000, "extreme"),
        (50_000, "extreme"),
    ],
)
def test_a_limit_belongs_to_the_level_above_it(footfall: float, level: str) -> None:
    assert level_of(footfall) == level


def test_the_footfall_taken_for_a_level_lies_inside_it_and_rises_with_it() -> None:
    assert [level_of(FOOTFALL_OF_LEVEL[level]) for level in TrafficLevel] == list(TrafficLevel)
    taken = [FOOTFALL_OF_LEVEL[level] for _, level in LEVEL_LIMITS]
    assert taken == sorted(taken)


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"kind": "scooter"}, "allowed foot, trolley"),
        ({"per_day": -1.0}, "allowed 0 to"),
        ({"per_day": 2e6}, "allowed 0 to"),
        ({"to_on": TODAY - DAY}, "before it starts"),
    ],
)
def test_a_traffic_row_that_cannot_be_is_refused(wrong: dict[str, object], said: str) -> None:
    row = {"kind": "foot", "per_day": 100.0, "counted": True, "from_on": TODAY, **wrong}
    with pytest.raises(ValueError, match=said):
        TrafficRow(**row)  # type: ignore[arg-type]
