"""Futures of many floors: each takes a draw of the zone's floor today and lives it day by day.

One future of a zone is the same floor, the same traffic and the same walks under every plan, so
that plans are compared in pairs. Zones draw apart from one another: what makes one zone's future
bad says nothing of its neighbour's.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from zlib import crc32

import numpy as np
from numpy.typing import NDArray

from floorcare.ground.rules.floor import Course
from floorcare.ground.trade.surface import Effect, WearLaw
from floorcare.ground.wear.draws import Draws, walk_noise
from floorcare.ground.wear.model import (
    Flags,
    Floats,
    FloorState,
    Rates,
    Whole,
    expose,
    ln_gloss,
    treat,
)

Digests = NDArray[np.uint64]

READING_NUMBER = 1_000
"""Numbers drawn for readings come after those that shuffle the draws."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Futures:
    """K futures of each of Z zones of one surface, day 0 being tomorrow.

    digest : (Z,), a number of the zone's own name; its futures depend on nothing else.
    order : (Z, K), which draw each future takes.
    rates, level, shock, state : (Z, K), the true floors today.
    drift, shocks : (D, K), the walks of each draw by day.
    course : what happens whatever is decided, and the promise.
    care_days : (Z,), days the zone stays under care.
    """

    digest: Digests
    order: Whole
    rates: Rates
    level: Floats
    shock: Floats
    state: FloorState
    drift: Floats
    shocks: Floats
    course: Course
    care_days: Whole

    @property
    def law(self) -> WearLaw:
        """The surface's law."""
        return self.course.law


def futures_of(
    names: Sequence[str], draws: Draws, course: Course, care_days: Whole, count: int
) -> Futures:
    """The futures of some zones.

    Parameters
    ----------
    names : (Z,), SITE/ZONE of each.
    draws : `count` draws a zone or more; the first `count` are taken.
    course : of the same zones; its own walks are not used.

    Raises
    ------
    ValueError : fewer than one future.
    """
    if count < 1:
        raise ValueError(f"{count} futures: at least 1 is needed")
    digest = np.array([crc32(name.encode()) for name in names], dtype=np.uint64)
    order = np.argsort(_scattered(digest, 0, count), axis=1, kind="stable")

    def own(column: Floats) -> Floats:
        return np.take_along_axis(column[:, :count], order, axis=1)

    drift, shocks = walk_noise(count, course.days, course.law)
    rates, state = draws.rates, draws.state
    return Futures(
        digest=digest,
        order=order,
        rates=Rates(haze=own(rates.haze), film=own(rates.film), scratch=own(rates.scratch)),
        level=own(draws.level),
        shock=own(draws.shock),
        state=FloorState(haze=own(state.haze), film=own(state.film), scratch=own(state.scratch)),
        drift=np.ascontiguousarray(drift.T),
        shocks=np.ascontiguousarray(shocks.T),
        course=course,
        care_days=care_days,
    )


def _scattered(digest: Digests, number: int, count: int) -> Digests:
    """(Z, count) numbers without pattern, the same for a zone whichever others are asked for.

    Source: the finaliser of splitmix64 (Steele, Lea & Flood 2014, OOPSLA, doi 10.1145/2660193).
    """
    mixed = (digest[:, None] << np.uint64(32)) + np.uint64(number * 1_000_003)
    mixed = mixed + np.arange(1, count + 1, dtype=np.uint64) * np.uint64(0x9E3779B97F4A7C15)
    mixed = (mixed ^ (mixed >> np.uint64(30))) * np.uint64(0xBF58476D1CE4E5B9)
    mixed = (mixed ^ (mixed >> np.uint64(27))) * np.uint64(0x94D049BB133111EB)
    found: Digests = mixed ^ (mixed >> np.uint64(31))
    return found


def reading_errors(futures: Futures, number: int, sd: float) -> Floats:
    """(Z, K) errors of the reading round of that number, ln gloss."""
    from scipy.special import ndtri

    scattered = _scattered(futures.digest, READING_NUMBER + number, futures.level.shape[1])
    errors: Floats = sd * ndtri((scattered.astype(np.float64) + 0.5) / 2.0**64)
    return errors


def days_of(mask: Flags) -> Flags:
    """(D,) days on which any zone of (Z, D) is touched."""
    touched: Flags = np.asarray(mask.any(axis=0))
    return touched


class Lives:
    """The true floors as they go from day to day under one plan.

    kept_days : (Z, K), days under care on which the floor showed the promised look.
    """

    def __init__(self, futures: Futures) -> None:
        self.futures = futures
        self.state, self.shock = futures.state, futures.shock
        self.kept_days = np.zeros(futures.level.shape, dtype=np.int64)
        self._busy = [days_of(mask) for _, _, mask in futures.course.treatments]

    def live(self, day: int) -> None:
        """One day: its passes, the look at the promise, then the routine of the night."""
        futures, course = self.futures, self.futures.course
        passes = course.thousand_passes[:, day, None]
        self.state = expose(self.state, futures.rates, futures.law, passes)
        self.shock = self.shock + futures.shocks[day][futures.order]
        self.kept_days += self._in_promise(day) & (day < futures.care_days[:, None])
        for (_, effect, mask), busy in zip(course.treatments, self._busy, strict=True):
            if busy[day]:
                self.treat(effect, mask[:, day, None])

    def treat(self, effect: Effect, where: Flags) -> None:
        """A treatment of some floors, (Z, K) or (Z, 1)."""
        self.state = treat(self.state, effect, where)
        self.shock = np.where(where, self.shock * effect.haze_kept, self.shock)

    def ln_seen(self, day: int) -> Floats:
        """(Z, K) ln gloss of the floors as they lie."""
        level = self.futures.level + self.futures.drift[day][self.futures.order]
        seen: Floats = level + self.shock + ln_gloss(self.state, self.futures.law)
        return seen

    def _in_promise(self, day: int) -> Flags:
        futures, course = self.futures, self.futures.course
        kept = course.seen_haze_kept[:, None]
        seen = FloorState(
            haze=self.state.haze * kept, film=self.state.film, scratch=self.state.scratch
        )
        level = futures.level + futures.drift[day][futures.order]
        shown = level + self.shock * kept + ln_gloss(seen, futures.law)
        in_promise: Flags = shown >= course.promise_ln[:, None]
        return in_promise


def live_by_calendar(futures: Futures, effects: Sequence[Effect], masks: Flags) -> Whole:
    """Days in promise (Z, K) when the nights are fixed beforehand.

    Parameters
    ----------
    effects : (W,), of the works in the order of one night.
    masks : (W, Z, D), which work falls on which night.
    """
    lives = Lives(futures)
    busy = [days_of(mask) for mask in masks]
    for day in range(futures.course.days):
        lives.live(day)
        for w, effect in enumerate(effects):
            if busy[w][day]:
                lives.treat(effect, masks[w, :, day, None])
    return lives.kept_days
