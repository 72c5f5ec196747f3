"""Counts of a people counter judged day by day, and averaged to persons a day."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from itertools import groupby, pairwise
from statistics import fmean, median

LEAST_COVERED = 0.9
"""A day counts where at least this share of its usual buckets is there. Assumption."""
LEAST_DAYS = 7
"""So many covered days make an average. Assumption: a week knows every weekday."""
GAP_DAYS = 14
"""Days in a row without a count over which no average is carried. Assumption."""
STUCK_BUCKETS = 4
"""A day of at least so many buckets that all show one number is a stuck counter. Assumption."""
STUCK_DAYS = 3
"""So many days in a row with one total are a stuck counter. Assumption."""
JUMP_FACTOR = 5.0
"""A day so many times its weekday's median, or as small a share of it, is a jump. Assumption."""
JUMP_PERSONS = 50.0
"""A jump differs from the median by at least so many persons. Assumption."""
_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True, kw_only=True)
class DayCount:
    """What was counted on one day.

    persons : passes in all; buckets : how many numbers they were added from.
    one_number : whether every bucket shows the same number.
    row : where the day begins in its file, 0 for nowhere.
    """

    on: date
    persons: float
    buckets: int = 1
    one_number: bool = False
    row: int = 0


class Doubt(StrEnum):
    """Why a day's count is asked about."""

    ZERO = "zero"
    STUCK = "stuck"
    JUMP = "jump"


@dataclass(frozen=True, slots=True, kw_only=True)
class CountDoubt:
    """One doubted day; `usual` is the median of its weekday."""

    day: DayCount
    doubt: Doubt
    usual: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CountSpan:
    """An average over some days.

    per_day : persons a day, each weekday weighing as often as it falls between the two days.
    days : covered days behind it.
    uncovered : days between that were not counted.
    unknown_weekdays : weekdays (0 Monday) that fall between but were never counted.
    """

    from_on: date
    to_on: date
    per_day: float
    days: int
    uncovered: tuple[date, ...] = ()
    unknown_weekdays: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class CountAverages:
    """Averages by month, the gaps as (first, last) day, and days too few for an average."""

    spans: tuple[CountSpan, ...]
    gaps: tuple[tuple[date, date], ...]
    too_few: tuple[date, ...]


def covered_days(days: Sequence[DayCount]) -> tuple[tuple[DayCount, ...], tuple[DayCount, ...]]:
    """The days that are counted whole, and those with too few buckets.

    Assumption: a weekday has the buckets it most often has, the larger number of two as common.
    """
    seen: defaultdict[int, Counter[int]] = defaultdict(Counter)
    for day in days:
        seen[day.on.weekday()][day.buckets] += 1
    usual = {
        weekday: max(count, key=lambda buckets: (count[buckets], buckets))
        for weekday, count in seen.items()
    }
    whole = tuple(d for d in days if d.buckets >= LEAST_COVERED * usual[d.on.weekday()])
    part = tuple(d for d in days if d.buckets < LEAST_COVERED * usual[d.on.weekday()])
    return whole, part


def doubt_days(days: Sequence[DayCount]) -> tuple[CountDoubt, ...]:
    """Days to ask about: nobody on a weekday with traffic, one number all day, a sudden jump.

    Parameters
    ----------
    days : whole days of one zone and kind, in order.

    Assumption: a weekday's usual count is the median of that weekday; limits as named above.
    """
    of_weekday: defaultdict[int, list[float]] = defaultdict(list)
    for day in days:
        of_weekday[day.on.weekday()].append(day.persons)
    usual = {weekday: median(persons) for weekday, persons in of_weekday.items()}
    stuck = {day.on for day in _stuck(days)}
    found = []
    for day in days:
        common = usual[day.on.weekday()]
        if day.on in stuck:
            doubt = Doubt.STUCK
        elif day.persons == 0 and common > 0:
            doubt = Doubt.ZERO
        elif _jumps(day.persons, common):
            doubt = Doubt.JUMP
        else:
            continue
        found.append(CountDoubt(day=day, doubt=doubt, usual=common))
    return tuple(found)


def average_days(days: Sequence[DayCount]) -> CountAverages:
    """Persons a day by calendar month; a short end of a run joins the month beside it.

    Parameters
    ----------
    days : whole days of one zone and kind, in order, one a date.

    Assumption: a day that was not counted is walked like its weekday in the same month.
    """
    spans, too_few = [], []
    runs = list(_runs(days))
    for run in runs:
        if len(run) < LEAST_DAYS:
            too_few += [day.on for day in run]
            continue
        spans += [_span(piece) for piece in _whole_to(list(_pieces(run)), run[0].on, run[-1].on)]
    gaps = [
        (before[-1].on + _DAY, after[0].on - _DAY)
        for before, after in pairwise(runs)
        if after[0].on - before[-1].on > _DAY
    ]
    return CountAverages(spans=tuple(spans), gaps=tuple(gaps), too_few=tuple(too_few))


_Piece = tuple[date, date, list[DayCount]]


def _runs(days: Sequence[DayCount]) -> Iterator[list[DayCount]]:
    """Days parted where nothing was counted for GAP_DAYS or more."""
    run: list[DayCount] = []
    for day in days:
        if run and (day.on - run[-1].on).days > GAP_DAYS:
            yield run
            run = []
        run.append(day)
    if run:
        yield run


def _pieces(run: Sequence[DayCount]) -> Iterator[list[DayCount]]:
    """A run by calendar month, months of too few days joined to the one before, else the next."""
    months = [list(of) for _, of in groupby(run, key=lambda d: (d.on.year, d.on.month))]
    joined: list[list[DayCount]] = []
    for month in months:
        if joined and (len(month) < LEAST_DAYS or len(joined[-1]) < LEAST_DAYS):
            joined[-1] += month
        else:
            joined.append(month)
    yield from joined


def _whole_to(pieces: Sequence[list[DayCount]], first: date, last: date) -> Iterable[_Piece]:
    """Pieces with the days they hold for: without a hole from the run's first day to its last."""
    starts = [first, *(piece[0].on.replace(day=1) for piece in pieces[1:])]
    ends = [*(start - _DAY for start in starts[1:]), last]
    return zip(starts, ends, pieces, strict=True)


def _span(piece: _Piece) -> CountSpan:
    first, last, days = piece
    of_weekday: defaultdict[int, list[float]] = defaultdict(list)
    for day in days:
        of_weekday[day.on.weekday()].append(day.persons)
    dates = [first + _DAY * at for at in range((last - first).days + 1)]
    known = {weekday: fmean(persons) for weekday, persons in of_weekday.items()}
    counted = {day.on for day in days}
    return CountSpan(
        from_on=first,
        to_on=last,
        per_day=fmean(known[on.weekday()] for on in dates if on.weekday() in known),
        days=len(days),
        uncovered=tuple(on for on in dates if on not in counted),
        unknown_weekdays=tuple(sorted({on.weekday() for on in dates} - set(known))),
    )


def _stuck(days: Sequence[DayCount]) -> Iterator[DayCount]:
    """Days of one number all day, and days in a row with one total; nobody at all is no fault."""
    for day in days:
        if day.one_number and day.buckets >= STUCK_BUCKETS and day.persons > 0:
            yield day
    for _, same in groupby(days, key=lambda day: day.persons):
        run = list(same)
        if len(run) >= STUCK_DAYS and run[0].persons > 0:
            yield from run


def _jumps(persons: float, usual: float) -> bool:
    if abs(persons - usual) < JUMP_PERSONS:
        return False
    return persons > JUMP_FACTOR * usual or persons < usual / JUMP_FACTOR
