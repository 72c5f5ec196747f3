from dataclasses import replace

import numpy as np
import pytest

from floorcare.ground.trade.book import TreatmentDone, ZoneBook
from floorcare.ground.trade.reading import Measure, Reading, SurfaceState
from floorcare.ground.trade.traffic import TrafficLevel, TrafficRow
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.zone import Opening
from floorcare.ground.wear.columns import OpeningCode
from floorcare.ground.wear.evidence import EvidenceClass
from floorcare.ground.wear.fleet import (
    OPENING_CODE,
    Fleet,
    fit_fleet,
    fleet_columns,
    unrecorded_burnishes,
)
from floorcare.ground.wear.pooled import CLASSES, Pooled, pooled_as
from tests.builders import DAY, TODAY, a_book, a_zone, polished, read_down
from tests.store.sample import gloss
from tests.taught import NOISE, taught

LAST_READ = TODAY - 6 * DAY


def fleet_of(*books: ZoneBook, draws: int = 32, pooled: Pooled | None = None) -> Fleet:
    zones = [("NORTH", book) for book in books]
    return fit_fleet(zones, polished(), TODAY, draws=draws, pooled=pooled)


def mistyped(value: float, days_ago: int, rounds: int = 6) -> tuple[Reading, ...]:
    """The rounds of `read_down(50)` with one of them replaced, so long before the last."""
    on = LAST_READ - days_ago * DAY
    return tuple(
        replace(r, value=value) if r.taken_on == on else r for r in read_down(50.0, rounds=rounds)
    )


def test_every_zone_has_its_place_in_every_column() -> None:
    books = (a_book("A"), a_book("B", readings=()), a_book("C", readings=read_down(40.0)))
    fleet = fleet_of(*books)
    assert fleet.keys == (("NORTH", "A"), ("NORTH", "B"), ("NORTH", "C"))
    assert fleet.books == books
    assert fleet.draws.level.shape == (3, 32)
    assert [len(rounds) for rounds in fleet.rounds] == [6, 0, 6]
    assert fleet.measured.tolist() == [True, False, True]
    assert np.isnan(fleet.draws.level[1]).all()
    assert np.isfinite(fleet.draws.level[[0, 2]]).all()


def test_stations_read_on_one_day_are_one_round() -> None:
    (rounds,) = fleet_of(a_book(readings=read_down(50.0))).rounds
    assert [r.stations for r in rounds] == [3] * 6
    assert rounds[-1].value == pytest.approx(50.0)
    assert [r.on for r in rounds] == sorted(r.on for r in rounds)


@pytest.mark.parametrize("value", [5.0, 142.0])
def test_a_mistyped_round_is_taken_out_and_asked_about(value: float) -> None:
    clean, spoilt = a_book("A"), a_book("B", readings=mistyped(value, 56))
    fleet = fleet_of(clean, spoilt)
    assert len(fleet.rounds[0]) == 6
    assert len(fleet.rounds[1]) == 5
    assert value not in [r.value for r in fleet.rounds[1]]
    asked = [f for f in fleet.findings if "times its expected error" in f.problem]
    assert len(asked) == 1
    assert "zone NORTH/B: the reading of 2025-12-30" in asked[0].problem
    assert asked[0].value == f"{value:.1f} GU"
    assert asked[0].weight == "asks"
    # and it hardly moves what is believed of the floor
    level = np.exp(fleet.draws.level).mean(axis=1)
    assert level[1] == pytest.approx(level[0], rel=0.02)


def test_a_misreading_of_long_ago_is_left_out_but_asked_about_no_more() -> None:
    fleet = fleet_of(a_book(readings=mistyped(142.0, 196, rounds=9)))
    assert len(fleet.rounds[0]) == 8
    assert not any("times its expected error" in f.problem for f in fleet.findings)


def test_a_rise_nobody_worked_for_is_asked_about_and_one_after_a_burnish_is_not() -> None:
    rising = read_down(60.0, fall=-8.0)
    quiet = fleet_of(a_book(readings=rising, routines=()))
    assert any("rose from" in f.problem for f in quiet.findings)
    burnished = fleet_of(a_book(readings=rising))
    assert not any("rose from" in f.problem for f in burnished.findings)


