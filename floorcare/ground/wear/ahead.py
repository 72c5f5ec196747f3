"""Gloss to come and first days below promise for thousands of zones, along the forecast's tangent.

The most probable floor is followed ahead and the uncertainty along its tangent with it: one pass
over the zones where `forecast` follows every draw through the law.
"""

from collections.abc import Iterator
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from floorcare.ground.trade.surface import WearLaw
from floorcare.ground.wear.draws import STEADY, standard_normals, walk_noise
from floorcare.ground.wear.estimate import Fit
from floorcare.ground.wear.forecast import QUANTILES, ROUTINE_HAZE_KEPT, Plan
from floorcare.ground.wear.history import Looks
from floorcare.ground.wear.looking import Days, look_at
from floorcare.ground.wear.model import (
    Flags,
    Floats,
    FloorState,
    Rates,
    Whole,
    expose,
    ln_gloss,
    ln_of_coat,
    ln_of_haze,
    treat,
)
from floorcare.ground.wear.sight import CURVED, LEVEL, SHIFT, shifted, today_under
from floorcare.ground.wear.sight import SHOCK as SHOCK_PLACE

PATHS = 64
"""Paths a zone for its first passage. Assumption: a quantile then wanders by a few days."""
FAST = np.float32
"""Precision of the paths: a millionth of ln gloss is enough."""
Fast = NDArray[np.float32]


def gloss_ahead(
    fit: Fit,
    thousand_passes: Floats,
    treatments: Plan,
    ahead: Whole,
    *,
    level: float = 0.90,
    after: bool = False,
    band_scale: Floats | float = 1.0,
) -> tuple[Floats, Floats, Floats]:
    """Median and band (Z, A) in GU on some days ahead; the gloss itself, without a reading's error.

    Parameters
    ----------
    thousand_passes : (Z, H), ageing not included; column 0 is tomorrow.
    treatments : the plan of work.
    ahead : (A,), days after today, 1..H; others are NaN.
    level : share of futures inside the band, 0..1.
    after : look after the day's treatments instead of before.
    band_scale : (Z,), factor on the band's width.

    Source: the normal law of ln gloss along the tangent (delta method); walks exactly.
    """
    zones, known = fit.readings.size, thousand_passes.shape[1]
    answer = np.full((3, zones, ahead.size), np.nan)
    within = np.flatnonzero((ahead >= 1) & (ahead <= known))
    days = np.unique(ahead[within])
    if not days.size:
        return answer[0], answer[1], answer[2]
    law = fit.law
    looks = look_at(
        Days(
            thousand_passes=thousand_passes[:, : int(days[-1])],
            treatments=[(effect, done[:, : int(days[-1])]) for effect, done in treatments],
            start_day=np.zeros(zones, dtype=np.int64),
            ageing=law.ageing,
        ),
        np.repeat(np.arange(zones), days.size),
        np.tile(days - 1, zones),
        np.full(zones * days.size, after),
    )
    middle, spread = _walked(fit, looks, *_tangent(fit, looks, law), days.size)
    edge = NormalDist().inv_cdf((1.0 + level) / 2.0) * spread * np.atleast_1d(band_scale)[:, None]
    place = np.searchsorted(days, ahead[within])
    for part, ln in enumerate((middle, middle - edge, middle + edge)):
        answer[part][:, within] = np.exp(ln)[:, place]
    return answer[0], answer[1], answer[2]


def _tangent(fit: Fit, looks: Looks, law: WearLaw) -> tuple[Floats, Floats]:
    """Relative ln gloss at the looks (N,), and its slopes (curved, N)."""
    today, rates = _floors(fit)
    ln = ln_gloss(looks.state(today, rates, law), law)
    return ln[0], (ln[1:] - ln[0]) / SHIFT


def _floors(fit: Fit) -> tuple[FloorState, Rates]:
    """Today's most probable floor, and it again with each curved number moved: (1 + curved, Z)."""
    curved = CURVED if fit.columns.opening_unsure else 2
    moved = shifted(fit.mean[:, :curved].T, list(range(curved)))
    state, rates = today_under(fit.columns, fit.law, fit.sight, moved)
    return FloorState.possible(state.haze, state.film, state.scratch), rates


def first_day_below(
    fit: Fit,
    thousand_passes: Floats,
    treatments: Plan,
    promise_gu: Floats,
    quantiles: tuple[float, ...] = QUANTILES,
    *,
    seen_haze_kept: float = ROUTINE_HAZE_KEPT,
    band_scale: Floats | float = 1.0,
    draws: int = PATHS,
) -> Floats:
    """Days until each zone first falls below its promise, quantiles (Z, Q).

    Parameters
    ----------
    thousand_passes, treatments, band_scale : as for `gloss_ahead`.
    promise_gu : (Z,).
    quantiles : probabilities asked for.
    seen_haze_kept : as for `forecast.first_below`.
    draws : paths a zone.

    Returns
    -------
    1 = tomorrow, also when already below; inf where not within the days given; NaN without
    readings or promise.

    Source: first passage by sampled paths, as `forecast.first_below`, each along the tangent.
    """
    law, zones, days = fit.law, fit.readings.size, thousand_passes.shape[1]
    apart, level, shock = _paths_today(fit, draws, band_scale)
    noise, increments = (part.astype(FAST) for part in walk_noise(draws, days, law))
    wide = np.broadcast_to(np.asarray(band_scale, dtype=FAST), (zones,))
    with np.errstate(divide="ignore", invalid="ignore"):
        limit = np.log(promise_gu) - fit.mean[:, LEVEL]
    broken = np.zeros((draws, zones), dtype=np.bool_)
    by_day = np.empty((zones, days), dtype=FAST)
    kept_seen = FAST(seen_haze_kept)
    ahead = _days_ahead(fit, thousand_passes, treatments, seen_haze_kept)
    for day, (ln, slope, kept) in enumerate(ahead):
        if day == 0:
            broken |= _below(level + kept_seen * shock, apart, slope, limit - ln)
        shock = shock + increments[:, day, None] * wide
        walked = level + kept_seen * shock + noise[:, day, None] * wide
        broken |= _below(walked, apart, slope, limit - ln)
        by_day[:, day] = broken.mean(axis=0)
        shock = shock * kept
    found = _reached(by_day, quantiles, draws)
    found[~np.isfinite(limit)] = np.nan
    return found


