"""Minutes of a day, instants and true lengths: the one place where wall time becomes UTC.

A planned time is the site's own date and minute; minutes from 1440 on are the next morning. Two
aware times of one zone subtract by the wall clock, so every length here goes through UTC.
"""

import difflib
import re
from datetime import UTC, date, datetime, time, timedelta
from functools import cache, lru_cache
from zoneinfo import ZoneInfo, available_timezones

DAY_MINUTES = 1440
_CLOCK = re.compile(r"(\d{1,2}):(\d{2})(?::00)?\Z")


def parse_minute(text: str) -> int:
    """The minute of the day of a clock time, 0 to 1440 ("24:00").

    >>> parse_minute("22:00"), parse_minute("6:00"), parse_minute("24:00")
    (1320, 360, 1440)

    Raises
    ------
    ValueError : no clock time.

    Source: ISO 8601 clock times, 24-hour; one-digit hours are taken too.
    """
    found = _CLOCK.match(text.strip())
    if found:
        hour, minute = int(found[1]), int(found[2])
        if minute < 60 and hour * 60 + minute <= DAY_MINUTES:
            return hour * 60 + minute
    raise ValueError(f'"{text[:20]}" is no time of day; write 00:00 to 24:00, such as 22:00')


def format_minute(minute: int) -> str:
    """The clock time of a minute of a night; minutes above 1440 show the next morning's clock.

    >>> format_minute(1320), format_minute(1440), format_minute(1800)
    ('22:00', '24:00', '06:00')

    Source: ISO 8601 clock times.
    """
    if minute != DAY_MINUTES:
        minute %= DAY_MINUTES
    return f"{minute // 60:02d}:{minute % 60:02d}"


def instant(on: date, minute: int, zone: str) -> datetime:
    """The UTC instant of a minute of a site's day.

    Parameters
    ----------
    on : the site's own date.
    minute : 0 or more; from 1440 on the following days' clock.
    zone : IANA name.

    >>> instant(date(2026, 3, 2), 1800, "America/Denver").isoformat()
    '2026-03-03T13:00:00+00:00'

    A wall time that the spring change skips moves forward by the gap; one that the autumn change
    repeats is the first of the two.
    Source: RFC 5545 3.3.5 reads such local times the same way; PEP 495 (fold=0) gives it.
    """
    days, minute = divmod(minute, DAY_MINUTES)
    clock = time(minute // 60, minute % 60, tzinfo=ZoneInfo(zone))
    return datetime.combine(on + timedelta(days=days), clock).astimezone(UTC)


@lru_cache(maxsize=20_000)
def length_minutes(on: date, starts_minute: int, ends_minute: int, zone: str) -> int:
    """True length in minutes between two minutes of a site's day, through UTC; never below 0.

    >>> length_minutes(date(2026, 3, 28), 1320, 1800, "Europe/Berlin")
    420

    Raises
    ------
    ValueError : the end is not after the start.

    Source: IANA time zone database through zoneinfo.
    """
    if ends_minute <= starts_minute:
        raise ValueError(f"minute {ends_minute} is not after minute {starts_minute}")
    length = instant(on, ends_minute, zone) - instant(on, starts_minute, zone)
    # a start inside the spring gap moves forward and may pass an end that stays where it is
    return max(0, round(length.total_seconds() / 60))


def check_zone(name: str) -> None:
    """Refuse a name that is no time zone, naming those near it.

    Raises
    ------
    ValueError : no IANA zone of that name.

    Source: IANA time zone database through zoneinfo.
    """
    known = _zones()
    if known.get(name.casefold()) == name:
        return
    folded = name.strip().replace(" ", "_").casefold()[:60]
    # Etc/GMT+1 is an hour west of Greenwich: the sign runs against what everybody means by it
    places = {key: zone for key, zone in known.items() if not key.startswith("etc/")}
    near = [zone for key, zone in places.items() if folded in (key, key.rpartition("/")[2])]
    if not near:
        near = [places[key] for key in difflib.get_close_matches(folded, places, n=3)]
    hint = f"did you mean {' or '.join(near[:3])}?" if near else "write one such as Europe/Berlin."
    raise ValueError(f'"{name[:60]}" is no IANA time zone; {hint}')


@cache
def _zones() -> dict[str, str]:
    """Zones by their case-folded name; kept, since listing them walks the whole database."""
    return {zone.casefold(): zone for zone in sorted(available_timezones())}


def minute_after(on: date, minute: int, minutes: int, zone: str) -> int:
    """What the site's wall clock shows some true minutes later, as a minute of the night's date.

    Parameters
    ----------
    on, minute : date of the night and minute of it, 1440 and more the next morning.
    minutes : true minutes that pass, 0 or more.
    zone : IANA name.

    >>> minute_after(date(2026, 3, 7), 1320, 300, "America/Denver")
    1680

    Source: the IANA time zone database; on 8 March 2026 clocks in Denver go from 2:00 to 3:00, so
    five hours after 22:00 it is 4:00.
    """
    then = (instant(on, minute, zone) + timedelta(minutes=minutes)).astimezone(ZoneInfo(zone))
    return (then.date() - on).days * DAY_MINUTES + then.hour * 60 + then.minute
