"""Dates as people type them: taken where they can mean one day only, else refused with a mend."""

import calendar
import re
from datetime import date, timedelta
from typing import NamedTuple

from floorcare.faces.intake.unfit import Unfit

EARLIEST_YEAR = 1900
LATEST_YEAR = 2100
NOON_MINUTE = 720
"""Minute taken for a reading of which the date alone is told. Assumption: before the night."""
LOOSE_DAYS = 7
"""Days either side of a date written with "about". Assumption."""
DAY_ALLOWED = "a date such as 2026-03-12, 12 Mar 2026 or 12.03.2026"
MOMENT_ALLOWED = "date and time such as 2026-03-12 21:40, or the date alone"
DAY_OF_YEAR_ALLOWED = "month and day such as 11-15, or 15 Nov"
ABOUT_ALLOWED = (
    "a date, a month (March 2026, 2026-03), a season (spring 2026), a quarter (Q1 2026), "
    "a year (2025), or empty"
)

_MONTHS = {
    name: number
    for number in range(1, 13)
    for name in (calendar.month_name[number].lower(), calendar.month_abbr[number].lower())
} | {"sept": 9}
_ISO = re.compile(r"([0-9]{4})-([0-9]{1,2})-([0-9]{1,2})\Z")
_YEAR_FIRST = re.compile(r"([0-9]{4})[/.]([0-9]{1,2})[/.]([0-9]{1,2})\Z")
_DOTTED = re.compile(r"([0-9]{1,2})\.\s?([0-9]{1,2})\.\s?([0-9]{4})\Z")
_SLASHED = re.compile(r"([0-9]{1,2})[/-]([0-9]{1,2})[/-]([0-9]{4})\Z")
_DAY_WORD = re.compile(r"([0-9]{1,2})(?:st|nd|rd|th|\.)?[\s-]+([a-z]+)\.?,?[\s-]+([0-9]{4})\Z")
_WORD_DAY = re.compile(r"([a-z]+)\.?\s+([0-9]{1,2})(?:st|nd|rd|th)?,?\s+([0-9]{4})\Z")
_MIDNIGHT = re.compile(r"[T ]00:00(?::00(?:\.0+)?)?\Z")
_MOMENT = re.compile(r"(.*?[0-9])(?:T|,?\s+)([0-9]{1,2}):([0-9]{2})(?::[0-9]{2}(?:\.[0-9]+)?)?\Z")
_OFFSET = re.compile(r":[0-9]{2}\s*(?:Z|UTC|GMT|[+-][0-9]{2}:?[0-9]{2})\Z", re.IGNORECASE)


def day(text: str) -> date:
    """The one day the text can mean.

    >>> day("2026-03-02"), day("2 Mar 2026"), day("13.03.2026")
    (datetime.date(2026, 3, 2), datetime.date(2026, 3, 2), datetime.date(2026, 3, 13))
    """
    clean = _MIDNIGHT.sub("", text.strip()).lower()
    for pattern in (_ISO, _YEAR_FIRST):
        if found := pattern.match(clean):
            year, month, number = map(int, found.groups())
            return _real(year, month, number)
    if found := _DOTTED.match(clean):
        number, month, year = map(int, found.groups())
        return _real(year, month, number)
    if found := _SLASHED.match(clean):
        first, second, year = map(int, found.groups())
        return _one_of_two(first, second, year)
    if found := _DAY_WORD.match(clean):
        return _real(int(found[3]), _month(found[2]), int(found[1]))
    if found := _WORD_DAY.match(clean):
        return _real(int(found[3]), _month(found[1]), int(found[2]))
    mend = "write it as year-month-day, 2026-03-12"
    if clean.isdigit() and len(clean) == 5:
        mend = "this is a spreadsheet's day number: set the column's format to a date"
    raise Unfit("is not a date", DAY_ALLOWED, mend)


def moment(text: str) -> tuple[date, int]:
    """Date and minute of the site's wall clock; a date alone is taken as noon.

    >>> moment("2026-03-02 21:40")
    (datetime.date(2026, 3, 2), 1300)
    """
    clean = text.strip()
    if _OFFSET.search(clean):
        mend = "write the site's own clock time without an offset"
        raise Unfit("names an offset from UTC", MOMENT_ALLOWED, mend)
    found = _MOMENT.match(clean)
    if not found:
        return day(clean), NOON_MINUTE
    hour, minute = int(found[2]), int(found[3])
    if hour > 23 or minute > 59:
        raise Unfit("names an hour that no clock shows", MOMENT_ALLOWED, "write 00:00 to 23:59")
    return day(found[1]), hour * 60 + minute


def day_of_year(text: str) -> tuple[int, int]:
    """Month and day of every year.

    >>> day_of_year("11-15"), day_of_year("15 Nov"), day_of_year("Nov 15")
    ((11, 15), (11, 15), (11, 15))
    """
    clean = text.strip().lower()
    if found := re.fullmatch(r"(?:--)?([0-9]{1,2})-([0-9]{1,2})", clean):
        month, number = int(found[1]), int(found[2])
    elif found := re.fullmatch(r"([0-9]{1,2})(?:st|nd|rd|th|\.)?[\s-]*([a-z]+)\.?", clean):
        month, number = _month(found[2]), int(found[1])
    elif found := re.fullmatch(r"([a-z]+)\.?[\s-]*([0-9]{1,2})(?:st|nd|rd|th)?", clean):
        month, number = _month(found[1]), int(found[2])
    else:
        mend = "write month-day without a year; set the spreadsheet's column to text first"
        raise Unfit("is not a day of the year", DAY_OF_YEAR_ALLOWED, mend)
    _real(2024, month, number)  # a leap year: 29 February is a day
    return month, number


