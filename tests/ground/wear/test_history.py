"""A history taken in steps is the same as one lived day by day."""

from dataclasses import replace

import numpy as np
import pytest

from floorcare.ground.wear.history import line_up, steps_of, transits, walk
from floorcare.ground.wear.model import FloorState, expose, ln_gloss, rates_from, treat
from tests.ground.wear.fleets import LAW, make_fleet

FLEET = make_fleet(zones=5, days=150, ahead=1, seed=3, readings=6)


def test_rows_are_lined_up_with_the_longest_zone_first() -> None:
    lineup = line_up(np.array([0, 2, 2, 2, 3, 3]), 4)
    assert lineup.zone_order.tolist() == [2, 3, 0, 1]
    assert [rank.tolist() for rank in lineup.ranks()] == [[1, 4, 0], [2, 5], [3]]


def test_steps_agree_with_living_day_by_day() -> None:
    columns = replace(FLEET.columns, start_day=np.array([0, 0, 30, 0, 100]))
    rates = rates_from(LAW, np.linspace(-0.5, 0.5, 5)[:, None], np.linspace(0.4, -0.4, 5)[:, None])
    at_reading, today = walk(steps_of(columns, LAW), FloorState.fresh((5, 1), LAW), rates, LAW)
    for zone in range(5):
        own, state = rates.rows(slice(zone, zone + 1)), FloorState.fresh((1, 1), LAW)
        seen = {}
        for day in range(int(columns.start_day[zone]), 150):
            state = expose(state, own, LAW, columns.thousand_passes[zone, day])
            seen[day, False] = ln_gloss(state, LAW)[0, 0]
            for effect, done in columns.treatments:
                if done[zone, day]:
                    state = treat(state, effect)
            seen[day, True] = ln_gloss(state, LAW)[0, 0]
        assert today.haze[zone] == pytest.approx(state.haze[0], abs=1e-12)
        assert today.film[zone] == pytest.approx(state.film[0], abs=1e-12)
        assert today.scratch[zone] == pytest.approx(state.scratch[0], abs=1e-12)
        for reading in np.flatnonzero(columns.reading_zone == zone):
            when = (
                int(columns.reading_day[reading]),
                bool(columns.reading_after_burnish[reading]),
            )
            expected = seen.get(when, np.nan)
            assert at_reading[reading, 0] == pytest.approx(expected, abs=1e-12, nan_ok=True)


def test_walks_gain_a_days_variance_and_are_cut_by_treatments() -> None:
    columns = FLEET.columns
    to_reading, to_today = transits(steps_of(columns, LAW), LAW)
    for zone in range(5):
        own = columns.reading_zone == zone
        drift = to_reading.drift_var[own].sum() + to_today.drift_var[zone]
        assert drift == pytest.approx(LAW.drift_sd**2 * 150)
        shock, kept, at = 0.0, 1.0, []
        for day in range(150):
            shock += LAW.shock_sd**2
            if day == columns.reading_day[own][-1] and not columns.reading_after_burnish[own][-1]:
                at, shock, kept = [shock], 0.0, 1.0
            for effect, done in columns.treatments:
                if done[zone, day]:
                    shock, kept = shock * effect.haze_kept**2, kept * effect.haze_kept
            if day == columns.reading_day[own][-1] and columns.reading_after_burnish[own][-1]:
                at, shock, kept = [shock], 0.0, 1.0
        assert at
        assert to_today.shock_var[zone] == pytest.approx(shock)
        assert to_today.shock_kept[zone] == pytest.approx(kept)
