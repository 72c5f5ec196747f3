"""Looks at floors prepared from their days: what lies behind each, gathered for all at once."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from floorcare.ground.trade.surface import NO_EFFECT, Effect
from floorcare.ground.wear.history import Coats, Looks, firsts, line_up
from floorcare.ground.wear.model import Factors, Flags, Floats, Whole, factors_of

HAZE_FORGOTTEN = 1e-3
"""Older haze no longer counts once treatments have left less than this share of it. Assumption."""


NOTHING_DONE = factors_of(NO_EFFECT)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Days:
    """Z zones over D days: what reaches the floors, and from which day on.

    thousand_passes : (Z, D), ageing not included.
    treatments : (effect, (Z, D) done) in the order they are applied within a day.
    start_day : (Z,), first day lived.
    ageing : thousand passes a day added.
    """

    thousand_passes: Floats
    treatments: Sequence[tuple[Effect, Flags]]
    start_day: Whole
    ageing: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Work:
    """Days with some treatments as flat places zone × D + day, ascending, and what they did."""

    place: Whole
    factors: dict[str, Floats]


def look_at(days: Days, zone: Whole, day: Whole, after: Flags) -> Looks:
    """Prepare looks at floors.

    Parameters
    ----------
    zone, day, after : (N,), sorted by zone, day and before/after the day's treatments. A look
        "after" on the day before `start_day` sees the opening.

    Assumption: a day's exposure comes before its treatments.
    """
    zones, span = days.thousand_passes.shape
    passed = np.cumsum(days.thousand_passes, axis=1, dtype=np.float64).ravel()
    start = np.arange(zones) * span + days.start_day
    clock = _Clock(
        span=span,
        ageing=days.ageing,
        passed=passed,
        start=start,
        opened=np.where(days.start_day > 0, passed[np.maximum(start - 1, 0)], 0.0),
        first_day=days.start_day,
    )
    look = zone * span + day
    by = [(factors_of(effect), done) for effect, done in days.treatments]
    cutting = [(b, done) for b, done in by if b.haze_kept != 1.0]
    coating = [(b, done) for b, done in by if replace(b, haze_kept=1.0) != NOTHING_DONE]
    cuts = _work_of(cutting, ("haze_kept",), clock)
    haze, walks, from_opening = _haze_windows(clock, cuts, zone, look, after)
    laid = _work_of(coating, ("film_kept", "film_added", "scratch_kept", "scratch_added"), clock)
    coats, epoch, since = _coats_of(clock, laid, zone, look, after)
    return Looks(
        zone=zone,
        coats=coats,
        epoch=epoch,
        coat_exposure=since,
        from_opening=from_opening,
        jump_var=_jumps(days, clock, zone, look, after),
        **haze,
        **walks,
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Clock:
    """Passes since day 0 at the end of each flat place, and where each zone's life begins."""

    span: int
    ageing: float
    passed: Floats
    start: Whole
    opened: Floats
    first_day: Whole

    def at(self, place: Whole, zone: Whole) -> Floats:
        """Exposure since the zone's opening at the end of a place; 0 before its first day."""
        days = place - self.start[zone] + 1
        lived = self.passed[np.maximum(place, 0)] - self.opened[zone] + self.ageing * days
        return np.where(days > 0, lived, 0.0)


def _work_of(work: Sequence[tuple[Factors, Flags]], names: Sequence[str], clock: _Clock) -> _Work:
    """The days of some treatments, each day's taken together."""
    if not work:
        nothing = np.zeros(0, dtype=np.int64)
        return _Work(place=nothing, factors={name: np.zeros(0) for name in names})
    somehow = work[0][1] if len(work) == 1 else np.any([done for _, done in work], axis=0)
    if np.any(clock.first_day > 0):
        somehow = somehow & (np.arange(clock.span) >= clock.first_day[:, None])
    place = np.flatnonzero(somehow)
    factors = {n: np.full(place.size, 0.0 if n.endswith("added") else 1.0) for n in names}
    for by, done in work:
        here = np.flatnonzero(done.ravel()[place]) if len(work) > 1 else slice(None)
        for name, so_far in factors.items():
            so_far[here] *= getattr(by, name.replace("added", "kept"))
            if name.endswith("added"):
                so_far[here] += getattr(by, name)
    return _Work(place=place, factors=factors)


