"""Rows are lined up, and what looks see of a history is what living it day by day shows."""

from dataclasses import replace

import numpy as np
import pytest

from floorcare.ground.trade.surface import Effect
from floorcare.ground.wear import looking
from floorcare.ground.wear.history import Looks, firsts, line_up
from floorcare.ground.wear.looking import Days, look_at
from floorcare.ground.wear.model import FloorState, expose, rates_from, treat
from tests.ground.wear.fleets import LAW, make_fleet

COLUMNS = replace(
    make_fleet(zones=5, days=150, ahead=1, seed=3, readings=6).columns,
    start_day=np.array([0, 0, 30, 0, 100]),
)
DAYS = Days(
    thousand_passes=COLUMNS.thousand_passes,
    treatments=COLUMNS.treatments,
    start_day=COLUMNS.start_day,
    ageing=LAW.ageing,
)
RATES = rates_from(LAW, np.linspace(-0.5, 0.5, 5)[None], np.linspace(0.4, -0.4, 5)[None])
WORN = FloorState(
    haze=np.full((1, 5), 0.4), film=np.full((1, 5), 0.7), scratch=np.full((1, 5), 0.2)
)


def _every_look(days: Days) -> Looks:
    """Each zone on each day of its life, before and after the day's treatments."""
    zone, day = np.nonzero(np.arange(150) >= days.start_day[:, None])
    return look_at(days, np.repeat(zone, 2), np.repeat(day, 2), np.tile([False, True], zone.size))


def _lived(days: Days, opening: FloorState) -> FloorState:
    """The same states in the same order, by living every day of every zone."""
    seen: dict[str, list[float]] = {"haze": [], "film": [], "scratch": []}
    for zone in range(5):
        own = RATES.rows((slice(None), np.array([zone])))
        state = opening.rows((slice(None), np.array([zone])))
        for day in range(int(days.start_day[zone]), 150):
            state = expose(state, own, LAW, days.thousand_passes[zone, day])
            for part, values in seen.items():
                values.append(float(getattr(state, part)[0, 0]))
            for effect, done in days.treatments:
                if done[zone, day]:
                    state = treat(state, effect)
            for part, values in seen.items():
                values.append(float(getattr(state, part)[0, 0]))
    return FloorState(**{part: np.array([values]) for part, values in seen.items()})


def test_rows_are_lined_up_with_the_longest_zone_first() -> None:
    zone = np.array([0, 2, 2, 2, 3, 3])
    lineup = line_up(zone, 4)
    assert lineup.zone_order.tolist() == [2, 3, 0, 1]
    assert [rank.tolist() for rank in lineup.ranks()] == [[1, 4, 0], [2, 5], [3]]
    assert lineup.rows[lineup.back].tolist() == list(range(6))
    assert lineup.zone_order[lineup.zone_back].tolist() == list(range(4))
    assert firsts(zone).tolist() == [True, True, False, False, True, False]
    assert firsts(zone[:0]).tolist() == []


@pytest.mark.parametrize("opening", [FloorState.fresh((1, 5), LAW), WORN])
def test_looks_agree_with_living_day_by_day(
    opening: FloorState, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Exactly, once no haze is forgotten."""
    monkeypatch.setattr(looking, "HAZE_FORGOTTEN", 1e-300)
    found, lived = _every_look(DAYS).state(opening, RATES, LAW), _lived(DAYS, opening)
    for part in ("haze", "film", "scratch"):
        assert getattr(found, part) == pytest.approx(getattr(lived, part), abs=1e-12)


def test_forgotten_haze_changes_what_is_seen_by_less_than_a_thousandth() -> None:
    """As the core runs: haze of which treatments left less than HAZE_FORGOTTEN is dropped."""
    found, lived = _every_look(DAYS).state(WORN, RATES, LAW), _lived(DAYS, WORN)
    apart = np.abs(found.haze - lived.haze)
    assert 0.0 < apart.max() < looking.HAZE_FORGOTTEN
    assert found.film == pytest.approx(lived.film, abs=1e-12)
    assert found.scratch == pytest.approx(lived.scratch, abs=1e-12)


def test_treatments_that_only_thin_film_or_finish_are_lived_too(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(looking, "HAZE_FORGOTTEN", 1e-300)
    (polish, repolish), (_, recoat), (burnish, burnt) = COLUMNS.treatments
    strip = Effect(haze_kept=0.5, film_kept=0.4, scratch_kept=0.8)
    days = replace(
        DAYS, treatments=((polish, repolish), (strip, np.roll(recoat, 1)), (burnish, burnt))
    )
    found, lived = _every_look(days).state(WORN, RATES, LAW), _lived(days, WORN)
    for part in ("haze", "film", "scratch"):
        assert getattr(found, part) == pytest.approx(getattr(lived, part), abs=1e-12)


def test_walks_gain_a_days_variance_and_are_cut_by_treatments() -> None:
    """Rounds of looks, each of some zone: the way to each is that of the days between."""
    random = np.random.default_rng(6)
    zone = np.repeat(np.arange(5), 7)
    day = np.sort(np.r_[[random.integers(COLUMNS.start_day[z], 150, 7) for z in range(5)]], axis=1)
    after = random.random(zone.size) < 0.5
    sort = np.lexsort((after, day.ravel(), zone))
    zone, day, after = zone[sort], day.ravel()[sort], after[sort]
    transit = look_at(DAYS, zone, day, after).transit(LAW)
    for place in range(zone.size):
        own = zone[place]
        first = place == 0 or zone[place - 1] != own
        begin = int(COLUMNS.start_day[own]) if first else int(day[place - 1])
        drift, shock, kept = 0.0, 0.0, 1.0
        for now in range(begin, int(day[place]) + 1):
            if first or now > begin:
                drift += LAW.drift_sd**2
                shock += LAW.shock_sd**2
            behind = not first and now == begin and after[place - 1]
            ahead = now == day[place] and not after[place]
            for effect, done in COLUMNS.treatments:
                if done[own, now] and not behind and not ahead:
                    shock, kept = shock * effect.haze_kept**2, kept * effect.haze_kept
        assert transit.drift_var[place] == pytest.approx(drift, abs=1e-15)
        # Shocks that treatments have all but taken away are forgotten, as haze is.
        forgotten = looking.HAZE_FORGOTTEN
        assert transit.shock_var[place] == pytest.approx(
            shock, abs=forgotten**2 * 150 * LAW.shock_sd**2
        )
        assert transit.shock_kept[place] == pytest.approx(kept, abs=forgotten)