def test_readings_of_later_days_and_of_times_before_the_floor_s_life_are_left_out() -> None:
    later = gloss(TODAY + DAY, 20.0)
    earlier = gloss(TODAY - 600 * DAY, 90.0)
    fleet = fleet_of(a_book(readings=(earlier, *read_down(50.0), later)))
    assert [r.on for r in fleet.rounds[0]] == [LAST_READ - 28 * n * DAY for n in range(5, -1, -1)]


def test_a_wet_reading_is_kept_aside_and_asked_about() -> None:
    wet = replace(gloss(LAST_READ - 3 * DAY, 70.0), state=SurfaceState.WET)
    fleet = fleet_of(a_book(readings=(*read_down(50.0), wet)))
    assert all(r.state is not SurfaceState.WET for r in fleet.rounds[0])
    assert any("was wet when it was read" in f.problem for f in fleet.findings)


def test_the_evidence_of_each_zone_is_named() -> None:
    graded = Reading(
        zone="D",
        station="",
        taken_on=TODAY - 9 * DAY,
        taken_minute=600,
        measure=Measure.GRADE,
        value=3.0,
        state=SurfaceState.AFTER_CLEANING,
    )
    fleet = fleet_of(
        a_book("A"),
        a_book("B", readings=read_down(50.0, rounds=2)),
        a_book("C", readings=()),
        a_book("D", readings=(graded,)),
    )
    assert fleet.evidence == (
        EvidenceClass.MEASURED,
        EvidenceClass.SPARSE,
        EvidenceClass.ASSUMED,
        EvidenceClass.LOOKED_AT,
    )
    assert fleet.measured.tolist() == [True, True, False, False]


def test_zones_are_believed_alike_whatever_zones_stand_beside_them() -> None:
    alone = fleet_of(a_book("A"))
    beside = fleet_of(a_book("B", readings=read_down(30.0)), a_book("A"))
    assert np.array_equal(alone.draws.level[0], beside.draws.level[1])
    assert np.array_equal(alone.draws.state.film[0], beside.draws.state.film[1])


def test_a_longer_history_of_another_zone_changes_nothing() -> None:
    alone = fleet_of(a_book("A"))
    old = a_book("B", zone=a_zone("B", from_on=TODAY - 900 * DAY))
    beside = fleet_of(old, a_book("A"))
    assert np.allclose(alone.draws.level[0], beside.draws.level[1], rtol=1e-9)


def test_every_opening_of_the_trade_has_its_code() -> None:
    assert set(OPENING_CODE) == set(Opening)
    assert set(OPENING_CODE.values()) == set(OpeningCode)
    unknown = fleet_of(a_book(zone=a_zone(opening=Opening.UNKNOWN), readings=()))
    fresh = fleet_of(a_book(zone=a_zone(opening=Opening.FRESH), readings=()))
    spread = [float(np.std(f.draws.state.scratch)) for f in (unknown, fresh)]
    assert spread[0] > 2 * spread[1]


def test_a_fleet_of_no_zones_is_refused() -> None:
    with pytest.raises(ValueError, match="at least one zone"):
        fit_fleet([], polished(), TODAY)
    with pytest.raises(ValueError, match="at least one zone"):
        fleet_columns([], polished(), TODAY)


COUNTED = TrafficRow(kind="foot", per_day=3000.0, counted=True, from_on=TODAY - 400 * DAY)


def test_what_is_learned_from_is_what_is_fitted() -> None:
    books = (a_book("A"), a_book("B", readings=(), traffic=(COUNTED,)))
    laid = fleet_columns([("NORTH", book) for book in books], polished(), TODAY)
    fleet = fleet_of(*books)
    for column in ("thousand_passes", "reading_ln", "reading_day", "counted", "start_day"):
        assert np.array_equal(getattr(laid.columns, column), getattr(fleet.fit.columns, column))
    assert laid.first + (laid.columns.days - 1) * DAY == TODAY
    assert [len(rounds) for rounds in laid.rounds] == [6, 0]


