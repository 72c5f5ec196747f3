from dataclasses import replace
from datetime import date, datetime, timedelta

import pytest

from floorcare.ground.trade.book import Portfolio, withdrawal_of
from floorcare.ground.trade.equipment import Calibration, Instrument
from floorcare.ground.trade.reading import SurfaceState
from floorcare.services.load_care import load_care
from floorcare.services.record_readings import (
    MOST_ALIKE,
    ReadingAnswers,
    TypedReading,
    record_readings,
    row_key,
)
from tests.services.conftest import TODAY, care
from tests.services.watched import WatchedStore
from tests.store.sample import LATER, gloss, portfolio, site_book, with_zone

ON = date(2026, 2, 2)


def typed(*readings, site="NORTH"):
    return [TypedReading(site=site, reading=r, row=at) for at, r in enumerate(readings, start=2)]


def record(store, *readings, site="NORTH", **more):
    said = {"file": "e.csv", "today": TODAY, "who": "anna", "now": LATER} | more
    return record_readings(store, typed(*readings, site=site), **said)


def kept(store, site="NORTH"):
    with store.work() as work:
        return [r for book in work.books([site]) for zone in book.zones for r in zone.readings]


def meters(store, *codes, measure="gloss"):
    until = date(2026, 1, 31)
    calibrations = (Calibration(done_on=date(2025, 1, 1), valid_to=until),)
    load_care(
        store,
        Portfolio(
            instruments=tuple(
                Instrument(code=c, name=c, measure=measure, calibrations=calibrations)
                for c in codes
            )
        ),
        who="office",
        now=LATER,
    )


def test_readings_are_written_and_told_beside_the_last(loaded):
    recorded = record(loaded, gloss(ON, 51.0), gloss(ON, 49.0, station="P2"))
    assert (recorded.written, recorded.known, recorded.findings) == (2, 0, ())
    (told,) = recorded.rounds
    assert (told.zone, told.now.value, told.last.value) == ("NORTH/LANE", 50.0, 52.5)
    assert len(kept(loaded)) == 5


def test_it_is_one_transaction_one_line_of_history_and_one_name(loaded):
    watched = WatchedStore(loaded)
    record(watched, gloss(ON, 51.0))
    assert (watched.blocks, watched.commits) == ([True], 1)
    with loaded.work() as work:
        entries = work.history()
        assert (len(entries), entries[0].who, entries[0].at) == (2, "anna", LATER)
        assert work.revisions() == {"EAST": 2, "WEST": 1}


def test_the_same_again_writes_nothing_and_leaves_no_trace(loaded):
    record(loaded, gloss(ON, 51.0))
    again = record(loaded, gloss(ON, 51.0))
    assert (again.written, again.known, again.findings) == (0, 1, ())
    with loaded.work() as work:
        assert len(work.history()) == 2


def test_looking_leaves_no_trace(loaded):
    recorded = record(loaded, gloss(ON, 51.0), check=True)
    assert (recorded.written, len(kept(loaded))) == (1, 3)


def test_another_value_at_the_same_moment_is_asked_and_answered(loaded):
    record(loaded, gloss(ON, 51.0))
    asked = record(loaded, gloss(ON, 50.0), gloss(ON, 49.0, station="P2"))
    assert (asked.written, asked.left_out) == (1, 1)
    (finding,) = asked.findings
    assert (finding.weight, finding.row, finding.value) == ("asks", 2, "50")
    assert "NORTH/LANE/P1" in finding.problem
    assert "51" in finding.problem
    stays = record(loaded, gloss(ON, 50.0), answers=ReadingAnswers(other_values="keep stored"))
    assert (stays.written, stays.known) == (0, 1)
    record(loaded, gloss(ON, 50.0), answers=ReadingAnswers(other_values="replace"))
    assert [r.value for r in kept(loaded) if r.taken_on == ON and r.station == "P1"] == [50.0]


def test_a_reading_without_its_meter_repeats_the_one_that_names_it(loaded):
    record(loaded, gloss(ON, 51.0))
    assert record(loaded, replace(gloss(ON, 51.0), instrument="")).known == 1
    said = ReadingAnswers(other_values="replace")
    record(loaded, replace(gloss(ON, 50.0), instrument=""), answers=said)
    (only,) = [r for r in kept(loaded) if r.taken_on == ON]
    assert (only.value, only.instrument) == (50.0, "")


def test_another_meter_at_the_same_moment_is_another_reading(loaded):
    record(loaded, gloss(ON, 51.0))
    assert record(loaded, replace(gloss(ON, 51.0), instrument="M2")).written == 1


def test_before_and_after_a_burnish_are_two_readings_but_one_value_is_asked(loaded):
    record(loaded, gloss(ON, 51.0))
    cleaned = replace(gloss(ON, 47.0), state=SurfaceState.AFTER_CLEANING)
    assert record(loaded, cleaned).written == 1
    twice = replace(gloss(ON, 51.0, station="P1"), state=SurfaceState.WET)
    assert record(loaded, twice).left_out == 1


@pytest.mark.parametrize(
    ("on", "why"),
    [
        (date(2023, 12, 31), "before the zone's care"),
        (TODAY + timedelta(days=1), "in the future"),
    ],
)
def test_a_reading_out_of_its_time_is_left_out_and_the_rest_taken(loaded, on, why):
    recorded = record(loaded, gloss(on, 51.0), gloss(ON, 49.0))
    assert (recorded.written, recorded.left_out) == (1, 1)
    assert why in recorded.findings[0].problem
    assert "NORTH/LANE/P1" in recorded.findings[0].problem


