from dataclasses import replace

import pytest

from floorcare.ground.trade.book import Portfolio
from floorcare.services.load_care import Loaded, load_care
from floorcare.store import portfolio as writing
from floorcare.store.merge import RowChange
from floorcare.store.open import open_store
from floorcare.store.upgrade import create_or_upgrade
from tests.services.conftest import care
from tests.services.watched import WatchedStore
from tests.store.sample import LATER, NOW, gloss, with_zone


def test_what_is_new_is_added_and_counted_by_its_kind(tmp_path):
    create_or_upgrade(str(tmp_path / "new.db"), NOW)
    store = open_store(str(tmp_path / "new.db"))
    loaded = load_care(store, care(), who="office", now=NOW)
    store.close()
    counts = {kind: (added, changed, same) for kind, added, changed, same in loaded.counts}
    assert counts["sites"] == (2, 0, 0)
    assert counts["readings"] == (3, 0, 0)
    assert counts["branches"] == (2, 0, 0)
    assert loaded.changed_anything
    assert list(counts) == sorted(counts)


def test_the_same_care_again_changes_nothing_and_leaves_no_trace(loaded):
    again = load_care(loaded, care(), who="office", now=LATER)
    assert not again.changed_anything
    assert {c[0]: c[3] for c in again.counts}["readings"] == 3
    with loaded.work() as work:
        assert work.revisions() == {"EAST": 1, "WEST": 1}
        assert len(work.history()) == 1


def test_one_more_reading_is_one_added_and_raises_its_own_branch(loaded):
    brought = care()
    north, south = brought.books
    more = (*north.zones[0].readings, gloss(LATER.date(), 51.0))
    brought = replace(brought, books=(with_zone(north, readings=more), south))
    counts = {c[0]: c[1:] for c in load_care(loaded, brought, who="kim", now=LATER).counts}
    assert counts["readings"] == (1, 0, 3)
    assert counts["sites"] == (0, 0, 2)
    with loaded.work() as work:
        assert work.revisions() == {"EAST": 2, "WEST": 1}
        assert (work.history()[0].who, work.history()[0].at) == ("kim", LATER)


def test_it_is_one_transaction_kept_once(loaded):
    watched = WatchedStore(loaded)
    load_care(watched, care(), who="office", now=LATER)
    assert (watched.blocks, watched.commits) == ([True], 1)


def test_where_it_breaks_off_nothing_is_kept(loaded, monkeypatch):
    def break_off(*_: object, **__: object) -> None:
        raise RuntimeError("the plug was pulled")

    monkeypatch.setattr(writing, "put_readings", break_off)
    brought = care()
    north = replace(brought.books[0], site=replace(brought.books[0].site, name="Renamed"))
    with pytest.raises(RuntimeError):
        load_care(loaded, replace(brought, books=(north,)), who="office", now=LATER)
    with loaded.work() as work:
        assert [book.site.name for book in work.books()] == ["North hall", "South hall"]
        assert work.revisions() == {"EAST": 1, "WEST": 1}


def test_a_dry_run_tells_the_same_difference_and_leaves_no_trace(loaded):
    watched = WatchedStore(loaded)
    brought = care()
    north = replace(brought.books[0], site=replace(brought.books[0].site, name="Renamed"))
    renamed = replace(brought, books=(north, *brought.books[1:]))
    seen = load_care(watched, renamed, who="office", now=LATER, dry_run=True)
    assert (watched.blocks, watched.commits) == ([True], 0)
    with loaded.work() as work:
        assert [book.site.name for book in work.books()] == ["North hall", "South hall"]
        assert work.revisions() == {"EAST": 1, "WEST": 1}
    assert seen.changes == (
        RowChange(
            kind="sites", key="NORTH", what="changed", fields=(("name", "North hall", "Renamed"),)
        ),
    )
    assert load_care(loaded, renamed, who="office", now=LATER) == seen


def test_only_kinds_that_were_brought_are_counted(loaded):
    again = load_care(loaded, Portfolio(customers=care().customers), who="office", now=LATER)
    assert again == Loaded(counts=(("customers", 0, 0, 1),))


def test_what_a_load_leaves_out_stays(loaded):
    part = Portfolio(customers=care().customers, branches=care().branches, books=care().books[:1])
    assert not load_care(loaded, part, who="office", now=LATER).changed_anything
    with loaded.work() as work:
        assert [book.site.code for book in work.books()] == ["NORTH", "SOUTH"]


@pytest.mark.parametrize(
    ("counts", "changed"),
    [((("sites", 1, 0, 0),), True), ((("sites", 0, 1, 0),), True), ((("sites", 0, 0, 9),), False)],
)
def test_a_load_changed_something_where_anything_was_added_or_changed(counts, changed):
    assert Loaded(counts=counts).changed_anything is changed
