"""Measured wear against a fixed calendar, on the same zones and in the same futures."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np

from floorcare.ground.rules.floor import Course
from floorcare.ground.schedule.comparison.cost import VisitCosts
from floorcare.ground.schedule.comparison.futures import live_by_calendar
from floorcare.ground.schedule.comparison.parts import Part
from floorcare.ground.schedule.comparison.tally import Count, Tally, Unit, nights_by_number
from floorcare.ground.schedule.comparison.wear import LivedByWear, live_by_wear
from floorcare.ground.wear.model import Flags, Whole

DENSEST, SPAREST = 0.05, 8.0
"""A calendar's gaps are stretched between these factors in search of the same look. Assumption."""
TUNING_STEPS = 11
"""Calendars tried at most; the last leaves one per cent of the factor open. Assumption."""
SAME_LOOK = 0.001
"""Shares in promise this near are the same look. Assumption."""

Tell = Callable[[int, int], None]


class Way(StrEnum):
    """The plans that are compared."""

    WEAR = "measured wear"
    AGREED = "calendar as agreed"
    HINDSIGHT = "calendar tuned in hindsight"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Comparison:
    """Three plans on the same units and futures.

    units : (site, contract) of each row. zones, zone_days : (U,).
    plans : what each plan came to.
    unpromised : measured wear without the rhythms that were sold; None where none was.
    factor : by which hindsight stretched every gap of the calendar that was not promised.
    reached : whether it came to the same look; else the factor is the nearest that was tried.
    """

    units: tuple[Unit, ...]
    zones: Whole
    zone_days: Whole
    plans: Mapping[Way, Tally]
    unpromised: Tally | None
    factor: float
    reached: bool


def compare(
    parts: Sequence[Part], visits: Mapping[Unit, VisitCosts], tell: Tell = lambda _d, _t: None
) -> Comparison:
    """Live every zone's futures under each plan and count what each came to.

    Parameters
    ----------
    parts : the zones compared; at least one, all with the same futures and days.
    visits : of every unit of the parts.
    tell : told (done, total) passes over the parts.

    Raises
    ------
    ValueError : no parts.
    """
    if not parts:
        raise ValueError("no zones to compare: at least one part is needed")
    units = tuple(sorted({key for part in parts for key in part.keys}))
    futures = parts[0].futures.level.shape[1]
    longest = max(int(part.number.max(initial=-1)) + 1 for part in parts)
    steps = _Steps(tell, (3 + TUNING_STEPS) * len(parts))
    count = {way: Count(units, futures, longest) for way in Way}
    unpromised = Count(units, futures, longest)
    for part in parts:
        lived = _lived(part, promised=True)
        lived.put(count[Way.WEAR], part)
        (_lived(part, promised=False) if part.promises else lived).put(unpromised, part)
        steps.step()
    factor, reached = _tuned(parts, float(count[Way.WEAR].sums[4].sum()), steps)
    for way, scale in ((Way.AGREED, 1.0), (Way.HINDSIGHT, factor)):
        for part in parts:
            _count_calendar(count[way], part, scale)
            steps.step()
    steps.finish()
    zones, zone_days = _zone_days(parts, unpromised)
    costs = [visits[unit] for unit in units]
    sold = any(part.promises for part in parts)
    return Comparison(
        units=units,
        zones=zones,
        zone_days=zone_days,
        plans={way: count[way].tally(costs) for way in Way},
        unpromised=unpromised.tally(costs) if sold else None,
        factor=factor,
        reached=reached,
    )


class _Steps:
    """Progress of a comparison, told as it goes."""

    def __init__(self, tell: Tell, total: int) -> None:
        self.tell, self.total, self.done = tell, total, 0
        tell(0, total)

    def step(self) -> None:
        self.done += 1
        if self.done < self.total:
            self.tell(self.done, self.total)

    def finish(self) -> None:
        self.tell(self.total, self.total)


def _zone_days(parts: Sequence[Part], count: Count) -> tuple[Whole, Whole]:
    """(U,) zones of each unit, and their days under care."""
    zones, days = np.zeros((2, len(count.place)), dtype=np.int64)
    for part in parts:
        rows = count.rows(part)
        np.add.at(zones, rows, 1)
        np.add.at(days, rows, np.minimum(part.futures.care_days, part.futures.course.days))
    return zones, days


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _WearLived:
    """A part lived under measured wear, with the promised rhythms laid on it: (W, Z, D)."""

    lived: LivedByWear
    masks: Flags

    def put(self, count: Count, part: Part) -> None:
        """Count it."""
        count.add_days(part, self.lived.kept_days)
        count.add_work(part, self.lived.done, [rung.work for rung in part.terms.rungs])
        count.add_work(part, self.masks.sum(axis=2)[:, :, None], part.works)
        count.add_nights(part, self.lived.nights)
        count.add_nights(
            part, nights_by_number(part, np.asarray(self.masks.any(axis=0)))[:, None, :]
        )
        count.add_rounds(part)


def _lived(part: Part, *, promised: bool) -> _WearLived:
    masks = part.laid(1.0, only_promised=True) & promised
    belief = part.belief()
    lived = live_by_wear(
        replace(part.futures, course=_with_laid(part.futures.course, part, masks)),
        replace(belief, course=_with_laid(belief.course, part, masks)),
        part.terms,
        part.reading_nights,
        part.reading_sd,
    )
    return _WearLived(lived=lived, masks=masks)


def _with_laid(course: Course, part: Part, masks: Flags) -> Course:
    """The course with promised rhythms on it, in the order of one night."""
    laid = tuple(
        (work, effect, mask)
        for work, effect, mask in zip(part.works, part.effects, masks, strict=True)
        if mask.any()
    )
    return replace(course, treatments=(*course.treatments, *laid))


def _count_calendar(count: Count, part: Part, factor: float) -> None:
    masks = part.laid(factor)
    count.add_days(part, live_by_calendar(part.futures, part.effects, masks))
    count.add_work(part, masks.sum(axis=2)[:, :, None], part.works)
    count.add_nights(part, nights_by_number(part, np.asarray(masks.any(axis=0)))[:, None, :])


def _tuned(parts: Sequence[Part], look: float, steps: _Steps) -> tuple[float, bool]:
    """The factor at which the calendar keeps as many zone-days in promise, and whether it does.

    Halving on the factor's logarithm, since longer gaps keep fewer days but for chance. Where even
    the densest calendar keeps fewer, or the sparest as many, that end of the range is taken.
    """
    near = SAME_LOOK * sum(
        float(np.minimum(p.futures.care_days, p.futures.course.days).sum())
        * p.futures.level.shape[1]
        for p in parts
    )

    def more(factor: float) -> float:
        days = -look
        for part in parts:
            kept = live_by_calendar(part.futures, part.effects, part.laid(factor))
            days += float(kept.sum())
            steps.step()
        return days

    if more(SPAREST) >= -near:
        return SPAREST, True
    if (dense := more(DENSEST)) < near:
        return DENSEST, abs(dense) <= near
    low, high = np.log(DENSEST), np.log(SPAREST)
    tried: list[tuple[float, float]] = []
    for _ in range(TUNING_STEPS - 2):
        factor = float(np.exp((low + high) / 2.0))
        off = more(factor)
        tried.append((abs(off), factor))
        if abs(off) <= near:
            break
        low, high = (np.log(factor), high) if off > 0 else (low, np.log(factor))
    return min(tried)[1], True
