from dataclasses import replace
from datetime import timedelta

import pytest

from floorcare.errors import NotKnown, NotUnderstood
from floorcare.ground.trade.answer import Manner, Said
from floorcare.ground.trade.visit import Commitment, VisitState
from floorcare.ground.worktime.shut import ShutDay
from floorcare.services.load_care import load_care
from floorcare.services.plan_year import plan_year
from floorcare.services.shut_site import list_shut, open_site, shut_site
from floorcare.store.visit_edits import VisitEdit
from tests.services.conftest import TODAY, care
from tests.services.watched import WatchedStore
from tests.store.sample import LATER

DAY = timedelta(days=1)


def first_visit(store, site="SOUTH"):
    with store.work() as work:
        return next(v for v in work.visits() if v.site == site)


def shut(store, surfaces, first, last=None, *, site="SOUTH", why="fair"):
    days = ShutDay(from_on=first, to_on=last or first, why=why)
    return shut_site(store, surfaces, site=site, shut=days, today=TODAY, who="anna", now=LATER)


def make_plan(store, surfaces):
    account = plan_year(store, surfaces, today=TODAY, now=LATER, who="planner")
    return {c.visit: c.kind.value for c in account.changes if c.kind.value != "kept"}


def test_the_visits_that_fall_in_it_are_told_and_the_next_plan_moves_only_these(planned, surfaces):
    visit = first_visit(planned)
    watched = WatchedStore(planned)
    answer = shut(watched, surfaces, visit.night)
    assert (watched.blocks, watched.commits) == ([True], 1)
    assert answer.written
    (fallen,) = answer.fallen
    assert (fallen.visit, fallen.night, fallen.stands) == (visit.uuid, visit.night, False)
    assert make_plan(planned, surfaces) == {visit.uuid: "moved"}
    assert first_visit(planned).night != visit.night
    assert make_plan(planned, surfaces) == {}


def test_a_visit_that_runs_into_the_first_day_after_midnight_falls_in_it(planned, surfaces):
    visit = first_visit(planned)
    (fallen,) = shut(planned, surfaces, visit.night + DAY).fallen
    assert fallen.visit == visit.uuid
    assert visit.starts_minute + visit.minutes > 1440


def test_a_held_visit_is_told_as_one_no_plan_moves(planned, surfaces):
    visit = first_visit(planned)
    held = replace(visit, state=VisitState.HELD, commitment=Commitment.NIGHT)
    with planned.work(writes=True) as work:
        said = Said(by="anna", how=Manner.OFFICE, on=TODAY)
        edit = VisitEdit(kind="held", before=visit, after=held, said=said, version=1)
        work.put_visit(edit, who="anna", now=LATER)
        work.commit()
    (fallen,) = shut(planned, surfaces, visit.night).fallen
    assert (fallen.state, fallen.stands) == ("held", True)
    assert make_plan(planned, surfaces) == {}


def test_shut_days_are_listed_by_site_and_day_and_past_ones_left_out(planned, surfaces):
    rows = list_shut(planned, first=TODAY)
    assert [(r.site, r.why) for r in rows] == [("NORTH", "inventory"), ("SOUTH", "inventory")]
    shut(planned, surfaces, TODAY + 3 * DAY, TODAY + 4 * DAY)
    (fair, inventory) = list_shut(planned, site="SOUTH", first=TODAY)
    assert (fair.from_on, fair.to_on, fair.why) == (TODAY + 3 * DAY, TODAY + 4 * DAY, "fair")
    assert list_shut(planned, site="SOUTH", first=TODAY + 4 * DAY) == (fair, inventory)
    assert list_shut(planned, site="SOUTH", first=TODAY + 5 * DAY) == (inventory,)


def test_the_same_days_again_change_nothing_and_another_end_changes_it(planned, surfaces):
    first = TODAY + 3 * DAY
    assert shut(planned, surfaces, first).written
    with planned.work() as work:
        before = work.revisions(), len(work.history())
    assert not shut(planned, surfaces, first).written
    with planned.work() as work:
        assert (work.revisions(), len(work.history())) == before
    assert shut(planned, surfaces, first, first + DAY).written
    (row, _) = list_shut(planned, site="SOUTH", first=TODAY)
    assert row.to_on == first + DAY


def test_what_lies_inside_a_longer_stretch_is_refused_and_what_reaches_out_is_not(
    planned, surfaces
):
    start = TODAY.replace(month=12, day=26)
    with pytest.raises(NotUnderstood, match="is shut from 2026-12-24 to 2027-01-01 already"):
        shut(planned, surfaces, start)
    assert shut(planned, surfaces, start, start + 14 * DAY).written


def test_taken_back_the_night_is_open_again_and_the_folder_does_not_bring_it_back(
    planned, surfaces
):
    visit = first_visit(planned)
    shut(planned, surfaces, visit.night)
    answer = open_site(planned, site="SOUTH", from_on=visit.night, who="anna", now=LATER)
    assert (answer.withdrawn, answer.shut.why) == (True, "fair")
    assert [r.why for r in list_shut(planned, site="SOUTH", first=TODAY)] == ["inventory"]
    load_care(planned, care(), who="office", now=LATER)
    assert [r.why for r in list_shut(planned, site="SOUTH", first=TODAY)] == ["inventory"]
    assert make_plan(planned, surfaces) == {}


def test_days_and_sites_nobody_knows_are_told_with_those_there_are(planned, surfaces):
    with pytest.raises(NotKnown, match="begins on 2026-03-05; it has 2026-12-24"):
        open_site(planned, site="SOUTH", from_on=TODAY + 3 * DAY, who="anna", now=LATER)
    with pytest.raises(NotKnown, match='no site "EAST"; there are NORTH, SOUTH'):
        shut(planned, surfaces, TODAY, site="EAST")
    with pytest.raises(NotKnown, match='no site "EAST"'):
        list_shut(planned, site="EAST", first=TODAY)
