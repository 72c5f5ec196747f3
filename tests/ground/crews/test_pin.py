"""A visit put on a crew or a night by hand."""

from dataclasses import replace
from datetime import timedelta

from floorcare.ground.crews.assign import assign_week
from floorcare.ground.crews.checker import broken_constraints
from floorcare.ground.crews.pin import held_with_crew, pinned, why_not_placed
from floorcare.ground.crews.routes.side_by_side import Search
from floorcare.ground.trade.visit import Commitment, VisitState
from tests.ground.crews.weeks import TUESDAY, a_visit, a_week, stops_of
from tests.store.sample import NOW

SHORT = Search(iterations=80, seed=1)
WEDNESDAY = TUESDAY + timedelta(days=1)


def test_a_visit_bound_to_a_crew_and_night_goes_nowhere_else():
    visit = a_visit(latest=WEDNESDAY)
    week = pinned(a_week(visit), visit, crew="B", night=WEDNESDAY)
    fit = assign_week(week, SHORT)
    assert broken_constraints(week, fit) == ()
    ((night, stop),) = stops_of(fit)
    assert (night.crew, stop.visit.night, stop.held) == ("B", WEDNESDAY, True)
    assert why_not_placed(fit, visit) is None


def test_bound_to_a_night_only_any_crew_may_go():
    visit = a_visit(latest=WEDNESDAY)
    week = pinned(a_week(visit), visit, crew="", night=WEDNESDAY)
    ((night, stop),) = stops_of(assign_week(week, SHORT))
    assert (stop.visit.night, stop.held) == (WEDNESDAY, False)
    assert night.on == WEDNESDAY


def test_what_cannot_be_there_has_its_reason():
    visit = a_visit()
    sunday = TUESDAY + timedelta(days=5)
    fit = assign_week(pinned(a_week(visit), visit, crew="B", night=sunday), SHORT)
    left = why_not_placed(fit, visit)
    assert left is not None
    assert left.why


def test_an_agreed_hour_stays_agreed():
    visit = a_visit(commitment=Commitment.HOUR)
    week = pinned(a_week(visit), visit, crew="A", night=TUESDAY)
    assert week.visits[0].commitment is Commitment.HOUR


def test_held_with_its_crew_and_let_go():
    held = held_with_crew(a_visit(), held=True, now=NOW)
    assert (held.state, held.commitment, held.sequence) == (VisitState.HELD, Commitment.NIGHT, 1)
    free = held_with_crew(held, held=False, now=NOW)
    assert (free.state, free.commitment, free.stands) == (
        VisitState.PROPOSED,
        Commitment.WEEK,
        False,
    )
    assert replace(free, sequence=0, changed_at=None) == a_visit()
