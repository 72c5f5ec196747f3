"""The week searched: nights, crews, overtime, urgency, what was told, and the same again."""

from dataclasses import replace
from datetime import timedelta

import pytest

from floorcare.ground.crews.assign import assign_week, assign_weeks
from floorcare.ground.crews.checker import broken_constraints
from floorcare.ground.crews.routes.side_by_side import Search
from floorcare.ground.crews.week_change import disturbed, week_edit
from floorcare.ground.crews.wishes import MOST_OVERTIME
from floorcare.ground.schedule.travel import Travel
from floorcare.ground.trade.book import TreatmentDone
from floorcare.ground.trade.site import TravelLeg
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Agreement, VisitState
from tests.builders import a_book
from tests.ground.crews.weeks import (
    MONDAY,
    TUESDAY,
    a_crew,
    a_machine,
    a_place,
    a_shift,
    a_visit,
    a_week,
    stops_of,
)
from tests.store.sample import NOW

SHORT = Search(iterations=120, seed=1)
ALONE = (a_crew("A", "ann", "ada"),)
LATER = TUESDAY + timedelta(days=3)


def placed(week, search=SHORT):
    """(crew, site, night of the site) of every stop, gone over by the checker."""
    fit = assign_week(week, search)
    assert broken_constraints(week, fit) == ()
    return [(night.crew, stop.visit.site, stop.visit.night) for night, stop in stops_of(fit)]


def test_a_visit_waits_a_night_where_its_own_is_full():
    week = a_week(a_visit(minutes=300), a_visit("SOUTH", minutes=300, latest=LATER), crews=ALONE)
    found = {site: on for _, site, on in placed(week)}
    assert found == {"NORTH": TUESDAY, "SOUTH": TUESDAY + timedelta(days=1)}


def test_what_stands_is_kept_where_only_one_can_be_done():
    wanted = a_visit(minutes=300, latest=TUESDAY)
    for firm in ({"agreement": Agreement.AGREED}, {"state": VisitState.HELD}):
        stands = a_visit("SOUTH", minutes=300, latest=LATER, **firm)
        due = replace(wanted.lines[0].due, earliest=TUESDAY, target=TUESDAY)
        urgent = replace(wanted, lines=(replace(wanted.lines[0], due=due),))
        shift = a_shift(weekdays=frozenset({1}))
        crews = (a_crew("A", "ann", "ada", shifts=(shift,)),)
        assert placed(a_week(urgent, stands, crews=crews)) == [("A", "SOUTH", TUESDAY)]


def test_of_two_the_one_whose_promise_would_break_is_done():
    shift = a_shift(weekdays=frozenset({1}))
    crews = (a_crew("A", "ann", "ada", shifts=(shift,)),)
    soon = a_visit(minutes=300, latest=TUESDAY)
    can_wait = a_visit("SOUTH", minutes=300, latest=TUESDAY + timedelta(days=40))
    assert placed(a_week(soon, can_wait, crews=crews)) == [("A", "NORTH", TUESDAY)]


def test_the_crew_that_was_there_last_goes_again():
    done = TreatmentDone(work=Work.RECOAT, done_on=MONDAY - timedelta(days=90), performer="B")
    place = a_place(zones=(a_book(done=(done,)),))
    assert placed(a_week(a_visit(), places=(place,))) == [("B", "NORTH", TUESDAY)]


def test_overtime_is_taken_where_it_pays_and_never_past_its_limit():
    week = a_week(a_visit(minutes=440, latest=TUESDAY), crews=ALONE)
    fit = assign_week(week, SHORT)
    assert broken_constraints(week, fit) == ()
    (night,) = [n for n in fit.nights if n.stops]
    assert 0 < night.overtime_minutes <= MOST_OVERTIME
    assert fit.cost > 0
    too_long = a_week(a_visit(minutes=480 - 30 + MOST_OVERTIME, latest=TUESDAY), crews=ALONE)
    assert placed(too_long) == []


def test_typed_drives_count():
    legs = [TravelLeg(branch="EAST", leaves="", reaches="NORTH", minutes=200)]
    week = a_week(a_visit(minutes=120, latest=TUESDAY), travel=Travel.of("EAST", legs))
    assert placed(week) == []
    fit = assign_week(a_week(a_visit(minutes=60), travel=Travel.of("EAST", legs)), SHORT)
    assert [stop.travel_minutes for _, stop in stops_of(fit)] == [200]


def test_a_kept_week_keeps_crews_and_nights_when_a_visit_is_added():
    visits = [
        a_visit(site, TUESDAY + timedelta(days=n), minutes=100, key=str(n), latest=LATER)
        for n, site in enumerate(("NORTH", "SOUTH", "NORTH"))
    ]
    week = a_week(*visits)
    edit = week_edit(week, assign_week(week, SHORT), now=NOW)
    altered = {visit.uuid: visit for visit in edit.altered}
    kept = tuple(altered.get(v.uuid, v) for v in week.visits)
    new = a_visit("SOUTH", minutes=100, key="new", latest=LATER)
    grown = replace(week, visits=(*kept, new), assigned=edit.assignments)
    fit = assign_week(grown, SHORT)
    assert broken_constraints(grown, fit) == ()
    changes = [c for c in week_edit(grown, fit, now=NOW).changes if c.visit != new.uuid]
    counts = disturbed(changes)
    assert (counts["crew"], counts["night"], counts["left out"]) == (0, 0, 0)
    assert fit.unfitted == ()


def test_a_machine_goes_to_the_night_that_has_it():
    machines = (a_machine("BU-1"), a_machine("SC-1", "scrubber"))
    visits = (
        a_visit(work=Work.RECOAT, minutes=200, latest=LATER),
        a_visit("SOUTH", work=Work.RECOAT, minutes=200, latest=LATER),
    )
    week = a_week(*visits, machines=machines)
    fit = assign_week(week, SHORT)
    assert broken_constraints(week, fit) == ()
    assert fit.unfitted == ()
    assert all(stop.machines for _, stop in stops_of(fit))


@pytest.mark.parametrize("workers", [1, 2])
def test_branches_side_by_side_are_as_one_by_one(workers):
    weeks = [a_week(a_visit()), a_week(a_visit("SOUTH", minutes=90))]
    fits = assign_weeks(weeks, SHORT, workers=workers)
    assert list(fits) == [assign_week(week, SHORT) for week in weeks]


def test_a_cap_of_time_that_fires_is_told():
    capped = Search(iterations=10**9, seed=1, seconds=0.05)
    assert assign_week(a_week(a_visit()), capped).stopped_by == "time"
    assert assign_week(a_week(a_visit()), SHORT).stopped_by == "iterations"


def test_a_branch_without_crews_of_its_own_sends_unnamed_ones():
    assert placed(a_week(a_visit(), crews=(), workers=())) == [("EAST-1", "NORTH", TUESDAY)]
