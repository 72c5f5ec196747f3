"""Views: plain frozen records shaped for paper, screen and calendar, so that faces need no store.

Minutes of a clock are minutes of the site's own date the night starts on, so 1,500 is one o'clock
the next morning. Text comes in the reader's words; figures come in m², litres, GU and minutes and
are turned into US units where they are shown.
"""

from dataclasses import dataclass
from datetime import UTC, date, datetime
from typing import Literal

from floorcare.ground.schedule.course import ZoneCourse
from floorcare.ground.wear.watch.alarm import Alarm

Units = Literal["metric", "US"]

BEFORE_ANY_PLAN = datetime(2026, 1, 1, tzinfo=UTC)
"""Stamp of a calendar whose visits nobody has planned or changed yet."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetStep:
    """One step of a line's method; `wait_minutes` is kept after it (wet, or until dry)."""

    name: str
    machine: str = ""
    tool: str = ""
    product: str = ""
    minutes: int = 0
    wait_minutes: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetQuantity:
    """Product for one line; `estimate` marks a coverage that no product sheet backs."""

    product: str
    litres: float
    coats: int = 1
    estimate: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetLine:
    """One work on one zone.

    zone : SITE/ZONE.
    reason_inside : one sentence for the contractor.
    area_m2, zone_m2 : m² to be treated, and of the whole zone.
    person_minutes : minutes of the work, all people together.
    closes_minute … reopens_minute : the zone's timetable; None where it stays open or is not known.
    """

    zone: str
    zone_name: str
    area_name: str
    work: str
    area_m2: float | None
    reason_inside: str
    person_minutes: int
    zone_m2: float | None = None
    steps: tuple[SheetStep, ...] = ()
    quantities: tuple[SheetQuantity, ...] = ()
    closes_minute: int | None = None
    starts_minute: int | None = None
    ends_minute: int | None = None
    reopens_minute: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingPlace:
    """A station to be read on a reading round; station "" is the zone as a whole."""

    zone: str
    station: str


@dataclass(frozen=True, slots=True, kw_only=True)
class VisitSheet:
    """A visit as the crew carries it.

    uuid : the visit's permanent id.
    night : the site's own date the night starts on.
    starts_minute, ends_minute : when the crew is on site.
    state : in words, e.g. "proposed" or "held, agreed"; `stands` is False where it may still move.
    access_window, access_note : when and how to get in.
    notice : what the customer was or is to be told, in words.
    zones : lines in working order.
    reading_places : empty unless the visit holds a reading round.
    cautions : sentences, in the order they are printed.
    reopening : earliest and safe reopening, in words.
    """

    uuid: str
    site: str
    site_name: str
    customer: str
    branch: str
    night: date
    starts_minute: int
    ends_minute: int
    people: int
    state: str
    address: str = ""
    stands: bool = True
    access_window: str = ""
    access_note: str = ""
    notice: str = ""
    zones: tuple[SheetLine, ...] = ()
    reading_places: tuple[ReadingPlace, ...] = ()
    cautions: tuple[str, ...] = ()
    reopening: str = ""
    units: Units = "metric"

    @property
    def person_minutes(self) -> int:
        """Minutes of work of all lines, all people together."""
        return sum(line.person_minutes for line in self.zones)


@dataclass(frozen=True, slots=True, kw_only=True)
class RoutineLine:
    """Routine of the week: `weekdays` in words, `who` does it and what proves it."""

    site: str
    site_name: str
    weekdays: str
    work: str
    who: str


@dataclass(frozen=True, slots=True, kw_only=True)
class UnplacedNote:
    """A due that found no night: why, and the nearest thing that would make it fit."""

    site: str
    zone: str
    work: str
    why: str
    mend: str


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekLists:
    """A branch's visit lists of one week.

    starts_on : the week's first day.
    sheets : visits by night, then start.
    as_of : the revision the lists were made from, in words ("plan of 26 February 2026").
    paper : "A4" or "Letter"; "" follows the units.
    language : BCP 47 tag of the reader.
    """

    starts_on: date
    contractor: str
    branch: str
    sheets: tuple[VisitSheet, ...] = ()
    routines: tuple[RoutineLine, ...] = ()
    unplaced: tuple[UnplacedNote, ...] = ()
    as_of: str = ""
    units: Units = "metric"
    paper: str = ""
    language: str = "en"

    @property
    def nights(self) -> int:
        """How many nights of the week hold a visit."""
        return len({sheet.night for sheet in self.sheets})

    @property
    def person_minutes(self) -> int:
        """Minutes of work of all visits, all people together."""
        return sum(sheet.person_minutes for sheet in self.sheets)


