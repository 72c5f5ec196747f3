"""Whatever the words, places and times: the calendar reads back as it was meant."""

from datetime import UTC, date, datetime, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st
from icalendar import Calendar

from floorcare.faces.feeds.write import LINE_OCTETS, write_calendar
from floorcare.services.sheets import CalendarEvent, CalendarSheet

# Every code point, controls and lone surrogates included.
WORDS = st.text(max_size=300)
DAYS = st.dates(date(2000, 1, 1), date(2099, 12, 1))
INSTANTS = st.datetimes(
    datetime(2000, 1, 1),  # noqa: DTZ001
    datetime(2099, 12, 1),  # noqa: DTZ001
    timezones=st.timezones() | st.just(UTC),
)


@st.composite
def events(draw, uid: str) -> CalendarEvent:
    timed = draw(st.booleans())
    # Lengths are elapsed time, so they are added in UTC and not across a change of clocks.
    starts = draw(INSTANTS).astimezone(UTC) if timed else None
    ends = starts + timedelta(minutes=draw(st.integers(1, 3000))) if starts else None
    night = starts.date() if starts else draw(DAYS)
    return CalendarEvent(
        uid=uid,
        night=night,
        last_day=None if timed else night + timedelta(days=draw(st.integers(0, 9))),
        sequence=draw(st.integers(0, 10_000)),
        changed_at=draw(INSTANTS),
        starts_at=starts,
        ends_at=ends,
        summary=draw(WORDS),
        description=tuple(draw(st.lists(WORDS, max_size=4))),
        location=draw(WORDS),
        latitude=draw(st.floats(-90, 90)),
        longitude=draw(st.floats(-180, 180)),
        categories=tuple(draw(st.lists(WORDS, max_size=3))),
        proposed=draw(st.booleans()),
        cancelled=draw(st.booleans()),
    )


@st.composite
def sheets(draw) -> CalendarSheet:
    count = draw(st.integers(0, 3))
    return CalendarSheet(
        name=draw(WORDS),
        domain="care.example",
        revision=draw(st.integers(0, 10_000)),
        revised_at=draw(INSTANTS),
        as_of=draw(DAYS),
        description=draw(WORDS),
        events=tuple(draw(events(f"visit-{number}")) for number in range(count)),
    )


@settings(max_examples=60, deadline=None)
@given(sheets())
def test_bytes_keep_the_standards_lines(sheet):
    feed = write_calendar(sheet)
    assert feed == write_calendar(sheet)
    assert feed.count(b"\r\n") == feed.count(b"\n") == feed.count(b"\r")
    for line in feed.removesuffix(b"\r\n").split(b"\r\n"):
        text = line.decode()
        assert 0 < len(line) <= LINE_OCTETS
        assert text.strip(" ")
        assert not any(ord(c) < 0x20 or 0x7F <= ord(c) < 0xA0 for c in text)


@settings(max_examples=60, deadline=None)
@given(sheets())
def test_the_judge_reads_back_the_same_visits(sheet):
    found = {e["UID"]: e for e in Calendar.from_ical(write_calendar(sheet)).walk("VEVENT")}
    assert len(found) == max(1, len(sheet.events))
    for event in sheet.events:
        read = found[f"{event.uid}@care.example"]
        if event.starts_at is not None:
            assert read["DTSTART"].dt == event.starts_at.replace(microsecond=0)
            assert read["DTEND"].dt == event.ends_at.replace(microsecond=0)
        else:
            assert read["DTSTART"].dt == event.night
            assert read["DTEND"].dt == event.last_day + timedelta(days=1)
        assert read["SEQUENCE"] == event.sequence
        assert plain(event.summary) in read["SUMMARY"]


def plain(text: str) -> str:
    """Words and blanks alone, by another way than the writer's."""
    kept = (
        c if not (ord(c) < 32 or 127 <= ord(c) < 160 or 0xD800 <= ord(c) < 0xE000) else " "
        for c in text
    )
    return " ".join("".join(kept).split())