def test_a_class_is_the_traffic_level_of_today_and_whether_it_was_counted() -> None:
    level, counts = TrafficLevel.EXTREME, (COUNTED,)
    zone = a_zone("C", from_on=TODAY - 300 * DAY, to_on=TODAY - 100 * DAY)
    busier = replace(zone.spans[0], from_on=TODAY - 99 * DAY, to_on=None, traffic=level)
    changed = replace(zone, spans=(*zone.spans, busier))
    books = (a_book("A"), a_book("B", traffic=counts), a_book("C", zone=changed, traffic=counts))
    laid = fleet_columns([("NORTH", book) for book in books], polished(), TODAY)
    heavy, extreme = (list(TrafficLevel).index(one) for one in (TrafficLevel.HEAVY, level))
    assert laid.zone_class.tolist() == [2 * heavy, 2 * heavy + 1, 2 * extreme + 1]


def test_a_zone_nobody_read_is_believed_to_wear_as_its_class_does() -> None:
    unread, counts = a_book("A", readings=()), (COUNTED,)
    pooled = taught()
    fleet = fleet_of(unread, replace(unread, traffic=counts), pooled=pooled)
    heavy = 2 * list(TrafficLevel).index(TrafficLevel.HEAVY)
    assert fleet.fit.mean[:, 0] == pytest.approx(pooled.mean_haze[[heavy, heavy + 1]])
    assert fleet.fit.mean[:, 1] == pytest.approx(pooled.mean_rest[[heavy, heavy + 1]])
    assert np.sqrt(fleet.fit.covariance[:, 0, 0]) == pytest.approx(
        pooled.sd_haze[[heavy, heavy + 1]]
    )
    assert fleet.band_scale.tolist() == pooled.band_scale[[heavy, heavy + 1]].tolist()
    assert fleet_of(unread).band_scale.tolist() == [1.0]


def test_the_fit_carries_the_noise_that_was_learned_and_the_surface_its_own() -> None:
    fleet = fleet_of(a_book("A"), pooled=taught())
    assert (fleet.fit.law.station_sd, fleet.fit.law.drift_sd) == (NOISE.station_sd, NOISE.drift_sd)
    assert fleet.fit.law.haze_rate == polished().law.haze_rate
    assert fleet.surface.law == polished().law


def test_before_anything_is_learned_pooled_values_change_nothing() -> None:
    books = (a_book("A"), a_book("B", readings=read_down(35.0), traffic=(COUNTED,)))
    own, pooled = fleet_of(*books), fleet_of(*books, pooled=pooled_as(polished().law))
    assert np.array_equal(own.draws.level, pooled.draws.level)
    assert np.array_equal(own.fit.mean, pooled.fit.mean)
    assert own.findings == pooled.findings


def test_what_was_learned_of_other_classes_does_not_reach_a_zone() -> None:
    heavy = 2 * list(TrafficLevel).index(TrafficLevel.HEAVY)
    others = np.arange(CLASSES) != heavy
    moved = replace(taught(), mean_haze=taught().mean_haze + 0.5 * others)
    one, other = (fleet_of(a_book("A"), pooled=pooled) for pooled in (taught(), moved))
    assert np.array_equal(one.draws.level, other.draws.level)


def test_a_reading_after_a_burnish_nobody_wrote_down_is_taken_at_its_word() -> None:
    def put_in(**more: object) -> int:
        readings = tuple(
            replace(r, state=SurfaceState.AFTER_BURNISH) for r in read_down(50.0, rounds=2)
        )
        book = a_book(routines=(), readings=readings, **more)
        return len(unrecorded_burnishes([book], polished(), fleet_of(book).rounds))

    assert put_in() == 2
    on = LAST_READ - 5 * DAY
    assert put_in(done=(TreatmentDone(work=Work.BURNISH, done_on=on),)) == 1
    long_ago = LAST_READ - 8 * DAY
    assert put_in(done=(TreatmentDone(work=Work.BURNISH, done_on=long_ago),)) == 2
