"""Views of a branch's week: the timetable with crews as its columns, and each crew's papers."""

from dataclasses import dataclass
from datetime import date

from floorcare.services.sheets import CalendarSheet, Units, WeekLists


@dataclass(frozen=True, slots=True, kw_only=True)
class StopSheet:
    """A visit on a crew's night, as the week's timetable shows it.

    night : the site's own date; minutes are the branch's clock, of the date the crew sets out on.
    travel_minutes : drive to it.
    works : each work with its zones.
    machines : those it takes, with their codes.
    planned_minute : when the plan, and so the customer's calendar, has it begin.
    site_clock : the hours by the site's own clock where that is another, else "".
    """

    uuid: str
    site: str
    site_name: str
    night: date
    starts_minute: int
    ends_minute: int
    travel_minutes: int
    planned_minute: int
    people: int
    state: str
    stands: bool
    works: tuple[str, ...]
    machines: tuple[str, ...] = ()
    site_clock: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewNightSheet:
    """A crew's night in the timetable.

    on : the date it sets out on; minutes are the branch's clock of that date.
    starts_minute, ends_minute : the shift, None where none was entered.
    leaves_minute, home_minute : from the branch and back, None without a stop.
    """

    crew: str
    name: str
    on: date
    people: int
    workers: tuple[str, ...] = ()
    starts_minute: int | None = None
    ends_minute: int | None = None
    leaves_minute: int | None = None
    home_minute: int | None = None
    stops: tuple[StopSheet, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class UnfittedNote:
    """A visit no crew can take: why not the nearest, and what would make it fit."""

    uuid: str
    site: str
    site_name: str
    night: date
    works: tuple[str, ...]
    why: str
    mend: str


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekSheet:
    """A branch's week as a timetable: crews are its columns, time runs down.

    crews : code and name of each column.
    nights : by date and crew, those without a visit too.
    placed : how many visits of the week's own nights have a crew.
    notes : what was not checked, and what else the reader must know.
    """

    starts_on: date
    contractor: str
    branch: str
    branch_code: str
    placed: int
    crews: tuple[tuple[str, str], ...] = ()
    nights: tuple[CrewNightSheet, ...] = ()
    unfitted: tuple[UnfittedNote, ...] = ()
    notes: tuple[str, ...] = ()
    as_of: str = ""
    units: Units = "metric"


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewPapers:
    """What a crew takes into its week: its visit lists and its calendar."""

    crew: str
    name: str
    lists: WeekLists
    calendar: CalendarSheet


@dataclass(frozen=True, slots=True, kw_only=True)
class FittedWeek:
    """A branch's week: the timetable and the papers of every crew with a visit."""

    sheet: WeekSheet
    crews: tuple[CrewPapers, ...] = ()
