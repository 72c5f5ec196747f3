import sqlite3
from dataclasses import replace
from datetime import date

import pytest

from floorcare.errors import NotKnown, NotUnderstood
from floorcare.ground.trade.book import Portfolio, TreatmentDone, Withdrawal, withdrawal_of
from floorcare.ground.trade.treatment import Work
from tests.store.means import CALL, with_means
from tests.store.sample import LATER, NOW, gloss, portfolio, site_book, with_zone

LANE = site_book().zones[0]
SHUT = site_book().site.shut_days[0]
EVERYTHING = (
    ("readings", "LANE", LANE.readings[0]),
    ("treatments done", "LANE", LANE.done[0]),
    ("traffic", "LANE", LANE.traffic[0]),
    ("routines", "LANE", LANE.routines[0]),
    ("promises", "LANE", LANE.promises[0]),
    ("shut days", "", SHUT),
    ("calls", "LANE", CALL),
)
TABLES = {
    "readings": "reading",
    "treatments done": "treatment_done",
    "traffic": "traffic_row",
    "routines": "routine",
    "promises": "promise_line",
    "shut days": "shut_day",
    "calls": "call",
}


def kept(database, table):
    raw = sqlite3.connect(database)
    (count,) = raw.execute(f"SELECT count(*) FROM {table}").fetchone()
    gone = raw.execute(
        f"SELECT withdrawn_by, withdrawn_at FROM {table} WHERE withdrawn_at IS NOT NULL"
    ).fetchall()
    raw.close()
    return count, gone


def everything_read(read):
    book = read("books")[0]
    zone = book.zones[0]
    recorded = (zone.readings, zone.done, zone.traffic, zone.routines, zone.promises)
    return [*(row for of in recorded for row in of), *book.site.shut_days, *read("calls")]


@pytest.mark.parametrize(("word", "zone", "row"), EVERYTHING, ids=TABLES)
def test_a_row_taken_back_is_kept_with_who_and_when_and_read_no_more(
    put, read, database, word, zone, row
):
    put(with_means())
    before, _ = kept(database, TABLES[word])
    assert row in everything_read(read)
    taken_back = Portfolio(withdrawn=(withdrawal_of("NORTH", zone, row),))
    counts = put(taken_back, who="ben", now=LATER)
    assert [c.what for c in counts[word].changes] == ["withdrawn"]
    assert kept(database, TABLES[word]) == (before, [("ben", "2026-03-09 14:02:00.000000")])
    assert row not in everything_read(read)
    again = put(taken_back, who="kim", now=LATER)
    assert all(count.added == count.changed == 0 for count in again.values())
    assert len(read("history")) == 2


@pytest.mark.parametrize(("word", "zone", "row"), EVERYTHING, ids=TABLES)
def test_a_row_that_never_was_cannot_be_taken_back(put, word, zone, row):
    put(with_means())
    gone = withdrawal_of("NORTH", zone, row)
    strange = replace(gone, key=(*gone.key[:-1], "9" if word == "calls" else "2001-01-01"))
    with pytest.raises(NotKnown, match="there is no such row to withdraw") as told:
        put(Portfolio(withdrawn=(strange,)))
    assert told.value.where.startswith(f"{gone.kind} NORTH")


@pytest.mark.parametrize(
    ("site", "zone", "said"),
    [
        ("NOWHERE", "LANE", 'site "NOWHERE" is not known'),
        ("NORTH", "ATTIC", 'zone "NORTH/ATTIC" is not known'),
    ],
)
def test_a_place_nobody_knows_is_told(put, site, zone, said):
    put(portfolio())
    with pytest.raises(NotKnown, match=said):
        put(Portfolio(withdrawn=(withdrawal_of(site, zone, LANE.readings[0]),)))


def test_a_station_nobody_knows_and_a_kind_that_is_never_taken_back_are_told(put):
    put(portfolio())
    elsewhere = withdrawal_of("NORTH", "LANE", gloss(date(2026, 1, 1), 50.0, station="P9"))
    with pytest.raises(NotKnown, match='station "P9" is not known'):
        put(Portfolio(withdrawn=(elsewhere,)))
    with pytest.raises(NotUnderstood, match="a site cannot be withdrawn: allowed reading, "):
        put(Portfolio(withdrawn=(Withdrawal(kind="site", site="NORTH", zone="", key=()),)))


def test_a_reading_of_the_whole_zone_is_taken_back_alone(put, read):
    day = date(2026, 2, 2)
    whole, point = gloss(day, 50.0, station=""), gloss(day, 51.0)
    put(portfolio(with_zone(site_book(), readings=(whole, point))))
    put(Portfolio(withdrawn=(withdrawal_of("NORTH", "LANE", whole),)), now=LATER)
    assert read("books")[0].zones[0].readings == (point,)


def test_a_folder_with_a_row_and_its_withdrawal_loads_afresh_and_again(put, read, database):
    typed = gloss(date(2026, 2, 2), 150.0)
    folder = replace(
        portfolio(with_zone(site_book(), readings=(typed,))),
        withdrawn=(withdrawal_of("NORTH", "LANE", typed),),
    )
    counts = put(folder)
    assert (counts["readings"].added, read("books")[0].zones[0].readings) == (1, ())
    assert kept(database, "reading") == (1, [("anna", "2026-03-02 09:30:00.000000")])
    again = put(folder, now=LATER)
    assert all(count.added == count.changed == 0 for count in again.values())


def test_a_row_named_again_without_its_withdrawal_stands_again(put, read, database):
    put(portfolio())
    put(Portfolio(withdrawn=(withdrawal_of("NORTH", "LANE", LANE.readings[0]),)), now=LATER)
    counts = put(portfolio(), now=LATER)
    assert [c.what for c in counts["readings"].changes] == ["changed"]
    assert LANE.readings[0] in read("books")[0].zones[0].readings
    assert kept(database, "reading")[1] == []


def test_a_folder_cannot_take_back_what_was_entered_in_the_program(put, read):
    visited = TreatmentDone(work=Work.RECOAT, done_on=date(2026, 1, 15), visit="v-1")
    put(portfolio(with_zone(site_book(), done=(visited,))), now=NOW)
    counts = put(Portfolio(withdrawn=(withdrawal_of("NORTH", "LANE", visited),)), now=LATER)
    assert [c.what for c in counts["treatments done"].changes] == ["outranked"]
    assert read("books")[0].zones[0].done == (visited,)
    assert read("revisions") == {"EAST": 1, "WEST": 1}
