from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from floorcare.ground.trade.book import TreatmentDone
from floorcare.ground.trade.traffic import TrafficRow
from floorcare.ground.trade.treatment import Work
from floorcare.ground.wear.fleet import Fleet, fit_fleet
from floorcare.ground.wear.pooled import pooled_as
from floorcare.ground.wear.watch.alarm import AlarmKind
from floorcare.ground.wear.watch.fleet_alarms import alarms_of, counted_shift, watched_of
from tests.builders import BEGUN, DAY, TODAY, a_book, polished, read_down
from tests.sampled import AS_OF, taken_sample


def counts(*months: tuple[date, date, float], kind: str = "foot") -> tuple[TrafficRow, ...]:
    return tuple(
        TrafficRow(kind=kind, per_day=per_day, counted=True, from_on=first, to_on=last)
        for first, last, per_day in months
    )


def fleet_of(*books) -> Fleet:
    return fit_fleet([("NORTH", book) for book in books], polished(), TODAY, draws=32)


def test_counts_that_rose_since_a_day_are_found_with_that_day():
    rose_on = TODAY - 100 * DAY
    rows = counts((TODAY - 500 * DAY, rose_on - DAY, 1000.0), (rose_on, TODAY - 5 * DAY, 1600.0))
    shift = counted_shift(a_book(traffic=rows), TODAY)
    assert (shift.since, shift.before, shift.now) == (rose_on, 1000.0, 1600.0)
    assert shift.a_year_ago


@pytest.mark.parametrize("times", [1.0, 1.2, 0.8])
def test_counts_that_move_little_are_silent(times):
    rows = counts(
        (TODAY - 500 * DAY, TODAY - 101 * DAY, 1000.0),
        (TODAY - 100 * DAY, TODAY, 1000.0 * times),
    )
    assert counted_shift(a_book(traffic=rows), TODAY) is None


def test_a_season_that_comes_back_is_no_shift():
    rows = counts(
        (TODAY - 460 * DAY, TODAY - 365 * DAY, 2000.0),
        (TODAY - 364 * DAY, TODAY - 91 * DAY, 1000.0),
        (TODAY - 90 * DAY, TODAY, 2000.0),
    )
    assert counted_shift(a_book(traffic=rows), TODAY) is None


def test_where_nobody_counted_a_year_ago_all_counts_before_are_compared():
    rows = counts((TODAY - 250 * DAY, TODAY - 90 * DAY, 1000.0), (TODAY - 89 * DAY, TODAY, 500.0))
    shift = counted_shift(a_book(traffic=rows), TODAY)
    assert (shift.before, shift.now, shift.a_year_ago) == (1000.0, 500.0, False)


def test_days_the_building_was_shut_are_left_out():
    rows = counts(
        (TODAY - 500 * DAY, TODAY - 60 * DAY, 1000.0),
        (TODAY - 59 * DAY, TODAY - 20 * DAY, 0.0),
        (TODAY - 19 * DAY, TODAY, 1000.0),
    )
    assert counted_shift(a_book(traffic=rows), TODAY) is None


@pytest.mark.parametrize(
    "rows",
    [
        (),
        counts((TODAY - 30 * DAY, TODAY, 1000.0)),
        counts(
            (TODAY - 500 * DAY, TODAY - 200 * DAY, 1000.0),
            (TODAY - 199 * DAY, TODAY - 70 * DAY, 3000.0),
        ),
        tuple(
            replace(row, counted=False)
            for row in counts(
                (TODAY - 500 * DAY, TODAY - 91 * DAY, 1000.0), (TODAY - 90 * DAY, TODAY, 5000.0)
            )
        ),
    ],
)
def test_too_few_too_old_or_assumed_counts_say_nothing(rows):
    assert counted_shift(a_book(traffic=rows), TODAY) is None


def test_kinds_of_traffic_are_weighed():
    rows = (
        *counts((TODAY - 500 * DAY, TODAY, 1000.0)),
        *counts((TODAY - 90 * DAY, TODAY, 500.0), kind="trolley"),
    )
    shift = counted_shift(a_book(traffic=rows), TODAY)
    assert (shift.before, shift.now) == (1000.0, 2000.0)


def test_a_fleet_is_watched_with_its_meters_its_works_and_who_did_them():
    rounds = tuple(replace(r, instrument="GM-1") for r in read_down(50.0))
    rounds = (*rounds[:3], *(replace(r, instrument="GM-2") for r in rounds[3:]))
    night = TODAY - 40 * DAY
    done = TreatmentDone(work=Work.RECOAT, done_on=night, performer="crew 2", visit="018f-77")
    fleet = fleet_of(a_book("A", readings=rounds, done=(done,)), a_book("B"))
    watched = watched_of(fleet, pooled_as(polished().law))
    assert watched.zones == ("NORTH/A", "NORTH/B")
    assert watched.instrument[:6] == ("GM-1", *("GM-2",) * 5)
    assert set(watched.instrument[6:]) == {r.instrument for r in read_down(50.0)}
    # the meter nobody bridged is an epoch behind the works, not one of them
    effects = [effect for effect, _ in fleet.fit.columns.treatments]
    assert [effect.treats for effect in effects] == [True] * len(watched.works) + [False]
    for work, effect in zip(watched.works, effects[:-1], strict=True):
        assert polished().rung(work).effect == effect
    assert watched.done_by == {(0, watched.day_of(night)): "crew 2, visit 018f-77"}
    assert watched.prior.mean_haze.shape == (2,)
    assert watched.date_of(0) == BEGUN


def test_a_young_fleet_gives_no_alarm():
    assert alarms_of([fleet_of(a_book("A"), a_book("B", readings=()))]) == ()


def test_on_the_sample_the_one_zone_walked_more_rings_and_nothing_else():
    books = taken_sample().portfolio.books
    zones = [
        (book.site.code, replace(zone, seasons=book.seasons))
        for book in books
        for zone in book.zones
        if zone.zone.span_about(AS_OF).surface == "polished_concrete"
    ]
    fleet = fit_fleet(zones, polished(), AS_OF, draws=8)
    (alarm,) = alarms_of([fleet])
    assert (alarm.kind, alarm.zones) == (AlarmKind.TRAFFIC, ("KLINIK/FOYER-LANE",))
    assert alarm.since == date(2026, 4, 1)
    assert alarm.strength == pytest.approx(1.5, abs=0.1)
    assert np.isclose(alarm.seen / alarm.expected, alarm.strength)


def test_a_meter_of_the_sample_that_reads_low_since_summer_is_found():
    books = taken_sample().portfolio.books
    since = date(2026, 6, 15)
    zones = []
    for book in books:
        for zone in book.zones:
            if zone.zone.span_about(AS_OF).surface == "polished_concrete":
                readings = tuple(
                    replace(r, value=r.value - 3.0)
                    if r.instrument == "GM-12" and r.taken_on >= since
                    else r
                    for r in zone.readings
                )
                zones.append((book.site.code, replace(zone, readings=readings)))
    alarms = alarms_of([fit_fleet(zones, polished(), AS_OF, draws=8)])
    meters = [alarm for alarm in alarms if alarm.kind is AlarmKind.INSTRUMENT]
    assert [alarm.instrument for alarm in meters] == ["GM-12"]
    assert meters[0].expected - meters[0].seen == pytest.approx(3.0, abs=1.2)
    assert abs(meters[0].since - since) < timedelta(days=100)
    others = [alarm for alarm in alarms if alarm.kind is not AlarmKind.INSTRUMENT]
    assert {alarm.zones for alarm in others} == {("KLINIK/FOYER-LANE",)}
