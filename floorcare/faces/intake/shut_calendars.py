"""Shut days out of calendar files: `shut/SITE.ics`, as a customer's own calendar hands them out.

Every event is a shut day or run of days at that site, its summary the reason. Read with the
icalendar library (RFC 5545); an event that repeats is asked about, since its days are the
customer's to name.
"""

from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from floorcare.faces.intake.drafts import SiteDraft
from floorcare.faces.intake.gathering import Gathering
from floorcare.faces.intake.notes import nearest
from floorcare.ground.worktime.shut import ShutDay

FOLDER = "shut"
MOST_BYTES = 2_000_000
"""A calendar of shut days above this is no list of shut days. Assumption."""
LONGEST_WHY = 500


def take_shut_calendars(folder: Path, so_far: Gathering) -> int:
    """Take in every calendar of the folder's `shut` folder; the number of shut days found."""
    place = folder / FOLDER
    if not place.is_dir():
        return 0
    taken = 0
    for path in sorted(place.glob("*.ics")):
        name = f"{FOLDER}/{path.name}"
        site = so_far.sites.get(path.stem)
        if site is None:
            mend = nearest(path.stem, so_far.sites, "name the file after a site of sites.csv")
            so_far.notes.add("stops", name, 0, "there is no such site", value=path.stem, mend=mend)
            continue
        taken += _take(path, name, site, so_far)
    return taken


def _take(path: Path, name: str, site: SiteDraft, so_far: Gathering) -> int:
    from icalendar import Calendar

    taken = 0
    try:
        content = path.read_bytes()
        if len(content) > MOST_BYTES:
            raise ValueError(f"{len(content):,} bytes; at most {MOST_BYTES:,} are read")
        calendars = Calendar.from_ical(content, multiple=True)
    except (OSError, ValueError, IndexError) as trouble:
        mend = "write the calendar out again, or enter its days in shut_days.csv"
        so_far.notes.add(
            "stops", name, 0, f"this is no calendar that can be read: {trouble}", mend=mend
        )
        return 0
    for calendar in calendars:
        for number, event in enumerate(calendar.walk("VEVENT"), start=1):
            shut = _shut_day(event, number, name, site, so_far)
            if shut is not None:
                site.shut_days.append((number, shut))
                taken += 1
    return taken


def _shut_day(
    event: Any, number: int, name: str, site: SiteDraft, so_far: Gathering
) -> ShutDay | None:
    """The days of one event, or None with what is asked about it."""
    why = " ".join(str(event.get("SUMMARY", "")).split())[:LONGEST_WHY] or "shut"
    if str(event.get("STATUS", "")).upper() == "CANCELLED":
        return None
    if "RRULE" in event or "RDATE" in event:
        mend = "enter its days in shut_days.csv"
        so_far.notes.add(
            "asks", name, number, "a repeating event is not taken in", value=why, mend=mend
        )
        return None
    first = event.get("DTSTART")
    if first is None:
        mend = "give it a day, or take it out"
        so_far.notes.add("stops", name, number, "the event has no start", value=why, mend=mend)
        return None
    starts = _moment(first.dt)
    if starts is None:
        mend = "give it a day, or take it out"
        so_far.notes.add("stops", name, number, "the start is no day", value=why, mend=mend)
        return None
    zone = str(site.line.cells["time_zone"] or "UTC")
    ends = _end(event)
    from_on = _day(starts, zone)
    to_on = from_on if ends is None else _last_day(ends, zone)
    if to_on < from_on:
        mend = "mend its end; the last day itself is not shut where it is given as the end"
        so_far.notes.add(
            "stops", name, number, "the event ends before it starts", value=why, mend=mend
        )
        return None
    return ShutDay(from_on=from_on, to_on=to_on, why=why)


def _end(event: Any) -> date | datetime | None:
    if "DTEND" in event:
        return _moment(event["DTEND"].dt)
    if "DURATION" in event:
        return _moment(event["DTSTART"].dt + event["DURATION"].dt)
    return None


def _moment(when: Any) -> date | datetime | None:
    return when if isinstance(when, date) else None


def _day(when: date | datetime, zone: str) -> date:
    """The site's own date of a moment; a day is itself, a floating time is the site's own."""
    if not isinstance(when, datetime):
        return when
    if when.tzinfo is None:
        return when.date()
    return when.astimezone(UTC).astimezone(ZoneInfo(zone)).date()


def _last_day(end: date | datetime, zone: str) -> date:
    """The last shut day: an end is not part of what it ends (RFC 5545 3.6.1)."""
    if not isinstance(end, datetime):
        return end - timedelta(days=1)
    return _day(end - timedelta(seconds=1), zone)
