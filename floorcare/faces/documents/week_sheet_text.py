"""A branch's week as plain words: a timetable whose columns are crews and whose rows are times.

Each night is a grid. A row is a moment at which some crew sets out, begins, ends or is back; a cell
lasts from one such moment of its crew to the next.
"""

from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from floorcare.faces.documents import wording
from floorcare.ground.worktime.night import format_minute
from floorcare.services.week_sheet import CrewNightSheet, StopSheet, WeekSheet

Plain = dict[str, object]
_Piece = tuple[int, int, Plain]
"""A cell before it has its rows: from a minute to a minute, and what it says."""

MOST_COLUMNS = 4
"""More crews than this take a second timetable; narrower columns could not be read."""


def answer(sheet: WeekSheet) -> str:
    """The week in one sentence.

    >>> answer(WeekSheet(
    ...     starts_on=date(2026, 3, 2), contractor="", branch="B", branch_code="B", placed=0
    ... ))
    'No visits this week.'
    """
    if not sheet.placed and not sheet.unfitted:
        return "No visits this week."
    nights = sum(1 for night in sheet.nights if night.stops)
    if sheet.placed:
        placed = wording.count(sheet.placed, "visit")
        parts = [f"{placed} on {wording.count(nights, 'crew-night')} this week"]
    else:
        parts = ["No visit has a crew this week"]
    if sheet.unfitted:
        fits = "fits" if len(sheet.unfitted) == 1 else "fit"
        parts.append(f"{len(sheet.unfitted):,} {fits} no crew")
    else:
        parts.append("every one has a crew")
    return "; ".join(parts) + "."


def as_text(sheet: WeekSheet) -> Plain:
    """Everything the week says, as nested dicts, lists and strings."""
    week = f"Week of {wording.day_words(sheet.starts_on)}"
    return {
        "title": f"Crews of {sheet.branch}: {week[0].lower()}{week[1:]}",
        "heading": wording.heading(sheet.contractor, sheet.branch),
        "week": week,
        "answer": answer(sheet),
        "as_of": f"As of {sheet.as_of}" if sheet.as_of else "",
        "parts": [_part(sheet, crews, first=not at) for at, crews in enumerate(_columns(sheet))],
        "quiet": _quiet(sheet),
        "unfitted": [
            {
                "number": str(number),
                "what": f"{note.site_name}, {wording.day_short(note.night)}",
                "works": "; ".join(note.works),
                "why": wording.bound(note.why.rstrip(".")),
                "mend": wording.bound((note.nearest or note.mend).rstrip(".")),
            }
            for number, note in enumerate(sheet.unfitted, start=1)
        ],
        "notes": [wording.bound(note) for note in sheet.notes],
    }


