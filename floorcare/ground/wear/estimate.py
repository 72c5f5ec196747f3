"""A zone's own rates, level and walks from its readings.

Hidden column of a zone: u_h, u_r, three opening offsets, level, and today's walks w and e. The
readings are straight-line functions of the last three and curved ones of the first five, so the
most probable column is found by relinearising and filtering again (iterated Kalman filter).
A reading that all others contradict loses weight: each is held against what the rest of its zone
predicts, under a mixture of good and gross readings.
"""

from dataclasses import dataclass

import numpy as np

from floorcare.ground.trade.surface import WearLaw
from floorcare.ground.wear.columns import WearColumns
from floorcare.ground.wear.filter import Filtered, run_filter, without_itself
from floorcare.ground.wear.history import Lineup, Steps, Transit, line_up, steps_of, transits, walk
from floorcare.ground.wear.model import Flags, Floats, FloorState, Rates, Whole, rates_from
from floorcare.ground.wear.opening import OFFSETS, opening_state
from floorcare.ground.wear.prior import Prior, prior_from

CURVED = 2 + OFFSETS
"""How many of the hidden column the readings see through a curve: u_h, u_r, opening offsets."""
LEVEL = CURVED
WIDTH = CURVED + 3

ROUNDS_OF_FITTING = 12
"""Relinearisations; fixed, so that a zone's result never depends on its neighbours. Assumption."""
LONGEST_STEP = 1.0
"""No curved number moves further in one relinearisation. Assumption."""
SETTLED = 0.01
"""A zone has settled when no curved number moved further in the last one. Assumption."""
SHIFT = 1e-5
"""Step of the numerical slopes."""
LEVEL_LN_MEAN, LEVEL_LN_SD = float(np.log(40.0)), 2.0
"""Level before any reading: anywhere from 1 GU to 2,000. Assumption; in effect no knowledge."""
FAR_OFF_LN, SUSPECT_WEIGHT = 0.7, 1e-3
"""Readings a factor of two from their zone's middle start with next to no weight. Assumption; the
fit then gives each what it deserves."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sight:
    """The used readings: who, when, and how well they see.

    lineup : used readings by rank within their zone, as positions in the arrays below.
    reading : (U,), index among the columns' readings.
    zone : (U,).
    ln : (U,), the readings.
    variance : (U,), error variance of a good reading.
    to_reading, to_today : the walks' way.
    """

    lineup: Lineup
    reading: Whole
    zone: Whole
    ln: Floats
    variance: Floats
    to_reading: Transit
    to_today: Transit


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Fit:
    """What the readings say of each zone today.

    mean : (Z, 8), covariance : (Z, 8, 8), of u_h, u_r, three opening offsets, level, w, e; level is
        ln GU, NaN in zones without readings.
    readings : (Z,), readings used; rounds : (Z,), days with a reading not thought gross.
    last_day : (Z,), day of the last such reading, -1 for none.
    residual : (R,), each reading less what the zone's others predict, in sd; NaN where not used.
    last_residual : (Z,), that of the zone's last reading; NaN for none.
    gross_chance : (R,), probability that the reading is gross; gross : (R,), above one half.
    settled : (Z,), whether the fit came to rest.
    columns, law, steps, sight, weight : what the fit was made of, kept for draws.
    """

    mean: Floats
    covariance: Floats
    readings: Whole
    rounds: Whole
    last_day: Whole
    residual: Floats
    last_residual: Floats
    gross_chance: Floats
    gross: Flags
    settled: Flags
    columns: WearColumns
    law: WearLaw
    steps: Steps
    sight: Sight
    weight: Floats


def estimate(columns: WearColumns, law: WearLaw, prior: Prior | None = None) -> Fit:
    """Estimate every zone's rates, level and walks from its readings and history.

    Parameters
    ----------
    columns : Z zones of one surface.
    law : the surface's law of wear.
    prior : belief about (u_h, u_r), one value a zone; None for the surface's own.

    Returns
    -------
    The fit; a zone without readings keeps the prior's rates and has level NaN.

    Raises
    ------
    ValueError : the prior does not have one value for each zone.

    Source: iterated extended Kalman filter (Bell & Cathey 1993: a Gauss–Newton method); gross
    readings as a contaminated normal (Tukey 1960), its wide part with the tails of a Cauchy law.
    """
    belief = prior if prior is not None else prior_from(law, columns.counted)
    if belief.mean_haze.shape != (columns.zones,):
        raise ValueError(f"the prior must have one value for each of {columns.zones} zones")
    steps = steps_of(columns, law)
    sight = _sight(columns, law, steps)
    start, spread = _before_readings(belief)
    at = start[:, :CURVED].copy()
    weight = np.ones(sight.ln.shape)
    moved = np.zeros(columns.zones)
    for turn in range(ROUNDS_OF_FITTING):
        ln, slope = _slopes(columns, law, steps, sight, at)
        if turn == 0:
            weight = _first_weights(sight, ln)
        row = np.concatenate([slope, np.ones((ln.size, 3))], axis=1)
        target = sight.ln - ln + np.einsum("us,us->u", slope, at[sight.zone])
        filtered = _filtered(sight, row, target, weight, start, spread)
        off, off_var = without_itself(
            sight.lineup, row=row, to_reading=sight.to_reading, filtered=filtered
        )
        chance, trust = _trust(off, off_var, sight.variance, weight, law)
        # Half the way only: two readings that contradict each other would else swap doubts forever.
        weight = (weight + trust) / 2.0
        step = np.clip(filtered.mean[:, :CURVED, 0] - at, -LONGEST_STEP, LONGEST_STEP)
        at = at + step
        moved = np.abs(step).max(axis=1)
    return _fit(
        columns, law, steps, sight, weight, filtered, off, off_var, chance, moved <= SETTLED
    )


def _sight(columns: WearColumns, law: WearLaw, steps: Steps) -> Sight:
    reading = steps.reading[steps.reading >= 0]
    zone = columns.reading_zone[reading]
    stations = columns.reading_stations[reading]
    variance = law.instrument_sd**2 + law.station_sd**2 / stations
    # The first reading makes the level; its own error d₀ is wide, and it counts once.
    first = np.ones(zone.shape, dtype=np.bool_)
    first[1:] = zone[1:] != zone[:-1]
    variance = np.where(first, np.maximum(variance, law.first_reading_sd**2), variance)
    to_reading, to_today = transits(steps, law)
    return Sight(
        lineup=line_up(zone, columns.zones),
        reading=reading,
        zone=zone,
        ln=columns.reading_ln[reading],
        variance=variance,
        to_reading=Transit(
            drift_var=to_reading.drift_var[reading],
            shock_kept=to_reading.shock_kept[reading],
            shock_var=to_reading.shock_var[reading],
        ),
        to_today=to_today,
    )


def _before_readings(prior: Prior) -> tuple[Floats, Floats]:
    """Mean (Z, 8) and covariance (Z, 8, 8) of the hidden column before the first reading."""
    zones = prior.mean_haze.size
    mean = np.zeros((zones, WIDTH))
    mean[:, 0], mean[:, 1], mean[:, LEVEL] = prior.mean_haze, prior.mean_rest, LEVEL_LN_MEAN
    spread = np.zeros((zones, WIDTH, WIDTH))
    spread[:, :2, :2] = prior.covariance()
    for place in range(2, CURVED):
        spread[:, place, place] = 1.0
    spread[:, LEVEL, LEVEL] = LEVEL_LN_SD**2
    return mean, spread


def _slopes(
    columns: WearColumns, law: WearLaw, steps: Steps, sight: Sight, at: Floats
) -> tuple[Floats, Floats]:
    """ln gloss (U,) of the used readings at these curved numbers, and its slopes (U, 5)."""
    shifted = np.repeat(at[:, :, None], CURVED + 1, axis=2)
    shifted[:, np.arange(CURVED), 1 + np.arange(CURVED)] += SHIFT
    ln = live_through(columns, law, steps, shifted)[0][sight.reading]
    return ln[:, 0], (ln[:, 1:] - ln[:, :1]) / SHIFT


def live_through(
    columns: WearColumns, law: WearLaw, steps: Steps, curved: Floats
) -> tuple[Floats, FloorState, Rates]:
    """The history under P sets of curved numbers a zone.

    Parameters
    ----------
    curved : (Z, 5, P), u_h, u_r and the three opening offsets.

    Returns
    -------
    (R, P) relative ln gloss at the readings, the state (Z, P) today, the rates (Z, P).

    Assumption: as `walk` and `opening_state`.
    """
    rates = rates_from(law, curved[:, 0], curved[:, 1])
    opening = opening_state(columns, law, curved[:, 2:], rates)
    at_reading, state = walk(steps, opening, rates, law)
    return at_reading, state, rates


def _filtered(
    sight: Sight, row: Floats, target: Floats, weight: Floats, mean: Floats, covariance: Floats
) -> Filtered:
    return run_filter(
        sight.lineup,
        row=row,
        target=target[:, None],
        variance=sight.variance / weight,
        to_reading=sight.to_reading,
        to_today=sight.to_today,
        mean=mean[:, :, None],
        covariance=covariance,
    )


def _first_weights(sight: Sight, ln: Floats) -> Floats:
    """Full weight, but next to none far off the middle of its zone."""
    off = sight.ln - ln
    sort = np.lexsort((off, sight.zone))
    count = np.bincount(sight.zone, minlength=sight.lineup.zone_order.size)
    first = np.cumsum(count) - count
    has = count > 0
    middle = np.zeros(count.shape)
    low, high = first + (count - 1) // 2, first + count // 2
    middle[has] = (off[sort[low[has]]] + off[sort[high[has]]]) / 2
    far = np.abs(off - middle[sight.zone]) > FAR_OFF_LN
    return np.where(far, SUSPECT_WEIGHT, 1.0)


def _trust(
    off: Floats, off_var: Floats, variance: Floats, weight: Floats, law: WearLaw
) -> tuple[Floats, Floats]:
    """Probability (U,) that each reading is gross, given the others of its zone, and its weight.

    A reading far off even for a gross one (a digit or a decimal point astray) weighs less still:
    the gross errors have the tails of a Cauchy law.
    """
    others = np.maximum(off_var - variance / weight, 0.0)
    good_var, gross_var = others + variance, others + variance * law.gross_factor**2
    good = np.log1p(-law.gross_share) - 0.5 * (np.log(good_var) + off**2 / good_var)
    gross = np.log(law.gross_share) - 0.5 * (np.log(gross_var) + off**2 / gross_var)
    chance: Floats = 1.0 / (1.0 + np.exp(np.clip(good - gross, -500.0, 500.0)))
    tail = np.minimum(1.0, 2.0 / (1.0 + off**2 / gross_var))
    return chance, 1.0 - chance + chance * tail / law.gross_factor**2


def _fit(
    columns: WearColumns,
    law: WearLaw,
    steps: Steps,
    sight: Sight,
    weight: Floats,
    filtered: Filtered,
    off: Floats,
    off_var: Floats,
    chance: Floats,
    settled: Flags,
) -> Fit:
    zones, total = columns.zones, columns.reading_ln.size
    used = np.bincount(sight.zone, minlength=zones)
    others = np.maximum(off_var - sight.variance / weight, 0.0)
    residual = np.full(total, np.nan)
    residual[sight.reading] = off / np.sqrt(others + sight.variance)
    gross_chance = np.zeros(total)
    gross_chance[sight.reading] = chance
    believed = sight.reading[chance <= 0.5]
    zone, day = columns.reading_zone[believed], columns.reading_day[believed]
    last_day = np.full(zones, -1, dtype=np.int64)
    np.maximum.at(last_day, zone, day)
    last = np.full(zones, np.nan)
    last[sight.zone] = residual[sight.reading]
    mean = filtered.mean[:, :, 0].copy()
    mean[used == 0, LEVEL] = np.nan
    return Fit(
        mean=mean,
        covariance=filtered.covariance,
        readings=used,
        rounds=np.bincount(np.unique(zone * columns.days + day) // columns.days, minlength=zones),
        last_day=last_day,
        residual=residual,
        last_residual=last,
        gross_chance=gross_chance,
        gross=gross_chance > 0.5,
        settled=settled,
        columns=columns,
        law=law,
        steps=steps,
        sight=sight,
        weight=weight,
    )
