"""What readings see of a zone's history: ln gloss at each, and its slopes in what is not known."""

from dataclasses import dataclass, replace

import numpy as np

from floorcare.ground.trade.surface import WearLaw
from floorcare.ground.wear.columns import WearColumns
from floorcare.ground.wear.history import Lineup, Looks, Transit, firsts, line_up
from floorcare.ground.wear.looking import Days, look_at
from floorcare.ground.wear.model import (
    Floats,
    FloorState,
    Rates,
    Whole,
    ln_of_coat,
    ln_of_haze,
    rates_from,
)
from floorcare.ground.wear.opening import OFFSETS, opening_state

CURVED = 2 + OFFSETS
"""How many of the hidden column the readings see through a curve: u_h, u_r, opening offsets."""
LEVEL, SHOCK = CURVED, CURVED + 1
WIDTH = CURVED + 2
HAZE_SEES, COAT_SEES = (0, 2), (1, 2, 3, 4)
"""Which of them move the haze, and which film and finish; an opening date moves both."""

SHIFT = 1e-5
"""Step of the numerical slopes."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sight:
    """The used readings: who, when, and how well they see.

    looks : at the floor at each used reading (U rows), then once today (Z rows), by zone and time.
    at : (U,), the readings' places among the looks; today : (Z,), that of today.
    lineup : used readings by rank within their zone, as positions in the arrays below.
    reading : (U,), index among the columns' readings.
    zone : (U,).
    ln : (U,), the readings.
    variance : (U,), error variance of a good reading.
    to_reading, to_today : the walks' way.
    """

    looks: Looks
    at: Whole
    today: Whole
    lineup: Lineup
    reading: Whole
    zone: Whole
    ln: Floats
    variance: Floats
    to_reading: Transit
    to_today: Transit


def see(columns: WearColumns, law: WearLaw) -> Sight:
    """Line up the used readings of every zone, and a look at each floor today.

    Assumption: a round's instrument error is common to its stations.
    """
    zones, total = columns.zones, columns.reading_ln.size
    used = np.flatnonzero(columns.usable)
    zone = np.r_[columns.reading_zone[used], np.arange(zones)]
    day = np.r_[columns.reading_day[used], np.full(zones, columns.days - 1)]
    after = np.r_[columns.reading_after_burnish[used], np.ones(zones, dtype=np.bool_)]
    reading = np.r_[used, np.full(zones, total)]
    moment = (zone * (columns.days + 1) + day + 1) * 3 + after
    moment[used.size :] += 1
    sort = np.argsort(moment, kind="stable")
    looks = look_at(
        Days(
            thousand_passes=columns.thousand_passes,
            treatments=columns.treatments,
            start_day=columns.start_day,
            ageing=law.ageing,
        ),
        zone[sort],
        day[sort],
        after[sort],
    )
    at, today = np.flatnonzero(reading[sort] < total), np.flatnonzero(reading[sort] == total)
    reading, zone = reading[sort][at], zone[sort][at]
    way = looks.transit(law)
    return Sight(
        looks=looks,
        at=at,
        today=today,
        lineup=line_up(zone, zones),
        reading=reading,
        zone=zone,
        ln=columns.reading_ln[reading],
        variance=_error_variance(law, zone, columns, reading),
        to_reading=way.rows(at),
        to_today=way.rows(today),
    )


def under(sight: Sight, columns: WearColumns, law: WearLaw) -> Sight:
    """The same readings under a law with other noise.

    Assumption: as `see`.
    """
    way = sight.looks.transit(law)
    return replace(
        sight,
        variance=_error_variance(law, sight.zone, columns, sight.reading),
        to_reading=way.rows(sight.at),
        to_today=way.rows(sight.today),
    )


def _error_variance(law: WearLaw, zone: Whole, columns: WearColumns, reading: Whole) -> Floats:
    by_stations = law.station_sd**2 / columns.reading_stations[reading]
    variance = law.day_sd**2 + law.instrument_sd**2 + by_stations
    variance += columns.more_sd[reading] ** 2
    # The first reading makes the level; its own error d₀ is wide, and it counts once.
    return np.where(firsts(zone), np.maximum(variance, law.first_reading_sd**2), variance)


def slopes(columns: WearColumns, law: WearLaw, sight: Sight, at: Floats) -> tuple[Floats, Floats]:
    """ln gloss (U,) of the used readings at these curved numbers, and its slopes (C, U).

    Parameters
    ----------
    at : (C, Z), C 2 or 5 as for `opened`.

    Assumption: as `Looks.haze` and `Looks.coat`.
    """
    curved = at.shape[0]
    slope = np.zeros((curved, sight.zone.size))
    haze_sees = [place for place in HAZE_SEES if place < curved]
    coat_sees = [place for place in COAT_SEES if place < curved]
    opening, rates = opened(columns, law, shifted(at, haze_sees))
    looks = sight.looks
    haze = ln_of_haze(looks.haze(opening.haze, rates.haze)[:, sight.at], law)
    slope[haze_sees] = (haze[1:] - haze[0]) / SHIFT
    opening, rates = opened(columns, law, shifted(at, coat_sees))
    film, scratch = looks.coat(opening.film, opening.scratch, rates, law)
    coat = ln_of_coat(film[:, sight.at], scratch[:, sight.at], law)
    slope[coat_sees] += (coat[1:] - coat[0]) / SHIFT
    return haze[0] + coat[0], slope


def shifted(at: Floats, places: list[int]) -> Floats:
    """(C, 1 + places, Z): as they are, then each of these places moved a little.

    Parameters
    ----------
    at : (C, Z).

    Assumption: a step of `SHIFT`.
    """
    moved = np.repeat(at[:, None], 1 + len(places), axis=1)
    moved[places, 1 + np.arange(len(places))] += SHIFT
    return moved


def opened(columns: WearColumns, law: WearLaw, curved: Floats) -> tuple[FloorState, Rates]:
    """The opening state and the rates, both (P, Z), under P sets of curved numbers a zone.

    Parameters
    ----------
    curved : (2 or 5, P, Z), u_h, u_r and, where any floor does not open fresh, its offsets.

    Assumption: as `opening_state` and `rates_from`.
    """
    rates = rates_from(law, curved[0], curved[1])
    offsets = curved[2:] if curved.shape[0] > 2 else np.zeros((OFFSETS, *curved.shape[1:]))
    return opening_state(columns, law, offsets, rates), rates


def live_through(
    columns: WearColumns, law: WearLaw, sight: Sight, curved: Floats
) -> tuple[Floats, FloorState, Rates]:
    """The history under P sets of curved numbers a zone.

    Parameters
    ----------
    curved : as for `opened`.

    Returns
    -------
    (P, U) relative ln gloss at the used readings, the state (P, Z) today, the rates (P, Z).

    Assumption: as `Looks.state`.
    """
    opening, rates = opened(columns, law, curved)
    looks = sight.looks
    state = looks.state(opening, rates, law)
    ln = ln_of_haze(state.haze[:, sight.at], law)
    ln += ln_of_coat(state.film[:, sight.at], state.scratch[:, sight.at], law)
    return ln, state.rows((slice(None), sight.today)), rates


def today_under(
    columns: WearColumns, law: WearLaw, sight: Sight, curved: Floats
) -> tuple[FloorState, Rates]:
    """Today's state and the rates (P, Z) under P sets of curved numbers a zone.

    Parameters
    ----------
    curved : as for `opened`.

    Assumption: as `Looks.state`.
    """
    opening, rates = opened(columns, law, curved)
    return sight.looks.only(sight.today).state(opening, rates, law), rates
