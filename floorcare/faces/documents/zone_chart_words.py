"""What a zone's chart says in words: its answer, its title, and the whole of it for the ear."""

from collections.abc import Sequence
from datetime import date, timedelta

from floorcare.faces.documents import wording
from floorcare.ground.schedule.course import CourseTick, ZoneCourse
from floorcare.services.sheets import ConditionRow, ZoneChart

LONGEST_NAME = 60
"""A name is cut after so many characters where it stands on a drawing."""
MOST_TICKS_NAMED = 6
LOOK_AHEAD_DAYS = (91, 182)
"""The days ahead whose band is said aloud."""


def cut(name: str) -> str:
    """A name short enough for a drawing.

    >>> cut("Hall B"), len(cut("x" * 1000))
    ('Hall B', 60)
    """
    plain = " ".join(name.split())
    return plain if len(plain) <= LONGEST_NAME else plain[: LONGEST_NAME - 1] + "…"


def name(row: ConditionRow) -> str:
    """The area's and the zone's name, once where the one begins with the other."""
    area, zone = " ".join(row.area_name.split()), " ".join(row.zone_name.split())
    if zone.casefold().startswith(area.casefold()):
        return cut(zone)
    return cut(f"{area}, {zone}" if zone else area)


def title(chart: ZoneChart) -> str:
    """The chart's name."""
    row = chart.row
    return f"Gloss of {cut(row.zone)}, {name(row)}, on {wording.day_words(chart.course.today)}"


def answer(row: ConditionRow) -> str:
    """The zone's condition in one sentence."""
    if row.gloss_gu is None or row.low_gu is None or row.high_gu is None:
        parts = [f"Gloss not known, {row.evidence}"]
        if row.promise_gu is not None:
            parts.append(f"promised {row.promise_gu:.0f} GU")
    else:
        parts = [
            f"{row.gloss_gu:.0f} GU today ({row.low_gu:.0f} to {row.high_gu:.0f} with 90 %)",
            *([f"promised {row.promise_gu:.0f}"] if row.promise_gu is not None else []),
            *([f"nights to promise: {row.nights_to_promise}"] if row.promise_gu else []),
            row.evidence,
        ]
    if row.next_night:
        parts.append(f"next {row.next_work} {wording.day_short(row.next_night)}")
    return wording.bound("; ".join(parts)) + "."


def description(chart: ZoneChart) -> str:
    """All the chart shows, in sentences."""
    course = chart.course
    said = [answer(chart.row), _read(course), *_forecast(course), *_promised(course)]
    planned = [tick for tick in course.ticks if tick.planned]
    done = [tick for tick in course.ticks if not tick.planned]
    said.append(f"Done since {_day(course.first_on)}: {_named(done[::-1])}.")
    said.append(f"Planned until {_day(course.last_on)}: {_named(planned)}.")
    said += [f"Routine: {r.work.value} {rhythm_words(r.every_days)}." for r in course.rhythms]
    return " ".join(said)


def _read(course: ZoneCourse) -> str:
    rounds = course.readings
    if not rounds:
        return f"No gloss reading since {_day(course.first_on)}."
    gross = sum(reading.gross for reading in rounds)
    aside = f", {gross} of them not fitting the others" if gross else ""
    last = rounds[-1]
    return (
        f"{wording.count(len(rounds), 'gloss reading')} since {_day(course.first_on)}{aside}; the "
        f"last {last.gloss_gu:.0f} GU on {_day(last.on)}, {last.state.value}."
    )


def _forecast(course: ZoneCourse) -> list[str]:
    if not course.bands:
        return []
    widest = course.bands[-1]
    return [
        f"With the work planned so far about {course.median_gu[days]:.0f} GU on "
        f"{_day(course.today + timedelta(days=days))}, between {widest.low_gu[days]:.0f} and "
        f"{widest.high_gu[days]:.0f} with {100 * widest.level:.0f} %."
        for days in LOOK_AHEAD_DAYS
        if days < len(course.median_gu)
    ]


def _promised(course: ZoneCourse) -> list[str]:
    if course.promise_gu is None or course.reference_gu is None or course.promised_to is None:
        return []
    return [
        f"Promised {course.promise_gu:.0f} GU {course.state.value} until "
        f"{_day(course.promised_to)}, of a reference of {course.reference_gu:.0f} GU."
    ]


def _named(ticks: Sequence[CourseTick]) -> str:
    if not ticks:
        return "nothing"
    shown = ", ".join(
        f"{'' if tick.completes else 'part of '}{tick.work.value} "
        f"{'about ' if tick.about else ''}{_day(tick.on)}"
        for tick in ticks[:MOST_TICKS_NAMED]
    )
    more = len(ticks) - MOST_TICKS_NAMED
    return f"{shown} and {more} more" if more > 0 else shown


def rhythm_words(every_days: float) -> str:
    """How often a routine comes.

    >>> rhythm_words(1.0), rhythm_words(3.5), rhythm_words(7.0), rhythm_words(2.3)
    ('daily', '2 a week', 'weekly', '3 a week')
    """
    if every_days <= 1:
        return "daily"
    if every_days >= 6.5:
        return "weekly" if every_days <= 7.5 else f"every {every_days:.0f} days"
    return f"{7 / every_days:.0f} a week"


def _day(day: date) -> str:
    return f"{day.day} {wording.MONTHS[day.month - 1]} {day.year}"
