"""Draws of each zone's floor today and of the walks to come.

All zones are drawn with the same fixed numbers, so a zone's draws never depend on which other
zones are looked at, and two runs agree.
"""

from dataclasses import dataclass

import numpy as np

from floorcare.ground.trade.surface import WearLaw
from floorcare.ground.wear.estimate import Fit
from floorcare.ground.wear.filter import filter_walks
from floorcare.ground.wear.model import Floats, FloorState, Rates, ln_gloss
from floorcare.ground.wear.sight import CURVED, live_through
from floorcare.ground.wear.solve import LEVEL_LN_MEAN, LEVEL_LN_SD

DRAWS = 128
"""Draws a zone. Assumption: a band's edge then wanders by about a fifth of its sd."""
SEED_TODAY, SEED_AHEAD, SEED_DAYS = 20011, 20021, 20029
"""Fixed, so that the same inputs give the same plan."""
BALANCED_DAYS = 27
"""Days ahead whose increments are balanced together; as many as 128 draws allow. Assumption."""
DAY_EFFECT_DAYS = 10.0
"""How long what a day does to the gloss lasts. Assumption: nobody reads often enough to tell."""
PARTS = ("haze", "film", "scratch")
STEADY = 1e-12
"""Variance added before a square root is taken, for walks that have not begun."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Draws:
    """K equally likely floors for each of Z zones, today after all history; arrays (Z, K).

    ln gloss of a draw on a day = level + drift + shock + ln_gloss(state, law), where drift and the
    increments of shock come from `walk_noise` and a treatment leaves `haze_kept` of the shock.

    rates : the zone's rates.
    level : ln GU of the fresh floor, surface drift up to today in it; NaN without readings.
    shock : the haze-shock walk e.
    state : haze, film, micro-scratching.
    """

    rates: Rates
    level: Floats
    shock: Floats
    state: FloorState

    @property
    def count(self) -> int:
        """Draws a zone."""
        return int(self.level.shape[1])


def standard_normals(count: int, width: int) -> Floats:
    """The fixed standard normal numbers (count, width), evenly spread.

    Parameters
    ----------
    count : draws, >= 1.
    width : numbers a draw, >= 1.

    Source: Sobol points with Owen's scrambling, scipy.stats.qmc; a fixed seed.
    """
    from scipy.special import ndtri
    from scipy.stats import qmc

    points = qmc.Sobol(width, scramble=True, rng=SEED_TODAY).random_base2(
        int(np.ceil(np.log2(max(count, 2))))
    )
    # Scrambled points may touch 0 or 1, whose normal number would be infinite.
    normals: Floats = ndtri(np.clip(points[:count], 1e-9, 1.0 - 1e-9))
    return normals


def draw(fit: Fit, count: int = DRAWS, *, band_scale: Floats | float = 1.0) -> Draws:
    """Draw floors that agree with what the readings say.

    Rates and opening state are drawn from their normal posterior and history is lived through
    again with each; level and walks are then drawn from what the readings leave of them given that
    history, which is exact: the readings see them in a straight line.

    Parameters
    ----------
    count : draws a zone, K >= 1.
    band_scale : (Z,), factor on how far the draws' gloss today lies from its mean.

    Raises
    ------
    ValueError : count below 1.

    Assumption: rates and opening offsets are jointly normal given the readings.
    """
    if count < 1:
        raise ValueError(f"{count} draws: at least 1 is needed")
    columns, law, sight = fit.columns, fit.law, fit.sight
    curved = CURVED if columns.opening_unsure else 2
    normals = standard_normals(count, CURVED + 3).T
    root = np.linalg.cholesky(fit.covariance[:, :curved, :curved])
    spread = np.einsum("zst,tk->skz", root, normals[:curved])
    curves = fit.mean[:, :curved].T[:, None] + spread
    at_reading, state, rates = live_through(columns, law, sight, curves)
    straight = filter_walks(
        sight.lineup,
        target=sight.ln - at_reading,
        variance=sight.variance / fit.weight,
        to_reading=sight.to_reading,
        to_today=sight.to_today,
        level_mean=np.full(count, LEVEL_LN_MEAN),
        level_var=LEVEL_LN_SD**2,
    )
    # A date "about" may lie after today in a draw; its floor is then taken as fresh.
    state = FloorState.possible(state.haze, state.film, state.scratch)
    level, shock = straight.mean + _walks_apart(straight.covariance, normals[CURVED:])
    level[:, fit.readings == 0] = np.nan
    gloss = level + shock + ln_gloss(state, law)
    level += (band_scale - 1.0) * (gloss - gloss.mean(axis=0))
    return Draws(
        rates=Rates(**{part: _by_zone(getattr(rates, part)) for part in PARTS}),
        level=_by_zone(level),
        shock=_by_zone(shock),
        state=FloorState(**{part: _by_zone(getattr(state, part)) for part in PARTS}),
    )


def _walks_apart(covariance: Floats, normals: Floats) -> Floats:
    """(2, K, Z) how level and shock of each draw lie off their means; covariance (2, 2, Z)."""
    root = np.linalg.cholesky(np.moveaxis(covariance, -1, 0) + STEADY * np.eye(2))
    apart: Floats = np.einsum("zst,tk->skz", root, normals[:2])
    return apart


def _by_zone(column: Floats) -> Floats:
    return np.ascontiguousarray(column.T)


def walk_noise(count: int, days: int, law: WearLaw) -> tuple[Floats, Floats]:
    """The walks' way ahead for each draw, the same for all zones.

    Parameters
    ----------
    count : draws, K.
    days : days ahead; fewer days give the beginning of the same walk.

    Returns
    -------
    (K, days) drift of w from today to each day, cumulative; (K, days) increments of e.

    Assumption: independent normal increments a day. Draws come in mirrored pairs, and within a
    block of days the pairs are balanced, so that a few draws have the walks' spread exactly.
    """
    half = (count + 1) // 2
    random = np.random.Generator(np.random.PCG64(SEED_AHEAD))
    today = standard_normals(2 * half, CURVED + 3)
    basis = today[:half] - today[half:]
    block = min(BALANCED_DAYS, (half - basis.shape[1] - 2) // 2)
    drift, shock = np.zeros((half, 1)), np.zeros((half, 0))
    while drift.shape[1] <= days:
        if block < 1:
            made = random.standard_normal((half, 2))
        else:
            walked = np.column_stack([basis, drift[:, -1], shock.sum(axis=1)])
            made = _balanced(random.standard_normal((half, 2 * block)), walked)
        drift = np.column_stack([drift, drift[:, -1:] + np.cumsum(made[:, ::2], axis=1)])
        shock = np.column_stack([shock, made[:, 1::2]])
    drift = law.drift_sd * drift[:, 1 : days + 1] + law.day_sd * _day_effects(half, days)
    shock = law.shock_sd * shock[:, :days]
    return np.concatenate([drift, -drift])[:count], np.concatenate([shock, -shock])[:count]


def _day_effects(half: int, days: int) -> Floats:
    """(half, days) what single days do to the gloss, of unit spread, fading within weeks."""
    random = np.random.Generator(np.random.PCG64(SEED_DAYS))
    # Day by day, so that fewer days are the beginning of more.
    fresh = random.standard_normal((days, half)).T
    fresh /= np.sqrt((fresh**2).mean(axis=0))
    stays = np.exp(-1.0 / DAY_EFFECT_DAYS)
    effects = fresh
    for day in range(1, days):
        effects[:, day] = stays * effects[:, day - 1] + np.sqrt(1.0 - stays**2) * fresh[:, day]
    return effects


def _balanced(made: Floats, walked: Floats) -> Floats:
    """Increments of unit spread, uncorrelated with one another and with what went before."""
    across, scale, _ = np.linalg.svd(walked, full_matrices=False)
    across = across[:, scale > 1e-9 * max(scale.max(), 1.0)]
    apart, sign = np.linalg.qr(made - across @ (across.T @ made))
    steps: Floats = apart * np.sign(np.diag(sign)) * np.sqrt(made.shape[0])
    return steps
