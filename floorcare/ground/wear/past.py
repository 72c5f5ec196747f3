"""A floor's gloss on each day gone by, as the readings make it most probable."""

import numpy as np

from floorcare.ground.trade.surface import WearLaw
from floorcare.ground.wear.estimate import Fit
from floorcare.ground.wear.model import (
    Flags,
    Floats,
    FloorState,
    Whole,
    expose,
    ln_gloss,
    treat,
)
from floorcare.ground.wear.sight import CURVED, opened
from floorcare.ground.wear.solve import LEVEL_LN_MEAN, LEVEL_LN_SD

LEAST_KEPT = 1e-9
"""A treatment that takes all haze leaves so little of the shock walk, to keep logarithms finite."""


def past_gloss(fit: Fit, seen_haze_kept: Floats) -> Floats:
    """Gloss in GU of Z zones at the end of each of D days of history, the last of them today.

    Parameters
    ----------
    seen_haze_kept : (Z,), share of the haze seen in the state asked for: 1 as the floor lies.

    Returns
    -------
    (Z, D); NaN before a zone's first day and in zones without readings.

    Source: rates as estimated; the level and the two walks between readings by Gaussian-process
    regression on the walks' own covariance (Rasmussen & Williams, Gaussian Processes for Machine
    Learning, 2006, eq. 2.25), which is the smoother that belongs to the estimate's filter.
    """
    seen, at_reading = _lived(fit, seen_haze_kept)
    kept, moved_var = _work_on_walks(fit)
    gloss = np.full(seen.shape, np.nan)
    columns, sight = fit.columns, fit.sight
    for zone in np.unique(sight.zone).tolist():
        mine = np.flatnonzero(sight.zone == zone)
        rows = sight.reading[mine]
        start = int(columns.start_day[zone])
        level, shock = walks_between(
            fit.law,
            kept[zone, start:],
            moved_var[zone, start:],
            columns.reading_day[rows] - start,
            columns.reading_after_burnish[rows],
            sight.ln[mine] - at_reading[rows],
            sight.variance[mine] / fit.weight[mine],
        )
        gloss[zone, start:] = np.exp(level + shock * seen_haze_kept[zone] + seen[zone, start:])
    return gloss


def _lived(fit: Fit, seen_haze_kept: Floats) -> tuple[Floats, Floats]:
    """ln gloss relative to the level: (Z, D) as seen each evening, (R,) as the readings saw it."""
    columns, law = fit.columns, fit.law
    opening, wide = opened(columns, law, fit.mean[:, None, :CURVED].T)
    rates, state = wide.rows(0), opening.rows(0)
    seen = np.empty(columns.thousand_passes.shape)
    at_reading = np.full(columns.reading_ln.shape, np.nan)
    _read(at_reading, fit, -1, True, ln_gloss(state, law))
    for day in range(columns.days):
        lives = day >= columns.start_day
        state = _where(lives, expose(state, rates, law, columns.thousand_passes[:, day]), state)
        _read(at_reading, fit, day, False, ln_gloss(state, law))
        for effect, done in columns.treatments:
            state = treat(state, effect, lives & done[:, day])
        _read(at_reading, fit, day, True, ln_gloss(state, law))
        looked_at = FloorState(
            haze=state.haze * seen_haze_kept, film=state.film, scratch=state.scratch
        )
        seen[:, day] = ln_gloss(looked_at, law)
    return seen, at_reading


def _where(lives: Flags, new: FloorState, old: FloorState) -> FloorState:
    return FloorState(
        haze=np.where(lives, new.haze, old.haze),
        film=np.where(lives, new.film, old.film),
        scratch=np.where(lives, new.scratch, old.scratch),
    )


def _read(at_reading: Floats, fit: Fit, day: int, after: bool, ln: Floats) -> None:
    columns = fit.columns
    now = (columns.reading_day == day) & (columns.reading_after_burnish == after)
    at_reading[now] = ln[columns.reading_zone[now]]


def _work_on_walks(fit: Fit) -> tuple[Floats, Floats]:
    """(Z, D) each: the share of the shock walk that a day's treatments leave, and the variance by
    which they may have moved the level."""
    kept = np.ones(fit.columns.thousand_passes.shape)
    moved_var = np.zeros(kept.shape)
    for effect, done in fit.columns.treatments:
        kept[done] *= effect.haze_kept
        moved_var[done] += effect.level_sd**2
    return kept, moved_var


def walks_between(
    law: WearLaw,
    kept: Floats,
    moved_var: Floats,
    day: Whole,
    after: Flags,
    off: Floats,
    variance: Floats,
) -> tuple[Floats, Floats]:
    """The most probable level with its drift, and shock walk, of one zone on each evening.

    Parameters
    ----------
    kept : (D,), share of the shock walk that each day's treatments leave.
    moved_var : (D,), variance by which they may have moved the level.
    day, after : (n,), day of each reading, and whether it was taken after that day's treatments.
    off, variance : (n,), ln gloss read less that of the floor's state, and its error variance.

    Returns
    -------
    (D,) level and drift together, (D,) shock walk; ln GU.

    Source: Rasmussen & Williams 2006, eq. 2.25.
    """
    days = np.arange(kept.size)
    cut = np.concatenate([[0.0], np.cumsum(np.log(np.maximum(kept, LEAST_KEPT)))])
    # what is left in the evening of a shock that fell on an earlier day, (D, D)
    evening = np.tril(np.exp(np.minimum(cut[1:, None] - cut[None, :-1], 0.0)))
    eve = np.maximum(day, 0)
    before = np.exp(np.minimum(cut[eve, None] - cut[None, :-1], 0.0)) * (days <= day[:, None])
    read = np.where(after[:, None], evening[eve], before) * (day >= 0)[:, None]
    moved = np.concatenate([[0.0], np.cumsum(moved_var)])
    then = moved[day + after]
    level = _level(law, (days[:, None], moved[1:, None]), (day, then))
    among = _level(law, (day[:, None], then[:, None]), (day, then))
    among += law.shock_sd**2 * (read @ read.T) + np.diag(variance)
    pull = np.linalg.solve(among, off - LEVEL_LN_MEAN)
    shock = law.shock_sd**2 * (evening @ read.T)
    return LEVEL_LN_MEAN + level @ pull, shock @ pull


def _level(law: WearLaw, one: tuple[Whole, Floats], other: tuple[Whole, Floats]) -> Floats:
    """Covariance of the level with its drift and jumps at two moments (day, variance of jumps)."""
    days = 1.0 + np.minimum(one[0], other[0])
    together: Floats = LEVEL_LN_SD**2 + law.drift_sd**2 * days + np.minimum(one[1], other[1])
    return together
