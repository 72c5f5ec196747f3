"""The alarms of a branch's floors, from its fitted fleets and what was counted there."""

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from math import log

import numpy as np

from floorcare.ground.trade.book import TreatmentDone, ZoneBook
from floorcare.ground.trade.reading import Measure, SurfaceState
from floorcare.ground.trade.traffic import PASS_WEIGHT
from floorcare.ground.trade.treatment import TREATMENTS, Work
from floorcare.ground.wear.books.from_books import ORDER_IN_A_NIGHT
from floorcare.ground.wear.fleet import Fleet
from floorcare.ground.wear.model import Floats
from floorcare.ground.wear.pooled import Pooled, class_of
from floorcare.ground.wear.watch.alarm import Alarm, AlarmKind, Watched
from floorcare.ground.wear.watch.alarm_words import counts_said
from floorcare.ground.wear.watch.alarms import ring

COMPARED_DAYS = 90
"""Counts of so many days are compared with the same days a year before. Assumption."""
SHIFTED_TIMES = 1.4
"""Counts have shifted when they came to so many times, or that part, of before. Assumption: luck
and season move a quarter's mean by less than half of that."""
OLDEST_COUNT_DAYS = 60
"""Counts that ended longer ago say nothing of today. Assumption."""


def alarms_of(
    fleets: Sequence[Fleet], pooled: Mapping[str, Pooled] | None = None
) -> tuple[Alarm, ...]:
    """Every alarm of a branch's floors on one day: instruments, zones, counts.

    Parameters
    ----------
    fleets : of one day; an instrument is watched over all of them together.
    pooled : what each surface's zones have in common, by its code.

    Assumption: as `ring` and `counted_shift`.
    """
    known = pooled or {}
    watched = [watched_of(fleet, known.get(fleet.surface.code)) for fleet in fleets]
    counts = [
        alarm
        for fleet in fleets
        for (site, zone), book in zip(fleet.keys, fleet.books, strict=True)
        if (alarm := _count_alarm(f"{site}/{zone}", book, fleet.today))
    ]
    return (*ring(watched), *sorted(counts, key=lambda alarm: alarm.zones))


def watched_of(fleet: Fleet, pooled: Pooled | None = None) -> Watched:
    """A fleet as the watches look at it.

    Assumption: a round is read with the instrument that most of its values name.
    """
    columns = fleet.fit.columns
    prior = None
    if pooled is not None:
        levels = [book.zone.span_about(fleet.today).traffic for book in fleet.books]
        prior = pooled.prior(class_of(levels, columns.counted))
    first = fleet.today - timedelta(days=columns.days - 1)
    used = [_instruments(book) for book in fleet.books]
    rounds = zip(
        columns.reading_zone.tolist(),
        columns.reading_day.tolist(),
        columns.reading_after_burnish.tolist(),
        strict=True,
    )
    return Watched(
        fit=fleet.fit,
        zones=tuple(f"{site}/{zone}" for site, zone in fleet.keys),
        instrument=tuple(
            used[zone].get((first + timedelta(days=day), after), "") for zone, day, after in rounds
        ),
        works=_works(fleet),
        today=fleet.today,
        done_by={
            (zone, (done.done_on - first).days): _who(done)
            for zone, book in enumerate(fleet.books)
            for done in book.done
            if done.work in TREATMENTS
        },
        prior=prior,
    )


def _instruments(book: ZoneBook) -> dict[tuple[date, bool], str]:
    """The instrument of each gloss round, by day and whether it was read after a burnish."""
    seen: defaultdict[tuple[date, bool], Counter[str]] = defaultdict(Counter)
    for r in book.readings:
        if r.measure is Measure.GLOSS:
            seen[r.taken_on, r.state is SurfaceState.AFTER_BURNISH][r.instrument] += 1
    return {at: min(count, key=lambda code: (-count[code], code)) for at, count in seen.items()}


