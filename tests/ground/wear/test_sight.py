"""What readings see of a history, and how it moves with what is not known."""

from dataclasses import replace

import numpy as np
import pytest

from floorcare.ground.wear import looking
from floorcare.ground.wear.columns import OpeningCode
from floorcare.ground.wear.history import Looks
from floorcare.ground.wear.model import FloorState, expose, ln_gloss, rates_from, treat
from floorcare.ground.wear.opening import OFFSETS
from floorcare.ground.wear.sight import (
    CURVED,
    live_through,
    opened,
    see,
    shifted,
    slopes,
    today_under,
    under,
)
from tests.ground.wear.fleets import LAW, make_fleet

ZONES = 6
COLUMNS = replace(
    make_fleet(zones=ZONES, days=150, ahead=1, seed=3, readings=6).columns,
    start_day=np.array([0, 0, 30, 0, 100, 0]),
    opening=np.array([0, 1, 2, 3, 0, 3]),
    opening_about_days=np.array([0.0, 0.0, 15.0, 0.0, 0.0, 0.0]),
)
SIGHT = see(COLUMNS, LAW)
AT = np.random.default_rng(2).normal(0.0, 0.3, (CURVED, ZONES))


def test_used_readings_stand_by_zone_and_time_and_others_are_not_seen() -> None:
    used = np.flatnonzero(COLUMNS.usable)
    assert sorted(SIGHT.reading.tolist()) == used.tolist()
    assert used.size < COLUMNS.reading_ln.size
    order = np.lexsort((SIGHT.looks.zone[SIGHT.at],))
    assert order.tolist() == list(range(used.size))
    for zone in range(ZONES):
        own = SIGHT.reading[SIGHT.zone == zone]
        moment = 2 * COLUMNS.reading_day[own] + COLUMNS.reading_after_burnish[own]
        assert (np.diff(moment) >= 0).all()
    assert SIGHT.ln.tolist() == COLUMNS.reading_ln[SIGHT.reading].tolist()
    assert SIGHT.looks.zone[SIGHT.today].tolist() == list(range(ZONES))


def test_a_reading_errs_by_instrument_stations_and_day_and_the_first_makes_the_level() -> None:
    law = replace(LAW, day_sd=0.03)
    sight = see(COLUMNS, law)
    first = np.r_[True, np.diff(sight.zone) > 0]
    stations = COLUMNS.reading_stations[sight.reading]
    own = 0.03**2 + 0.02**2 + 0.05**2 / stations
    assert sight.variance[~first] == pytest.approx(own[~first])
    assert sight.variance[first] == pytest.approx(np.full(first.sum(), 0.10**2))


def test_under_another_noise_the_readings_see_as_if_lined_up_anew() -> None:
    law = replace(LAW, drift_sd=0.01, shock_sd=0.02, day_sd=0.05, first_reading_sd=0.2)
    found, anew = under(SIGHT, COLUMNS, law), see(COLUMNS, law)
    assert found.variance.tolist() == anew.variance.tolist()
    for way in ("to_reading", "to_today"):
        for part in ("drift_var", "shock_kept", "shock_var"):
            one, other = getattr(getattr(found, way), part), getattr(getattr(anew, way), part)
            assert one.tolist() == other.tolist()


def _day_by_day(curved: np.ndarray) -> tuple[np.ndarray, FloorState]:
    """ln gloss at the used readings and the state today, by living every day of every zone."""
    opening, rates = opened(COLUMNS, LAW, curved[:, None])
    seen, last = np.full(SIGHT.reading.size, np.nan), []
    for zone in range(ZONES):
        here = (slice(None), np.array([zone]))
        state, own = opening.rows(here), rates.rows(here)
        moments = {}
        for day in range(int(COLUMNS.start_day[zone]), COLUMNS.days):
            state = expose(state, own, LAW, COLUMNS.thousand_passes[zone, day])
            moments[day, False] = ln_gloss(state, LAW)[0, 0]
            for effect, done in COLUMNS.treatments:
                if done[zone, day]:
                    state = treat(state, effect)
            moments[day, True] = ln_gloss(state, LAW)[0, 0]
        last.append(state)
        for place in np.flatnonzero(SIGHT.zone == zone):
            reading = SIGHT.reading[place]
            seen[place] = moments[
                int(COLUMNS.reading_day[reading]), bool(COLUMNS.reading_after_burnish[reading])
            ]
    today = {
        part: np.concatenate([getattr(state, part)[0] for state in last])
        for part in ("haze", "film", "scratch")
    }
    return seen, FloorState(**today)


