"""The fixed calendar a contractor would go on by: each work at its own rhythm, whatever is read.

A work's gap is that of its routine, else the rhythm it was done at up to now, else its calendar
cap. One factor stretches every gap that was not promised.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.limits import last_done, limits_of
from floorcare.ground.rules.rhythm import COVERED_DAYS
from floorcare.ground.trade.routine import Performer, Proof, Routine
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.zone import Opening
from floorcare.ground.wear.books.from_books import (
    ORDER_IN_A_NIGHT,
    routine_dates,
    runs_by_itself,
    whole_zone_dates,
)
from floorcare.ground.wear.model import Flags, Floats, Whole
from floorcare.ground.worktime.recurrence import typical_gap_days

SHORTEST_GAP_DAYS = 7.0
"""No scaled gap is shorter: a night a week is all a site is decided for. Assumption."""
NOT_ON_IT = np.inf
"""The gap of a work the calendar does not hold."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FixedCalendar:
    """What Z zones of one surface get by the calendar; arrays (W, Z), day 0 is tomorrow.

    works : in the order of one night.
    rank : (W,), how hard each work is; a milder one near a harder one is left out.
    gap_days : from one time to the next; inf where the work is not on the calendar.
    last_day : when it was last done, a negative day.
    not_before : first day its minimum age allows.
    promised : sold as a rhythm, so it keeps its dates in every plan.
    """

    works: tuple[Work, ...]
    rank: Whole
    gap_days: Floats
    last_day: Floats
    not_before: Floats
    promised: Flags

    def only_promised(self) -> "FixedCalendar":
        """The same with nothing on it but rhythms that were sold."""
        return FixedCalendar(
            works=self.works,
            rank=self.rank,
            gap_days=np.where(self.promised, self.gap_days, NOT_ON_IT),
            last_day=self.last_day,
            not_before=self.not_before,
            promised=self.promised,
        )


def calendar_works(surface: Surface) -> tuple[Work, ...]:
    """The treatments that change a floor of this surface, in the order of one night."""
    rungs = ((work, surface.rung(work)) for work in ORDER_IN_A_NIGHT)
    return tuple(work for work, rung in rungs if rung is not None and rung.effect.treats)


def fixed_calendar(
    cases: Sequence[ZoneCase], surface: Surface, barred: Sequence[frozenset[Work]]
) -> FixedCalendar:
    """The calendar of some zones as their books tell it.

    Parameters
    ----------
    barred : works for which a zone's site has no night at all, one entry a zone.
    """
    works = calendar_works(surface)
    gap, last, earliest = (np.full((len(works), len(cases)), NOT_ON_IT) for _ in range(3))
    promised = np.zeros((len(works), len(cases)), dtype=bool)
    for z, case in enumerate(cases):
        for w, work in enumerate(works):
            found = None if work in barred[z] else _rhythm_of(case, work)
            if found is None:
                continue
            tomorrow = case.today + timedelta(days=1)
            gap[w, z], on, promised[w, z] = found
            last[w, z] = (on - tomorrow).days
            limits = limits_of(case.book, surface, [work], case.today)[0]
            earliest[w, z] = max(0, (limits.not_before - tomorrow).days)
    return FixedCalendar(
        works=works,
        rank=np.array([_hardness(surface, work) for work in works]),
        gap_days=gap,
        last_day=last,
        not_before=earliest,
        promised=promised,
    )


def _hardness(surface: Surface, work: Work) -> int:
    """A work outside the ladder neither covers a rung nor is covered."""
    return surface.rung_index(work)


def _rhythm_of(case: ZoneCase, work: Work) -> tuple[float, date, bool] | None:
    """(gap in days, when it last fell, promised) of a work on a zone, None where it has none."""
    own = [r for r in case.book.routines if r.work is work and _goes_on(r, case.today)]
    if any(runs_by_itself(r) for r in own):
        return None  # a standing round runs in every plan alike
    last = last_done(case.book, work)
    standing = case.stands_on(work)
    done_on = max([d for d in (last, *standing) if d is not None], default=None)
    for routine in own:
        on = max(done_on or routine.starts_on, routine.starts_on)
        gap = typical_gap_days(routine.rule)
        return gap, _anchored(routine, on, gap) if routine.promised else on, routine.promised
    past = _past_gap(case, work)
    if past is not None and done_on is not None:
        return past, done_on, False
    limits = limits_of(case.book, case.surface, [work], case.today)[0]
    cap = case.surface.methods[work].cap_days
    if limits.cap_on is None or cap is None:
        return None
    return float(cap), limits.cap_on - timedelta(days=cap), False


