from dataclasses import FrozenInstanceError, fields, is_dataclass
from datetime import date

import pytest

from floorcare.services import sheets
from tests.golden.sheets import CONDITION, HALL_VISIT, ROUND_VISIT, WEEK


def test_a_week_counts_its_nights_and_its_work():
    assert WEEK.nights == len({sheet.night for sheet in WEEK.sheets})
    assert WEEK.nights < len(WEEK.sheets), "two visits share a night"
    assert WEEK.person_minutes == sum(
        line.person_minutes for sheet in WEEK.sheets for line in sheet.zones
    )
    assert HALL_VISIT.person_minutes == 300 + 100
    assert sheets.WeekLists(starts_on=WEEK.starts_on, contractor="", branch="").nights == 0


@pytest.mark.parametrize(
    ("gloss", "promise", "below"),
    [(45.9, 46.0, True), (46.0, 46.0, False), (None, 46.0, False), (40.0, None, False)],
)
def test_a_floor_is_below_its_promise_only_where_both_are_known(gloss, promise, below):
    row = sheets.ConditionRow(
        zone="MARKET/LANE",
        zone_name="lane",
        area_name="Hall",
        surface="polished concrete",
        area_m2=None,
        traffic="heavy, counted",
        evidence="measured",
        gloss_gu=gloss,
        promise_gu=promise,
    )
    assert row.is_below_promise is below


def test_views_can_be_handed_to_anybody_because_nobody_can_change_them():
    views = [
        view for view in vars(sheets).values() if is_dataclass(view) and isinstance(view, type)
    ]
    assert len(views) >= 11
    for view in views:
        assert view.__dataclass_params__.frozen, view.__name__
        assert not hasattr(view, "__dict__") or "__slots__" in vars(view), view.__name__
        assert all("list" not in str(field.type) for field in fields(view)), view.__name__
    with pytest.raises(FrozenInstanceError):
        ROUND_VISIT.night = date(2026, 1, 1)
    assert hash(CONDITION.rows[0]) == hash(CONDITION.rows[0])