@pytest.mark.parametrize(("forgotten", "within"), [(1e-300, 1e-12), (1e-3, 3e-4)])
def test_a_history_is_seen_as_living_it_day_by_day_shows(
    forgotten: float, within: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Exactly, and within a·HAZE_FORGOTTEN of ln gloss where old haze is dropped as it is."""
    monkeypatch.setattr(looking, "HAZE_FORGOTTEN", forgotten)
    expected, last = _day_by_day(AT)
    ln, today, rates = live_through(COLUMNS, LAW, see(COLUMNS, LAW), AT[:, None])
    assert ln[0] == pytest.approx(expected, abs=within)
    assert today.haze[0] == pytest.approx(last.haze, abs=4 * within)
    assert today.film[0] == pytest.approx(last.film, abs=1e-12)
    assert today.scratch[0] == pytest.approx(last.scratch, abs=1e-12)
    assert rates.haze[0] == pytest.approx(LAW.haze_rate * np.exp(AT[0]))


def test_slopes_are_those_of_a_central_difference() -> None:
    ln, slope = slopes(COLUMNS, LAW, SIGHT, AT)
    assert ln == pytest.approx(live_through(COLUMNS, LAW, SIGHT, AT[:, None])[0][0], abs=1e-12)
    for place in range(CURVED):
        by = np.zeros((CURVED, 2, ZONES))
        by[place] = np.array([[1e-4], [-1e-4]])
        either = live_through(COLUMNS, LAW, SIGHT, AT[:, None] + by)[0]
        assert slope[place] == pytest.approx((either[0] - either[1]) / 2e-4, abs=2e-5)
    assert np.abs(slope).max(axis=1).min() > 1e-3


def test_with_every_floor_opened_fresh_only_the_rates_are_curved() -> None:
    columns = replace(COLUMNS, opening=np.full(ZONES, OpeningCode.FRESH))
    sight = see(columns, LAW)
    whole = AT.copy()
    whole[2:] = 5.0
    short, long = (slopes(columns, LAW, sight, at) for at in (AT[:2], whole))
    assert short[0].tolist() == long[0].tolist()
    assert short[1].tolist() == long[1][:2].tolist()
    assert not long[1][2:].any()


def test_many_assumptions_are_lived_side_by_side_as_one_by_one() -> None:
    several = np.stack([AT, -AT, 0.5 * AT], axis=1)
    ln, today, _ = live_through(COLUMNS, LAW, SIGHT, several)
    again, _ = today_under(COLUMNS, LAW, SIGHT, several)
    for place in range(3):
        one, then, _ = live_through(COLUMNS, LAW, SIGHT, several[:, [place]])
        assert ln[place].tolist() == one[0].tolist()
        for part in ("haze", "film", "scratch"):
            assert getattr(today, part)[place].tolist() == getattr(then, part)[0].tolist()
            assert getattr(again, part)[place].tolist() == getattr(then, part)[0].tolist()


def test_a_shift_moves_the_places_asked_for_one_at_a_time() -> None:
    moved = shifted(AT, [1, 4])
    assert moved.shape == (CURVED, 3, ZONES)
    assert moved[:, 0].tolist() == AT.tolist()
    apart = moved - AT[:, None]
    assert apart[1, 1] == pytest.approx(np.full(ZONES, 1e-5))
    assert apart[4, 2] == pytest.approx(np.full(ZONES, 1e-5))
    apart[1, 1] = apart[4, 2] = 0.0
    assert not apart.any()


def test_floors_open_with_their_own_rates_and_offsets() -> None:
    opening, rates = opened(COLUMNS, LAW, AT[:, None])
    assert rates.film[0] == pytest.approx(rates_from(LAW, AT[0], AT[1]).film)
    assert opening.haze[0, [0, 1, 4]].tolist() == [0.0] * 3
    assert (opening.haze[0, [3, 5]] > 0).all()
    assert OFFSETS == CURVED - 2


def test_looks_are_those_of_the_readings_and_of_today() -> None:
    looks: Looks = SIGHT.looks
    assert looks.zone.size == SIGHT.reading.size + ZONES
    both = np.sort(np.r_[SIGHT.at, SIGHT.today])
    assert both.tolist() == list(range(looks.zone.size))
