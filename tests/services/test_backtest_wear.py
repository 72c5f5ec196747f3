"""The backtest on a small care: what it hides, what it may know, what it answers."""

from contextlib import contextmanager
from dataclasses import replace
from datetime import timedelta

import pytest

from floorcare.errors import NotKnown
from floorcare.ground.trade.book import TreatmentDone
from floorcare.ground.trade.reading import SurfaceState
from floorcare.ground.trade.traffic import TrafficLevel
from floorcare.ground.trade.treatment import Work
from floorcare.ground.wear.books.meters import NO_METERS
from floorcare.ground.wear.trial.rivals import RIVALS
from floorcare.services.backtest_wear import backtest_wear, class_said
from tests.builders import BEGUN, TODAY, a_book, a_site_book, a_zone, polished, read_down

SURFACES = {"polished_concrete": polished()}
MONTHS = 5
RECOATED = TODAY - timedelta(days=100)


class Kept:
    """Books as a store hands them out."""

    def __init__(self, *books):
        self._books = books

    @contextmanager
    def work(self):
        yield self

    def books(self):
        return self._books

    def meters(self):
        return NO_METERS


def lanes():
    """Two lanes read every four weeks for a year and a quarter; one was recoated half-way."""
    zone = {"from_on": min(BEGUN, TODAY - timedelta(days=500))}
    recoat = TreatmentDone(work=Work.RECOAT, done_on=RECOATED)
    return (
        a_book("EAST", zone=a_zone("EAST", **zone), readings=read_down(46.0, rounds=12, fall=0.4)),
        a_book(
            "WEST",
            zone=a_zone("WEST", traffic=TrafficLevel.LIGHT, **zone),
            readings=read_down(52.0, rounds=12, fall=0.2),
            done=(recoat,),
        ),
    )


def held(*zones, **more):
    store = Kept(a_site_book("NORTH", *zones))
    return backtest_wear(store, SURFACES, today=TODAY, months=MONTHS, **more)


def changed_after(book, day, *, times=1.3, recoat=True):
    """The same zone with other readings after a day, and a recoat the day after it."""
    readings = tuple(
        replace(r, value=r.value * times) if r.taken_on > day else r for r in book.readings
    )
    more = TreatmentDone(work=Work.RECOAT, done_on=day + timedelta(days=1))
    return replace(book, readings=readings, done=(*book.done, *((more,) if recoat else ())))


@pytest.fixture(scope="module")
def answer():
    return held(*lanes())


def test_every_reading_is_forecast_from_each_origin_near_enough_before_it(answer):
    assert len(answer.origins) == 5
    assert answer.whole.whole.readings == 12, "six rounds of two lanes"
    for row in answer.forecasts:
        assert row.read_on > row.origin
        assert row.days_ahead == (row.read_on - row.origin).days <= 180
        assert row.origin in answer.origins
    pairs = {(row.zone, row.origin, row.read_on, row.state) for row in answer.forecasts}
    assert len(pairs) == len(answer.forecasts)


def test_beside_each_forecast_stand_bands_around_it_and_every_rival(answer):
    for row in answer.forecasts:
        assert row.lows[2] < row.lows[1] < row.lows[0] < row.forecast_gu
        assert row.forecast_gu < row.highs[0] < row.highs[1] < row.highs[2]
        assert len(row.rivals) == len(answer.rivals) == len(RIVALS)


def test_groups_split_the_same_forecasts(answer):
    near = answer.whole.whole.forecasts
    for kind in ("surface", "class", "evidence"):
        assert sum(g.whole.forecasts for g in answer.groups if g.kind == kind) == near
    names = {g.name for g in answer.groups if g.kind == "class"}
    assert names == {class_said("heavy", False), class_said("light", False)}
    assert sum(h.forecasts for h in answer.whole.horizons) == len(answer.forecasts)


