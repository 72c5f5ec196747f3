"""Large visits in parts: by zones, for two crews or several nights, each line once."""

from dataclasses import replace
from datetime import timedelta

from floorcare.ground.crews.assign import assign_week
from floorcare.ground.crews.checker import broken_constraints
from floorcare.ground.crews.parts import wishes_of
from floorcare.ground.crews.rest import rested
from floorcare.ground.crews.roster import crew_nights
from floorcare.ground.crews.routes.side_by_side import Search
from tests.builders import a_book, a_due, a_line
from tests.ground.crews.weeks import TUESDAY, a_crew, a_place, a_visit, a_week, stops_of

SHORT = Search(iterations=80, seed=1)
ZONES = ("EDGE", "HALL", "LANE")


def large(minutes: int = 150, *, people: int = 2, total: int = 470, last: int = 0):
    """A visit of three zones of so many minutes each."""
    due = a_due(earliest=TUESDAY, target=TUESDAY, latest=TUESDAY + timedelta(days=last))
    lines = tuple(replace(a_line(due), zone=zone, minutes=minutes) for zone in ZONES)
    return replace(a_visit(minutes=total, people=people), lines=lines)


def week_of(visit, **more):
    place = a_place(zones=tuple(a_book(zone) for zone in ZONES))
    return a_week(visit, places=(place,), **more)


def test_a_visit_for_more_people_than_any_crew_has_goes_to_two_crews():
    visit = large(260, people=4, total=300)
    week = week_of(visit)
    fit = assign_week(week, SHORT)
    assert broken_constraints(week, fit) == ()
    stops = stops_of(fit)
    assert {night.crew for night, _ in stops} == {"A", "B"}
    assert {night.on for night, _ in stops} == {TUESDAY}
    assert sorted(z for _, stop in stops for z in stop.zones) == sorted(ZONES)
    assert [stop.parts for _, stop in stops] == [2, 2]


def test_one_longer_than_any_shift_goes_over_several_nights():
    visit = large(400, total=1_300, last=4)
    week = week_of(visit, crews=(a_crew("A", "ann", "ada"),))
    fit = assign_week(week, SHORT)
    assert broken_constraints(week, fit) == ()
    nights = {stop.visit.night for _, stop in stops_of(fit)}
    assert len(nights) > 1
    assert fit.unfitted == ()


def test_one_zone_alone_is_not_cut_and_is_named():
    week = a_week(a_visit(minutes=600))
    fit = assign_week(week, SHORT)
    (left,) = fit.unfitted
    assert left.visit.minutes == 600
    assert any("no crew can stay longer" in finding.problem for finding in fit.findings)


def test_what_fits_is_left_whole():
    week = week_of(large(60, total=240))
    nights = rested(week, crew_nights(week))
    (wish,) = wishes_of(week, nights)
    assert (wish.part, wish.parts) == (1, 1)