@dataclass(frozen=True, slots=True, kw_only=True)
class GlossBand:
    """Gloss in GU between which so many of 1 of the possible floors lie."""

    level: float
    low_gu: float
    high_gu: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ConditionRow:
    """The condition of one zone.

    zone : SITE/ZONE.
    traffic : the level in words, with how it is known ("heavy, counted").
    reading_gu, reading_on : the last reading and its date, None without one.
    gloss_gu, low_gu, high_gu : estimate of today with its 90 % band, None where assumed.
    promise_gu : the gloss it may not fall below, None without a promise.
    share : today's estimate as a share of the agreed reference, None without one.
    evidence : measured, sparse, looked-at or assumed.
    next_work, next_night : "" and None where nothing is planned.
    nights_to_promise : in words ("24", "under 7", "over 364"); "–" where it is not known.
    haze, film, scratch : the floor's state today, None where assumed: scuffs that survive cleaning
        and protector left, 0 to 1; micro-scratching, from 0 upwards.
    haze_times, wear_times : how many times as fast as its surface usually does the zone gains haze,
        and loses film and finish; None where assumed.
    bands : of today's gloss, narrowest first; empty where assumed.
    chart : the file of its chart beside the page, "" where none is written.
    """

    zone: str
    zone_name: str
    area_name: str
    surface: str
    area_m2: float | None
    traffic: str
    evidence: str
    reading_gu: float | None = None
    reading_on: date | None = None
    gloss_gu: float | None = None
    low_gu: float | None = None
    high_gu: float | None = None
    promise_gu: float | None = None
    share: float | None = None
    next_work: str = ""
    next_night: date | None = None
    nights_to_promise: str = "–"
    reason: str = ""
    haze: float | None = None
    film: float | None = None
    scratch: float | None = None
    haze_times: float | None = None
    wear_times: float | None = None
    bands: tuple[GlossBand, ...] = ()
    chart: str = ""

    @property
    def is_below_promise(self) -> bool:
        """True where today's estimate lies below the promise."""
        return (
            self.gloss_gu is not None
            and self.promise_gu is not None
            and self.gloss_gu < self.promise_gu
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class ZoneChart:
    """One zone's gloss over time, with its condition today."""

    row: ConditionRow
    course: ZoneCourse


@dataclass(frozen=True, slots=True, kw_only=True)
class ConditionTable:
    """The condition of every zone on one day, rows by site and zone.

    charts : of the same zones in the same order, or none where nobody asked for them.
    alarms : what a person should look at, instruments first.
    """

    contractor: str
    branch: str
    on: date
    rows: tuple[ConditionRow, ...] = ()
    as_of: str = ""
    units: Units = "metric"
    charts: tuple[ZoneChart, ...] = ()
    alarms: tuple[Alarm, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class CalendarEvent:
    """One visit (or one day of routine) as a subscriber sees it.

    uid : permanent; letters, digits and "-".
    night : the site's own date it starts on.
    sequence, changed_at : of the visit's last change; changed_at is UTC.
    starts_at, ends_at : UTC instants, or both None for whole days.
    last_day : last of the whole days, `night` where None.
    description : lines of plain text, the reason first.
    latitude, longitude : degrees, both or neither.
    proposed : neither held nor agreed; asked : the customer was asked about it.
    """

    uid: str
    night: date
    sequence: int
    changed_at: datetime
    summary: str
    starts_at: datetime | None = None
    ends_at: datetime | None = None
    last_day: date | None = None
    description: tuple[str, ...] = ()
    location: str = ""
    latitude: float | None = None
    longitude: float | None = None
    categories: tuple[str, ...] = ()
    proposed: bool = False
    asked: bool = False
    cancelled: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class CalendarSheet:
    """A calendar somebody subscribes to.

    domain : fixed at installation; the second half of every UID.
    revision, revised_at : rise with every change of what is in the calendar; revised_at is UTC.
    as_of : the contractor's own date of that revision, never the day of the fetch.
    description : what the calendar holds, one sentence with its full stop.
    """

    name: str
    domain: str
    revision: int
    revised_at: datetime
    as_of: date
    description: str = ""
    events: tuple[CalendarEvent, ...] = ()
