"""What of a week's crews, machines and visits a person should look at, each with its mend."""

from dataclasses import replace
from datetime import timedelta

from floorcare.ground.crews.doubts import week_findings
from floorcare.ground.crews.parts import wishes_of
from floorcare.ground.crews.rest import rested
from floorcare.ground.crews.roster import crew_nights
from floorcare.ground.trade.equipment import MachinePlace
from tests.ground.crews.weeks import MONDAY, a_crew, a_machine, a_shift, a_visit, a_week


def told(week):
    nights = rested(week, crew_nights(week))
    found = week_findings(week, nights, wishes_of(week, nights))
    assert all(one.weight == "asks" and one.mend for one in found)
    return "; ".join(one.problem for one in found)


def test_an_ordinary_week_raises_no_question():
    assert told(a_week(a_visit())) == ""


def test_a_crew_without_a_shift_or_without_people_is_asked_about():
    crews = (a_crew("A", "ann", "ada", shifts=()), a_crew("B"))
    said = told(a_week(a_visit(), crews=crews))
    assert "crew A has no shift, so it is given nothing" in said
    assert "nobody of crew B works on Mon 2 March" in said


def test_shifts_that_leave_too_little_rest_are_asked_about():
    crews = (a_crew("A", "ann", "ada", shifts=(a_shift(18 * 60, 8 * 60),)),)
    assert "leave 10 h 00 min of rest before Tue 3 March; 11 h are wanted" in told(
        a_week(a_visit(), crews=crews)
    )


def test_a_machine_at_two_places_is_asked_about():
    machine = a_machine("BU-1")
    other = MachinePlace(branch="", site="NORTH", from_on=MONDAY - timedelta(days=9))
    twice = replace(machine, places=(*machine.places, other))
    said = told(a_week(a_visit(), machines=(twice,)))
    assert "machine BU-1 stands at EAST and at NORTH from 21 February 2026 on" in said


def test_a_visit_longer_than_any_crew_can_stay_is_asked_about():
    said = told(a_week(a_visit(minutes=600)))
    assert "the visit to NORTH on Tue 3 March takes 600 min on site" in said
