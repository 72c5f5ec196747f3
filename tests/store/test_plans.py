from dataclasses import replace
from datetime import date

import pytest
from sqlalchemy import func, select

from floorcare.errors import Clash
from floorcare.ground.trade.visit import ChangeKind, VisitState
from floorcare.store import visit_rows
from tests.store.sample import (
    LATER,
    NOW,
    added,
    change,
    due,
    gloss,
    not_placed,
    plan,
    portfolio,
    site_book,
    visit,
    with_zone,
)

NEXT = date(2026, 3, 19)


@pytest.fixture
def work(store):
    with store.work(writes=True) as work:
        work.put_portfolio(portfolio(), who="anna", now=NOW)
        yield work


def put(work, *changes, visits=(), unplaced=(), revisions=None, now=LATER, made=None):
    work.put_plan(
        made or plan(),
        visits=tuple(visits),
        changes=changes,
        unplaced=unplaced,
        revisions=work.revisions() if revisions is None else revisions,
        who="ben",
        now=now,
    )


def counted(work):
    return {
        table.name: work._connection.scalar(select(func.count()).select_from(table))
        for table in (visit_rows.plan, visit_rows.due, visit_rows.visit, visit_rows.visit_line)
    }


def test_a_plan_comes_back_as_it_was_and_the_latest_stands(work):
    put(work, made=plan(added=3, kept=2))
    put(work, made=replace(plan(dropped=1), made_at=LATER, digest="d2"))
    assert work.standing_plan() == replace(plan(dropped=1), made_at=LATER, digest="d2")


def test_what_the_latest_plan_could_not_place_comes_back_in_its_order(work):
    put(work, unplaced=(not_placed(), replace(not_placed(), due=due(), why="no crew")))
    assert work.unplaced() == (not_placed(), replace(not_placed(), due=due(), why="no crew"))
    put(work)
    assert work.unplaced() == ()


def test_a_moved_visit_keeps_its_identity_and_its_lines(work):
    planned = visit()
    put(work, added(planned), visits=[planned], now=NOW)
    before = counted(work)
    moved = replace(planned, night=NEXT, sequence=1, changed_at=LATER)
    put(work, change(ChangeKind.MOVED, moved, planned.night, NEXT), visits=[moved])
    assert work.visits() == (moved,)
    assert counted(work) == {**before, "plan": 2}
    events = work.visit_events(planned.uuid)
    assert [(e.kind, e.at, e.who, e.why) for e in events] == [
        ("added", NOW, "ben", "due"),
        ("moved", LATER, "ben", "due"),
    ]
    assert (events[1].night_before, events[1].night_after) == (planned.night, NEXT)


def test_lines_that_changed_replace_the_old_ones_which_are_withdrawn_not_deleted(work):
    planned = visit()
    put(work, added(planned), visits=[planned], now=NOW)
    before = counted(work)
    changed = visit("NORTH", planned.night, due(), replace(due(), minutes=300))
    put(work, change(ChangeKind.CHANGED, changed, planned.night, planned.night), visits=[changed])
    assert work.visits() == (changed,)
    assert counted(work) == {
        "plan": before["plan"] + 1,
        "due": before["due"] + 2,
        "visit": before["visit"],
        "visit_line": before["visit_line"] + 2,
    }
    withdrawn = visit_rows.visit_line.c.withdrawn_by
    assert work._connection.scalars(select(withdrawn).where(withdrawn.is_not(None))).all() == [2]


def test_a_dropped_visit_stays_as_cancelled_and_may_be_added_again(work):
    planned = visit()
    put(work, added(planned), visits=[planned], now=NOW)
    dropped = replace(planned, state=VisitState.CANCELLED, sequence=1, changed_at=LATER)
    put(work, change(ChangeKind.DROPPED, dropped, planned.night, None), visits=[dropped])
    assert work.visits() == (dropped,)
    again = replace(planned, sequence=2, changed_at=LATER)
    put(work, added(again), visits=[again])
    assert work.visits() == (again,)


def test_each_writing_of_a_visit_is_a_new_version(work):
    planned = visit()
    put(work, added(planned), visits=[planned])
    moved = replace(planned, night=NEXT)
    put(work, change(ChangeKind.MOVED, moved, planned.night, NEXT), visits=[moved])
    assert work._connection.scalars(select(visit_rows.visit.c.version)).all() == [2]


def test_kept_visits_leave_no_trace(work):
    planned = visit()
    put(work, added(planned), visits=[planned])
    put(work, change(ChangeKind.KEPT, planned, planned.night, planned.night))
    assert len(work.visit_events(planned.uuid)) == 1


def test_one_entry_of_the_history_tells_the_figures(work):
    put(work, unplaced=(not_placed(),), made=plan(added=2, unplaced=1))
    entry = work.history(1)[0]
    assert (entry.at, entry.who, entry.what) == (LATER, "ben", "plan made")
    assert entry.detail["added"] == 2
    assert entry.detail["unplaced"] == 1


def test_inputs_that_changed_meanwhile_are_a_clash_that_names_who_and_when(work):
    read = work.revisions()
    book = with_zone(site_book(), readings=(gloss(date(2026, 3, 8), 40.0),))
    work.put_portfolio(portfolio(book), who="carla", now=LATER)
    with pytest.raises(Clash) as told:
        put(work, revisions=read)
    assert str(told.value) == (
        "branch EAST: carla changed it at 14:02 UTC on 2026-03-09, while the plan was being made; "
        "plan again"
    )
    assert work.standing_plan() is None
    put(work, revisions={"WEST": read["WEST"]})


def test_a_branch_nobody_keeps_is_a_clash(work):
    with pytest.raises(Clash, match="no longer kept"):
        put(work, revisions={"MOON": 1})


def test_two_plans_of_one_state_do_not_both_write(work):
    planned = visit()
    put(work, added(planned), visits=[planned])
    with pytest.raises(Clash, match="another plan has added it"):
        put(work, added(planned), visits=[planned])
    moved = replace(planned, night=NEXT)
    first_move = change(ChangeKind.MOVED, moved, planned.night, NEXT)
    put(work, first_move, visits=[moved])
    with pytest.raises(Clash, match="it is now on 2026-03-19"):
        put(work, first_move, visits=[replace(planned, night=date(2026, 3, 20))])


def test_a_change_of_a_visit_nobody_knows_is_a_clash(work):
    with pytest.raises(Clash, match="no longer kept"):
        put(work, change(ChangeKind.DROPPED, visit(), visit().night, None))