@pytest.mark.parametrize("changed", [0, 1])
def test_no_forecast_knows_what_was_read_after_its_origin(answer, changed):
    zones = list(lanes())
    day = answer.origins[2]
    zones[changed] = changed_after(zones[changed], day, recoat=False)
    other = held(*zones)

    def foretold(backtest):
        return [
            (row.zone, row.read_on, row.origin, row.forecast_gu, row.lows, row.highs, row.rivals)
            for row in backtest.forecasts
            if row.origin <= day
        ]

    assert foretold(other) == foretold(answer), "to the byte"
    late = [(row.origin, row.forecast_gu) for row in other.forecasts if row.origin > day]
    assert late != [(r.origin, r.forecast_gu) for r in answer.forecasts if r.origin > day]


def test_no_forecast_knows_of_work_done_after_the_reading_it_is_held_against(answer):
    zones = list(lanes())
    day = answer.origins[2]
    zones[0] = changed_after(zones[0], day, times=1.0)

    def foretold(backtest, *, upto):
        return [row for row in backtest.forecasts if (row.read_on <= day) is upto]

    other = held(*zones)
    assert foretold(other, upto=True) == foretold(answer, upto=True)
    assert foretold(other, upto=False) != foretold(answer, upto=False)


def test_work_between_origin_and_reading_is_taken_as_recorded(answer):
    origin = max(o for o in answer.origins if o < RECOATED)
    rows = [row for row in answer.forecasts if row.zone == "NORTH/WEST" and row.origin == origin]
    before = max((r for r in rows if r.read_on < RECOATED), key=lambda r: r.read_on)
    after = min((r for r in rows if r.read_on > RECOATED), key=lambda r: r.read_on)
    assert after.forecast_gu > before.forecast_gu + 0.5


def test_a_reading_is_forecast_in_its_state(answer):
    east, west = lanes()
    last = max(r.taken_on for r in east.readings)
    dull = tuple(
        replace(r, state=SurfaceState.AFTER_CLEANING) if r.taken_on == last else r
        for r in east.readings
    )
    made = held(replace(east, readings=dull), west)
    rows = [r for r in made.forecasts if r.zone == "NORTH/EAST" and r.read_on == last]
    plain = [r for r in answer.forecasts if r.zone == "NORTH/EAST" and r.read_on == last]
    assert {row.state for row in rows} == {"after cleaning"}
    assert {row.state for row in plain} == {"after burnish"}
    for one, other in zip(rows, plain, strict=True):
        assert one.forecast_gu < other.forecast_gu


def test_only_the_sites_asked_for_are_held_against_but_all_teach():
    east, west = lanes()
    books = (a_site_book("NORTH", east), a_site_book("SOUTH", west))
    whole = backtest_wear(Kept(*books), SURFACES, today=TODAY, months=2)
    part = backtest_wear(Kept(*books), SURFACES, today=TODAY, months=2, sites=["SOUTH"])
    assert {row.zone for row in part.forecasts} == {"SOUTH/WEST"}
    same = [r for r in whole.forecasts if r.zone == "SOUTH/WEST"]
    for one, other in zip(part.forecasts, same, strict=True):
        assert one.read_on == other.read_on
        assert one.forecast_gu == other.forecast_gu
        assert (one.lows, one.highs) == (other.lows, other.highs)
        assert one.rivals == pytest.approx(other.rivals), "summed in another order"


def test_a_zone_first_read_late_is_counted_as_not_forecast():
    east, west = lanes()
    late = [r for r in west.readings if r.taken_on >= TODAY - timedelta(days=20)]
    made = held(east, replace(west, readings=tuple(late)))
    assert made.without == len({r.taken_on for r in late}) == 1
    assert {row.zone for row in made.forecasts} == {"NORTH/EAST"}


def test_nothing_read_is_no_trouble():
    made = held(*(replace(book, readings=()) for book in lanes()))
    assert made.forecasts == made.groups == ()
    assert made.whole.whole.mean_error_gu is None


def test_unknown_sites_and_surfaces_are_named_with_what_there_is():
    with pytest.raises(NotKnown, match='no site "ELSEWHERE"; there are NORTH'):
        held(*lanes(), sites=["ELSEWHERE"])
    with pytest.raises(NotKnown, match='no surface "marble"; there are polished_concrete'):
        held(*lanes(), surface="marble")
