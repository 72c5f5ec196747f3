"""Gloss to come under a plan of work: bands for each day, and the first day below promise."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from floorcare.ground.trade.surface import Effect, WearLaw
from floorcare.ground.wear.draws import Draws, walk_noise
from floorcare.ground.wear.model import Flags, Floats, FloorState, expose, ln_gloss, treat

Plan = tuple[tuple[Effect, Flags], ...]
"""Treatments to come: (effect, (Z, H) on which days), in the order applied within a day."""

LEVELS = (0.5, 0.8, 0.9)
"""Bands shown by default."""
QUANTILES = (0.05, 0.5, 0.95)
"""Quantiles of the first day below promise given by default."""
ROUTINE_HAZE_KEPT = 0.3
"""Haze left by a routine burnish, under which promises are looked at. Assumption."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Bands:
    """Gloss in GU for Z zones on H days, the first of them tomorrow; NaN without readings.

    levels : share of futures inside each band.
    median : (Z, H); lower, upper : (levels, Z, H).
    """

    levels: tuple[float, ...]
    median: Floats
    lower: Floats
    upper: Floats


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FirstBelow:
    """When a zone first falls below its promise.

    prob_by_day : (Z, H), probability that it has done so by that day; NaN without promise or
        readings.
    quantiles : the probabilities asked for.
    days : (Z, quantiles), days from today (1 = tomorrow, and 1 if already below); inf where not
        within H days, NaN without promise or readings.
    """

    prob_by_day: Floats
    quantiles: tuple[float, ...]
    days: Floats


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DayAhead:
    """All draws (Z, K) on one day ahead: ln gloss is base + shock + ln_gloss(state)."""

    base: Floats
    shock: Floats
    state: FloorState


def walk_ahead(
    draws: Draws, law: WearLaw, thousand_passes: Floats, treatments: Plan
) -> Iterator[tuple[DayAhead, DayAhead]]:
    """Each day ahead, before and after its treatments.

    Parameters
    ----------
    thousand_passes : (Z, H), ageing not included.
    treatments : the plan of work.

    Assumption: the plan is carried out as given and each treatment does what its effect says.
    """
    drift, shocks = walk_noise(draws.count, thousand_passes.shape[1], law)
    state, shock = draws.state, draws.shock
    for day in range(thousand_passes.shape[1]):
        base = draws.level + drift[:, day]
        shock = shock + shocks[:, day]
        state = expose(state, draws.rates, law, thousand_passes[:, day, None])
        before = DayAhead(base=base, shock=shock, state=state)
        for effect, days in treatments:
            where = days[:, day, None]
            state = treat(state, effect, where)
            shock = np.where(where, shock * effect.haze_kept, shock)
        yield before, DayAhead(base=base, shock=shock, state=state)


def bands(
    draws: Draws,
    law: WearLaw,
    thousand_passes: Floats,
    treatments: Plan,
    levels: tuple[float, ...] = LEVELS,
    *,
    after: bool = False,
) -> Bands:
    """Gloss of each day ahead with its bands; the gloss itself, without a reading's error.

    Parameters
    ----------
    thousand_passes : (Z, H), ageing not included; column 0 is tomorrow.
    treatments : the plan of work.
    levels : share of futures inside each band, 0..1.
    after : look after the day's treatments instead of before.

    Assumption: bands are quantiles of the draws (Hazen's positions).
    """
    tails = [(1.0 - level) / 2.0 for level in levels]
    wanted = np.array([0.5, *tails, *(1.0 - tail for tail in tails)])
    gloss = np.empty((wanted.size, *thousand_passes.shape))
    for day, (before, behind) in enumerate(walk_ahead(draws, law, thousand_passes, treatments)):
        night = behind if after else before
        ln = night.base + night.shock + ln_gloss(night.state, law)
        gloss[:, :, day] = _quantiles(ln, wanted)
    np.exp(gloss, out=gloss)
    split = 1 + len(levels)
    return Bands(levels=levels, median=gloss[0], lower=gloss[1:split], upper=gloss[split:])


def _quantiles(ln: Floats, wanted: Floats) -> Floats:
    """(wanted, Z) quantiles over draws by Hazen's positions; NaN rows stay NaN."""
    count = ln.shape[1]
    place = np.clip(wanted * count - 0.5, 0.0, count - 1.0)
    low = np.floor(place).astype(np.int64)
    high = np.minimum(low + 1, count - 1)
    ordered = np.sort(ln, axis=1)
    part: Floats = (ordered[:, low] + (place - low) * (ordered[:, high] - ordered[:, low])).T
    return part


def first_below(
    draws: Draws,
    law: WearLaw,
    thousand_passes: Floats,
    treatments: Plan,
    promise_gu: Floats,
    seen_haze_kept: float | Floats = ROUTINE_HAZE_KEPT,
    quantiles: tuple[float, ...] = QUANTILES,
) -> FirstBelow:
    """When each zone first falls below its promise, by following every draw.

    Parameters
    ----------
    thousand_passes : (Z, H), ageing not included; column 0 is tomorrow.
    treatments : the plan of work.
    promise_gu : (Z,), NaN where nothing is promised.
    seen_haze_kept : share of haze and shock left when the promise is looked at: 0.3 as after a
        routine burnish, 1.0 as it lies; one for all zones, or (Z, 1).
    quantiles : probabilities of the first day, ascending.

    The look is before that day's treatments.

    Source: first passage by sampled paths, checked against the inverse Gaussian law of a Wiener
    process with drift; the running maximum of each day's own probability would come too late,
    since a path that dips and recovers has broken the promise all the same.
    """
    with np.errstate(divide="ignore"):
        limit = np.log(promise_gu)[:, None]
    today = DayAhead(base=draws.level, shock=draws.shock, state=draws.state)
    broken = _seen(today, law, seen_haze_kept) < limit
    by_day = np.empty(thousand_passes.shape)
    for day, (before, _) in enumerate(walk_ahead(draws, law, thousand_passes, treatments)):
        broken = broken | (_seen(before, law, seen_haze_kept) < limit)
        by_day[:, day] = broken.mean(axis=1)
    silent = np.isnan(promise_gu) | np.isnan(draws.level).any(axis=1)
    by_day[silent] = np.nan
    days = np.full((promise_gu.size, len(quantiles)), np.inf)
    for place, share in enumerate(quantiles if by_day.size else ()):
        reached = by_day >= share
        days[:, place] = np.where(reached.any(axis=1), reached.argmax(axis=1) + 1.0, np.inf)
    days[silent] = np.nan
    return FirstBelow(prob_by_day=by_day, quantiles=quantiles, days=days)


def _seen(night: DayAhead, law: WearLaw, haze_kept: float | Floats) -> Floats:
    state = FloorState(
        haze=night.state.haze * haze_kept, film=night.state.film, scratch=night.state.scratch
    )
    ln: Floats = night.base + night.shock * haze_kept + ln_gloss(state, law)
    return ln
