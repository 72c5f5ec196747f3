from dataclasses import replace
from datetime import date, timedelta

import pytest

from floorcare.errors import NotKnown
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Unplaced, VisitState
from floorcare.services.list_visits import list_week
from floorcare.services.load_care import load_care
from floorcare.store.surfaces import load_cautions
from tests.services.conftest import TODAY, rhythm
from tests.services.watched import WatchedStore
from tests.store.sample import NOW, added, due, plan, portfolio, site_book, visit

CAUTIONS = load_cautions()
EAST = portfolio().branches[0]
NIGHT = date(2026, 3, 12)


# a branch's week


def put(store, *visits, unplaced=()):
    with store.work(writes=True) as work:
        work.put_plan(
            plan(),
            visits=visits,
            changes=tuple(added(v) for v in visits),
            unplaced=unplaced,
            revisions=work.revisions(),
            who="planner",
            now=NOW,
        )
        work.commit()


def week(store, surfaces, starts_on=date(2026, 3, 9), **more):
    return list_week(store, surfaces, CAUTIONS, starts_on=starts_on, **more)


def test_each_branch_has_its_own_lists_of_the_weeks_seven_nights(loaded, surfaces):
    monday, sunday = date(2026, 3, 9), date(2026, 3, 15)
    nights = [monday - timedelta(days=1), monday, sunday, sunday + timedelta(days=1)]
    visits = [replace(visit("NORTH", on, due()), uuid=f"visit-{on}") for on in nights]
    south = visit("SOUTH", monday, due("SOUTH"))
    put(loaded, *visits, south)
    east, west = week(loaded, surfaces)
    assert [s.night for s in east.sheets] == [monday, sunday]
    assert [s.site for s in west.sheets] == ["SOUTH"]
    assert (east.branch, east.units) == ("East", "metric")
    assert (west.branch, west.units) == ("West", "US")
    assert west.sheets[0].units == "US"
    assert east.as_of == "the plan of 2 March 2026"
    (alone,) = week(loaded, surfaces, branch="WEST")
    assert alone == west


def test_called_off_visits_are_on_no_list(loaded, surfaces):
    put(loaded, replace(visit("NORTH", NIGHT), state=VisitState.CANCELLED))
    assert week(loaded, surfaces)[0].sheets == ()


def test_what_found_no_night_is_noted_once_it_is_wanted(loaded, surfaces):
    soon = Unplaced(due=due(target=date(2026, 3, 15)), why="no dust", mend="permit dust")
    later = Unplaced(due=due(target=date(2026, 3, 16)), why="no dust", mend="permit dust")
    put(loaded, unplaced=(soon, later))
    east, west = week(loaded, surfaces)
    (note,) = east.unplaced
    assert (note.zone, note.work) == ("NORTH/LANE", "recoat")
    assert (note.why, note.mend) == ("no dust", "permit dust")
    assert west.unplaced == ()


def test_the_weeks_routine_stands_below_and_what_is_planned_does_not(loaded, surfaces):
    east, _west = week(loaded, surfaces)
    (burnish,) = east.routines
    assert (burnish.site, burnish.weekdays) == ("NORTH", "Tue, Fri")
    assert (burnish.work, burnish.who) == ("burnish, 1 zone", "us, confirmed")
    # South's recoat of every ten weeks falls on the 16th and is a visit
    assert week(loaded, surfaces, starts_on=date(2026, 3, 16))[1].routines == ()


def test_zones_of_one_rhythm_stand_together_and_every_day_is_daily(loaded, surfaces):
    both = site_book("NORTH", "EAST", zones=("LANE", "EDGE"))
    daily = replace(rhythm(Work.CLEAN, "FREQ=DAILY"), promised=True)
    both = replace(both, zones=tuple(replace(z, routines=(daily,)) for z in both.zones))
    load_care(loaded, portfolio(both), who="office", now=NOW)
    said = [(r.weekdays, r.work) for r in week(loaded, surfaces)[0].routines]
    assert ("daily", "clean, 2 zones") in said


def test_before_any_plan_the_list_says_so(loaded, surfaces):
    assert {lists.as_of for lists in week(loaded, surfaces)} == {"no plan yet"}


def test_a_branch_that_is_not_kept_is_refused_with_those_that_are(loaded, surfaces):
    with pytest.raises(NotKnown, match=r'There is no branch "NORTH"; there are EAST, WEST\.'):
        week(loaded, surfaces, branch="NORTH")


def test_planned_visits_come_out_on_the_lists_of_their_week(planned, surfaces):
    with planned.work() as work:
        visits = work.visits(first=TODAY, last=TODAY + timedelta(weeks=8))
    listed = {
        sheet.uuid
        for weeks in range(9)
        for lists in week(planned, surfaces, starts_on=TODAY + timedelta(weeks=weeks))
        for sheet in lists.sheets
        if sheet.night <= TODAY + timedelta(weeks=8)
    }
    assert listed == {v.uuid for v in visits}
    assert len(listed) >= 3


def test_it_reads_one_moment_and_writes_nothing(planned, surfaces):
    watched = WatchedStore(planned)
    week(watched, surfaces)
    assert (watched.blocks, watched.commits) == ([False], 0)


def test_a_site_that_changes_branch_in_the_week_is_on_each_ones_list(loaded, surfaces):
    monday, sunday = date(2026, 3, 9), date(2026, 3, 15)
    north = site_book("NORTH", "EAST")
    span = north.site.branches[0]
    moved = (replace(span, to_on=NIGHT), replace(span, branch="WEST", from_on=sunday))
    north = replace(north, site=replace(north.site, branches=moved))
    load_care(loaded, portfolio(north), who="office", now=NOW)
    put(loaded, *(replace(visit("NORTH", on, due()), uuid=f"on-{on}") for on in (monday, sunday)))
    east, west = week(loaded, surfaces)
    assert [s.night for s in east.sheets] == [monday]
    assert [s.night for s in west.sheets] == [sunday]