def _works(fleet: Fleet) -> tuple[Work, ...]:
    """The works behind the columns' treatments, in their order."""
    effects = [effect for effect, _ in fleet.fit.columns.treatments]
    works: list[Work] = []
    for work in ORDER_IN_A_NIGHT:
        rung = fleet.surface.rung(work)
        if rung is not None and len(works) < len(effects) and rung.effect == effects[len(works)]:
            works.append(work)
    return tuple(works)


def _who(done: TreatmentDone) -> str:
    visit = f"visit {done.visit[:13]}" if done.visit else ""
    return ", ".join(part for part in (done.performer, visit) if part)


@dataclass(frozen=True, slots=True, kw_only=True)
class CountedShift:
    """Counted traffic that is no longer what it was.

    before, now : weighted passes a day, the days without any left out.
    a_year_ago : compared with the same days a year before; else with all counts before.
    """

    since: date
    before: float
    now: float
    a_year_ago: bool


def counted_shift(book: ZoneBook, today: date) -> CountedShift | None:
    """Whether a zone's counted footfall moved to another size.

    The last 90 counted days are compared with the same days a year before, or, where nobody
    counted then, with all counts before them.

    Assumption: limits above; kinds of traffic weighed as everywhere.
    """
    span = 365 + COMPARED_DAYS
    passes = _counted_passes(book, today - timedelta(days=span + OLDEST_COUNT_DAYS - 1), today)
    there = np.flatnonzero(np.isfinite(passes))
    if not there.size or there[-1] < passes.size - OLDEST_COUNT_DAYS:
        return None
    passes = np.where(passes > 0, passes, np.nan)[: there[-1] + 1][-span:]
    recent, earlier = passes[-COMPARED_DAYS:], passes[:-COMPARED_DAYS]
    year_ago = passes[:COMPARED_DAYS] if passes.size == span else passes[:0]
    same_days = int(np.isfinite(year_ago).sum()) >= COMPARED_DAYS // 2
    base = year_ago if same_days else earlier
    if min(np.isfinite(recent).sum(), np.isfinite(base).sum()) < COMPARED_DAYS // 2:
        return None
    before, now = float(np.nanmean(base)), float(np.nanmean(recent))
    if abs(log(now / before)) < log(SHIFTED_TIMES):
        return None
    at = _split(np.log(passes))
    last_on = today - timedelta(days=OLDEST_COUNT_DAYS + span - 1 - int(there[-1]))
    since = last_on - timedelta(days=passes.size - 1 - at)
    return CountedShift(since=since, before=before, now=now, a_year_ago=same_days)


def _counted_passes(book: ZoneBook, first: date, last: date) -> Floats:
    """Weighted passes of each day, NaN where nobody counted."""
    passes = np.full((last - first).days + 1, np.nan)
    for row in book.traffic:
        if row.counted:
            low = max(0, (row.from_on - first).days)
            high = (min(row.to_on or last, last) - first).days + 1
            days = slice(low, max(low, high))
            passes[days] = np.nan_to_num(passes[days]) + PASS_WEIGHT[row.kind] * row.per_day
    return passes


def _split(ln: Floats) -> int:
    """First day of the part that differs most from what stands before it (least squares)."""
    there = np.flatnonzero(np.isfinite(ln))
    seen = ln[there]
    left = np.arange(1, seen.size)
    total = np.cumsum(seen)
    apart = total[:-1] / left - (total[-1] - total[:-1]) / (seen.size - left)
    return int(there[1 + int(np.argmax(left * (seen.size - left) * apart**2))])


def _count_alarm(zone: str, book: ZoneBook, today: date) -> Alarm | None:
    shift = counted_shift(book, today)
    if shift is None:
        return None
    alarm = Alarm(
        kind=AlarmKind.TRAFFIC,
        zones=(zone,),
        since=shift.since,
        expected=shift.before,
        seen=shift.now,
        errors=None,
        strength=shift.now / shift.before,
        unit="passes a day",
    )
    return counts_said(alarm, a_year_ago=shift.a_year_ago)
