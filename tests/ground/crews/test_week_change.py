"""What a new week changes, and how it is kept."""

from dataclasses import replace
from datetime import timedelta
from uuid import UUID, uuid5

from floorcare.ground.crews.assign import assign_week
from floorcare.ground.crews.routes.side_by_side import Search
from floorcare.ground.crews.week_change import Placing, WeekChange, disturbed, week_edit
from floorcare.ground.trade.visit import Commitment, VisitState
from tests.builders import a_book, a_due, a_line
from tests.ground.crews.weeks import TUESDAY, a_crew, a_place, a_visit, a_week
from tests.store.sample import NOW

SHORT = Search(iterations=80, seed=1)
BEFORE = Placing(crews=("A",), night=TUESDAY, starts_minute=1320)


def a_change(before, after):
    return WeekChange(visit="v", site="NORTH", before=before, after=after)


def test_a_change_says_what_is_another():
    other = replace(BEFORE, crews=("B",), night=TUESDAY + timedelta(days=1))
    assert a_change(BEFORE, other).kinds == ("crew", "night")
    assert a_change(BEFORE, replace(BEFORE, starts_minute=1330)).kinds == ("hour",)
    assert a_change(None, BEFORE).kinds == ("placed",)
    assert a_change(BEFORE, None).kinds == ("left out",)
    assert a_change(None, None).kinds == ()
    counts = disturbed([a_change(BEFORE, other), a_change(None, BEFORE), a_change(BEFORE, None)])
    assert counts == {"crew": 1, "night": 1, "hour": 0, "left out": 1}


def test_a_week_that_is_as_it_was_kept_changes_nothing():
    week = a_week(a_visit())
    edit = week_edit(week, assign_week(week, SHORT), now=NOW)
    (given,) = edit.assignments
    assert (given.visit, given.part, given.parts) == (a_visit().uuid, 1, 1)
    altered = {v.uuid: v for v in edit.altered}
    kept = tuple(altered.get(v.uuid, v) for v in week.visits)
    again = replace(week, visits=kept, assigned=edit.assignments)
    assert week_edit(again, assign_week(again, SHORT), now=NOW).empty


def test_a_new_hour_is_another_sequence():
    week = a_week(a_visit(), a_visit("SOUTH"), crews=(a_crew("A", "ann", "ada"),))
    edit = week_edit(week, assign_week(week, SHORT), now=NOW)
    assert {v.sequence for v in edit.altered} == {1}
    assert {v.changed_at for v in edit.altered} == {NOW}


def test_a_visit_that_lost_its_crew_is_cleared():
    week = a_week(a_visit())
    kept = week_edit(week, assign_week(week, SHORT), now=NOW)
    longer = replace(week.visits[0], minutes=900)
    lost = replace(week, visits=(longer,), assigned=kept.assignments)
    edit = week_edit(lost, assign_week(lost, SHORT), now=NOW)
    assert edit.cleared == (longer.uuid,)
    assert [change.kinds for change in edit.changes] == [("left out",)]


def test_a_visit_that_is_held_stands_for_plans_too():
    week = a_week(a_visit())
    edit = week_edit(week, assign_week(week, SHORT), now=NOW, hold={a_visit().uuid})
    assert edit.assignments[0].held
    (held,) = edit.altered
    assert (held.state, held.commitment) == (VisitState.HELD, Commitment.NIGHT)


def test_a_visit_cut_over_nights_keeps_its_identity_on_the_first():
    zones = ("EDGE", "HALL", "LANE")
    due = a_due(earliest=TUESDAY, target=TUESDAY, latest=TUESDAY + timedelta(days=3))
    lines = tuple(replace(a_line(due), zone=zone, minutes=400) for zone in zones)
    visit = replace(a_visit(minutes=1_300), lines=lines)
    place = a_place(zones=tuple(a_book(zone) for zone in zones))
    week = a_week(visit, places=(place,), crews=(a_crew("A", "ann", "ada"),))
    edit = week_edit(week, assign_week(week, SHORT), now=NOW)
    first, *others = sorted(edit.altered, key=lambda v: v.night)
    assert first.uuid == visit.uuid
    assert others
    for other in others:
        assert other.uuid == str(uuid5(UUID(visit.uuid), other.night.isoformat()))
    told = sorted(line.zone for one in edit.altered for line in one.lines)
    assert told == sorted(zones)
