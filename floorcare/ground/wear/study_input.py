"""A study's arrays, checked and lined up: what is odd is named, put right or left out."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from floorcare.findings import Finding
from floorcare.ground.wear.history import firsts
from floorcare.ground.wear.model import Flags, Floats, Whole
from floorcare.ground.wear.pooled import LEVELS

MOST_NAMED = 20
"""At most so many oddities of one kind are named one by one. Assumption."""
WORK = ("repolish", "recoat", "burnish")
INSTEAD = {"traffic": 1, "counted": 0, "opening": 1}
"""Taken of a zone of which it is no number: moderate, not counted, unknown. Assumption; instead of
its today that of the zone furthest on."""
ALIKE_ROUNDS = 5
"""So many rounds of one zone with the very same value look copied. Assumption."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class GivenReadings:
    """Readings as they were given, (R,) each."""

    zone: Whole
    day: Whole
    value: Floats
    stations: Whole
    after: Flags

    @classmethod
    def of(
        cls,
        zone: ArrayLike,
        day: ArrayLike,
        value: ArrayLike,
        stations: ArrayLike,
        after_burnish: ArrayLike,
    ) -> "GivenReadings":
        """The readings, of one length.

        Raises
        ------
        ValueError : they are not.

        Assumption: a station count below 1 stands for 1.
        """
        values = np.atleast_1d(np.asarray(value, dtype=np.float64))
        columns = [np.atleast_1d(np.asarray(c)) for c in (zone, day, stations, after_burnish)]
        if any(c.shape != values.shape for c in columns):
            raise ValueError("zone, day, value, stations and after_burnish must be of one length")
        return cls(
            zone=_whole(columns[0], -1),
            day=_whole(columns[1], -1),
            value=values,
            stations=np.maximum(_whole(columns[2], 1), 1),
            after=_whole(columns[3], 0) != 0,
        )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class GivenFloors:
    """Zones and days as they were given.

    footfall : (Z, D), persons a day; work : (re-polish, recoat, burnish), (Z, D) each.
    counted, traffic, today, unknown : (Z,).
    findings : what was no number, and what was taken instead.
    """

    footfall: Floats
    work: tuple[Flags, ...]
    counted: Flags
    traffic: Whole
    today: Whole
    unknown: Flags
    findings: tuple[Finding, ...]

    @classmethod
    def of(
        cls,
        footfall: ArrayLike,
        work: tuple[ArrayLike, ...],
        counted: ArrayLike,
        traffic: ArrayLike,
        today: ArrayLike,
        opening: ArrayLike,
    ) -> "GivenFloors":
        """The zones, one value given for all of them or one for each.

        Raises
        ------
        ValueError : shapes differ, or a traffic level is none.

        Assumption: whole footfalls are as good as others.
        """
        passes = np.atleast_2d(np.asarray(footfall))
        if passes.dtype.kind != "f":
            passes = passes.astype(np.float64)
        zones = passes.shape[0]
        (level, odd_level), (last, odd_last), (by_counter, odd_count), (unknown, odd_opening) = (
            _of_zones(name, column, zones)
            for name, column in (
                ("traffic", traffic),
                ("today", today),
                ("counted", counted),
                ("opening", opening),
            )
        )
        done = [_done(name, given) for name, given in zip(WORK, work, strict=True)]
        if np.any(level < 0) or np.any(level >= len(LEVELS)):
            raise ValueError(f"traffic must be 0 (light) to {len(LEVELS) - 1} (extreme)")
        return cls(
            footfall=passes,
            work=tuple(days for days, _ in done),
            counted=by_counter != 0,
            traffic=level,
            today=last,
            unknown=unknown != 0,
            findings=sum((odd for _, odd in done), odd_level + odd_last + odd_count + odd_opening),
        )


def _of_zones(name: str, column: ArrayLike, zones: int) -> tuple[Whole, tuple[Finding, ...]]:
    """One whole number a zone; what is none is named and the safest taken."""
    given = np.broadcast_to(np.asarray(column), (zones,))
    wrong = np.zeros(zones, dtype=np.bool_)
    if given.dtype.kind == "f":
        wrong = ~np.isfinite(given)
    if not wrong.any():
        return given.astype(np.int64), ()
    instead = INSTEAD.get(name, np.max(given[~wrong], initial=0.0))
    zone = np.flatnonzero(wrong)
    return np.where(wrong, instead, given).astype(np.int64), _named(
        name,
        [f"zone {z}" for z in zone[:MOST_NAMED]],
        zone.size,
        f"is no number; {instead:.0f} is taken",
        f"give the zone's {name}",
        [f"{given[z]}" for z in zone[:MOST_NAMED]],
    )


