"""iCalendar bytes: a small strict writer after RFC 5545 and RFC 7986.

One VEVENT a visit, UTC times or whole days, no recurrence, no time zone blocks, no alarms, no
attendees. The same sheet always gives the same bytes, since nothing here reads the clock.
"""

import re
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from uuid import NAMESPACE_URL, uuid5

from floorcare.services.sheets import CalendarEvent, CalendarSheet

PRODUCT = "-//floorcare//floorcare//EN"
REFRESH = "PT6H"
LINE_OCTETS = 75

_UID = re.compile(r"[A-Za-z0-9-]{1,200}\Z")
_DOMAIN = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9.-]{0,200}[A-Za-z0-9])?\Z")
# Controls would start new lines in some readers; lone surrogates have no UTF-8 at all.
_NOT_TEXT = re.compile("[\x00-\x1f\x7f-\x9f\ud800-\udfff]")


def write_calendar(sheet: CalendarSheet) -> bytes:
    """The calendar as bytes, events by start and UID.

    A calendar without events would break RFC 5545 (3.6) and some clients take it for a fault, so
    one whole-day note says that nothing is planned.

    Raises
    ------
    ValueError : a UID twice or of other characters, a naive instant, an end before its start,
        a place off the globe, a negative sequence.
    """
    if not _DOMAIN.match(sheet.domain):
        raise ValueError(f"domain {sheet.domain!r}: allowed letters, digits, '.' and '-'")
    events = sheet.events or (_quiet(sheet),)
    uids = [event.uid for event in events]
    if len(set(uids)) < len(uids):
        twice = sorted({uid for uid in uids if uids.count(uid) > 1})
        raise ValueError(f"UID used more than once: {', '.join(twice)}")
    blocks = sorted((_starts(event), event.uid, event) for event in events)
    lines = [*_head(sheet)]
    for start, _, event in blocks:
        lines.extend(_event(event, start, sheet.domain))
    lines.append("END:VCALENDAR")
    return b"".join(map(_folded, lines))


def all_day(first: date, last: date) -> tuple[str, str]:
    """DTSTART and DTEND of whole days, both included; the end of the standard is exclusive.

    >>> all_day(date(2026, 3, 2), date(2026, 3, 2))
    ('DTSTART;VALUE=DATE:20260302', 'DTEND;VALUE=DATE:20260303')
    """
    if last < first:
        raise ValueError(f"the last day {last} lies before the first {first}")
    after = last + timedelta(days=1)
    return f"DTSTART;VALUE=DATE:{first:%Y%m%d}", f"DTEND;VALUE=DATE:{after:%Y%m%d}"


def _head(sheet: CalendarSheet) -> Iterator[str]:
    yield "BEGIN:VCALENDAR"
    yield "VERSION:2.0"
    yield f"PRODID:{PRODUCT}"
    yield "METHOD:PUBLISH"
    name = escaped(sheet.name)
    yield f"NAME:{name}"
    yield f"X-WR-CALNAME:{name}"
    # The revision, never the clock: an unchanged calendar keeps its bytes.
    about = escaped(f"{sheet.description} As of revision {sheet.revision}, {sheet.as_of}.")
    yield f"DESCRIPTION:{about}"
    yield f"X-WR-CALDESC:{about}"
    yield f"LAST-MODIFIED:{_utc(sheet.revised_at)}"
    yield f"REFRESH-INTERVAL;VALUE=DURATION:{REFRESH}"
    yield f"X-PUBLISHED-TTL:{REFRESH}"


