from dataclasses import replace
from datetime import date

import pytest

from floorcare.ground.trade.site import BranchSpan, TravelLeg
from tests.builders import a_branch, a_site


def test_a_site_is_served_by_the_branch_of_the_day_both_ends_of_a_span_included() -> None:
    site = replace(
        a_site(),
        branches=(
            BranchSpan(branch="EAST", from_on=date(2025, 1, 1), to_on=date(2026, 3, 31)),
            BranchSpan(branch="WEST", from_on=date(2026, 4, 2)),
        ),
    )
    assert site.branch_on(date(2024, 12, 31)) == ""
    assert site.branch_on(date(2026, 3, 31)) == "EAST"
    assert site.branch_on(date(2026, 4, 1)) == ""
    assert site.branch_on(date(2030, 1, 1)) == "WEST"


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"crews": -1}, "allowed 0 to 500"),
        ({"crew_size": 0}, "allowed 1 to 50"),
        ({"shift_minutes": 20}, "allowed 30 to 960"),
        ({"reserve_share": 0.95}, "allowed 0 to 0.9"),
    ],
)
def test_a_branch_that_could_not_work_is_refused(wrong: dict[str, object], said: str) -> None:
    with pytest.raises(ValueError, match=said):
        a_branch(**wrong)


@pytest.mark.parametrize(
    ("wrong", "said"),
    [({"reaches": ""}, "another"), ({"minutes": -1}, "-1 minutes"), ({"km": -1.0}, "-1 km")],
)
def test_a_drive_that_could_not_be_is_refused(wrong: dict[str, object], said: str) -> None:
    whole = {"branch": "EAST", "leaves": "", "reaches": "NORTH", "minutes": 20, **wrong}
    with pytest.raises(ValueError, match=said):
        TravelLeg(**whole)  # type: ignore[arg-type]