def _haze_windows(
    clock: _Clock, cuts: _Work, zone: Whole, look: Whole, after: Flags
) -> tuple[dict[str, Floats], dict[str, Floats], Flags]:
    """The stretches of haze behind each look, the walks' way from the look before, and whether
    the oldest stretch begins at the opening."""
    # One place more, so that a zone without treatments has something to point at.
    place, kept_by = np.r_[cuts.place, 0], np.r_[cuts.factors["haze_kept"], 1.0]
    before = np.searchsorted(cuts.place, look + after)
    oldest = np.searchsorted(cuts.place, clock.start)[zone]
    first = firsts(zone)
    last_cut = np.where(first, oldest, np.roll(before, 1))
    last_look = np.where(first, clock.start[zone] - 1, np.roll(look, 1))
    newer, newer_place = clock.at(look, zone), look
    live = walking = np.ones(zone.size, dtype=np.bool_)
    left, share = np.ones(zone.size), np.ones(zone.size)
    shock_days, from_opening = np.zeros(zone.size), np.zeros(zone.size, dtype=np.bool_)
    exposures, kepts = [], []
    index = before - 1
    while live.any():
        has = live & (index >= oldest)
        cut = place[index]
        begun = np.where(has, clock.at(cut, zone), 0.0)
        kept = np.where(has, kept_by[index], 1.0)
        exposures.append(np.where(live, newer - begun, 0.0))
        kepts.append(kept)
        from_opening |= live & ~has
        if walking.any():
            since = walking & has & (index >= last_cut)
            began = np.where(since, cut, last_look)
            shock_days += np.where(walking, share**2 * (newer_place - began), 0.0)
            share = np.where(since, share * kept, share)
            walking, newer_place = since, began
        left = left * kept
        newer = begun
        live = has & (left > HAZE_FORGOTTEN)
        walking = walking & live
        index = np.maximum(index - 1, -1)
    haze = {
        "haze_exposure": np.array(exposures).reshape(len(exposures), zone.size),
        "haze_kept": np.array(kepts).reshape(len(kepts), zone.size),
    }
    walks = {
        "days": (look - last_look).astype(np.float64),
        "shock_kept": share,
        "shock_days": shock_days,
    }
    return haze, walks, from_opening


def _jumps(days: Days, clock: _Clock, zone: Whole, look: Whole, after: Flags) -> Floats:
    """Variance (N,) by which treatments may have moved the level since the zone's look before."""
    var = np.zeros(zone.size)
    for effect, done in days.treatments:
        if effect.level_sd > 0:
            place = _work_of([(NOTHING_DONE, done)], (), clock).place
            so_far = np.searchsorted(place, look + after)
            opened = np.searchsorted(place, clock.start)[zone]
            before = np.where(firsts(zone), opened, np.roll(so_far, 1))
            var += effect.level_sd**2 * (so_far - before)
    return var


def _coats_of(
    clock: _Clock, work: _Work, zone: Whole, look: Whole, after: Flags
) -> tuple[Coats, Whole, Floats]:
    """The coats, the coat row behind each look (-1 for the opening), and the exposure since."""
    own = work.place // clock.span
    at_coat = clock.at(work.place, own)
    coats = Coats(
        lineup=line_up(own, clock.start.size),
        exposure=at_coat - np.where(firsts(own), 0.0, np.roll(at_coat, 1)),
        **work.factors,
    )
    epoch = np.searchsorted(work.place, look + after) - 1
    epoch = np.where(epoch >= np.searchsorted(work.place, clock.start)[zone], epoch, -1)
    begun = np.where(epoch >= 0, np.r_[at_coat, 0.0][epoch], 0.0)
    return coats, epoch, clock.at(look, zone) - begun