def test_a_reading_before_the_pour_or_after_care_is_left_out(loaded):
    north, south = care().books
    zone = north.zones[0].zone
    poured = with_zone(north, zone=replace(zone, poured_on=date(2025, 5, 1)))
    ended = south.zones[0].zone
    span = replace(ended.spans[0], to_on=date(2025, 12, 31))
    closed = with_zone(south, zone=replace(ended, spans=(span,)))
    load_care(loaded, portfolio(poured, closed), who="office", now=LATER)
    assert "pour" in record(loaded, gloss(date(2025, 4, 30), 51.0)).findings[0].problem
    assert "ended" in record(loaded, gloss(ON, 51.0), site="SOUTH").findings[0].problem


def test_many_alike_are_told_a_few_times_and_counted(loaded):
    days = [date(2023, 1, 1) + timedelta(days=at) for at in range(40)]
    recorded = record(loaded, *(gloss(on, 50.0) for on in days))
    assert (recorded.left_out, len(recorded.findings)) == (40, MOST_ALIKE + 1)
    assert "35 more readings of NORTH/LANE before its care" in recorded.findings[-1].problem


def test_a_meter_nobody_knows_is_asked_about_where_meters_are_known(loaded):
    meters(loaded, "M1")
    strange = replace(gloss(date(2026, 1, 5), 51.0), instrument="M9")
    recorded = record(loaded, strange, gloss(date(2026, 1, 5), 50.0, station="P2"))
    assert (recorded.written, recorded.left_out) == (1, 1)
    assert '"M9"' in recorded.findings[0].problem


def test_a_meter_of_another_measure_is_asked_about(loaded):
    meters(loaded, "M1", measure="slip")
    recorded = record(loaded, gloss(ON, 51.0))
    assert (recorded.written, "reads slip" in recorded.findings[0].problem) == (0, True)


def test_a_meter_out_of_calibration_is_asked_about_once_a_day_and_taken(loaded):
    meters(loaded, "M1")
    recorded = record(loaded, gloss(ON, 51.0), gloss(ON, 49.0, station="P2"))
    (finding,) = recorded.findings
    assert (recorded.written, recorded.left_out) == (2, 0)
    assert "no calibration of M1" in finding.problem


def stations(store, *zones):
    book = site_book("HILL", zones=zones)
    some = tuple(replace(book.zones[0].stations[0], code=f"P{at}") for at in range(1, 5))
    book = replace(book, zones=tuple(replace(z, stations=some, readings=()) for z in book.zones))
    load_care(store, portfolio(book), who="office", now=LATER)


def series(values, on=ON, zone="LANE"):
    return [gloss(on, v, zone=zone, station=f"P{at}") for at, v in enumerate(values, start=1)]


def test_a_series_of_another_zone_or_day_is_held_back_until_it_is_answered(loaded):
    stations(loaded, "EDGE", "LANE")
    values = (41.2, 40.8, 42.9, 43.3)
    recorded = record(loaded, *series(values), *series(values, zone="EDGE"), site="HILL")
    assert (recorded.written, recorded.left_out) == (4, 4)
    assert "showed" in recorded.findings[0].problem
    later = record(loaded, *series(values, on=ON + timedelta(days=9)), site="HILL")
    assert (later.written, later.left_out) == (0, 4)
    said = ReadingAnswers(copied="take")
    taken = record(loaded, *series(values, on=ON + timedelta(days=9)), site="HILL", answers=said)
    assert (taken.written, taken.findings) == (4, ())


def test_one_value_at_every_station_is_held_back(loaded):
    stations(loaded, "LANE")
    recorded = record(loaded, *series((41.2,) * 4), site="HILL")
    assert (recorded.written, recorded.left_out) == (0, 4)
    assert recorded.findings[0].value == "41.2 41.2 41.2 41.2"


def test_what_was_taken_back_is_not_brought_in_again(loaded):
    record(loaded, gloss(ON, 51.0))
    back = Portfolio(withdrawn=(withdrawal_of("NORTH", "LANE", gloss(ON, 51.0)),))
    with loaded.work(writes=True) as work:
        work.put_portfolio(back, who="office", now=LATER, origin="program")
        work.commit()
    recorded = record(loaded, gloss(ON, 51.0), gloss(ON, 49.0, station="P2"))
    assert (recorded.written, recorded.left_out) == (1, 1)
    assert "taken back" in recorded.findings[0].problem
    assert [r.station for r in kept(loaded) if r.taken_on == ON] == ["P2"]


def test_a_reading_is_named_as_the_stores_changes_name_it(loaded):
    recorded = record(loaded, gloss(ON, 51.0), check=True)
    (one,) = typed(gloss(ON, 51.0))
    assert [c.key for c in recorded.changes if c.kind == "readings"] == [row_key(one)]


def test_stations_of_a_zone_without_any_are_made(loaded):
    bare = site_book("HILL")
    bare = with_zone(bare, stations=(), readings=())
    load_care(loaded, portfolio(bare), who="office", now=LATER)
    assert record(loaded, gloss(ON, 51.0, station="7"), site="HILL").written == 1
    assert [r.station for r in kept(loaded, "HILL")] == ["7"]


def test_a_folder_loaded_later_leaves_what_it_does_not_bring(loaded):
    record(loaded, gloss(ON, 51.0))
    with loaded.work() as work:
        before = work.books()
    assert not load_care(
        loaded, care(), who="office", now=datetime.now(LATER.tzinfo)
    ).changed_anything
    with loaded.work() as work:
        assert work.books() == before
