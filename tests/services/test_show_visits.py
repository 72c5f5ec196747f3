from dataclasses import replace
from datetime import timedelta

import pytest

from floorcare.errors import NotKnown
from floorcare.ground.trade.visit import Agreement, ChangeKind, Commitment, VisitState
from floorcare.services.show_visits import show_visits
from tests.services.conftest import TODAY
from tests.services.watched import WatchedStore
from tests.store.sample import LATER, NOW, added, change, due, plan, visit

YEAR = TODAY + timedelta(days=364)
NIGHT = TODAY + timedelta(days=10)


def put(store, *visits, changes=None, now=NOW):
    with store.work(writes=True) as work:
        work.put_plan(
            plan(),
            visits=visits,
            changes=changes or tuple(added(v) for v in visits),
            unplaced=(),
            revisions=work.revisions(),
            who="planner",
            now=now,
        )
        work.commit()


def test_a_visit_stands_with_when_where_how_long_what_and_why(loaded):
    first = due(target=NIGHT)
    put(loaded, visit("NORTH", NIGHT, first))
    (row,) = show_visits(loaded, first=TODAY, last=YEAR)
    assert (row.site, row.site_name) == ("NORTH", "North hall")
    assert (row.night, row.starts, row.minutes, row.people) == (NIGHT, "22:00", 150, 2)
    assert row.work == ("LANE recoat",)
    assert (row.state, row.agreement) == ("proposed", "not needed")
    assert (row.latest, row.late) == (first.latest, False)
    assert row.reason == first.reason.inside


def test_both_ends_of_the_span_are_included(loaded):
    put(loaded, visit("NORTH", NIGHT))
    day = timedelta(days=1)
    assert len(show_visits(loaded, first=NIGHT, last=NIGHT)) == 1
    assert show_visits(loaded, first=NIGHT + day, last=YEAR) == ()
    assert show_visits(loaded, first=TODAY, last=NIGHT - day) == ()


def test_they_stand_by_night_and_site_and_only_those_asked_for(planned):
    rows = show_visits(planned, first=TODAY, last=YEAR)
    assert [(r.night, r.site) for r in rows] == sorted((r.night, r.site) for r in rows)
    assert {r.site for r in rows} == {"NORTH", "SOUTH"}
    south = show_visits(planned, first=TODAY, last=YEAR, sites=["SOUTH"])
    assert south == tuple(r for r in rows if r.site == "SOUTH")


def test_a_visit_after_the_latest_night_of_its_tightest_line_is_late(loaded):
    lane = due(target=NIGHT)
    put(loaded, visit("NORTH", lane.latest + timedelta(days=1), lane))
    (row,) = show_visits(loaded, first=TODAY, last=YEAR)
    assert (row.latest, row.late) == (lane.latest, True)


def test_called_off_visits_are_shown_only_if_asked_for(loaded):
    stands = visit("NORTH", NIGHT)
    put(loaded, stands)
    gone = replace(stands, state=VisitState.CANCELLED, sequence=1, changed_at=LATER)
    put(loaded, gone, changes=(change(ChangeKind.DROPPED, gone, NIGHT, None),), now=LATER)
    assert show_visits(loaded, first=TODAY, last=YEAR) == ()
    (row,) = show_visits(loaded, first=TODAY, last=YEAR, cancelled=True)
    assert row.state == "cancelled"


def test_what_the_customer_agreed_to_is_said(loaded):
    put(
        loaded,
        replace(
            visit("NORTH", NIGHT),
            state=VisitState.HELD,
            agreement=Agreement.AGREED,
            commitment=Commitment.NIGHT,
        ),
    )
    (row,) = show_visits(loaded, first=TODAY, last=YEAR)
    assert (row.state, row.agreement) == ("held", "agreed")


def test_a_site_that_is_not_kept_is_named(planned):
    with pytest.raises(NotKnown, match=r"There is no site EAST, NOWHERE\."):
        show_visits(planned, first=TODAY, last=YEAR, sites=["NORTH", "NOWHERE", "EAST"])


def test_it_reads_one_moment_and_writes_nothing(planned):
    watched = WatchedStore(planned)
    show_visits(watched, first=TODAY, last=YEAR)
    assert (watched.blocks, watched.commits) == ([False], 0)
