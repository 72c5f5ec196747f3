from dataclasses import replace
from datetime import date, timedelta

import pytest
from sqlalchemy import event

from floorcare.errors import NotKnown
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Agreement, Commitment, Origin, VisitState
from floorcare.store.visits import VisitEvent, put_events, visits_of
from tests.store.sample import NOW, added, due, plan, portfolio, site_book, visit


def put(work, *visits):
    work.put_plan(
        plan(added=len(visits)),
        visits=visits,
        changes=tuple(map(added, visits)),
        unplaced=(),
        revisions={},
        who="t",
        now=NOW,
    )


@pytest.fixture
def work(store):
    with store.work(writes=True) as work:
        books = (site_book(zones=("EDGE", "LANE")), site_book("SOUTH", "WEST"))
        work.put_portfolio(portfolio(*books), who="t", now=NOW)
        yield work


def test_visits_come_back_as_they_were_with_lines_in_order_and_dues(work):
    walk = replace(due(zone="", target=date(2026, 3, 20)), work=Work.WALK, area_m2=None)
    rich = replace(
        visit("NORTH", date(2026, 3, 12), due(), walk, replace(due(zone="EDGE"), recheck=True)),
        state=VisitState.CANCELLED,
        commitment=Commitment.HOUR,
        agreement=Agreement.AGREED,
        origin=Origin.CALL,
        starts_minute=1500,
        sequence=3,
    )
    put(work, rich)
    assert work.visits() == (rich,)


def test_a_visit_without_an_instant_of_change_gets_that_of_the_writing(work):
    put(work, replace(visit(), changed_at=None))
    assert work.visits()[0].changed_at == NOW


def test_visits_are_chosen_by_site_and_night_and_sorted(work):
    night = date(2026, 3, 12)
    south, north = visit("SOUTH", night), visit("NORTH", night)
    late = replace(visit("NORTH", night + timedelta(days=7)), uuid="late")
    put(work, late, south, north)
    assert work.visits() == (north, south, late)
    assert work.visits(sites=["NORTH"]) == (north, late)
    assert work.visits(sites=[]) == ()
    assert work.visits(first=night, last=night) == (north, south)
    assert work.visits(first=night + timedelta(days=1)) == (late,)
    assert work.visits(last=night - timedelta(days=1)) == ()


def test_many_visits_take_as_many_statements_as_one(work):
    counted = []
    connection = work._writing()
    put(work, visit())
    event.listen(connection, "before_cursor_execute", lambda *_: counted.append(1))
    assert len(visits_of(connection)) == 1
    alone = len(counted)
    put(work, *(replace(visit("SOUTH"), uuid=f"v{n}") for n in range(200)))
    counted.clear()
    assert len(visits_of(connection)) == 201
    assert len(counted) == alone


def test_a_visits_account_is_kept_in_order(work):
    put(work, visit())
    told = VisitEvent(
        visit=visit().uuid,
        kind="held",
        at=NOW,
        who="anna",
        why="asked by phone",
        night_before=None,
        night_after=visit().night,
    )
    put_events(work._writing(), [told], None)
    assert [e.kind for e in work.visit_events(visit().uuid)] == ["added", "held"]
    assert work.visit_events(visit().uuid)[1] == told


def test_an_event_of_a_visit_nobody_knows_is_refused(work):
    stray = VisitEvent(
        visit="stray", kind="held", at=NOW, who="t", why="", night_before=None, night_after=None
    )
    with pytest.raises(NotKnown, match="no such visit"):
        put_events(work._writing(), [stray], None)
