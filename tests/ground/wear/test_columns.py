"""Columns refuse what no caller may hand over."""

from dataclasses import replace

import numpy as np
import pytest

from floorcare.ground.wear.columns import WearColumns
from tests.ground.wear.fleets import make_fleet

COLUMNS = make_fleet(zones=3, days=40, ahead=1, seed=1, readings=2).columns


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"thousand_passes": np.zeros(3)}, "allowed (zones, days)"),
        ({"thousand_passes": np.full((3, 40), np.nan)}, "finite"),
        ({"thousand_passes": np.full((3, 40), -1.0)}, "not negative"),
        ({"treatments": ((COLUMNS.treatments[0][0], np.zeros((3, 2), bool)),)}, "treatment of"),
        ({"counted": np.ones(2, bool)}, "counted must have one value for each of 3"),
        ({"opening": np.array([0, 1, 7])}, "one of 0, 1, 2, 3"),
        ({"opening_about_days": np.array([0.0, -1.0, 0.0])}, "not be negative"),
        ({"start_day": np.array([0, 40, 0])}, "from 0 to 39"),
        ({"reading_stations": np.ones(2, np.int64)}, "as long as reading_ln"),
        ({"reading_stations": np.zeros(6, np.int64)}, "at least one station"),
        ({"reading_ln": np.full(6, np.nan)}, "no finite ln"),
        ({"reading_zone": np.full(6, 3)}, "belongs to no zone"),
        ({"reading_day": np.full(6, 40)}, "outside days 0 to 39"),
    ],
)
def test_a_wrong_column_is_named(change: dict[str, object], said: str) -> None:
    with pytest.raises(ValueError) as caught:
        replace(COLUMNS, **change)  # type: ignore[arg-type]
    assert said in str(caught.value)


def test_readings_before_a_zones_own_life_are_not_usable() -> None:
    columns: WearColumns = replace(COLUMNS, start_day=np.array([1, 0, 0]))
    assert columns.usable.tolist() == [False, True, True, True, True, True]
