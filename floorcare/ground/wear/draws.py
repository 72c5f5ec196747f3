"""Draws of each zone's floor today and of the walks to come.

All zones are drawn with the same fixed numbers, so a zone's draws never depend on which other
zones are looked at, and two runs agree.
"""

from dataclasses import dataclass

import numpy as np

from floorcare.ground.trade.surface import WearLaw
from floorcare.ground.wear.estimate import CURVED, LEVEL_LN_MEAN, LEVEL_LN_SD, Fit, live_through
from floorcare.ground.wear.filter import run_filter
from floorcare.ground.wear.model import Floats, FloorState, Rates

DRAWS = 128
"""Draws a zone. Assumption: a band's edge then wanders by about a fifth of its sd."""
SEED_TODAY, SEED_AHEAD = 20011, 20021
"""Fixed, so that the same inputs give the same plan."""
BALANCED_DAYS = 27
"""Days ahead whose increments are balanced together; as many as 128 draws allow. Assumption."""
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


def draw(fit: Fit, count: int = DRAWS) -> Draws:
    """Draw floors that agree with what the readings say.

    Rates and opening state are drawn from their normal posterior and history is lived through
    again with each; level and walks are then drawn from what the readings leave of them given that
    history, which is exact: the readings see them in a straight line.

    Parameters
    ----------
    count : draws a zone, K >= 1.

    Raises
    ------
    ValueError : count below 1.

    Assumption: rates and opening offsets are jointly normal given the readings.
    """
    if count < 1:
        raise ValueError(f"{count} draws: at least 1 is needed")
    columns, law, sight = fit.columns, fit.law, fit.sight
    normals = standard_normals(count, CURVED + 3)
    root = np.linalg.cholesky(fit.covariance[:, :CURVED, :CURVED])
    curved = fit.mean[:, :CURVED, None] + root @ normals[:, :CURVED].T
    at_reading, state, rates = live_through(columns, law, fit.steps, curved)
    before = np.zeros((columns.zones, 3, count))
    before[:, 0] = LEVEL_LN_MEAN
    spread = np.zeros((columns.zones, 3, 3))
    spread[:, 0, 0] = LEVEL_LN_SD**2
    straight = run_filter(
        sight.lineup,
        row=np.ones((sight.ln.size, 3)),
        target=sight.ln[:, None] - at_reading[sight.reading],
        variance=sight.variance / fit.weight,
        to_reading=sight.to_reading,
        to_today=sight.to_today,
        mean=before,
        covariance=spread,
    )
    root = np.linalg.cholesky(straight.covariance + STEADY * np.eye(3))
    level, drift, shock = np.moveaxis(straight.mean + root @ normals[:, CURVED:].T, 1, 0)
    level = np.where(fit.readings[:, None] > 0, level + drift, np.nan)
    return Draws(rates=rates, level=level, shock=shock, state=_possible(state))


def _possible(state: FloorState) -> FloorState:
    """A date "about" may lie after today in a draw; its floor is then taken as fresh."""
    return FloorState(
        haze=np.clip(state.haze, 0.0, 1.0),
        film=np.clip(state.film, 0.0, 1.0),
        scratch=np.maximum(state.scratch, 0.0),
    )


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
    drift, shock = drift[:, 1 : days + 1], shock[:, :days]
    return (
        law.drift_sd * np.concatenate([drift, -drift])[:count],
        law.shock_sd * np.concatenate([shock, -shock])[:count],
    )


def _balanced(made: Floats, walked: Floats) -> Floats:
    """Increments of unit spread, uncorrelated with one another and with what went before."""
    across, scale, _ = np.linalg.svd(walked, full_matrices=False)
    across = across[:, scale > 1e-9 * max(scale.max(), 1.0)]
    apart, sign = np.linalg.qr(made - across @ (across.T @ made))
    steps: Floats = apart * np.sign(np.diag(sign)) * np.sqrt(made.shape[0])
    return steps
