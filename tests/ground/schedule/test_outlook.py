from dataclasses import replace

import numpy as np
import pytest

from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.wear_dues import forecast
from floorcare.ground.schedule.outlook import ZoneOutlook, zone_outlooks
from floorcare.ground.trade.reading import SurfaceState
from floorcare.ground.wear.evidence import EvidenceClass
from floorcare.ground.wear.fleet import Fleet, fit_fleet
from tests.builders import (
    DAY,
    TODAY,
    a_book,
    a_case,
    look_promised,
    polished,
    read_down,
    slip_read,
)


def fleet_of(cases: list[ZoneCase]) -> Fleet:
    return fit_fleet([(c.site, c.book) for c in cases], polished(), TODAY, draws=64)


def outlooks(*cases: ZoneCase, days: int = 120) -> tuple[ZoneOutlook, ...]:
    fleet = fleet_of(list(cases))
    return zone_outlooks(fleet, cases, forecast(fleet, cases, days))


def test_a_read_floor_has_its_gloss_with_a_band_and_days_to_its_first_break() -> None:
    (one,) = outlooks(a_case(a_book(readings=read_down(49.5))))
    assert one.evidence is EvidenceClass.MEASURED
    assert one.read_gu == pytest.approx(49.5)
    assert one.read_on == TODAY - 6 * DAY
    assert one.low_gu < one.gloss_gu < one.high_gu  # type: ignore[operator]
    assert one.gloss_gu == pytest.approx(49.5, abs=2.0)
    assert (one.promise_gu, one.reference_gu) == (pytest.approx(48.0), 60.0)
    assert one.early_days <= one.median_days <= one.late_days  # type: ignore[operator]
    assert not one.guarded


def test_the_band_holds_nine_in_ten_of_the_sampled_floors() -> None:
    case = a_case(a_book(readings=read_down(49.5)))
    fleet = fleet_of([case])
    ahead = forecast(fleet, [case], 30)
    (one,) = zone_outlooks(fleet, [case], ahead)
    state, law = fleet.draws.state, polished().law
    kept = ahead.seen_haze_kept[0]
    finish = law.finish_floor + (1 - law.finish_floor) * np.exp(-state.scratch)
    film = np.exp(law.film_gloss * (state.film - 1))
    level = np.exp(fleet.draws.level + kept * fleet.draws.shock)
    gloss = level * finish * film * (1 - law.haze_loss * kept * state.haze)
    inside = (one.low_gu <= gloss) & (gloss <= one.high_gu)
    assert 0.85 <= inside.mean() <= 0.95


def test_a_floor_never_read_has_no_gloss_and_no_forecast() -> None:
    (one,) = outlooks(a_case(a_book(readings=())))
    assert one.evidence is EvidenceClass.ASSUMED
    assert one.gloss_gu is one.low_gu is one.high_gu is one.early_days is one.read_on is None
    assert one.promise_gu == pytest.approx(48.0)


def test_where_no_look_is_promised_there_is_a_gloss_but_no_break() -> None:
    (one,) = outlooks(a_case(a_book(promises=())))
    assert one.gloss_gu is not None
    assert one.promise_gu is one.reference_gu is one.early_days is None


def test_a_promise_far_away_is_not_broken_within_the_horizon() -> None:
    (one,) = outlooks(a_case(a_book(promises=(look_promised(40.0),))), days=30)
    assert one.early_days == float("inf")


def test_a_floor_is_shown_in_the_state_its_promise_refers_to() -> None:
    # a week after its last burnish, with much haze to see
    book = a_book(routines=(), readings=read_down(49.5))
    lying = replace(book, promises=(look_promised(reference_state=SurfaceState.AFTER_CLEANING),))
    (burnished,), (cleaned,) = outlooks(a_case(book)), outlooks(a_case(lying))
    assert cleaned.gloss_gu < burnished.gloss_gu - 1  # type: ignore[operator]


def test_a_slippery_zone_is_guarded() -> None:
    readings = (*read_down(49.5), slip_read(TODAY - DAY, 0.30))
    assert outlooks(a_case(a_book(readings=readings)))[0].guarded


def test_zones_come_in_the_order_of_the_fleet() -> None:
    found = outlooks(a_case(a_book("B")), a_case(a_book("A"), site="EAST"))
    assert [(one.site, one.zone) for one in found] == [("NORTH", "B"), ("EAST", "A")]
