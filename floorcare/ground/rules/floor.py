"""Sampled floors carried forward day by day: what the walk of the horizon and its trials stand on.

Arrays are (zones, draws); the same draws and the same noise serve every zone, so that one zone's
course never depends on which others are walked beside it.
"""

from dataclasses import dataclass, replace

import numpy as np

from floorcare.ground.trade.surface import Effect, WearLaw
from floorcare.ground.trade.treatment import Work
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

YEAR_OF_WEEKS = 364
"""Beyond the horizon the last 52 weeks' traffic and routine are taken to repeat. Assumption."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Course:
    """What will happen to Z zones of one surface whatever is decided, day 0 being tomorrow.

    law : the surface's law.
    thousand_passes : (Z, H).
    treatments : (work, effect, (Z, H) mask), in the order of one night; routines and fixed visits.
    drift : (K, H), cumulative surface drift of each draw since today, ln gloss.
    shocks : (K, H), haze shocks of each draw and day, ln gloss.
    promise_ln : (Z,), ln of the promised gloss; NaN where none is promised.
    seen_haze_kept : (Z,), share of the haze seen in the state the promise refers to.
    """

    law: WearLaw
    thousand_passes: Floats
    treatments: tuple[tuple[Work, Effect, Flags], ...]
    drift: Floats
    shocks: Floats
    promise_ln: Floats
    seen_haze_kept: Floats

    @property
    def days(self) -> int:
        """Length of the day axis."""
        return int(self.thousand_passes.shape[1])

    def on(self, day: int) -> int:
        """The column of a day, beyond the end the same weekday of the last 52 weeks."""
        if day < self.days:
            return day
        tail = min(YEAR_OF_WEEKS, self.days // 7 * 7 or self.days)
        return self.days - tail + (day - self.days) % tail


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Floor:
    """Some zones' sampled floors at the end of a day.

    zone : (n,), rows of the course these floors belong to.
    state, rates, level, shock : (n, K).
    """

    zone: Whole
    state: FloorState
    rates: Rates
    level: Floats
    shock: Floats

    def rows(self, index: Whole | Flags) -> "Floor":
        """The floors of some rows only."""
        return Floor(
            zone=self.zone[index],
            state=self.state.rows(index),
            rates=self.rates.rows(index),
            level=self.level[index],
            shock=self.shock[index],
        )

    def put(self, index: Whole, part: "Floor") -> None:
        """Write some rows' state back in place."""
        self.state.haze[index] = part.state.haze
        self.state.film[index] = part.state.film
        self.state.scratch[index] = part.state.scratch
        self.shock[index] = part.shock

    def treated(self, effect: Effect, where: Flags | None = None) -> "Floor":
        """The floors after a treatment of all rows, or of those in `where` (n,)."""
        mask = None if where is None else where[:, None]
        kept = self.shock * effect.haze_kept
        return replace(
            self,
            state=treat(self.state, effect, mask),
            shock=kept if mask is None else np.where(mask, kept, self.shock),
        )

    def treated_where(self, effect: Effect, where: Flags) -> "Floor":
        """The floors after a treatment of some draws only, `where` (n, K)."""
        shock = np.where(where, self.shock * effect.haze_kept, self.shock)
        return replace(self, state=treat(self.state, effect, where), shock=shock)


def worn(floor: Floor, course: Course, day: int) -> Floor:
    """The floors after one day's passes, before that day's treatments.

    Source: the wear model's own equations, ground/wear/model.
    """
    column = course.on(day)
    passes = course.thousand_passes[floor.zone, column][:, None]
    return replace(
        floor,
        state=expose(floor.state, floor.rates, course.law, passes),
        shock=floor.shock + course.shocks[:, column],
    )


def routinely_treated(floor: Floor, course: Course, day: int) -> Floor:
    """The floors after the day's routine and fixed treatments.

    Source: the surface's effects, in the order of one night.
    """
    column = course.on(day)
    for _, effect, mask in course.treatments:
        where = mask[floor.zone, column]
        if where.any():
            floor = floor.treated(effect, where)
    return floor


def keeps_promise(floor: Floor, course: Course, day: int) -> Flags:
    """(n, K): which draws show the promised look, seen in the state the promise refers to.

    Source: the wear model's own equations; the promise as agreed.
    """
    kept = course.seen_haze_kept[floor.zone][:, None]
    seen = replace(floor.state, haze=floor.state.haze * kept)
    drift = course.drift[:, min(day, course.days - 1)]
    gloss = floor.level + drift + floor.shock * kept + ln_gloss(seen, course.law)
    return ~(gloss < course.promise_ln[floor.zone][:, None])


def worn_a_week(floor: Floor, course: Course, day: int) -> Floor:
    """The floors after the week that starts on `day`, its routine laid in the middle.

    Assumption: seven days in two steps; for lives of months the day of a burnish does not matter.
    """
    days = np.array([course.on(day + i) for i in range(7)])
    floor = _worn_together(floor, course, days[:3])
    for _, effect, mask in course.treatments:
        where = np.asarray(mask[np.ix_(floor.zone, days)].any(axis=1))
        if where.any():
            floor = floor.treated(effect, where)
    return _worn_together(floor, course, days[3:])


def _worn_together(floor: Floor, course: Course, columns: Whole) -> Floor:
    # one exposure call adds one day's ageing; the other days' share is added here
    passes = course.thousand_passes[np.ix_(floor.zone, columns)].sum(axis=1)
    passes = passes + (columns.size - 1) * course.law.ageing
    return replace(
        floor,
        state=expose(floor.state, floor.rates, course.law, passes[:, None]),
        shock=floor.shock + course.shocks[:, columns].sum(axis=1),
    )
