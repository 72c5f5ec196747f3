"""Figures and dates in the reader's words, the same on paper, on screen and in tables."""

import re
from datetime import date, timedelta

from floorcare.ground.units.area import ft2_from_m2, us_gal_from_l
from floorcare.services.sheets import Units

NONE = "–"
PRECEDENCE = (
    "Local codes, the product's data sheet and licensed practice come before anything on this list."
)

WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MONTHS = (
    *("January", "February", "March", "April", "May", "June", "July"),
    *("August", "September", "October", "November", "December"),
)
MINUTES_OF_DAY = 1440
_FIGURE_AND_UNIT = re.compile(r"(\d) (h|min|m²|ft²|L|gal|GU|%)(?!\w)")


def day_words(day: date) -> str:
    """The day in full.

    >>> day_words(date(2026, 3, 4))
    'Wednesday 4 March 2026'
    """
    return f"{WEEKDAYS[day.weekday()]} {day.day} {MONTHS[day.month - 1]} {day.year}"


def day_short(day: date) -> str:
    """The day as a table's column wants it.

    >>> day_short(date(2026, 3, 4))
    'Wed 4 Mar'
    """
    return f"{WEEKDAYS[day.weekday()][:3]} {day.day} {MONTHS[day.month - 1][:3]}"


def clock(minute: int | None, night: date) -> str:
    """A minute of the night as wall-clock time; past midnight it names its own weekday.

    >>> clock(1350, date(2026, 3, 4)), clock(1520, date(2026, 3, 4)), clock(None, date(2026, 3, 4))
    ('22:30', 'Thu\xa001:20', '–')
    """
    if minute is None:
        return NONE
    days, rest = divmod(minute, MINUTES_OF_DAY)
    time = f"{rest // 60:02d}:{rest % 60:02d}"
    if not days:
        return time
    return f"{WEEKDAYS[(night + timedelta(days=days)).weekday()][:3]}\N{NO-BREAK SPACE}{time}"


def clock_iso(minute: int | None, night: date) -> str:
    """The same as date and time of the site's clock, for spreadsheets.

    >>> clock_iso(1520, date(2026, 3, 4))
    '2026-03-05 01:20'
    """
    if minute is None:
        return ""
    days, rest = divmod(minute, MINUTES_OF_DAY)
    return f"{night + timedelta(days=days)} {rest // 60:02d}:{rest % 60:02d}"


def length(minutes: int) -> str:
    """A length of time.

    >>> length(860), length(40), length(120)
    ('14 h 20 min', '40 min', '2 h')
    """
    hours, rest = divmod(minutes, 60)
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest} min" if rest else f"{hours} h"


def count(number: int, one: str, many: str = "") -> str:
    """A number with its noun.

    >>> count(1, "visit"), count(3, "visit"), count(0, "person", "people")
    ('1 visit', '3 visits', '0 people')
    """
    return f"{number:,} {one if number == 1 else many or one + 's'}"


def bound(text: str) -> str:
    """The same with every figure held to its unit, so that no line ends between them.

    >>> bound("22 h 5 min of work")
    '22\xa0h 5\xa0min of work'
    """
    return _FIGURE_AND_UNIT.sub("\\1\N{NO-BREAK SPACE}\\2", text)


def heading(contractor: str, branch: str) -> str:
    """Whose paper it is, as it stands at the head of each page.

    >>> heading("", "North branch")
    'North branch'
    """
    return ", ".join(filter(None, (contractor, branch)))


def area_unit(units: Units) -> str:
    """The unit areas are shown in."""
    return "ft²" if units == "US" else "m²"


def volume_unit(units: Units) -> str:
    """The unit products are measured in."""
    return "gal" if units == "US" else "L"


SMALL_L, SMALL_GAL = 0.1, 0.1
"""Below these a volume is said in the smaller unit."""
FL_OZ_PER_GAL = 128
"""US fluid ounces in a US gallon, exact (NIST Handbook 44, appendix C)."""


def area_figure(area_m2: float, units: Units) -> float:
    """An area in the reader's unit, to one decimal."""
    return round(ft2_from_m2(area_m2) if units == "US" else area_m2, 1)


def volume_figure(litres: float, units: Units) -> float:
    """A volume in the reader's unit, to two decimals."""
    return round(us_gal_from_l(litres) if units == "US" else litres, 2)


def area_words(area_m2: float | None, units: Units) -> str:
    """An area with its unit; below ten with one decimal.

    >>> area_words(420.0, "metric"), area_words(420.0, "US"), area_words(2.44, "metric")
    ('420 m²', '4,521 ft²', '2.4 m²')
    """
    if area_m2 is None:
        return NONE
    figure = area_figure(area_m2, units)
    return f"{figure:,.{0 if figure >= 10 else 1}f} {area_unit(units)}"


def volume_words(litres: float, units: Units) -> str:
    """A volume with its unit; a small one in millilitres or fluid ounces.

    >>> volume_words(12.34, "metric"), volume_words(12.34, "US"), volume_words(0.042, "metric")
    ('12.3 L', '3.26 gal', '42 mL')
    >>> volume_words(0.02, "US")
    '0.7 fl oz'
    """
    if units == "US":
        gallons = us_gal_from_l(litres)
        if gallons >= SMALL_GAL:
            return f"{gallons:,.{1 if gallons >= 10 else 2}f} gal"
        return f"{gallons * FL_OZ_PER_GAL:.1f} fl oz"
    if litres >= SMALL_L:
        return f"{litres:,.{1 if litres >= 10 else 2}f} L"
    return f"{litres * 1000:.0f} mL"


def gloss_words(gloss_gu: float | None) -> str:
    """A gloss to whole units, since a single reading is no better."""
    return NONE if gloss_gu is None else f"{gloss_gu:.0f}"
