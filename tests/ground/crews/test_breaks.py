"""The break of a shift: between two stops where there is room, else at the end."""

from dataclasses import replace
from datetime import timedelta

from floorcare.ground.crews.breaks import with_break
from floorcare.ground.crews.first_fit import fit_week
from floorcare.ground.trade.visit import Commitment
from tests.ground.crews.weeks import TUESDAY, a_crew, a_visit, a_week

HOUR = timedelta(hours=1)


def a_night(*visits):
    week = a_week(*visits, crews=(a_crew("A", "ann", "ada"),))
    return next(n for n in fit_week(week).nights if n.stops)


def test_it_lies_between_two_stops_and_the_later_one_waits():
    night = a_night(a_visit(minutes=100), a_visit("SOUTH", minutes=100))
    last = [stop.starts_at + HOUR for stop in night.stops]
    rested = with_break(night, last)
    assert rested.break_at == night.stops[0].ends_at
    assert rested.stops[0] == night.stops[0]
    assert rested.stops[1].starts_at == night.stops[1].starts_at + HOUR / 2
    assert rested.home_at == night.home_at + HOUR / 2
    assert rested.overtime_minutes == 0


def test_of_several_gaps_the_one_nearest_the_middle_is_taken():
    visits = [a_visit("NORTH" if n % 2 else "SOUTH", minutes=60, key=str(n)) for n in range(4)]
    night = a_night(*visits)
    rested = with_break(night, [stop.starts_at + HOUR for stop in night.stops])
    assert rested.break_at == night.stops[1].ends_at


def test_where_a_later_stop_may_not_wait_it_comes_on_the_way_home():
    night = a_night(a_visit(minutes=100), a_visit("SOUTH", minutes=100))
    rested = with_break(night, [stop.starts_at for stop in night.stops])
    assert rested.stops == night.stops
    assert rested.break_at == night.home_at


def test_a_gap_that_is_there_anyway_takes_it_without_moving_anything():
    early = a_visit(minutes=60)
    late = a_visit("SOUTH", minutes=60, starts_minute=1440 + 120, commitment=Commitment.HOUR)
    night = a_night(early, late)
    rested = with_break(night, [stop.starts_at for stop in night.stops])
    assert rested.stops == night.stops
    assert rested.break_at == night.stops[0].ends_at
    assert night.on == TUESDAY


def test_without_stops_or_a_break_nothing_changes():
    night = a_night(a_visit())
    free = next(n for n in fit_week(a_week()).nights)
    assert with_break(free, ()) == free
    none = replace(night, break_minutes=0)
    assert with_break(none, [none.stops[0].starts_at]) == none
