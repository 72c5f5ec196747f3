from dataclasses import replace
from datetime import date

import pytest

from floorcare.ground.contracts.lines import promise_rows
from floorcare.ground.contracts.promised import PromisedZone, conditions
from floorcare.ground.trade.promise import PromiseKind
from floorcare.ground.trade.routine import Performer, Proof, Routine
from floorcare.ground.trade.treatment import Work
from floorcare.store.surfaces import load_surfaces
from tests.builders import look_promised
from tests.ground.contracts.agreed import (
    FIRST,
    LAST,
    TODAY,
    a_book,
    a_promised_zone,
    answer_promised,
)
from tests.store.sample import portfolio, site_book

SURFACES = load_surfaces()
EAST = portfolio().branches[0]


def rows_of(*zones: PromisedZone):
    books = tuple({z.book.site.code: z.book for z in zones}.values())
    outlooks = conditions((EAST,), books, (), SURFACES, {}, TODAY)
    return promise_rows(zones, outlooks, SURFACES, TODAY)


def row_of(kind: PromiseKind, *zones: PromisedZone):
    (row,) = (r for r in rows_of(*(zones or (a_promised_zone(),))) if r.kind is kind)
    return row


def test_the_look_stands_with_its_reference_least_gloss_last_round_and_estimate():
    row = row_of(PromiseKind.APPEARANCE)
    assert (row.zone, row.zone_name) == ("NORTH/LANE", "Hall, lane")
    assert row.promised == "gloss at least 48.0 GU, 80% of 60 GU"
    assert (row.reference_gu, row.reference_state) == (60.0, "after burnish")
    assert (row.policy, row.confidence) == ("gentlest", 0.75)
    assert (row.read, row.read_on) == ("54.0 GU", date(2025, 9, 8))
    assert row.low_gu < row.gloss_gu < row.high_gu
    assert not row.is_below


def test_a_look_without_a_reference_says_so():
    zone = replace(a_promised_zone(), lines=(replace(look_promised(), reference_gu=None),))
    row = row_of(PromiseKind.APPEARANCE, zone)
    assert row.promised == "the look as agreed, no reference"
    assert (row.promised_gu, row.reference_state) == (None, "")


def test_slip_stands_with_its_worst_last_value_and_the_guard():
    row = row_of(PromiseKind.SLIP)
    assert row.promised == "wet DCOF at least 0.45, level"
    assert (row.read, row.read_on) == ("wet DCOF 0.44", date(2025, 10, 6))
    assert row.is_guarded
    untested = a_promised_zone(replace(a_book(), zones=(replace(a_book().zones[0], readings=()),)))
    assert row_of(PromiseKind.SLIP, untested).read == "never tested"
    assert row_of(PromiseKind.SLIP, untested).read_on is None


def test_an_answer_promised_alike_in_all_zones_stands_once_at_the_sites_head():
    book = site_book("NORTH", zones=("EDGE", "LANE"))
    zones = tuple(
        PromisedZone(book=book, zone=zone, lines=(answer_promised(), *zone.promises))
        for zone in book.zones
    )
    rows = rows_of(*zones)
    assert [(r.zone, r.kind.value) for r in rows] == [
        ("NORTH", "response"),
        ("NORTH/EDGE", "appearance"),
        ("NORTH/LANE", "appearance"),
    ]
    assert rows[0].promised == "answer to a call within 24 h"
    assert rows[0].zone_name == "North hall, all 2 zones"
    unlike = (zones[0], replace(zones[1], lines=(answer_promised(12),)))
    assert [r.zone for r in rows_of(*unlike) if r.kind is PromiseKind.RESPONSE] == [
        "NORTH/EDGE",
        "NORTH/LANE",
    ]


@pytest.mark.parametrize(
    ("rule", "said"),
    [
        ("FREQ=DAILY", "burnish daily"),
        ("FREQ=WEEKLY;BYDAY=TU,FR", "burnish 2 times a week"),
        ("FREQ=WEEKLY", "burnish weekly"),
        ("FREQ=WEEKLY;INTERVAL=6", "burnish every 6 weeks"),
        ("FREQ=MONTHLY", "burnish monthly"),
        ("FREQ=YEARLY", "burnish every 12 months"),
    ],
)
def test_a_promised_rhythm_is_said_in_words(rule, said):
    sold = Routine(
        work=Work.BURNISH,
        rule=rule,
        starts_on=FIRST,
        performer=Performer.US,
        proof=Proof.CONFIRMED,
        promised=True,
    )
    book = a_book()
    zone = replace(book.zones[0], routines=(sold, replace(sold, promised=False)))
    line = replace(answer_promised(), kind=PromiseKind.RHYTHM, response_hours=None)
    promised = PromisedZone(book=book, zone=zone, lines=(line,))
    row = row_of(PromiseKind.RHYTHM, promised)
    assert row.promised == said
    without = replace(promised, zone=replace(zone, routines=()))
    assert row_of(PromiseKind.RHYTHM, without).promised == "the rhythm as agreed"


def test_a_floor_below_its_promise_says_so_only_while_the_promise_holds():
    high = look_promised(reference_gu=90.0, starts_on=FIRST, ends_on=LAST)
    assert row_of(PromiseKind.APPEARANCE, replace(a_promised_zone(), lines=(high,))).is_below
    to_come = replace(high, starts_on=LAST)
    zone = replace(a_promised_zone(), lines=(to_come,))
    assert not row_of(PromiseKind.APPEARANCE, zone).is_below
