"""Calendars read back by independent libraries, with the instants that went in.

Sources: icalendar 7 (collective/icalendar), vobject 0.9 (py-vobject), recurring-ical-events 3
(niccokunzmann/python-recurring-ical-events); RFC 5545 sections 3.6 and 3.6.1 for what must stand.
"""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
import recurring_ical_events
import vobject
from icalendar import Calendar

from floorcare.faces.feeds.write import write_calendar
from floorcare.services.sheets import CalendarEvent, CalendarSheet

ZONES = ("America/Chicago", "Europe/Berlin", "Australia/Brisbane", "Pacific/Auckland")


def visits() -> tuple[CalendarEvent, ...]:
    """A visit a week for a year in each zone, so that every change of clocks is crossed."""
    made = []
    for zone in ZONES:
        for week in range(52):
            night = date(2026, 1, 7) + timedelta(weeks=week)
            starts = datetime(night.year, night.month, night.day, 22, tzinfo=ZoneInfo(zone))
            starts = starts.astimezone(UTC)
            made.append(
                CalendarEvent(
                    uid=f"{zone.replace('/', '-')}-{week}".replace("_", "-"),
                    night=night,
                    sequence=week % 3,
                    changed_at=datetime(2026, 1, 1, tzinfo=UTC),
                    starts_at=starts,
                    ends_at=starts + timedelta(hours=6, minutes=30),
                    summary=f"Hall; lane, {zone} \\ no {week} – geschützt",
                    description=("first line, with a comma", "second line; long " * 9),
                    cancelled=week % 10 == 9,
                )
            )
    return tuple(made)


@pytest.fixture(scope="module")
def sheet() -> CalendarSheet:
    return CalendarSheet(
        name="All sites",
        domain="care.example",
        revision=3,
        revised_at=datetime(2026, 1, 1, tzinfo=UTC),
        as_of=date(2026, 1, 1),
        description="Every visit.",
        events=(
            *visits(),
            CalendarEvent(
                uid="whole-days",
                night=date(2026, 4, 13),
                last_day=date(2026, 4, 15),
                sequence=0,
                changed_at=datetime(2026, 1, 1, tzinfo=UTC),
                summary="Hall A closed",
            ),
        ),
    )


@pytest.fixture(scope="module")
def spans(sheet) -> dict[str, tuple[datetime | date, datetime | date]]:
    """Start and end by UID, as they went in; whole days end the day after the last."""
    made = {f"{e.uid}@care.example": (e.starts_at, e.ends_at) for e in sheet.events[:-1]}
    made["whole-days@care.example"] = (date(2026, 4, 13), date(2026, 4, 16))
    return made


def test_icalendar_reads_the_same_instants(sheet, spans):
    found = Calendar.from_ical(write_calendar(sheet)).walk("VEVENT")
    assert {str(e["UID"]): (e["DTSTART"].dt, e["DTEND"].dt) for e in found} == spans
    assert [e.errors for e in found if e.errors] == []


def test_vobject_reads_the_same_instants_and_words(sheet, spans):
    calendar = vobject.readOne(write_calendar(sheet).decode())
    found = calendar.vevent_list
    assert {e.uid.value: (e.dtstart.value, e.dtend.value) for e in found} == spans
    words = {e.uid.value: e.summary.value for e in found}
    for event in sheet.events:
        said = f"Called off: {event.summary}" if event.cancelled else event.summary
        assert words[f"{event.uid}@care.example"] == said


def test_recurring_ical_events_finds_each_visit_once(sheet, spans):
    calendar = Calendar.from_ical(write_calendar(sheet))
    found = recurring_ical_events.of(calendar).between(date(2026, 1, 1), date(2027, 2, 1))
    assert len(found) == len(sheet.events)
    assert {str(e["UID"]): (e["DTSTART"].dt, e["DTEND"].dt) for e in found} == spans


def test_recurring_ical_events_finds_whole_days_on_those_days_only(sheet):
    calendar = Calendar.from_ical(write_calendar(sheet))
    query = recurring_ical_events.of(calendar)
    seen = [
        day
        for day in (date(2026, 4, 10) + timedelta(days=n) for n in range(9))
        if any(str(e["UID"]).startswith("whole-days") for e in query.at(day))
    ]
    assert seen == [date(2026, 4, 13), date(2026, 4, 14), date(2026, 4, 15)]
