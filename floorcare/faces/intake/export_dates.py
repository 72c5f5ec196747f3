"""Dates and times of an export: which order of day and month fits all of them, never a guess."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta, timezone
from zoneinfo import ZoneInfo

from floorcare.faces.intake.dating import NOON_MINUTE, day
from floorcare.faces.intake.unfit import Unfit

YEAR_FIRST, DAY_FIRST, MONTH_FIRST = "year first", "day first", "month first"
ORDERS = (DAY_FIRST, MONTH_FIRST, YEAR_FIRST)
CENTURY = 2000
"""Added to a year of two digits. Assumption: no export is older."""
_PLACES = {YEAR_FIRST: (0, 1, 2), DAY_FIRST: (2, 1, 0), MONTH_FIRST: (2, 0, 1)}
_NUMERIC = re.compile(r"(\d{1,4})([./-])\s?(\d{1,2})\2\s?(\d{1,4})\.?\Z")
_WITH_TIME = re.compile(
    r"(.*?[0-9.])(?:T|,?\s+)([0-9]{1,2}:[0-9]{2}.*|[0-9]{1,2}\s*[AaPp]\.?[Mm].*)\Z"
)
_TIME = re.compile(
    r"([0-9]{1,2})(?:[:.h]([0-9]{2}))?(?::([0-9]{2})(?:[.,][0-9]+)?)?\s*([ap])?(?:\.?m\.?)?\s*"
    r"(z|utc|gmt|[+-][0-9]{2}:?[0-9]{2})?\Z",
    re.IGNORECASE,
)
_TIME_ALLOWED = "a time such as 21:40, 21:40:05 or 9:40 PM"


@dataclass(frozen=True, slots=True)
class Clock:
    """A moment as it is typed: `offset_minutes` from UTC where the text names one."""

    on: date
    minute: int
    offset_minutes: int | None = None

    def at_site(self, time_zone: str) -> tuple[date, int]:
        """The site's own date and minute."""
        if self.offset_minutes is None:
            return self.on, self.minute
        offset = timezone(timedelta(minutes=self.offset_minutes))
        typed = datetime(self.on.year, self.on.month, self.on.day, tzinfo=offset)
        own = (typed + timedelta(minutes=self.minute)).astimezone(ZoneInfo(time_zone))
        return own.date(), own.hour * 60 + own.minute


def split_moment(text: str) -> tuple[str, str]:
    """Date and time of one text; the time is "" where there is none.

    >>> split_moment("12.03.2026 21:40"), split_moment("2026-03-12")
    (('12.03.2026', '21:40'), ('2026-03-12', ''))
    """
    found = _WITH_TIME.match(text.strip())
    return (found[1], found[2]) if found else (text.strip(), "")


def orders_fitting(dates: Iterable[str]) -> tuple[str, ...]:
    """The orders of day, month and year in which every one of these dates is a day.

    A date that is no day in any order speaks for none.

    Returns
    -------
    One order where the dates leave no doubt, or none of them is in figures; several where they do;
    none where no order fits all.
    """
    figures = [days for text in set(dates) if (days := _days(text))]
    left = tuple(order for order in ORDERS if all(order in days for days in figures))
    doubtful = any(len({days[order] for order in left}) > 1 for days in figures)
    return left if doubtful else left[:1]


def first_unfit(dates: Iterable[str], order: str) -> str:
    """The first date that is no day in that order, "" where all are."""
    return next((t for t in dates if (days := _days(t)) and order not in days), "")


def first_doubtful(dates: Iterable[str]) -> str:
    """The first date that means another day in another order."""
    return next((t for t in dates if len(set((_days(t) or {}).values())) > 1), "")


def read_day(text: str, order: str) -> date:
    """The day a text means, figures in that order.

    >>> read_day("03/04/2026", "month first"), read_day("3 Apr 2026", "month first")
    (datetime.date(2026, 3, 4), datetime.date(2026, 4, 3))
    """
    days = _days(text)
    if days is None:
        return day(text)
    if order in days:
        return days[order]
    if len(set(days.values())) == 1 and YEAR_FIRST in days:
        return days[YEAR_FIRST]
    raise Unfit("is a day no calendar has", f"a date, {order}", "correct the date")


def read_clock(on: str, at: str, order: str) -> Clock:
    """Day and minute; a day without a time is taken as noon."""
    if not at.strip():
        return Clock(read_day(on, order), NOON_MINUTE)
    found = _TIME.match(at.strip())
    if not found or not (found[2] or found[4]):
        raise Unfit("is not a time of day", _TIME_ALLOWED, "write hours and minutes")
    hour, minute = int(found[1]), int(found[2] or 0)
    half = (found[4] or "").lower()
    if (half and not 1 <= hour <= 12) or hour > 23 or minute > 59:
        raise Unfit("names an hour that no clock shows", _TIME_ALLOWED, "write 00:00 to 23:59")
    if half:
        hour = hour % 12 + (12 if half == "p" else 0)
    return Clock(read_day(on, order), hour * 60 + minute, _offset(found[5]))


def _offset(text: str | None) -> int | None:
    if text is None:
        return None
    if text.lower() in ("z", "utc", "gmt"):
        return 0
    digits = text[1:].replace(":", "")
    return (-1 if text[0] == "-" else 1) * (int(digits[:2]) * 60 + int(digits[2:]))


def _days(text: str) -> dict[str, date] | None:
    """The day in every order in which it is one; None where it is not written in three figures."""
    found = _NUMERIC.match(text.strip())
    if not found:
        return None
    parts = (found[1], found[3], found[4])
    if len(parts[0]) == 3 or len(parts[2]) == 3:
        return {}
    days = {}
    for order, places in _PLACES.items():
        year, month, number = (parts[place] for place in places)
        if len(month) > 2 or len(number) > 2 or len(year) not in (2, 4):
            continue
        try:
            days[order] = date(
                int(year) + (CENTURY if len(year) < 3 else 0), int(month), int(number)
            )
        except ValueError:
            continue
    if YEAR_FIRST in days and len(parts[0]) == 4:
        return dict.fromkeys(ORDERS, days[YEAR_FIRST])
    return days
