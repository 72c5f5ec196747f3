from dataclasses import replace

import pytest

from floorcare.ground.trade.reading import MEASURE_RANGE, Measure
from tests.builders import TODAY
from tests.store.sample import gloss


def test_every_measure_has_a_range() -> None:
    assert set(MEASURE_RANGE) == set(Measure)
    assert all(low < high for low, high in MEASURE_RANGE.values())


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"value": 412.0}, "gloss 412: allowed 0 to 200"),
        ({"value": -1.0}, "allowed 0 to 200"),
        ({"geometry_deg": 45}, "allowed 20, 60, 85"),
        ({"geometry_deg": 0}, "allowed 20, 60, 85"),
        ({"taken_minute": 1440}, "allowed 0 to 1439"),
        ({"measure": Measure.GRADE, "value": 6.0}, "grade 6: allowed 1 to 5"),
    ],
)
def test_a_value_no_meter_shows_is_refused_with_what_is_allowed(
    wrong: dict[str, object], said: str
) -> None:
    with pytest.raises(ValueError, match=said):
        replace(gloss(TODAY, 50.0), **wrong)  # type: ignore[arg-type]


def test_the_ends_of_the_range_are_readings() -> None:
    assert gloss(TODAY, 0.0).value == 0.0
    assert gloss(TODAY, 200.0).value == 200.0
