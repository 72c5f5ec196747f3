import pytest

from floorcare.ground.schedule.treated import as_treatments, share_treated
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Visit
from tests.builders import DAY, TODAY, a_due, a_line


def visit(night, *lines, site="NORTH"):
    return Visit(
        uuid=f"v{(night - TODAY).days}",
        site=site,
        night=night,
        starts_minute=1320,
        minutes=60,
        people=2,
        lines=lines,
    )


def test_lines_of_the_zone_from_today_on_are_treatments_of_their_nights():
    recoat = a_line(a_due(Work.RECOAT, area_m2=100.0))
    visits = [visit(TODAY - DAY, recoat), visit(TODAY, recoat), visit(TODAY + 9 * DAY, recoat)]
    found = as_treatments(visits, ("NORTH", "LANE"), 400.0, TODAY)
    assert [(one.done_on, one.work, one.share) for one in found] == [
        (TODAY, Work.RECOAT, 0.25),
        (TODAY + 9 * DAY, Work.RECOAT, 0.25),
    ]
    assert [one.visit for one in found] == ["v0", "v9"]


def test_other_zones_and_sites_are_left_out():
    recoat = a_line(a_due(Work.RECOAT, area_m2=100.0))
    visits = [visit(TODAY, recoat), visit(TODAY, recoat, site="SOUTH")]
    assert as_treatments(visits, ("NORTH", "EDGE"), 400.0, TODAY) == ()
    assert len(as_treatments(visits, ("SOUTH", "LANE"), 400.0, TODAY)) == 1


@pytest.mark.parametrize(
    ("part", "whole", "share"),
    [(100.0, 400.0, 0.25), (500.0, 400.0, 1.0), (0.01, 400.0, 0.001), (None, 400.0, 1.0)],
)
def test_a_line_treats_the_share_of_the_zone_that_its_area_is(part, whole, share):
    assert share_treated(part, whole) == share
    assert share_treated(part, None) == 1.0