def _goes_on(routine: Routine, today: date) -> bool:
    ended = routine.ends_on is not None and routine.ends_on < today
    ours = routine.performer is Performer.US or runs_by_itself(routine)
    return ours and not ended and routine.proof is not Proof.KNOWN_MISSED


def _anchored(routine: Routine, last: date, gap: float) -> date:
    """The date of a promised rhythm nearest to when it was last done; the next keeps its day."""
    half = timedelta(days=gap / 2)
    near = routine_dates(routine, last - half, last + half)
    return min(near, key=lambda on: abs((on - last).days), default=last)


def _past_gap(case: ZoneCase, work: Work) -> float | None:
    """Mean days between the times a work was done up to now, counted from a floor known fresh."""
    if case.surface.rung_index(work) < 0:
        return None
    dates = [on for on in whole_zone_dates(case.book.done, work) if on <= case.today]
    zone = case.book.zone
    fresh = zone.polished_on
    if fresh is None and zone.opening is Opening.FRESH:
        fresh = zone.starts_on
    if fresh is not None:
        dates = [fresh, *(on for on in dates if on > fresh)]
    return (dates[-1] - dates[0]).days / (len(dates) - 1) if len(dates) > 1 else None


def laid_by(calendar: FixedCalendar, opportunity: Flags, factor: float = 1.0) -> Flags:
    """Which work falls on which night when every gap not promised is `factor` times as long.

    Parameters
    ----------
    opportunity : (Z, D), the zones' weekly nights; a work waits for the first at or after its day.
    factor : above 0; 1 is the calendar as agreed.

    Returns
    -------
    (W, Z, D). Overdue work comes on the first night, and its rhythm runs on from there.

    Raises
    ------
    ValueError : a factor of 0 or less.
    """
    if not factor > 0:
        raise ValueError(f"factor {factor:g}: allowed above 0")
    days = opportunity.shape[1]
    gap = np.where(
        calendar.promised,
        calendar.gap_days,
        np.maximum(calendar.gap_days * factor, SHORTEST_GAP_DAYS),
    )
    day = np.maximum(calendar.last_day + gap, calendar.not_before)
    nights = _first_open(opportunity)
    masks = np.zeros((len(calendar.works), *opportunity.shape), dtype=bool)
    while (falls := np.ceil(day) < days).any():
        work, zone = np.nonzero(falls)
        night = nights[zone, np.ceil(day[falls]).astype(np.int64)]
        open_yet = night < days
        masks[work[open_yet], zone[open_yet], night[open_yet]] = True
        day = day + gap
    return _without_covered(calendar, masks)


def _first_open(opportunity: Flags) -> Whole:
    """(Z, D): the first opportunity at or after each day, D where there is none."""
    days = opportunity.shape[1]
    at = np.where(opportunity, np.arange(days), days)
    found: Whole = np.minimum.accumulate(at[:, ::-1], axis=1)[:, ::-1]
    return found


def _without_covered(calendar: FixedCalendar, masks: Flags) -> Flags:
    """A habit's milder work is left out near a harder one, as the rule of set rhythms has it."""
    days = masks.shape[2]
    low = np.maximum(np.arange(days) - COVERED_DAYS, 0)
    high = np.minimum(np.arange(days) + COVERED_DAYS + 1, days)
    near = np.zeros(masks.shape[1:], dtype=bool)
    for w in sorted(range(len(calendar.works)), key=lambda w: -calendar.rank[w]):
        if calendar.rank[w] < 0:
            continue
        masks[w] &= ~near | calendar.promised[w][:, None]
        summed = np.cumsum(np.pad(masks[w], ((0, 0), (1, 0))), axis=1)
        near |= summed[:, high] > summed[:, low]
    return masks