def _columns(sheet: WeekSheet) -> list[tuple[tuple[str, str], ...]]:
    """The crews, as evenly as may be on as few timetables as their columns need."""
    parts = -(-len(sheet.crews) // MOST_COLUMNS) or 1
    each = -(-len(sheet.crews) // parts)
    return [tuple(sheet.crews[at * each : (at + 1) * each]) for at in range(parts)]


def _part(sheet: WeekSheet, crews: tuple[tuple[str, str], ...], *, first: bool) -> Plain:
    """One timetable; a night on which nothing fits stands in the first for its footnotes."""
    codes = [code for code, _ in crews]
    nights = []
    for on in sorted({n.on for n in sheet.nights} | {note.night for note in sheet.unfitted}):
        out = {n.crew: n for n in sheet.nights if n.on == on and n.crew in codes}
        marks = [str(k) for k, note in enumerate(sheet.unfitted, start=1) if note.night == on]
        if any(night.stops for night in out.values()) or (marks and first):
            nights.append(_night(on, crews, out, marks))
    return {"nights": nights}


def _night(
    on: date,
    crews: Sequence[tuple[str, str]],
    out: dict[str, CrewNightSheet],
    marks: list[str],
) -> Plain:
    pieces = [list(_pieces(out[code])) if code in out else [] for code, _ in crews]
    moments = sorted({minute for mine in pieces for piece in mine for minute in piece[:2]})
    rows = len(moments)
    return {
        "on": wording.day_words(on),
        "marks": marks,
        "columns": [_head(name, out.get(code)) for code, name in crews],
        "times": [_time(on, moments, at) for at in range(rows)],
        "cells": [
            {**cell, "column": column, "row": row, "span": span}
            for column, mine in enumerate(pieces)
            for row, span, cell in _laid(mine, moments, out.get(crews[column][0]))
        ],
    }


def _head(name: str, night: CrewNightSheet | None) -> Plain:
    if night is None:
        return {"name": name, "who": "not out", "hours": ""}
    who = ", ".join(night.workers) or wording.count(night.people, "person", "people")
    hours = ""
    if night.starts_minute is not None and night.ends_minute is not None:
        hours = f"{_clock(night.starts_minute)} to {_clock(night.ends_minute)}"
    return {"name": name, "who": who, "hours": hours}


def _time(on: date, moments: Sequence[int], at: int) -> Plain:
    """A row's time; the first one past midnight names its day."""
    days = moments[at] // wording.MINUTES_OF_DAY
    before = moments[at - 1] // wording.MINUTES_OF_DAY if at else 0
    day = wording.day_short(on + timedelta(days=days)) if days > before else ""
    return {"time": _clock(moments[at]), "day": day}


def _laid(
    pieces: Sequence[_Piece], moments: Sequence[int], night: CrewNightSheet | None
) -> Iterator[tuple[int, int, Plain]]:
    """(row, span, cell) of one column, without gaps."""
    rows = {minute: row for row, minute in enumerate(moments)}
    if not pieces:
        if moments:
            yield 0, len(moments), _idle("no visit" if night is not None else "")
        return
    reached = 0
    for starts, ends, cell in pieces:
        row = rows[starts]
        if row > reached:
            yield reached, row - reached, _idle()
        span = max(1, rows[ends] - row)
        yield row, span, cell
        reached = row + span
    if reached < len(moments):
        yield reached, len(moments) - reached, _idle()


def _idle(said: str = "") -> Plain:
    return {"kind": "idle", "time": "", "said": said}


def _pieces(night: CrewNightSheet) -> Iterator[_Piece]:
    """What a crew's night is made of, in order: out, visit, drive, visit, …, drive, back."""
    if night.leaves_minute is None or night.home_minute is None:
        return
    # in the autumn the clock runs an hour twice; a cell never ends before it begins
    now = night.leaves_minute
    for at, stop in enumerate(night.stops):
        starts = max(now, stop.starts_minute)
        if starts > now:
            rests = _break_between(night, now, starts)
            yield now, starts, _drive(now, starts, stop.travel_minutes, rests, sets_out=not at)
        now = max(starts + 1, stop.ends_minute)
        yield starts, now, _visit(stop)
    home = max(now, night.home_minute)
    if home > now:
        yield now, home, _drive(now, home, home - now, 0, sets_out=False)
    over = f", {night.overtime_minutes} min over" if night.overtime_minutes else ""
    said = wording.bound(f"back{over}")
    yield home, home, {"kind": "home", "time": _clock(night.home_minute), "said": said}


def _break_between(night: CrewNightSheet, now: int, until: int) -> int:
    """Minutes of the break where it lies between two visits."""
    at = night.break_minute
    return night.break_minutes if at is not None and now <= at < until else 0


def _drive(now: int, until: int, travel: int, rests: int, *, sets_out: bool) -> Plain:
    waits = until - now - travel - rests
    words = ["sets out"] if sets_out else []
    if travel:
        words.append(f"{travel} min drive")
    if rests:
        words.append(f"break of {rests} min")
    if waits > 0 and not sets_out:
        words.append(f"{wording.length(waits)} to spare")
    return {
        "kind": "drive",
        "time": _clock(now) if sets_out else "",
        "said": wording.bound(", ".join(words)),
    }


def _visit(stop: StopSheet) -> Plain:
    asides = [stop.state]
    if stop.part:
        asides.append(stop.part)
    if stop.held:
        asides.append("held with this crew")
    if stop.moved_from is not None:
        asides.append(f"planned on {wording.day_short(stop.moved_from)}")
    if stop.stands and stop.planned_minute != stop.starts_minute:
        asides.append(f"planned {_clock(stop.planned_minute)}")
    if stop.site_clock:
        asides.append(f"{stop.site_clock} by the site's clock")
    return {
        "kind": "visit" if stop.stands else "moves",
        "time": _clock(stop.starts_minute),
        "until": _clock(stop.ends_minute),
        "site": stop.site_name,
        "code": stop.site,
        "works": "; ".join(stop.works),
        "machines": list(stop.machines),
        "aside": "; ".join(asides),
    }


def _clock(minute: int) -> str:
    return format_minute(minute % wording.MINUTES_OF_DAY)


def _quiet(sheet: WeekSheet) -> str:
    """The nights of the week on which no crew has a visit and none is missed."""
    busy = {night.on for night in sheet.nights if night.stops} | {n.night for n in sheet.unfitted}
    days = [sheet.starts_on + timedelta(days=step) for step in range(7)]
    quiet = [wording.day_short(day) for day in days if day not in busy]
    return f"No visits on {', '.join(quiet)}." if quiet and sheet.placed else ""