class About(NamedTuple):
    """A day, and how many days either side it may have been."""

    on: date
    about_days: int


def about_day(text: str, today: date) -> About | None:
    """A past day told as exactly as it is known, None where it is empty or said to be unknown.

    A span that reaches past today is cut at today, and its middle taken.

    >>> about_day("March 2026", date(2026, 11, 24))
    About(on=datetime.date(2026, 3, 15), about_days=15)
    >>> about_day("2025", date(2026, 11, 24))
    About(on=datetime.date(2025, 7, 1), about_days=182)
    """
    clean = text.strip().lower()
    if clean in ("", "-", "–", "?", "unknown", "not known", "never", "new"):
        return None
    loose = re.match(r"(?:about|around|approx\.?|circa|ca\.?|c\.|~)\s*(.+)\Z", clean)
    if loose:
        clean = loose[1]
    try:
        found = _span(clean) or About(day(clean), LOOSE_DAYS if loose else 0)
    except Unfit as trouble:
        raise Unfit(trouble.problem, ABOUT_ALLOWED, trouble.mend) from None
    first = found.on - timedelta(days=found.about_days)
    if first > today:
        mend = "write when it was last done, or leave the cell empty"
        raise Unfit("lies in the future", f"up to {today.isoformat()}", mend)
    if found.on + timedelta(days=found.about_days) > today:
        half = (today - first).days // 2
        return About(today - timedelta(days=half), half)
    return found


_SEASON_MIDDLE = {"spring": 4, "summer": 7, "autumn": 10, "fall": 10}
_PART_MIDDLE = {"early": 5, "beginning of": 5, "mid": 15, "mid-": 15, "late": 25, "end of": 25}


def _span(clean: str) -> About | None:
    if re.fullmatch("[0-9]{4}", clean):
        return About(_real(int(clean), 7, 1), 182)
    if found := re.fullmatch(r"(spring|summer|autumn|fall)\s+(?:of\s+)?([0-9]{4})", clean):
        return About(_real(int(found[2]), _SEASON_MIDDLE[found[1]], 15), 45)
    if found := re.fullmatch(r"winter\s+(?:of\s+)?([0-9]{4})[/–-]([0-9]{2}|[0-9]{4})", clean):
        if (int(found[1]) + 1) % 100 != int(found[2]) % 100:
            raise Unfit("names no winter", ABOUT_ALLOWED, "write two years that follow each other")
        return About(_real(int(found[1]) + 1, 1, 15), 45)
    if re.fullmatch(r"winter\s+(?:of\s+)?[0-9]{4}", clean):
        mend = 'write "winter 2025/26", or the month'
        raise Unfit("names a winter at either end of that year", ABOUT_ALLOWED, mend)
    if found := re.fullmatch(r"q([1-4])[\s/-]*([0-9]{4})|([0-9]{4})[\s/-]*q([1-4])", clean):
        quarter, year = int(found[1] or found[4]), int(found[2] or found[3])
        return About(_real(year, 3 * quarter - 1, 15), 45)
    return _month_span(clean)


def _month_span(clean: str) -> About | None:
    found = re.fullmatch(
        r"(early|beginning of|mid-?|late|end of)?\s*([a-z]+)\.?,?\s+([0-9]{4})", clean
    )
    if found:
        year, month = int(found[3]), _month(found[2])
        if found[1]:
            return About(_real(year, month, _PART_MIDDLE[found[1]]), 5)
        return About(_real(year, month, 15), 15)
    if found := re.fullmatch(r"([0-9]{4})[-/.]([0-9]{1,2})", clean):
        return About(_real(int(found[1]), int(found[2]), 15), 15)
    if found := re.fullmatch(r"([0-9]{1,2})[-/.]([0-9]{4})", clean):
        return About(_real(int(found[2]), int(found[1]), 15), 15)
    return None


def _month(word: str) -> int:
    if word not in _MONTHS:
        raise Unfit("names no month", DAY_ALLOWED, "write the month in English or as a number")
    return _MONTHS[word]


def _one_of_two(first: int, second: int, year: int) -> date:
    if first <= 12 and second <= 12 and first != second:
        day_first, month_first = _real(year, second, first), _real(year, first, second)
        raise Unfit(
            "can mean two days",
            DAY_ALLOWED,
            f"write {day_first.isoformat()} or {month_first.isoformat()}",
        )
    return _real(year, second, first) if second <= 12 else _real(year, first, second)


def _real(year: int, month: int, number: int) -> date:
    if not EARLIEST_YEAR <= year <= LATEST_YEAR:
        raise Unfit(
            "lies in a year that cannot be meant",
            f"years {EARLIEST_YEAR} to {LATEST_YEAR}",
            "correct the year",
        )
    try:
        return date(year, month, number)
    except ValueError:
        raise Unfit("is a day no calendar has", DAY_ALLOWED, "correct day or month") from None
