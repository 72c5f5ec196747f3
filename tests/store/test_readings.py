from dataclasses import replace
from datetime import date

import pytest

from floorcare.errors import NotKnown, NotUnderstood
from floorcare.ground.trade.reading import Measure, Reading, SurfaceState
from tests.store.sample import LATER, NOW, gloss, portfolio, site_book, with_zone


def put(work, *readings, now=LATER):
    book = with_zone(site_book(), readings=readings)
    return work.put_portfolio(portfolio(book), who="anna", now=now)["readings"]


def kept(work):
    return work.books()[0].zones[0].readings


@pytest.fixture
def work(store):
    with store.work(writes=True) as work:
        put(work, now=NOW)
        yield work


def test_readings_come_back_as_they_were_sorted_by_when_and_where(work):
    day = date(2026, 1, 5)
    slip = Reading(
        zone="LANE",
        station="P2",
        taken_on=day,
        taken_minute=5,
        measure=Measure.SLIP,
        value=36.0,
        state=SurfaceState.WET,
        method="pendulum PTV",
        witness="B. Moss",
    )
    whole, point = gloss(day, 51.3, station=""), gloss(day, 49.9)
    earlier = gloss(date(2025, 12, 5), 55.0)
    put(work, point, slip, whole, earlier)
    assert kept(work) == (earlier, slip, whole, point)


@pytest.mark.parametrize(
    "other",
    [
        {"station": "P2"},
        {"station": ""},
        {"taken_minute": 601},
        {"taken_on": date(2026, 1, 6)},
        {"measure": Measure.HAZE, "geometry_deg": 0},
        {"geometry_deg": 20},
        {"instrument": "M2"},
        {"method": "by hand"},
        {"state": SurfaceState.WET},
    ],
    ids=str,
)
def test_readings_that_differ_in_where_when_or_how_are_two(work, other):
    one = gloss(date(2026, 1, 5), 50.0)
    assert put(work, one, replace(one, **other)).added == 2
    assert len(kept(work)) == 2


def test_a_corrected_value_takes_the_place_and_the_history_keeps_the_old_one(work):
    put(work, gloss(date(2026, 1, 5), 150.0))
    count = put(work, gloss(date(2026, 1, 5), 50.0))
    assert (count.added, count.changed) == (0, 1)
    assert [r.value for r in kept(work)] == [50.0]
    (before,) = work.history(1)[0].detail["before"]["readings"]
    assert before["changed"] == {"value": [150.0, 50.0]}
    assert before["key"]["taken_on"] == "2026-01-05"


def test_two_values_of_one_reading_are_refused(work):
    with pytest.raises(NotUnderstood, match="two readings named alike differ"):
        put(work, gloss(date(2026, 1, 5), 50.0), gloss(date(2026, 1, 5), 51.0))


def test_a_station_nobody_knows_is_told_with_its_place(work):
    with pytest.raises(NotKnown) as told:
        put(work, gloss(date(2026, 1, 5), 50.0, station="P9"))
    assert str(told.value) == 'reading of zone LANE on 2026-01-05: station "P9" is not known'
