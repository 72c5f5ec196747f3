from dataclasses import replace
from datetime import date

import pytest
from sqlalchemy import select

from floorcare.errors import NotKnown
from floorcare.ground.trade.traffic import TrafficLevel
from floorcare.ground.trade.zone import Opening, Station, Zone, ZoneSpan
from floorcare.store import rows
from tests.store.sample import LATER, NOW, portfolio, site_book, with_zone


def put(work, book, now=LATER):
    return work.put_portfolio(portfolio(book), who="t", now=now)


def lane(work):
    return work.books(["NORTH"])[0].zone("LANE")


@pytest.fixture
def work(store):
    with store.work(writes=True) as work:
        put(work, site_book(), NOW)
        yield work


def test_a_zone_comes_back_as_it_was_with_its_values_over_time(work):
    zone = Zone(
        code="LANE",
        area="",
        name="Lane",
        spans=(
            ZoneSpan(
                from_on=date(2024, 1, 1),
                to_on=date(2025, 6, 30),
                surface="terrazzo",
                area_m2=None,
                traffic=TrafficLevel.LIGHT,
                place="ramp",
            ),
            ZoneSpan(
                from_on=date(2025, 7, 1),
                surface="polished_concrete",
                area_m2=0.1 + 0.2,
                traffic=TrafficLevel.EXTREME,
            ),
        ),
        opening=Opening.FRESH,
        poured_on=date(2023, 1, 1),
        parents=("OLD-B", "OLD-A"),
    )
    put(work, with_zone(site_book(), zone=zone))
    assert lane(work).zone == zone


def test_a_new_area_from_a_day_leaves_the_past_as_it_was(work):
    wider = replace(lane(work).zone.spans[0], from_on=date(2026, 4, 1), area_m2=500.0)
    put(work, with_zone(site_book(), zone=replace(lane(work).zone, spans=(wider,))))
    zone = lane(work).zone
    assert zone.span_on(date(2026, 3, 31)).area_m2 == 420.5
    assert zone.span_on(date(2026, 4, 1)).area_m2 == 500.0


def test_an_edited_zone_has_a_new_version(work):
    def version():
        return work._connection.scalar(select(rows.zone.c.version))

    assert version() == 1
    put(work, with_zone(site_book(), stations=(Station(code="P1", note="by the pillar"),)))
    assert version() == 2
    assert lane(work).stations == (Station(code="P1", note="by the pillar"), Station(code="P2"))
    put(work, with_zone(site_book(), zone=replace(lane(work).zone, name="Lane, north")))
    # The station's old note came in again with the sample, so the zone was edited once more.
    assert version() == 3
    assert work.revisions() == {"EAST": 3, "WEST": 1}


def test_an_area_nobody_knows_is_told_with_its_place(work):
    elsewhere = replace(lane(work).zone, area="ATTIC")
    with pytest.raises(NotKnown) as told:
        put(work, with_zone(site_book(), zone=elsewhere))
    assert str(told.value) == 'zone NORTH/LANE: area "ATTIC" is not known'


def test_zones_of_one_code_at_two_sites_are_two(store):
    with store.work(writes=True) as work:
        work.put_portfolio(portfolio(), who="t", now=NOW)
        assert [b.zones[0].zone.code for b in work.books()] == ["LANE", "LANE"]
