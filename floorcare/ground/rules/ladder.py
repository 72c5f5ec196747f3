"""The ladder with its escape: the mildest rung that keeps the promise for its worthwhile hold.

Escape: when a coat would live less than about a quarter of a re-polish's life, re-polish; climbing
one rung at a time for ever would recoat endlessly.
"""

from dataclasses import dataclass

import numpy as np

from floorcare.ground.rules.floor import (
    Course,
    Floor,
    keeps_promise,
    routinely_treated,
    worn,
    worn_a_week,
)
from floorcare.ground.trade.surface import Rung
from floorcare.ground.trade.treatment import Work
from floorcare.ground.wear.model import Flags, Floats, FloorState, Whole

LIFE_LOOK_DAYS = 3 * 364
"""How far ahead a re-polish's life is followed. Assumption."""

DAILY_LOOK_DAYS = 14
"""A trial goes day by day for so long, then week by week. Assumption."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Choice:
    """The rung taken for each of n zones.

    rung : (n,), index into the rungs tried, -1 where none is allowed.
    hold_days : (n, rungs), days each tried rung would keep the promise, NaN where not tried.
    escaped : (n,), a coat would have done, but not for long enough.
    """

    rung: Whole
    hold_days: Floats
    escaped: Flags


def break_days(floor: Floor, course: Course, day: int, to_days: Floats) -> Floats:
    """Days after `day` on which each draw first breaks the promise under the routine alone.

    Parameters
    ----------
    floor : n floors at the end of `day`.
    to_days : (n,), how far to look; a draw that keeps the promise so long gets that number.

    Returns
    -------
    (n, K), 1 for a break on the next day; the day before the last is what it held.

    Assumption: day by day for a fortnight, then week by week.
    """
    broken = np.repeat(to_days[:, None], floor.level.shape[1], axis=1).astype(float)
    alive = np.ones(broken.shape, dtype=bool)
    ahead = 0
    while ahead < to_days.max() and alive.any():
        floor, kept, ahead = looked_on(floor, course, day, ahead)
        now = alive & ~kept & (ahead < to_days[:, None])
        broken[now] = ahead
        alive &= kept
    return broken


def looked_on(floor: Floor, course: Course, day: int, ahead: int) -> tuple[Floor, Flags, int]:
    """A trial's next look: the floors under the routine, which keep the promise, days gone by.

    Parameters
    ----------
    floor : n floors at the end of `day` + `ahead`.

    Assumption: as `break_days`.
    """
    if ahead >= DAILY_LOOK_DAYS:
        floor = worn_a_week(floor, course, day + ahead + 1)
        return floor, keeps_promise(floor, course, day + ahead + 7), ahead + 7
    today = day + ahead + 1
    floor = worn(floor, course, today)
    kept = keeps_promise(floor, course, today)
    return routinely_treated(floor, course, today), kept, ahead + 1


def held_days(broken: Floats, confidence: Floats) -> Floats:
    """Days the promise is kept with the wanted confidence, (n,), from sampled breaks (n, K).

    Source: the empirical quantile of the sampled first passage, no interpolation.
    """
    draws = broken.shape[1]
    # at most (1 − q) of the draws may have broken
    may_break = np.floor((1.0 - confidence) * draws + 1e-9).astype(int)
    ordered = np.sort(broken, axis=1)
    first_too_many = np.minimum(may_break, draws - 1)
    return np.take_along_axis(ordered, first_too_many[:, None], axis=1)[:, 0]


def top_rung(rungs: tuple[Rung, ...]) -> int:
    """Index of the rung that renews the floor: the re-polish, else the last one.

    Source: the trade's ladder, common practice, no source.
    """
    works = [rung.work for rung in rungs]
    return works.index(Work.REPOLISH) if Work.REPOLISH in works else len(works) - 1


def least_worthwhile_days(rungs: tuple[Rung, ...]) -> int:
    """Days the top rung must keep a promise, or the promise is out of its reach.

    Assumption: as long as the rung below it is worth taking for.
    """
    return rungs[max(0, top_rung(rungs) - 1)].worthwhile_hold_days


def renewed_hold(
    floor: Floor, course: Course, rungs: tuple[Rung, ...], confidence: Floats
) -> Floats:
    """Days the promise is kept with the wanted confidence after the top rung, (n,).

    Parameters
    ----------
    floor : n floors today; their rates and levels count, their state is renewed.
    confidence : (n,), q.

    Assumption: looked at as far as the top rung is worth taking for.
    """
    top = rungs[top_rung(rungs)]
    look = np.full(floor.zone.shape, float(top.worthwhile_hold_days))
    start = renewed(floor, course, top)
    return held_days(break_days(start, course, -1, look + 1.0), confidence) - 1.0


def renewed(floor: Floor, course: Course, top: Rung) -> Floor:
    """The same floors with their state renewed by the top rung.

    Source: the wear model's own fresh floor.
    """
    return Floor(
        zone=floor.zone,
        state=FloorState.fresh(floor.level.shape, course.law),
        rates=floor.rates,
        level=floor.level,
        shock=floor.shock * top.effect.haze_kept,
    )


def repolish_life(floor: Floor, course: Course, repolish: Rung) -> Floats:
    """Expected days a re-polish would keep the promise, (n,), looked at for three years.

    Assumption: traffic and routine repeat after the horizon.
    """
    start = renewed(floor, course, repolish)
    look = np.full(floor.zone.shape, float(LIFE_LOOK_DAYS))
    life: Floats = break_days(start, course, -1, look).mean(axis=1)
    return life


def choose_rung(
    floor: Floor,
    course: Course,
    day: int,
    *,
    rungs: tuple[Rung, ...],
    allowed: Flags,
    confidence: Floats,
    until_next: Floats,
    life: Floats,
    escape_share: float,
    last_resort: Flags,
) -> Choice:
    """The mildest allowed rung that is worth taking tonight, for each of n zones.

    Parameters
    ----------
    floor, day : n floors at the end of the day, before the rung; rungs from mild to aggressive.
    allowed : (n, rungs); confidence : (n,), q; life : (n,), expected days of a re-polish.
    until_next : (n,), days to the next opportunity, which every rung must bridge.
    last_resort : (n,), whether the last allowed rung may be taken though it does not hold.

    Source: the trade's ladder, common practice; its days are the surface's Assumptions.
    """
    n = floor.zone.size
    rung = np.full(n, -1)
    hold = np.full((n, len(rungs)), np.nan)
    escaped = np.zeros(n, dtype=bool)
    last_allowed = np.where(
        allowed.any(axis=1), len(rungs) - 1 - np.argmax(allowed[:, ::-1], axis=1), -1
    )
    for r, entry in enumerate(rungs):
        trying = np.flatnonzero((rung < 0) & allowed[:, r])
        if trying.size == 0:
            continue
        if entry.work is Work.REPOLISH or (last_allowed[trying] == r).all():
            trying = trying[last_resort[trying]]
            rung[trying] = r  # nothing above to compare with: no trial needed
            hold[trying, r] = life[trying] if entry.work is Work.REPOLISH else np.nan
            continue
        wanted = np.maximum(entry.worthwhile_hold_days, until_next[trying])
        quarter = escape_share * life[trying] if entry.work is Work.RECOAT else None
        held, lives_on = _trial(
            floor.rows(trying), course, day, entry, wanted, confidence[trying], quarter
        )
        hold[trying, r] = held
        topmost = (last_allowed[trying] == r) & last_resort[trying]
        escaped[trying[(held >= wanted) & ~lives_on & ~topmost]] = True
        rung[trying[((held >= wanted) & lives_on) | topmost]] = r
    return Choice(rung=rung, hold_days=hold, escaped=escaped)


def _trial(
    floor: Floor,
    course: Course,
    day: int,
    rung: Rung,
    wanted: Floats,
    confidence: Floats,
    quarter: Floats | None,
) -> tuple[Floats, Flags]:
    """(n,) days the rung keeps the promise, and whether it is expected to outlive `quarter`."""
    look = wanted if quarter is None else np.maximum(wanted, np.ceil(2.0 * quarter))
    broken = break_days(floor.treated(rung.effect), course, day, look + 1.0)
    held = held_days(broken, confidence) - 1.0
    if quarter is None:
        return held, np.ones(held.shape, dtype=bool)
    return held, broken.mean(axis=1) >= quarter
