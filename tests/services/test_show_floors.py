from dataclasses import replace
from datetime import date, timedelta
from math import inf

import pytest

from floorcare.errors import NotKnown
from floorcare.ground.schedule.outlook import ZoneOutlook
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import VisitState
from floorcare.ground.wear.evidence import EvidenceClass
from floorcare.services.load_care import load_care
from floorcare.services.show_floors import nights_said, show_floors
from tests.services.conftest import TODAY, care
from tests.services.watched import WatchedStore
from tests.store.sample import (
    NOW,
    START,
    added,
    due,
    gloss,
    plan,
    portfolio,
    site_book,
    visit,
    with_zone,
)


def outlook(early, middle, late) -> ZoneOutlook:
    return ZoneOutlook(
        site="NORTH",
        zone="LANE",
        evidence=EvidenceClass.MEASURED,
        read_gu=50.0,
        read_on=START,
        gloss_gu=50.0,
        low_gu=48.0,
        high_gu=52.0,
        promise_gu=48.0,
        reference_gu=60.0,
        early_days=early,
        median_days=middle,
        late_days=late,
        guarded=False,
    )


@pytest.mark.parametrize(
    ("early", "middle", "late", "said"),
    [
        (None, None, None, "–"),
        (24.2, 31.0, 40.9, "24 to 41"),
        (90.0, inf, inf, "from 90"),
        (inf, inf, inf, "over 364"),
        (1.0, 1.0, 30.0, "now"),
        (0.0, 12.0, 30.0, "0 to 30"),
    ],
)
def test_nights_to_the_promise_are_said_in_words(early, middle, late, said):
    assert nights_said(outlook(early, middle, late)) == said


def put(store, *visits):
    with store.work(writes=True) as work:
        work.put_plan(
            plan(),
            visits=visits,
            changes=tuple(added(v) for v in visits),
            unplaced=(),
            revisions=work.revisions(),
            who="planner",
            now=NOW,
        )
        work.commit()


def row_of(store, surfaces, zone="NORTH/LANE", today=TODAY):
    return next(
        row
        for table in show_floors(store, surfaces, today=today)
        for row in table.rows
        if row.zone == zone
    )


def test_each_branch_has_a_table_with_its_zones_in_its_units(loaded, surfaces):
    east, west = show_floors(loaded, surfaces, today=TODAY)
    assert (east.branch, east.units, east.on) == ("East", "metric", TODAY)
    assert (west.branch, west.units) == ("West", "US")
    assert [row.zone for row in east.rows] == ["NORTH/LANE"]
    assert [row.zone for row in west.rows] == ["SOUTH/LANE"]


def test_a_floor_that_is_read_stands_with_its_estimate_band_promise_and_share(loaded, surfaces):
    row = row_of(loaded, surfaces)
    assert (row.zone_name, row.area_name) == ("Hall, lane", "Hall")
    assert (row.surface, row.area_m2, row.traffic) == (
        "polished concrete",
        420.5,
        "heavy, counted",
    )
    assert (row.reading_gu, row.reading_on) == (52.5, date(2025, 9, 1))
    assert row.low_gu < row.gloss_gu < row.high_gu
    assert 40 < row.gloss_gu < 60
    assert row.promise_gu == pytest.approx(48.0)
    assert row.share == pytest.approx(row.gloss_gu / 60.0)
    assert row.evidence in ("measured", "sparse")
    assert row.nights_to_promise != "–"


def test_a_floor_that_is_read_shows_its_state_its_rates_and_three_bands(loaded, surfaces):
    row = row_of(loaded, surfaces)
    assert 0 <= row.haze <= 1
    assert 0 <= row.film <= 1
    assert row.scratch > 0
    assert 0.2 < row.haze_times < 5
    assert 0.2 < row.wear_times < 5
    assert [band.level for band in row.bands] == [0.5, 0.8, 0.9]
    assert (row.bands[-1].low_gu, row.bands[-1].high_gu) == pytest.approx((row.low_gu, row.high_gu))


def test_courses_are_made_only_if_asked_and_stand_in_the_order_of_the_rows(planned, surfaces):
    plain = show_floors(planned, surfaces, today=TODAY)
    assert [table.charts for table in plain] == [(), ()]
    drawn = show_floors(planned, surfaces, today=TODAY, charts=True)
    for bare, table in zip(plain, drawn, strict=True):
        assert tuple(chart.row for chart in table.charts) == table.rows == bare.rows
    south = drawn[1].charts[0].course
    assert [tick.work for tick in south.ticks if tick.planned][:1] == [Work.RECOAT]
    first = next(tick for tick in south.ticks if tick.planned)
    assert first.on == drawn[1].rows[0].next_night


