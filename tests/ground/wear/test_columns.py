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
        ({"reading_day": np.full(6, -2)}, "and their eve, -1"),
        ({"extra_sd": np.zeros(2)}, "extra_sd must be as long as reading_ln"),
        ({"extra_sd": np.full(6, -0.1)}, "extra_sd must be finite and not negative"),
        ({"extra_sd": np.full(6, np.nan)}, "extra_sd must be finite and not negative"),
        ({"is_grade": np.ones(5, bool)}, "is_grade must be as long as reading_ln"),
    ],
)
def test_a_wrong_column_is_named(change: dict[str, object], said: str) -> None:
    with pytest.raises(ValueError) as caught:
        replace(COLUMNS, **change)  # type: ignore[arg-type]
    assert said in str(caught.value)


def test_readings_before_a_zones_own_life_are_not_usable() -> None:
    columns: WearColumns = replace(COLUMNS, start_day=np.array([1, 0, 0]))
    assert columns.usable.tolist() == [False, True, True, True, True, True]


def test_on_its_eve_a_floor_is_read_after_the_work_of_that_day_only() -> None:
    eve = replace(
        COLUMNS,
        start_day=np.array([0, 7, 7]),
        reading_day=np.array([-1, -1, 6, 6, 5, 7]),
        reading_after_burnish=np.array([True, False, True, False, True, False]),
    )
    assert eve.usable.tolist() == [True, False, True, False, False, True]


def test_some_zones_come_in_the_order_asked_with_their_own_readings() -> None:
    some = COLUMNS.rows(np.array([2, 0]))
    assert some.zones == 2
    assert some.reading_zone.tolist() == [1, 1, 0, 0]
    assert some.thousand_passes[0].tolist() == COLUMNS.thousand_passes[2].tolist()
    own = COLUMNS.reading_zone != 1
    for name in ("reading_day", "reading_ln", "reading_stations", "reading_after_burnish"):
        found, had = getattr(some, name), getattr(COLUMNS, name)[own]
        assert sorted(found.tolist()) == sorted(had.tolist())
        assert found[some.reading_zone == 0].tolist() == getattr(COLUMNS, name)[4:6].tolist()
    for (effect, done), (other, of_all) in zip(some.treatments, COLUMNS.treatments, strict=True):
        assert effect == other
        assert done.tolist() == of_all[[2, 0]].tolist()


def test_what_may_be_left_out_of_readings_says_nothing_of_any() -> None:
    assert COLUMNS.more_sd.tolist() == [0.0] * 6
    assert COLUMNS.graded.tolist() == [False] * 6
    named = replace(COLUMNS, extra_sd=np.arange(6.0), is_grade=np.arange(6) == 5)
    assert named.more_sd.tolist() == [0.0, 1.0, 2.0, 3.0, 4.0, 5.0]
    assert named.rows(np.array([2])).graded.tolist() == [False, True]
    with pytest.raises(ValueError, match="extra_sd must be finite and not negative"):
        replace(COLUMNS, extra_sd=np.full(6, np.nan))


def test_what_is_said_of_no_reading_may_be_left_out_and_goes_with_the_readings() -> None:
    assert COLUMNS.more_sd.tolist() == [0.0] * 6
    assert not COLUMNS.graded.any()
    assert COLUMNS.rows(np.array([1])).more_sd.tolist() == [0.0] * 2
    given = replace(COLUMNS, extra_sd=np.arange(6.0), is_grade=np.arange(6) == 5)
    some = given.rows(np.array([2, 0]))
    own = COLUMNS.reading_zone != 1
    assert some.more_sd.tolist() == given.more_sd[own].tolist()
    assert some.graded.tolist() == given.graded[own].tolist()
    named = given.of_readings(np.array([5]))
    assert (named["extra_sd"].tolist(), named["is_grade"].tolist()) == ([5.0], [True])
    assert "extra_sd" not in COLUMNS.of_readings(np.array([5]))
