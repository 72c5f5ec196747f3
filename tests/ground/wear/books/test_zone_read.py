"""A zone's readings on their way in: bridges reach the rounds, epochs the columns and the walk."""

from dataclasses import replace

import numpy as np
import pytest

from floorcare.ground.trade.equipment import MeterBridge
from floorcare.ground.trade.reading import Reading
from floorcare.ground.wear.books.meters import NEW_METER, Meters
from floorcare.ground.wear.books.zone_read import read_zone
from floorcare.ground.wear.fleet import fit_fleet, fleet_columns
from floorcare.ground.wear.sight import LEVEL
from tests.builders import BEGUN, DAY, TODAY, a_book, polished, read_down
from tests.store.sample import gloss

TAKEN_OVER = TODAY - 62 * DAY
BRIDGE = MeterBridge(first="M1", second="M2", on=TAKEN_OVER, offset_gu=3.0, stations=10)


def by_two_meters(higher_gu: float = 3.0) -> tuple[Reading, ...]:
    """Read by M1 and, from the fifth round on, by M2, which shows more."""
    return tuple(
        replace(r, instrument="M2", value=r.value + higher_gu)
        if r.taken_on >= TODAY - 40 * DAY
        else r
        for r in read_down(50.0)
    )


def test_with_a_bridge_the_second_meter_says_what_the_first_would() -> None:
    book = a_book(readings=by_two_meters())
    meters = Meters(bridges=(BRIDGE,))
    read = read_zone("N/A", book, polished(), meters, BEGUN, TODAY)
    plain = read_zone("N/A", a_book(), polished(), meters, BEGUN, TODAY)
    assert [r.value for r in read.judged.believed] == pytest.approx(
        [r.value for r in plain.judged.believed]
    )
    assert [r.instrument for r in read.judged.believed] == ["M1"] * 4 + ["M2"] * 2
    bridged = fit_fleet([("N", book)], polished(), TODAY, draws=8, meters=meters)
    alone = fit_fleet([("N", a_book())], polished(), TODAY, draws=8)
    assert np.allclose(bridged.fit.mean, alone.fit.mean, atol=1e-9)


def test_without_a_bridge_the_columns_carry_an_epoch_and_one_question() -> None:
    books = [("N", a_book(c, readings=by_two_meters())) for c in "AB"]
    laid = fleet_columns(books, polished(), TODAY)
    effect, done = laid.columns.treatments[-1]
    assert effect is NEW_METER
    first = min(r.taken_on for r in by_two_meters() if r.instrument == "M2")
    assert np.argwhere(done).tolist() == [[z, (first - BEGUN).days - 1] for z in (0, 1)]
    asked = [f.problem for f in laid.findings if "no bridge joins" in f.problem]
    assert len(asked) == 1
    assert "meter M2 to M1, which it followed in zone N/A and 1 zone more" in asked[0]


def test_a_meter_without_a_bridge_moves_the_level_more_than_the_rates() -> None:
    def fitted(meter: str) -> tuple[float, float]:
        readings = tuple(
            replace(r, instrument=meter) if r.instrument == "M2" else r for r in by_two_meters()
        )
        fit = fit_fleet([("N", a_book(readings=readings))], polished(), TODAY, draws=8).fit
        return float(fit.mean[0, LEVEL]), float(np.sqrt(fit.covariance[0, LEVEL, LEVEL]))

    (level, sd), (same_level, same_sd) = fitted("M2"), fitted("M1")
    assert sd > same_sd
    assert level > same_level


def test_a_rise_at_a_new_meter_is_not_asked_about_as_if_work_were_missing() -> None:
    jumped = by_two_meters(12.0)
    read = read_zone(
        "N/A", a_book(readings=jumped, routines=()), polished(), Meters(), BEGUN, TODAY
    )
    assert not [f for f in read.judged.findings if "without a burnish" in f.problem]
    same = tuple(replace(r, instrument="M1") for r in jumped)
    read = read_zone("N/A", a_book(readings=same, routines=()), polished(), Meters(), BEGUN, TODAY)
    assert [f for f in read.judged.findings if "without a burnish" in f.problem]


def test_days_read_at_another_angle_alone_reach_the_columns_and_no_rule() -> None:
    def at_20(r: Reading) -> Reading:
        return replace(r, geometry_deg=20, value=r.value * 0.4)

    last = gloss(TODAY - DAY, 50.0)
    readings = (*read_down(50.0), *(at_20(r) for r in read_down(50.0, rounds=5)), at_20(last))
    laid = fleet_columns([("N", a_book(readings=readings))], polished(), TODAY)
    assert [len(rounds) for rounds in laid.rounds] == [6]
    assert laid.columns.reading_ln.size == 7
    assert np.exp(laid.columns.reading_ln[-1]) == pytest.approx(50.0, rel=0.03)
    assert laid.columns.more_sd.tolist()[:6] == [0.0] * 6
    assert laid.columns.more_sd[-1] > 0.03
    assert not [f for f in laid.findings if "20°" in f.problem]
    fleet = fit_fleet([("N", a_book(readings=readings))], polished(), TODAY, draws=8)
    assert [r.on for r in fleet.rounds[0]] == [r.on for r in laid.rounds[0]]
    assert fleet.fit.last_day[0] == (TODAY - BEGUN).days - 1
