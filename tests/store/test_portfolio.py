import sqlite3
import time
from dataclasses import replace
from datetime import date, timedelta

import pytest

from floorcare.errors import NotKnown
from floorcare.ground.trade.book import Portfolio
from floorcare.ground.trade.zone import Station
from floorcare.store.merge import PutCount
from tests.store.means import with_means
from tests.store.sample import LATER, NOW, gloss, portfolio, site_book, with_zone


def dump(database):
    raw = sqlite3.connect(database)
    lines = list(raw.iterdump())
    raw.close()
    return lines


def put(store, loaded, now=NOW, who="anna"):
    with store.work(writes=True) as work:
        counts = work.put_portfolio(loaded, who=who, now=now)
        work.commit()
    return counts


def test_everything_is_counted_by_kind(store):
    counts = put(store, portfolio())
    assert {kind: count for kind, count in counts.items() if count.added} == {
        "customers": PutCount(added=1),
        "branches": PutCount(added=2),
        "sites": PutCount(added=2),
        "branches of sites": PutCount(added=2),
        "access windows": PutCount(added=2),
        "shut days": PutCount(added=2),
        "areas": PutCount(added=2),
        "zones": PutCount(added=2),
        "values of zones": PutCount(added=2),
        "stations": PutCount(added=4),
        "readings": PutCount(added=6),
        "treatments done": PutCount(added=2),
        "traffic": PutCount(added=2),
        "routines": PutCount(added=2),
        "promises": PutCount(added=2),
    }


def test_the_same_portfolio_twice_changes_no_byte_of_content(store, database):
    put(store, portfolio())
    before = dump(database)
    counts = put(store, portfolio(), now=LATER, who="ben")
    assert all(count.added == count.changed == 0 for count in counts.values())
    assert dump(database) == before


def test_a_whole_portfolio_twice_changes_no_byte_of_content(store, database):
    first = put(store, with_means())
    assert sum(count.added for count in first.values()) == len(
        [change for count in first.values() for change in count.changes]
    )
    before = dump(database)
    counts = put(store, with_means(), now=LATER, who="ben")
    assert all(c.added == c.changed == c.outranked == 0 for c in counts.values())
    assert dump(database) == before


def test_a_look_at_what_would_change_leaves_no_trace(store, database):
    put(store, portfolio())
    before = dump(database)
    with store.work(writes=True) as work:
        counts = work.put_portfolio(with_means(), who="ben", now=LATER)
    assert counts["workers"].added == 2
    assert dump(database) == before
    assert put(store, with_means(), now=LATER) == counts


def test_only_what_the_program_knows_better_leaves_no_trace_either(store, database):
    counted = replace(site_book().zones[0].traffic[0], per_day=777.0)
    with store.work(writes=True) as work:
        work.put_portfolio(
            portfolio(with_zone(site_book(), traffic=(counted,)), site_book("SOUTH", "WEST")),
            who="ben",
            now=NOW,
            origin="program",
        )
        work.commit()
    before = dump(database)
    counts = put(store, portfolio(), now=LATER)
    assert counts["traffic"] == PutCount(unchanged=1, outranked=1)
    assert dump(database) == before


def test_an_empty_portfolio_changes_nothing(store, database):
    put(store, portfolio())
    before = dump(database)
    put(store, Portfolio(), now=LATER)
    assert dump(database) == before


def test_what_a_portfolio_leaves_out_stays(store):
    put(store, portfolio())
    bare = replace(site_book(), areas=(), zones=())
    bare = replace(bare, site=replace(bare.site, windows=(), shut_days=()))
    put(store, portfolio(bare), now=LATER)
    with store.work() as work:
        assert work.books() == portfolio().books


def test_one_more_reading_moves_the_revision_of_its_branch_only(store):
    put(store, portfolio())
    read = with_zone(site_book(), readings=(gloss(date(2026, 3, 1), 47.0),))
    counts = put(store, portfolio(read), now=LATER, who="ben")
    assert counts["readings"] == PutCount(added=1)
    with store.work() as work:
        assert work.revisions() == {"EAST": 2, "WEST": 1}
        entry = work.history(1)[0]
    assert (entry.at, entry.who, entry.what) == (LATER, "ben", "portfolio brought in")
    assert entry.detail == {"counts": {"readings": {"added": 1, "changed": 0}}, "before": {}}


def test_every_change_of_one_call_is_one_entry_of_the_history(store):
    put(store, portfolio())
    put(store, portfolio(site_book("THIRD"), site_book("FOURTH", "WEST")), now=LATER)
    with store.work() as work:
        assert len(work.history()) == 2
        assert work.history(1)[0].detail["counts"]["sites"] == {"added": 2, "changed": 0}


def test_a_portfolio_with_a_fault_writes_nothing_of_itself(store, database):
    put(store, portfolio())
    before = dump(database)
    good = with_zone(site_book("THIRD"), stations=())
    with pytest.raises(NotKnown, match='station "P1"'):
        put(store, portfolio(good), now=LATER)
    assert dump(database) == before


def test_a_hundred_thousand_readings_go_in_within_seconds(store):
    days = [date(2020, 1, 1) + timedelta(days=n) for n in range(1000)]
    stations = tuple(Station(code=f"P{n:03d}") for n in range(100))
    many = tuple(gloss(day, 50.0, station=s.code) for day in days for s in stations)
    loaded = portfolio(with_zone(site_book(), stations=stations, readings=many))
    started = time.perf_counter()
    counts = put(store, loaded)
    # Measured at about one second on two shared cores; through dicts it takes four times as long.
    assert time.perf_counter() - started < 15
    assert counts["readings"].added == 100_000