def _event(event: CalendarEvent, starts: str, domain: str) -> Iterator[str]:
    if not _UID.match(event.uid):
        raise ValueError(f"UID {event.uid!r}: allowed letters, digits and '-'")
    if event.sequence < 0:
        raise ValueError(f"sequence {event.sequence} of {event.uid}: allowed 0 or more")
    changed = _utc(event.changed_at)
    yield "BEGIN:VEVENT"
    yield f"UID:{event.uid}@{domain}"
    yield f"DTSTAMP:{changed}"
    yield f"LAST-MODIFIED:{changed}"
    yield f"SEQUENCE:{event.sequence}"
    yield starts
    yield _ends(event)
    summary = f"Called off: {event.summary}" if event.cancelled else event.summary
    yield f"SUMMARY:{escaped(summary)}"
    if event.description:
        # The escaped line break of the standard; each line is cleaned by itself.
        yield "DESCRIPTION:" + r"\n".join(map(escaped, event.description))
    if event.location:
        yield f"LOCATION:{escaped(event.location)}"
    if event.latitude is not None and event.longitude is not None:
        yield _geo(event.latitude, event.longitude)
    if event.categories:
        yield "CATEGORIES:" + ",".join(map(escaped, event.categories))
    yield f"STATUS:{_status(event)}"
    yield "TRANSP:TRANSPARENT"
    yield "X-MICROSOFT-CDO-BUSYSTATUS:FREE"
    yield "END:VEVENT"


def _starts(event: CalendarEvent) -> str:
    if event.starts_at is None:
        return all_day(event.night, event.last_day or event.night)[0]
    return f"DTSTART:{_utc(event.starts_at)}"


def _ends(event: CalendarEvent) -> str:
    if event.starts_at is None and event.ends_at is None:
        return all_day(event.night, event.last_day or event.night)[1]
    if event.starts_at is None:
        raise ValueError(f"{event.uid} ends {event.ends_at} without a start")
    if event.ends_at is None or event.ends_at <= event.starts_at:
        raise ValueError(f"{event.uid} ends {event.ends_at}, not after {event.starts_at}")
    return f"DTEND:{_utc(event.ends_at)}"


def _status(event: CalendarEvent) -> str:
    if event.cancelled:
        return "CANCELLED"
    return "TENTATIVE" if event.proposed else "CONFIRMED"


def _geo(latitude: float, longitude: float) -> str:
    if not (-90 <= latitude <= 90 and -180 <= longitude <= 180):
        raise ValueError(f"place {latitude}, {longitude}: allowed ±90 and ±180 degrees")
    return f"GEO:{latitude:.6f};{longitude:.6f}"


def _quiet(sheet: CalendarSheet) -> CalendarEvent:
    return CalendarEvent(
        uid=str(uuid5(NAMESPACE_URL, f"{sheet.domain}/{sheet.name}")),
        night=sheet.as_of,
        sequence=sheet.revision,
        changed_at=sheet.revised_at,
        summary=f"No visits planned: {sheet.name}",
    )


def _utc(instant: datetime) -> str:
    if instant.tzinfo is None:
        raise ValueError(f"instant {instant} has no time zone: UTC is needed")
    return f"{instant.astimezone(UTC):%Y%m%dT%H%M%SZ}"


def escaped(text: str) -> str:
    r"""One line of text as iCalendar wants it: no controls, single blanks, escapes.

    >>> print(escaped("Hall B,\r\nnorth; lane"))
    Hall B\, north\; lane
    """
    plain = " ".join(_NOT_TEXT.sub(" ", text).split())
    return plain.replace("\\", r"\\").replace(";", r"\;").replace(",", r"\,")


def _folded(line: str) -> bytes:
    octets = line.encode()
    if len(octets) <= LINE_OCTETS:
        return octets + b"\r\n"
    pieces = []
    room = LINE_OCTETS
    while len(octets) > room:
        cut = room
        while octets[cut] & 0xC0 == 0x80:
            cut -= 1
        # Some clients lose an escape that is split by a fold.
        before = octets[:cut]
        if (len(before) - len(before.rstrip(b"\\"))) % 2:
            cut -= 1
        pieces.append(octets[:cut])
        octets = octets[cut:]
        room = LINE_OCTETS - 1
    pieces.append(octets)
    return b"\r\n ".join(pieces) + b"\r\n"
