"""A plan of some sites only, and a plan that is broken off."""

import sqlite3
from dataclasses import replace
from datetime import timedelta

import pytest

from floorcare.errors import NotKnown
from floorcare.ground.trade.visit import ChangeKind
from floorcare.ground.worktime.shut import ShutDay
from floorcare.services.load_care import load_care
from floorcare.services.plan_year import plan_year
from tests.services.conftest import TODAY, care
from tests.services.watched import WatchedStore
from tests.store.sample import LATER, NOW


def make(store, surfaces, *sites, today=TODAY, now=LATER, **more):
    return plan_year(store, surfaces, today=today, now=now, who="planner", sites=sites, **more)


def shut_first(store):
    """The night of NORTH's first visit is shut."""
    with store.work() as work:
        first = next(v.night for v in work.visits(sites=["NORTH"]))
    brought = care()
    north = brought.books[0]
    shut = ShutDay(from_on=first, to_on=first, why="inventory")
    site = replace(north.site, shut_days=(*north.site.shut_days, shut))
    load_care(store, replace(brought, books=(replace(north, site=site),)), who="office", now=NOW)


def told(path):
    """Every row there is."""
    connection = sqlite3.connect(path)
    lines = list(connection.iterdump())
    connection.close()
    return lines


def test_only_the_site_that_changed_is_planned_and_written(planned, surfaces):
    shut_first(planned)
    account = make(planned, surfaces, "NORTH")
    assert account.written
    assert account.alone == ("NORTH",)
    assert (account.sites, account.zones) == (1, 1)
    assert {outlook.site for outlook in account.outlooks} == {"NORTH"}
    assert {change.site for change in account.changes} == {"NORTH"}
    with planned.work() as work:
        assert {visit.site for visit in work.visits()} == {"NORTH", "SOUTH"}
        assert account.visits == sum(
            1 for v in work.visits() if v.site == "NORTH" and v.state.value != "cancelled"
        )


def test_the_plan_counts_the_visits_of_other_branches_as_kept(opened, planned_once, surfaces):
    whole, part = opened(planned_once), opened(planned_once)
    for store in (whole, part):
        shut_first(store)
    make(whole, surfaces)
    make(part, surfaces, "NORTH")
    with whole.work() as one, part.work() as other:
        assert one.standing_plan() == other.standing_plan()
        assert one.visits() == other.visits()
        assert one.history() == other.history()


def test_nothing_changed_at_the_site_writes_no_row(planned, surfaces):
    watched = WatchedStore(planned)
    account = make(watched, surfaces, "NORTH")
    assert not account.written
    assert {change.kind for change in account.changes} == {ChangeKind.KEPT}
    assert watched.commits == 0


def test_on_another_day_every_site_is_planned(planned, surfaces):
    account = make(planned, surfaces, "NORTH", today=TODAY + timedelta(days=1))
    assert account.alone == ()
    assert account.sites == 2


def test_for_another_horizon_every_site_is_planned(planned, surfaces):
    assert make(planned, surfaces, "NORTH", weeks=26).sites == 2


def test_before_the_first_plan_every_site_is_planned(loaded, surfaces):
    assert make(loaded, surfaces, "NORTH").sites == 2


def test_a_site_nobody_knows_is_named(planned, surfaces):
    with pytest.raises(NotKnown) as trouble:
        make(planned, surfaces, "NORTH", "NOWHERE")
    assert trouble.value.where == "site NOWHERE"


def test_how_far_it_is_is_told_in_sites(planned, surfaces):
    told_so = []
    make(planned, surfaces, tell=lambda done, total: told_so.append((done, total)))
    assert told_so == [(0, 2), (1, 2), (2, 2)]


@pytest.mark.parametrize("at", [0, 1, 2])
def test_a_plan_broken_off_from_the_keyboard_leaves_the_old_one_whole(
    planned, surfaces, tmp_path, at
):
    def broken_off(done, _total):
        if done == at:
            raise KeyboardInterrupt

    shut_first(planned)
    before = told(tmp_path / "copy0.db")
    with pytest.raises(KeyboardInterrupt):
        make(planned, surfaces, tell=broken_off)
    assert told(tmp_path / "copy0.db") == before
    assert make(planned, surfaces).written
