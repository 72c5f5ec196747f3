import dataclasses
import re
from datetime import UTC, date, datetime, timedelta, timezone

import pytest
from icalendar import Calendar

from floorcare.faces.feeds.write import LINE_OCTETS, all_day, escaped, write_calendar
from floorcare.services.sheets import CalendarEvent, CalendarSheet
from tests.golden.sheets import CALENDAR

CHANGED = datetime(2026, 2, 26, 15, 4, 5, tzinfo=UTC)


def an_event(**changes: object) -> CalendarEvent:
    plain = CalendarEvent(
        uid="visit-1",
        night=date(2026, 3, 4),
        sequence=2,
        changed_at=CHANGED,
        starts_at=datetime(2026, 3, 4, 21, 0, tzinfo=UTC),
        ends_at=datetime(2026, 3, 5, 3, 30, tzinfo=UTC),
        summary="Hall B closed",
    )
    return dataclasses.replace(plain, **changes)


def a_sheet(*events: CalendarEvent, **changes: object) -> CalendarSheet:
    return dataclasses.replace(CALENDAR, events=events, **changes)


def a_feed(**changes: object) -> bytes:
    return write_calendar(a_sheet(an_event(**changes)))


def read(feed: bytes):
    """The only event of a feed, as the judge reads it."""
    (event,) = Calendar.from_ical(feed).walk("VEVENT")
    return event


def lines(feed: bytes) -> list[str]:
    return feed.replace(b"\r\n ", b"").decode().split("\r\n")


# The pitfalls of subscribed calendars, one test each.


def test_pitfall_1_the_uid_is_the_visits_own_and_the_same_at_each_fetch():
    assert read(a_feed())["UID"] == "visit-1@care.example"
    assert write_calendar(CALENDAR) == write_calendar(CALENDAR)


@pytest.mark.parametrize("uid", ["", "visit/1", "visit 1", "visit\n1", "vísit", "a@b", "1_2"])
def test_pitfall_1_a_uid_of_other_characters_is_refused(uid):
    with pytest.raises(ValueError, match="UID"):
        a_feed(uid=uid)


def test_pitfall_1_the_domain_cannot_smuggle_a_line():
    with pytest.raises(ValueError, match="domain"):
        write_calendar(a_sheet(an_event(), domain="care.example\r\nX:1"))


def test_pitfall_2_a_uid_used_twice_is_refused():
    with pytest.raises(ValueError, match="more than once: visit-1"):
        write_calendar(a_sheet(an_event(), an_event(summary="another")))


def test_pitfall_3_a_change_raises_the_sequence_and_stamps_come_from_the_visit():
    event = read(a_feed(sequence=7))
    assert event["SEQUENCE"] == 7
    assert event["DTSTAMP"].dt == event["LAST-MODIFIED"].dt == CHANGED


def test_pitfall_3_a_sequence_below_nought_is_refused():
    with pytest.raises(ValueError, match="sequence -1"):
        a_feed(sequence=-1)


def test_pitfall_4_a_called_off_visit_stays_says_so_and_keeps_nobody_busy():
    event = read(a_feed(cancelled=True, proposed=True))
    assert event["STATUS"] == "CANCELLED"
    assert event["SUMMARY"] == "Called off: Hall B closed"
    assert event["TRANSP"] == "TRANSPARENT"


@pytest.mark.parametrize(("proposed", "status"), [(True, "TENTATIVE"), (False, "CONFIRMED")])
def test_the_status_tells_proposed_from_held(proposed, status):
    assert read(a_feed(proposed=proposed))["STATUS"] == status


@pytest.mark.parametrize("days", [1, 3])
def test_pitfall_5_the_end_of_whole_days_is_exclusive(days):
    last = date(2026, 3, 4) + timedelta(days=days - 1)
    event = read(a_feed(starts_at=None, ends_at=None, last_day=last))
    assert event["DTSTART"].dt == date(2026, 3, 4)
    assert event["DTEND"].dt - event["DTSTART"].dt == timedelta(days=days)
    assert event["DTSTART"].params["VALUE"] == "DATE"


