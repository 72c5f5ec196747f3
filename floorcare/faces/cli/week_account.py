"""What `week` says: each branch's answer, its crews night by night, and what fits none."""

from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from pathlib import Path

from floorcare.faces.cli.telling import NO_BRANCH
from floorcare.faces.documents.week_sheet_text import answer
from floorcare.faces.documents.wording import clock, day_short, length
from floorcare.services.week_sheet import CrewNightSheet, FittedWeek, UnfittedNote, WeekSheet


def weeks(fitted: Sequence[FittedWeek], paths: Iterable[Path], *, written: bool) -> str:
    """Every branch's week, what it changes and whether that was kept, then where its papers lie."""
    lines = [line for week in fitted for line in _week(week.sheet)] or [NO_BRANCH]
    changes = sum(len(week.sheet.changes) for week in fitted)
    if changes:
        those = "1 change is" if changes == 1 else f"{changes} changes are"
        lines.append(f"{those} kept." if written else f"{those} not kept; --write keeps them.")
    lines += [f"Written: {path}" for path in paths]
    return "\n".join(lines).rstrip()


def _week(sheet: WeekSheet) -> Iterator[str]:
    yield f"{sheet.branch}: {answer(sheet)}"
    for night in sheet.nights:
        if night.stops:
            yield from ("", *_night(night))
    for number, note in enumerate(sheet.unfitted, start=1):
        yield from ("", *_unfitted(number, note))
    if sheet.changes:
        yield ""
        yield "  Against the week as it was last kept:"
        for change in sheet.changes:
            yield f"    {change.site:14}{change.before} → {change.after}"
    if sheet.stopped_by == "time":
        yield ""
        yield "  The search was cut short by its cap of time; another run may find another week."
    if sheet.notes:
        yield ""
    for text in sheet.notes:
        yield f"  {text}"
    yield ""


def _night(night: CrewNightSheet) -> Iterator[str]:
    people = f" ({', '.join(night.workers)})" if night.workers else ""
    yield f"  {day_short(night.on)}, {night.name}{people}"
    yield f"    {_clock(night.leaves_minute, night.on):24}sets out"
    for stop in night.stops:
        hours = f"{_clock(stop.starts_minute, night.on)} to {_clock(stop.ends_minute, night.on)}"
        yield f"    {hours:24}{stop.site:14}{'; '.join(stop.works)}"
        told = [stop.state]
        if stop.part:
            told.append(stop.part)
        if stop.held:
            told.append("held with this crew")
        if stop.moved_from is not None:
            told.append(f"planned on {day_short(stop.moved_from)}")
        if stop.stands and stop.planned_minute != stop.starts_minute:
            told.append(f"planned {_clock(stop.planned_minute, night.on)}")
        if stop.site_clock:
            told.append(f"{stop.site_clock} by the site's clock")
        yield f"    {'':24}{length(stop.travel_minutes)} drive; {'; '.join(told)}"
        if stop.machines:
            yield f"    {'':24}takes {', '.join(stop.machines)}"
    # one that found no place between two stops is taken at the end, and is no news
    if night.break_minutes and night.break_minute != night.home_minute:
        yield f"    {_clock(night.break_minute, night.on):24}break of {night.break_minutes} min"
    over = f", {night.overtime_minutes} min over" if night.overtime_minutes else ""
    yield f"    {_clock(night.home_minute, night.on):24}back{over}"


def _unfitted(number: int, note: UnfittedNote) -> Iterator[str]:
    yield f"  {number}. {note.site}, {day_short(note.night)}: {'; '.join(note.works)}"
    yield f"     fits no crew: {note.why.rstrip('.')}."
    yield f"     Would help: {(note.nearest or note.mend).rstrip('.')}."


def _clock(minute: int | None, on: date) -> str:
    return clock(minute, on).replace("\N{NO-BREAK SPACE}", " ")