def _done(name: str, given: ArrayLike) -> tuple[Flags, tuple[Finding, ...]]:
    """The days (Z, D) on which a treatment is done; what is no number is named and not done."""
    days = np.atleast_2d(np.asarray(given))
    if days.dtype.kind != "f" or not np.isnan(days).any():
        return np.asarray(days, dtype=np.bool_), ()
    zone, day = np.nonzero(np.isnan(days))
    return np.nan_to_num(days) != 0, _named(
        name,
        [f"zone {z}, day {d}" for z, d in zip(zone[:MOST_NAMED], day[:MOST_NAMED], strict=True)],
        zone.size,
        "is no number; it is taken as not done",
        "give True or False",
        ["nan"] * min(zone.size, MOST_NAMED),
    )


def _whole(column: NDArray[np.generic], instead: int) -> Whole:
    """Whole numbers, another in the place of what is no number at all."""
    if column.dtype.kind in "biu":
        return column.astype(np.int64)
    numbers = column.astype(np.float64)
    return np.where(np.isfinite(numbers), numbers, instead).astype(np.int64)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stretch:
    """Days of Z zones that end or begin together.

    thousand_passes : (Z, D); work : (re-polish, recoat, burnish), (Z, D) each.
    start_day : (Z,), the column of each zone's day 0.
    """

    thousand_passes: Floats
    work: tuple[Flags, ...]
    start_day: Whole

    def treated(self, zone: Whole, day: Whole) -> Flags:
        """Whether a zone is treated on a day of its own."""
        column = self.start_day[zone] + day
        treated: Flags = np.any([w[zone, column] for w in self.work], axis=0)
        return treated


def aligned(
    footfall: Floats, work: tuple[Flags, ...], today: Whole
) -> tuple[Stretch, Stretch, tuple[Finding, ...]]:
    """History up to each zone's today, and the days after it.

    Parameters
    ----------
    footfall : (Z, D), persons a day.
    work : (re-polish, recoat, burnish), (Z, D) each.
    today : (Z,), 0..D − 1.

    Raises
    ------
    ValueError : shapes differ, or a today lies outside the days.

    Assumption: days without a known footfall had the zone's mean of the others.
    """
    zones, days = footfall.shape
    if today.shape != (zones,) or any(w.shape != footfall.shape for w in work):
        raise ValueError("footfall and treatments must be (zones, days), today (zones,)")
    if not zones or np.any(today < 0) or np.any(today >= days):
        raise ValueError(f"today must lie from 0 to {days - 1} in every zone")
    passes, asked = _footfall(footfall)
    last = int(today.max())
    if np.all(today == last):
        start, cuts = np.zeros(zones, dtype=np.int64), (slice(0, last + 1), slice(last + 1, days))
        past, ahead = ((passes[:, c], tuple(w[:, c] for w in work)) for c in cuts)
    else:
        start = last - today
        past = _taken(passes, work, np.arange(last + 1) - start[:, None])
        most = days - 1 - int(today.min())
        ahead = _taken(passes, work, today[:, None] + 1 + np.arange(most))
    return (
        Stretch(thousand_passes=past[0], work=past[1], start_day=start),
        Stretch(thousand_passes=ahead[0], work=ahead[1], start_day=start * 0),
        asked,
    )


def _taken(
    passes: Floats, work: tuple[Flags, ...], column: Whole
) -> tuple[Floats, tuple[Flags, ...]]:
    """Each zone's own columns; outside the days given nothing is done, traffic as on the last."""
    there = (column >= 0) & (column < passes.shape[1])
    safe = np.clip(column, 0, passes.shape[1] - 1)
    return (
        np.take_along_axis(passes, safe, axis=1),
        tuple(np.take_along_axis(w, safe, axis=1) & there for w in work),
    )