def test_pitfall_5_whole_days_that_end_before_they_start_are_refused():
    with pytest.raises(ValueError, match="before the first"):
        all_day(date(2026, 3, 4), date(2026, 3, 3))


@pytest.mark.parametrize("hours", [13, 10, 0, -10])
def test_pitfall_6_the_day_is_the_sites_day_whatever_its_zone(hours):
    zone = timezone(timedelta(hours=hours))
    changed = datetime(2026, 3, 4, 0, 30, tzinfo=zone)
    event = read(a_feed(starts_at=None, ends_at=None, changed_at=changed))
    assert event["DTSTART"].dt == date(2026, 3, 4)


def test_pitfall_7_the_refresh_hint_and_the_revision_are_given():
    calendar = Calendar.from_ical(a_feed())
    assert calendar["REFRESH-INTERVAL"].params["VALUE"] == "DURATION"
    assert "REFRESH-INTERVAL;VALUE=DURATION:PT6H" in lines(a_feed())
    assert "X-PUBLISHED-TTL:PT6H" in lines(a_feed())
    assert str(calendar["DESCRIPTION"]).endswith("As of revision 12, 2026-02-26.")


def test_pitfalls_8_and_9_times_are_utc_without_zone_blocks():
    zone = timezone(timedelta(hours=10))
    starts = datetime(2026, 3, 5, 7, 0, tzinfo=zone)
    text = "\n".join(lines(a_feed(starts_at=starts)))
    assert "DTSTART:20260304T210000Z" in text
    assert "TZID" not in text
    assert "VTIMEZONE" not in text


def test_pitfall_8_a_time_without_zone_is_refused():
    with pytest.raises(ValueError, match="no time zone"):
        a_feed(starts_at=datetime(2026, 3, 4, 21, 0))  # noqa: DTZ001


def test_pitfall_11_nothing_recurs_and_nothing_rings_and_nobody_is_invited():
    text = write_calendar(CALENDAR)
    unwanted = (b"RRULE", b"RDATE", b"EXDATE", b"VALARM", b"ATTENDEE", b"ORGANIZER")
    assert [word for word in unwanted if word in text] == []


def test_pitfall_15_a_calendar_without_visits_is_never_empty():
    sheet = a_sheet()
    event = read(write_calendar(sheet))
    assert event["SUMMARY"] == "No visits planned: Market Hall East"
    assert event["DTSTART"].dt == sheet.as_of
    assert write_calendar(sheet) == write_calendar(sheet)


def test_pitfall_16_nothing_stands_before_the_first_line():
    assert a_feed().startswith(b"BEGIN:VCALENDAR\r\n")
    assert a_feed().endswith(b"END:VCALENDAR\r\n")


def test_pitfall_19_nobody_is_busy():
    event = read(a_feed())
    assert event["TRANSP"] == "TRANSPARENT"
    assert event["X-MICROSOFT-CDO-BUSYSTATUS"] == "FREE"


def test_pitfall_21_the_calendar_is_published_not_an_invitation():
    calendar = Calendar.from_ical(a_feed())
    assert (calendar["METHOD"], calendar["VERSION"]) == ("PUBLISH", "2.0")
    assert calendar["PRODID"]


def test_pitfall_22_lines_end_in_crlf_and_are_folded_between_characters():
    text = "Übergänge, Türen; Café 😀 \\ bleiben offen " * 20
    feed = a_feed(summary=text, description=(text, text))
    assert feed.count(b"\n") == feed.count(b"\r\n") == feed.count(b"\r")
    for line in feed.removesuffix(b"\r\n").split(b"\r\n"):
        assert len(line) <= LINE_OCTETS
        assert line.strip()
        line.decode()
    assert read(feed)["SUMMARY"] == text.strip()


