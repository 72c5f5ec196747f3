from dataclasses import replace
from datetime import date, timedelta

import pytest

from floorcare.ground.trade.visit import Agreement, ChangeKind, Commitment, VisitState
from floorcare.store.visit_marks import mark_of
from tests.store.sample import NOW, added, change, due, plan, portfolio, site_book, visit

NIGHT = date(2026, 3, 12)
DAY = timedelta(days=1)


@pytest.fixture
def work(store):
    with store.work(writes=True) as work:
        books = (site_book(zones=("EDGE", "LANE")), site_book("SOUTH", "WEST"))
        work.put_portfolio(portfolio(*books), who="t", now=NOW)
        yield work


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


def test_marks_in_the_store_are_those_of_its_visits(work):
    later = due(target=NIGHT + 9 * DAY)
    rich = replace(visit("NORTH", NIGHT, later, due(zone="EDGE")), agreement=Agreement.AGREED)
    south = visit("SOUTH", NIGHT + DAY)
    put(work, rich, south)
    marks = work.visit_marks(NIGHT)
    assert marks == tuple(sorted(map(mark_of, (rich, south)), key=lambda m: m.uuid))
    first = next(mark for mark in marks if mark.site == "NORTH")
    assert (first.first_target, first.stands) == (due(zone="EDGE").target, True)


def test_earlier_nights_and_cancelled_visits_are_left_out(work):
    gone = replace(visit("SOUTH", NIGHT + DAY), state=VisitState.CANCELLED)
    put(work, visit("NORTH", NIGHT), gone)
    assert [mark.night for mark in work.visit_marks(NIGHT)] == [NIGHT]
    assert work.visit_marks(NIGHT + DAY) == ()


def test_lines_taken_off_a_visit_count_no_more(work):
    one = visit("NORTH", NIGHT, due(target=NIGHT), due(zone="EDGE", target=NIGHT + DAY))
    put(work, one)
    fewer = replace(one, lines=one.lines[1:])
    work.put_plan(
        plan(changed=1),
        visits=(fewer,),
        changes=(change(ChangeKind.CHANGED, one, NIGHT, NIGHT),),
        unplaced=(),
        revisions={},
        who="t",
        now=NOW,
    )
    (mark,) = work.visit_marks(NIGHT)
    assert mark == mark_of(fewer)
    assert mark.first_target == NIGHT + DAY


def test_uuids_are_those_of_the_sites_asked_for_cancelled_ones_too(work):
    gone = replace(visit("SOUTH", NIGHT), state=VisitState.CANCELLED)
    put(work, visit("NORTH", NIGHT), gone)
    assert work.visit_uuids(["SOUTH"]) == {gone.uuid}
    assert work.visit_uuids(["NORTH", "SOUTH"]) == {gone.uuid, visit("NORTH").uuid}


@pytest.mark.parametrize(
    "firm",
    [
        {"agreement": Agreement.AGREED},
        {"commitment": Commitment.NIGHT},
        {"state": VisitState.HELD},
    ],
)
def test_a_visit_that_stands_may_not_be_moved(firm):
    one = visit()
    today, last = one.night - timedelta(days=1), one.night + timedelta(days=300)
    assert mark_of(one).is_movable(today, last)
    assert not mark_of(replace(one, **firm)).is_movable(today, last)


def test_tonight_and_what_is_due_beyond_the_horizon_may_not_be_moved():
    mark = mark_of(visit())
    day = timedelta(days=1)
    assert not mark.is_movable(mark.night, mark.first_target)
    assert not mark.is_movable(mark.night - day, mark.first_target - day)
    assert not replace(mark, first_target=None).is_movable(mark.night - day, mark.first_target)
