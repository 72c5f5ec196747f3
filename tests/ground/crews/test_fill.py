"""What the search left out goes where a crew has room and a machine is free after all."""

from floorcare.ground.crews.fill import filled
from floorcare.ground.crews.parts import wishes_of
from floorcare.ground.crews.rest import rested
from floorcare.ground.crews.roster import crew_nights
from floorcare.ground.trade.treatment import Work
from tests.ground.crews.weeks import TUESDAY, a_machine, a_visit, a_week


def left_of(week):
    nights = rested(week, crew_nights(week))
    late: dict = {}
    return filled(week, nights, late, wishes_of(week, nights)), nights, late


def test_what_fits_is_put_there_with_its_latest_start():
    left, nights, late = left_of(a_week(a_visit(minutes=60)))
    assert left == []
    (stop,) = nights["A", TUESDAY].stops
    assert len(late["A", TUESDAY]) == 1
    assert late["A", TUESDAY][0] > stop.starts_at


def test_a_machine_that_is_free_is_taken():
    machines = (a_machine("BU-1"), a_machine("SC-1", "scrubber"))
    week = a_week(a_visit(work=Work.RECOAT, minutes=60), machines=machines)
    left, nights, _ = left_of(week)
    assert left == []
    assert set(nights["A", TUESDAY].stops[0].machines) == {"BU-1", "SC-1"}


def test_what_fits_nowhere_comes_back_and_unnamed_crews_are_left_alone():
    too_long = a_visit(minutes=475)
    left, nights, late = left_of(a_week(too_long))
    assert [wish.visit for wish in left] == [too_long]
    assert late == {}
    unnamed, _, _ = left_of(a_week(a_visit(minutes=60), crews=(), workers=()))
    assert len(unnamed) == 1
    assert all(not night.stops for night in nights.values())