def _reached(by_day: Fast, quantiles: tuple[float, ...], draws: int) -> Floats:
    """(Z, Q), the first day by which so many of the paths have fallen below; inf for none."""
    found = np.full((by_day.shape[0], len(quantiles)), np.inf)
    if not by_day.size:
        return found
    for place, share in enumerate(quantiles):
        # Half a path's weight less: the share of paths is a step function.
        reached = by_day >= share - 0.5 / draws
        found[:, place] = np.where(reached.any(axis=1), reached.argmax(axis=1) + 1.0, np.inf)
    return found


def _below(value: Fast, apart: Fast, slope: Fast, limit: Floats) -> Flags:
    """(K, Z) which paths lie below the limit (Z,), all relative to the most probable level."""
    for own, along in zip(apart, slope, strict=True):
        value = value + own * along
    below: Flags = value < limit.astype(FAST)
    return below


def _paths_today(fit: Fit, draws: int, band_scale: Floats | float) -> tuple[Fast, Fast, Fast]:
    """How far each path's curved numbers (curved, K, Z) and level (K, Z) lie from the most
    probable, and its shock (K, Z)."""
    curved = CURVED if fit.columns.opening_unsure else 2
    own = [*range(curved), LEVEL, SHOCK_PLACE]
    covariance = fit.covariance[np.ix_(range(fit.readings.size), own, own)]
    root = np.linalg.cholesky(covariance + STEADY * np.eye(curved + 2))
    root *= np.atleast_1d(band_scale)[:, None, None]
    normals = standard_normals(draws, CURVED + 3)[:, : curved + 2].astype(FAST)
    apart = np.einsum("zst,kt->skz", root.astype(FAST), normals)
    shock = apart[curved + 1] + fit.mean[:, SHOCK_PLACE].astype(FAST)
    return apart[:curved], apart[curved], shock


def _days_ahead(
    fit: Fit, thousand_passes: Floats, treatments: Plan, seen_haze_kept: float
) -> Iterator[tuple[Floats, Fast, Fast]]:
    """Each day before its treatments: ln gloss as seen (Z,), its slopes (curved, Z), and the share
    of a shock the treatments leave."""
    law = fit.law
    state, rates = _floors(fit)
    for day in range(thousand_passes.shape[1]):
        state = expose(state, rates, law, thousand_passes[:, day])
        ln = ln_of_haze(seen_haze_kept * state.haze, law)
        ln += ln_of_coat(state.film, state.scratch, law)
        kept = np.ones(fit.readings.size, dtype=FAST)
        for effect, done in treatments:
            where = done[:, day]
            if where.any():
                state = treat(state, effect, where)
                kept[where] *= effect.haze_kept
        yield ln[0], ((ln[1:] - ln[0]) / SHIFT).astype(FAST), kept


def _walked(fit: Fit, looks: Looks, ln: Floats, slope: Floats, days: int) -> tuple[Floats, Floats]:
    """Median and sd (Z, days) of ln gloss, walks counted."""
    zones, curved = fit.readings.size, slope.shape[0]
    way = looks.transit(fit.law)
    kept, drift, shock = (
        part.reshape(zones, days) for part in (way.shock_kept, way.drift_var, way.shock_var)
    )
    middle, spread = np.empty((2, zones, days))
    so_far_kept, so_far_var = np.ones(zones), np.zeros(zones)
    own = [*range(curved), LEVEL, SHOCK_PLACE]
    covariance = np.moveaxis(fit.covariance[np.ix_(range(zones), own, own)], 0, -1)
    for place in range(days):
        so_far_kept = so_far_kept * kept[:, place]
        so_far_var = so_far_var * kept[:, place] ** 2 + shock[:, place]
        row = np.concatenate(
            [
                slope.reshape(curved, zones, days)[:, :, place],
                np.ones((1, zones)),
                so_far_kept[None],
            ]
        )
        seen = (covariance * row).sum(axis=1)
        gained = drift[:, : place + 1].sum(axis=1) + so_far_var + fit.law.day_sd**2
        spread[:, place] = np.sqrt((row * seen).sum(axis=0) + gained)
        middle[:, place] = (
            ln.reshape(zones, days)[:, place]
            + fit.mean[:, LEVEL]
            + so_far_kept * fit.mean[:, SHOCK_PLACE]
        )
    return middle, spread