@pytest.mark.parametrize("extra", range(4))
def test_pitfall_22_a_line_of_exactly_the_limit_has_no_continuation(extra):
    text = "x" * (LINE_OCTETS - len("SUMMARY:") + extra)
    feed = a_feed(summary=text)
    folded = feed.split(b"SUMMARY:")[1].split(b"\r\nSTATUS")[0]
    assert folded.count(b"\r\n ") == (1 if extra else 0)
    assert read(feed)["SUMMARY"] == text


@pytest.mark.parametrize("extra", [-1, 0, 1])
def test_pitfall_22_a_continuation_of_exactly_the_limit_has_none_of_its_own(extra):
    text = "x" * (2 * LINE_OCTETS - 1 - len("SUMMARY:") + extra)
    feed = a_feed(summary=text)
    folded = feed.split(b"SUMMARY:")[1].split(b"\r\nSTATUS")[0]
    assert folded.count(b"\r\n ") == (2 if extra > 0 else 1)
    assert read(feed)["SUMMARY"] == text


@pytest.mark.parametrize("before", range(6))
def test_pitfall_22_a_fold_never_splits_an_escape(before):
    feed = a_feed(summary="x" * (LINE_OCTETS - len("SUMMARY:") - before) + ",;,\\,;" * 30)
    for line in feed.split(b"\r\n"):
        assert len(re.search(rb"\\*\Z", line)[0]) % 2 == 0
    assert read(feed)["SUMMARY"].endswith(",;,\\,;")


def test_pitfall_24_the_description_is_plain_text_line_by_line():
    event = read(a_feed(description=("Why: a fresh coat", "https://care.example/v/1")))
    assert str(event["DESCRIPTION"]) == "Why: a fresh coat\nhttps://care.example/v/1"


HOSTILE = "Hall\r\nEND:VEVENT\x00\x07\x0b\x85\u2028\ud800 B\t"


def test_a_hostile_name_cannot_start_a_line_of_its_own():
    feed = a_feed(summary=HOSTILE, location=HOSTILE, description=(HOSTILE,), categories=(HOSTILE,))
    assert read(feed)["SUMMARY"] == "Hall END:VEVENT B"
    assert feed.count(b"\r\nEND:VEVENT\r\n") == 1


def test_a_hostile_calendar_name_cannot_start_a_line_of_its_own():
    calendar = Calendar.from_ical(write_calendar(a_sheet(an_event(), name=HOSTILE)))
    assert calendar["NAME"] == calendar["X-WR-CALNAME"] == "Hall END:VEVENT B"


def test_place_and_kinds_of_work_are_given():
    event = read(a_feed(latitude=52.5, longitude=-1.25, categories=("recoat", "a,b")))
    assert (event["GEO"].latitude, event["GEO"].longitude) == (52.5, -1.25)
    assert list(event["CATEGORIES"].cats) == ["recoat", "a,b"]


@pytest.mark.parametrize(("latitude", "longitude"), [(91, 0), (0, -181), (float("nan"), 0)])
def test_a_place_off_the_globe_is_refused(latitude, longitude):
    with pytest.raises(ValueError, match="place"):
        a_feed(latitude=latitude, longitude=longitude)


@pytest.mark.parametrize(
    "changes",
    [
        {"ends_at": datetime(2026, 3, 4, 21, 0, tzinfo=UTC)},
        {"ends_at": None},
        {"starts_at": None},
    ],
)
def test_a_visit_that_does_not_end_after_its_start_is_refused(changes):
    with pytest.raises(ValueError, match="ends"):
        a_feed(**changes)


def test_the_order_of_the_events_does_not_change_the_bytes():
    backwards = dataclasses.replace(CALENDAR, events=CALENDAR.events[::-1])
    assert write_calendar(backwards) == write_calendar(CALENDAR)


def test_every_line_needed_by_the_standard_is_there():
    for event in Calendar.from_ical(write_calendar(CALENDAR)).walk("VEVENT"):
        assert {"UID", "DTSTAMP", "DTSTART", "DTEND", "SUMMARY", "STATUS"} <= set(event)


def test_escapes_are_those_of_the_standard():
    assert escaped("a,b;c\\d") == r"a\,b\;c\\d"