def test_one_site_or_one_zone_can_be_had_alone(loaded, surfaces):
    whole = {r.zone: r for t in show_floors(loaded, surfaces, today=TODAY) for r in t.rows}
    (site,) = show_floors(loaded, surfaces, today=TODAY, sites=["SOUTH"])
    assert site.rows == (whole["SOUTH/LANE"],)
    (zone,) = show_floors(loaded, surfaces, today=TODAY, zone="NORTH/LANE")
    assert zone.rows == (whole["NORTH/LANE"],), "as among all others"


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ({"sites": ["EAST"]}, 'no site "EAST"; there are NORTH, SOUTH'),
        ({"zone": "NORTH/YARD"}, 'no zone "YARD"; it has LANE'),
        ({"zone": "/"}, 'no site ""'),
    ],
)
def test_what_nobody_knows_is_refused_with_what_there_is(asked, told, loaded, surfaces):
    with pytest.raises(NotKnown, match=told):
        show_floors(loaded, surfaces, today=TODAY, **asked)


def test_a_site_that_no_branch_serves_that_day_has_no_floors_to_show(loaded, surfaces):
    with pytest.raises(NotKnown, match="under care on 2020-01-01"):
        show_floors(loaded, surfaces, today=date(2020, 1, 1), sites=["NORTH"])


def test_a_floor_nobody_reads_shows_no_figure_that_nobody_knows(loaded, surfaces):
    row = row_of(loaded, surfaces, "SOUTH/LANE")
    assert row.evidence == "assumed"
    assert {row.reading_gu, row.gloss_gu, row.low_gu, row.high_gu, row.share} == {None}
    assert {row.haze, row.film, row.scratch, row.haze_times, row.wear_times} == {None}
    assert row.bands == ()
    assert row.nights_to_promise == "–"


def test_a_floor_without_a_counter_is_by_level(loaded, surfaces):
    brought = care()
    north = with_zone(
        brought.books[0],
        traffic=tuple(replace(t, counted=False) for t in brought.books[0].zones[0].traffic),
    )
    load_care(loaded, replace(brought, books=(north,)), who="office", now=NOW)
    assert row_of(loaded, surfaces).traffic == "heavy, by level"


def test_a_lower_reading_lowers_the_estimate_and_brings_the_promise_nearer(loaded, surfaces):
    before = row_of(loaded, surfaces)
    brought = care()
    zone = brought.books[0].zones[0]
    low = tuple(
        gloss(date(2026, 2, 25), 43.0 + n / 2, station=s) for n, s in enumerate(("P1", "P2"))
    )
    north = with_zone(brought.books[0], readings=(*zone.readings, *low))
    load_care(loaded, replace(brought, books=(north,)), who="office", now=NOW)
    after = row_of(loaded, surfaces)
    assert after.reading_on == date(2026, 2, 25)
    assert after.gloss_gu < before.gloss_gu
    assert after.is_below_promise


def test_the_next_treatment_is_named_and_rounds_and_called_off_visits_are_not(loaded, surfaces):
    assert (row_of(loaded, surfaces).next_work, row_of(loaded, surfaces).next_night) == ("", None)
    reading = replace(due(target=date(2026, 3, 9)), work=Work.READING_ROUND)
    first, later = date(2026, 3, 12), date(2026, 3, 20)
    put(
        loaded,
        replace(visit("NORTH", date(2026, 3, 9), reading), uuid="round"),
        replace(visit("NORTH", date(2026, 3, 10)), uuid="off", state=VisitState.CANCELLED),
        replace(visit("NORTH", later, due()), uuid="later"),
        replace(visit("NORTH", first, due()), uuid="first"),
    )
    row = row_of(loaded, surfaces)
    assert (row.next_work, row.next_night) == ("recoat", first)
    assert row.reason == due().reason.inside
    after = row_of(loaded, surfaces, today=first + timedelta(days=1))
    assert after.next_night == later


def test_it_reads_one_moment_and_writes_nothing(planned, surfaces):
    watched = WatchedStore(planned)
    show_floors(watched, surfaces, today=TODAY)
    assert (watched.blocks, watched.commits) == ([False], 0)


def test_a_branchs_alarms_stand_with_its_table(loaded, surfaces):
    known = site_book("NORTH", "EAST").zones[0].traffic[0]
    more = replace(known, per_day=2.0 * known.per_day, from_on=TODAY - timedelta(days=89))
    rows = (replace(known, to_on=TODAY - timedelta(days=90)), more)
    before = [table.alarms for table in show_floors(loaded, surfaces, today=TODAY)]
    assert before == [(), ()]
    north = with_zone(site_book("NORTH", "EAST"), traffic=rows)
    load_care(loaded, portfolio(north), who="office", now=NOW)
    east = show_floors(loaded, surfaces, today=TODAY)[0]
    (alarm,) = east.alarms
    assert alarm.zones == ("NORTH/LANE",)
    assert alarm.strength == pytest.approx(2.0)
