"""The break of a shift: between two stops where there is room, near the middle of the night."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, timedelta

from floorcare.ground.crews.week import CrewNight, CrewStop


def with_break(night: CrewNight, last_starts: Sequence[datetime]) -> CrewNight:
    """The night with its break in place; later stops move back for it where their hours allow.

    Where no gap takes it, it comes after the last stop, on the way home: the night was filled so
    that there is always time for it there.

    Parameters
    ----------
    last_starts : of each stop the latest instant at which it may begin.

    Assumption: as near to the middle of the night's work as can be. Source of the wish for it: a
    rest break in a day of more than six hours, Directive 2003/88/EC, article 4; local law outranks.
    """
    if not night.stops or not night.break_minutes or night.starts_at is None:
        return night
    length = timedelta(minutes=night.break_minutes)
    middle = night.leaves_at + (night.home_at - night.leaves_at) / 2
    best = replace(night, break_at=night.home_at)
    best_off = abs(night.home_at - middle)
    for at in range(1, len(night.stops)):
        free_from = night.stops[at - 1].ends_at
        moved = _moved(night.stops, at, free_from + length, last_starts)
        if moved is None:
            continue
        found = replace(night, stops=moved, break_at=free_from)
        off = abs(free_from + length / 2 - middle)
        if off < best_off:
            best, best_off = found, off
    return best


def _moved(
    stops: Sequence[CrewStop], at: int, leaves: datetime, last_starts: Sequence[datetime]
) -> tuple[CrewStop, ...] | None:
    """The stops with those from one on pushed back so that the crew leaves no sooner for it."""
    moved = list(stops[:at])
    for stop, last in zip(stops[at:], last_starts[at:], strict=True):
        starts = max(stop.starts_at, leaves + timedelta(minutes=stop.travel_minutes))
        if starts > last:
            return None
        ends = starts + (stop.ends_at - stop.starts_at)
        moved.append(replace(stop, starts_at=starts, ends_at=ends))
        leaves = ends
    return tuple(moved)