def _footfall(footfall: Floats) -> tuple[Floats, tuple[Finding, ...]]:
    """Thousand passes a day, with what is no footfall put right."""
    passes: Floats = footfall * footfall.dtype.type(0.001)
    low = passes.min(initial=0.0)
    if np.isfinite(low) and low >= 0 and np.isfinite(passes.max(initial=0.0)):
        return passes, ()
    wrong = ~np.isfinite(passes) | (passes < 0)
    known = np.where(wrong, 0.0, passes)
    mean = known.sum(axis=1) / np.maximum((~wrong).sum(axis=1), 1)
    zone, day = np.nonzero(wrong)
    return np.where(wrong, mean[:, None], passes), _named(
        "footfall",
        [f"zone {z}, day {d}" for z, d in zip(zone[:MOST_NAMED], day[:MOST_NAMED], strict=True)],
        zone.size,
        "is no footfall; the zone's mean of its other days is taken",
        "give persons a day, 0 or more",
        [f"{footfall[z, d]}" for z, d in zip(zone[:MOST_NAMED], day[:MOST_NAMED], strict=True)],
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class TakenReadings:
    """Rounds as they are used, sorted by zone and time; day −1 is the eve of day 0."""

    zone: Whole
    day: Whole
    ln: Floats
    stations: Whole
    after: Flags


def taken_readings(
    given: GivenReadings, past: Stretch, today: Whole
) -> tuple[TakenReadings, tuple[Finding, ...]]:
    """The readings that can be used, several of one moment made one, and what is odd about others.

    Parameters
    ----------
    past : history, by which an "after" on a day without treatment is read as before.
    today : (Z,), later readings are not used.

    Assumption: readings of one zone, day and state are one round; its value is the median of their
    logarithms, since one of many may be mistyped.
    """
    zones = today.size
    there = (given.zone >= 0) & (given.zone < zones)
    early, late = given.day < 0, given.day > today[np.where(there, given.zone, 0)]
    no_gloss = ~(np.isfinite(given.value) & (given.value > 0))
    findings = (
        *_doubted(given, ~there, "belongs to no zone", f"give a zone from 0 to {zones - 1}"),
        *_doubted(given, there & early, "has no day from 0 on", "correct the day"),
        *_doubted(given, there & no_gloss & ~late, "is no gloss", "correct the value"),
    )
    use = np.flatnonzero(there & ~early & ~late & ~no_gloss)
    after = given.after[use] & past.treated(given.zone[use], given.day[use])
    taken = _by_round(given, use, after)
    return taken, findings + _alike(taken)


def _by_round(given: GivenReadings, use: Whole, after: Flags) -> TakenReadings:
    """These readings sorted by zone and time, those of one moment made one."""
    zone, day = given.zone[use], given.day[use]
    moment = (zone * (int(day.max(initial=0)) + 1) + day) * 2 + after
    sort = np.argsort(moment, kind="stable")
    if np.any(moment[sort][1:] == moment[sort][:-1]):  # within a round by value, for its middle
        sort = np.lexsort((given.value[use], moment))
    use, zone, day, after = use[sort], zone[sort], day[sort], after[sort]
    first = np.flatnonzero(firsts(moment[sort]))
    count = np.diff(np.r_[first, use.size])
    ln = np.log(given.value[use])
    low, high = first + (count - 1) // 2, first + count // 2
    stations = np.add.reduceat(given.stations[use], first) if use.size else first
    zone, day, after = zone[first], day[first], after[first]
    # What is read on day 0 before anything has happened sees the floor as the eve left it.
    eve = firsts(zone) & (day == 0) & ~after
    return TakenReadings(
        zone=zone,
        day=day - eve,
        ln=0.5 * (ln[low] + ln[high]),
        stations=stations,
        after=after | eve,
    )


def _alike(taken: TakenReadings) -> tuple[Finding, ...]:
    """Zones whose every reading is the same number: used, but asked about."""
    if not taken.zone.size:
        return ()
    count = np.bincount(taken.zone)
    first = np.cumsum(count) - count
    has = np.flatnonzero(count >= ALIKE_ROUNDS)
    starts = first[count > 0]
    low, high = np.full(count.size, np.nan), np.full(count.size, np.nan)
    low[count > 0] = np.minimum.reduceat(taken.ln, starts)
    high[count > 0] = np.maximum.reduceat(taken.ln, starts)
    same = has[low[has] == high[has]]
    return _named(
        "readings",
        [f"zone {z}" for z in same[:MOST_NAMED]],
        same.size,
        "are all the same; they are used, and look copied",
        "ask whoever read, or read again",
        [f"{np.exp(low[z]):.1f} GU" for z in same[:MOST_NAMED]],
    )


def _doubted(given: GivenReadings, where: Flags, what: str, mend: str) -> tuple[Finding, ...]:
    rows = np.flatnonzero(where)
    some = rows[:MOST_NAMED]
    return _named(
        "reading",
        [f"row {r}: zone {given.zone[r]}, day {given.day[r]}" for r in some],
        rows.size,
        f"{what}; it is left out",
        mend,
        [f"{given.value[r]:g}" for r in some],
    )


def _named(
    of: str, places: list[str], total: int, what: str, mend: str, values: list[str]
) -> tuple[Finding, ...]:
    """One finding a place, and one for all that are not named."""
    named = [
        Finding(problem=f"{of} ({place}) {what}", value=value, mend=mend, weight="asks")
        for place, value in zip(places, values, strict=True)
    ]
    if total > len(places):
        more = f"{total - len(places)} more of {of}: each {what}"
        named.append(Finding(problem=more, mend=mend, weight="asks"))
    return tuple(named)
