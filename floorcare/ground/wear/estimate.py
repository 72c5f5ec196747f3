"""A zone's own rates, level and walks from its readings.

Hidden column of a zone: u_h, u_r, three opening offsets, and today's level and shock walk. The
readings are straight-line functions of the last two and curved ones of the first five, so the
most probable column is found by relinearising and filtering again (iterated Kalman filter).
A reading that all others contradict loses weight: each is held against what the rest of its zone
predicts, under a mixture of good and gross readings.
"""

from dataclasses import dataclass

import numpy as np

from floorcare.ground.trade.surface import WearLaw
from floorcare.ground.wear.columns import WearColumns
from floorcare.ground.wear.history import firsts
from floorcare.ground.wear.model import Flags, Floats, Whole
from floorcare.ground.wear.prior import Prior, prior_from
from floorcare.ground.wear.sight import CURVED, LEVEL, WIDTH, Sight, see, slopes
from floorcare.ground.wear.solve import Solved, solve

ROUNDS_OF_FITTING = 12
"""Relinearisations; fixed, so that a zone's result never depends on its neighbours. Assumption."""
FULL_TRUST_ROUNDS = 2
"""In the first so many of them a reading's weight follows its odds at once. Assumption."""
LONGEST_STEP = 1.0
"""No curved number moves further in one relinearisation. Assumption."""
SETTLED = 0.01
"""A zone has settled when no curved number moved further in the last one. Assumption."""
HIDDEN_WEIGHT = 1e-6
"""What a hidden reading counts: nothing, but for the arithmetic."""
FAR_OFF_LN, SUSPECT_WEIGHT = 0.7, 1e-3
"""Readings a factor of two from their zone's middle start with next to no weight. Assumption; the
fit then gives each what it deserves."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Fit:
    """What the readings say of each zone today.

    mean : (Z, 7), covariance : (Z, 7, 7), of u_h, u_r, three opening offsets, level, e; level is
        ln GU with the surface's drift in it, NaN in zones without readings.
    readings : (Z,), gloss readings used; rounds : (Z,), days with one not thought gross.
    last_day : (Z,), day of the last such reading, -1 for none.
    residual : (R,), each reading less what the zone's others predict, in sd; NaN where not used.
    foretold_sd : (R,), sd of the gloss that day as the others foretell it; ln gloss.
    error_sd : (R,), sd of the reading's own error.
    last_residual : (Z,), that of the zone's last reading; NaN for none.
    gross_chance : (R,), probability that the reading is gross; gross : (R,), above one half.
    settled : (Z,), whether the fit came to rest.
    columns, law, sight, weight : what the fit was made of, kept for draws.
    """

    mean: Floats
    covariance: Floats
    readings: Whole
    rounds: Whole
    last_day: Whole
    residual: Floats
    foretold_sd: Floats
    error_sd: Floats
    last_residual: Floats
    gross_chance: Floats
    gross: Flags
    settled: Flags
    columns: WearColumns
    law: WearLaw
    sight: Sight
    weight: Floats


def estimate(
    columns: WearColumns,
    law: WearLaw,
    prior: Prior | None = None,
    *,
    hidden: Flags | None = None,
    rounds: int = ROUNDS_OF_FITTING,
) -> Fit:
    """Estimate every zone's rates, level and walks from its readings and history.

    Parameters
    ----------
    columns : Z zones of one surface.
    law : the surface's law of wear.
    prior : belief about (u_h, u_r), one value a zone; None for the surface's own.
    hidden : (R,), readings to be foretold from the others and not believed; None for none.
    rounds : relinearisations.

    A zone without readings keeps the prior's rates and has level NaN.

    Raises
    ------
    ValueError : the prior does not have one value for each zone.

    Source: iterated extended Kalman filter (Bell & Cathey 1993: a Gauss–Newton method); gross
    readings as a contaminated normal (Tukey 1960), its wide part with the tails of a Cauchy law.
    """
    belief = prior if prior is not None else prior_from(law, columns.counted)
    if belief.mean_haze.shape != (columns.zones,):
        raise ValueError(f"the prior must have one value for each of {columns.zones} zones")
    sight = see(columns, law)
    curved = CURVED if columns.opening_unsure else 2
    start, known = before_readings(belief, curved)
    at = start.copy()
    unseen = np.zeros(sight.ln.shape, dtype=np.bool_) if hidden is None else hidden[sight.reading]
    weight = np.ones(sight.ln.shape)
    moved = np.zeros(columns.zones)
    for turn in range(rounds):
        ln, slope = slopes(columns, law, sight, at)
        if turn == 0:
            weight = np.where(unseen, HIDDEN_WEIGHT, _first_weights(sight, ln))
        solved = solve(sight, ln, slope, at, sight.variance / weight, start, known)
        chance, trust = _trust(solved, sight.variance, weight, law)
        # Half the way later: two readings that contradict each other would else swap doubts.
        share = 1.0 if turn < FULL_TRUST_ROUNDS else 0.5
        weight = np.where(unseen, HIDDEN_WEIGHT, weight + share * (trust - weight))
        step = np.clip(solved.mean - at, -LONGEST_STEP, LONGEST_STEP)
        at = at + step
        moved = np.abs(step).max(axis=0)
    return _fit(columns, law, sight, weight, solved, chance, moved <= SETTLED)


def before_readings(prior: Prior, curved: int) -> tuple[Floats, Floats]:
    """Mean (curved, Z) and inverse covariance (Z, curved, curved) of the curved numbers.

    Parameters
    ----------
    curved : 2 where all floors open fresh, else 5.

    Assumption: opening offsets are standard normal and know nothing of the rates.
    """
    zones = prior.mean_haze.size
    mean = np.zeros((curved, zones))
    mean[0], mean[1] = prior.mean_haze, prior.mean_rest
    known = np.zeros((zones, curved, curved))
    known[:, :2, :2] = np.linalg.inv(prior.covariance())
    known[:, range(2, curved), range(2, curved)] = 1.0
    return mean, known


def _first_weights(sight: Sight, ln: Floats) -> Floats:
    """Full weight, but next to none far off the middle of its zone."""
    off = sight.ln - ln
    weight = np.ones(off.shape)
    if not off.size:
        return weight
    first = np.flatnonzero(firsts(sight.zone))
    apart = np.maximum.reduceat(off, first) - np.minimum.reduceat(off, first)
    count = np.diff(np.r_[first, off.size])
    # Only where readings lie so far apart can any of them lie far off the middle.
    doubtful = np.flatnonzero(np.repeat(apart > FAR_OFF_LN, count))
    if doubtful.size:
        zone, own = sight.zone[doubtful], off[doubtful]
        own_sorted = own[np.lexsort((own, zone))]
        start = np.flatnonzero(firsts(zone))
        many = np.diff(np.r_[start, zone.size])
        middle = (own_sorted[start + (many - 1) // 2] + own_sorted[start + many // 2]) / 2
        far = np.abs(own - np.repeat(middle, many)) > FAR_OFF_LN
        weight[doubtful[far]] = SUSPECT_WEIGHT
    return weight


def _trust(solved: Solved, variance: Floats, weight: Floats, law: WearLaw) -> tuple[Floats, Floats]:
    """Probability (U,) that each reading is gross, given the others of its zone, and its weight.

    A reading far off even for a gross one (a digit or a decimal point astray) weighs less still:
    the gross errors have the tails of a Cauchy law.
    """
    off = solved.off
    others = np.maximum(solved.off_var - variance / weight, 0.0)
    good_var, gross_var = others + variance, others + variance * law.gross_factor**2
    good = np.log1p(-law.gross_share) - 0.5 * (np.log(good_var) + off**2 / good_var)
    gross = np.log(law.gross_share) - 0.5 * (np.log(gross_var) + off**2 / gross_var)
    chance: Floats = 1.0 / (1.0 + np.exp(np.clip(good - gross, -500.0, 500.0)))
    tail = np.minimum(1.0, 2.0 / (1.0 + off**2 / gross_var))
    return chance, 1.0 - chance + chance * tail / law.gross_factor**2


def _fit(
    columns: WearColumns,
    law: WearLaw,
    sight: Sight,
    weight: Floats,
    solved: Solved,
    chance: Floats,
    settled: Flags,
) -> Fit:
    zones, total = columns.zones, columns.reading_ln.size
    graded = columns.graded[sight.reading]
    used = np.bincount(sight.zone[~graded], minlength=zones)
    others = np.maximum(solved.off_var - sight.variance / weight, 0.0)
    residual, foretold_sd, error_sd = np.full((3, total), np.nan)
    residual[sight.reading] = solved.off / np.sqrt(others + sight.variance)
    foretold_sd[sight.reading] = np.sqrt(others + law.day_sd**2)
    error_sd[sight.reading] = np.sqrt(np.maximum(sight.variance - law.day_sd**2, 0.0))
    gross_chance = np.zeros(total)
    gross_chance[sight.reading] = chance
    believed = sight.reading[(chance <= 0.5) & ~graded]
    zone, day = columns.reading_zone[believed], columns.reading_day[believed]
    last_day = np.full(zones, -1, dtype=np.int64)
    np.maximum.at(last_day, zone, day)
    last = np.full(zones, np.nan)
    last[sight.zone] = residual[sight.reading]
    mean, covariance = _whole_column(solved)
    mean[used == 0, LEVEL] = np.nan
    return Fit(
        mean=mean,
        covariance=covariance,
        readings=used,
        rounds=np.bincount(zone[_anew(zone, day)], minlength=zones),
        last_day=last_day,
        residual=residual,
        foretold_sd=foretold_sd,
        error_sd=error_sd,
        last_residual=last,
        gross_chance=gross_chance,
        gross=(gross_chance > 0.5) & ~columns.graded,
        settled=settled,
        columns=columns,
        law=law,
        sight=sight,
        weight=weight,
    )


def _anew(zone: Whole, day: Whole) -> Flags:
    """Which believed readings, sorted by zone and day, are the first of their day."""
    anew = np.ones(zone.shape, dtype=np.bool_)
    anew[1:] = (zone[1:] != zone[:-1]) | (day[1:] != day[:-1])
    return anew


def _whole_column(solved: Solved) -> tuple[Floats, Floats]:
    """The hidden column zone by zone, with offsets even where all floors opened fresh."""
    curved, zones = solved.mean.shape
    mean, covariance = np.zeros((zones, WIDTH)), np.zeros((zones, WIDTH, WIDTH))
    covariance[:, range(2, CURVED), range(2, CURVED)] = 1.0
    mean[:, :curved], mean[:, LEVEL:] = solved.mean.T, solved.walks.T
    along = np.moveaxis(solved.walks_with, -1, 0)
    with_curved = -along @ solved.covariance
    covariance[:, :curved, :curved] = solved.covariance
    covariance[:, LEVEL:, :curved] = with_curved
    covariance[:, :curved, LEVEL:] = with_curved.transpose(0, 2, 1)
    of_walks = np.moveaxis(solved.walks_covariance, -1, 0)
    covariance[:, LEVEL:, LEVEL:] = of_walks - with_curved @ along.transpose(0, 2, 1)
    return mean, covariance
