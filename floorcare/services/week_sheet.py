"""Views of a branch's week: the timetable with crews as its columns, and each crew's papers."""

from dataclasses import dataclass
from datetime import date

from floorcare.findings import Finding
from floorcare.services.load_out_sheet import LoadOutSheet
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
    part : "crew 1 of 2" where several share it, else "".
    held : pinned to this crew and night.
    moved_from : the night of the year's plan where the week chose another, else None.
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
    part: str = ""
    held: bool = False
    moved_from: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewNightSheet:
    """A crew's night in the timetable.

    on : the date it sets out on; minutes are the branch's clock of that date.
    starts_minute, ends_minute : the shift, None where none was entered.
    leaves_minute, home_minute : from the branch and back, None without a stop.
    break_minute, break_minutes : when its break begins and how long it is.
    overtime_minutes : how long it is out beyond its shift.
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
    break_minute: int | None = None
    break_minutes: int = 0
    overtime_minutes: int = 0
    stops: tuple[StopSheet, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class UnfittedNote:
    """A visit no crew can take: why not the nearest, and what would make it fit.

    cause : what it comes down to; nearest : the one change that alone would place it.
    """

    uuid: str
    site: str
    site_name: str
    night: date
    works: tuple[str, ...]
    why: str
    mend: str
    cause: str = ""
    nearest: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeNote:
    """A visit that a new week puts elsewhere, in words: where it was and where it is to be.

    kinds : what is another: crew, night, hour, placed, left out.
    """

    uuid: str
    site: str
    kinds: tuple[str, ...]
    before: str
    after: str


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekSheet:
    """A branch's week as a timetable: crews are its columns, time runs down.

    crews : code and name of each column.
    nights : by date and crew, those without a visit too.
    placed : how many visits of the week's own nights have a crew.
    notes : what was not checked, and what else the reader must know.
    changes : what differs from the week as it was last written.
    stopped_by : what ended the search for it; "time" is worth telling.
    written : whether it is kept as shown.
    paper : "A4" or "Letter"; "" follows the units.
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
    changes: tuple[ChangeNote, ...] = ()
    stopped_by: str = ""
    written: bool = False
    paper: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewPapers:
    """What a crew takes into its week: its visit lists, its calendar and its load-outs.

    languages : tags of the languages besides English that its workers read lists in.
    """

    crew: str
    name: str
    lists: WeekLists
    calendar: CalendarSheet
    load_out: LoadOutSheet
    languages: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class FittedWeek:
    """A branch's week: the timetable and the papers of every crew with a visit."""

    sheet: WeekSheet
    crews: tuple[CrewPapers, ...] = ()
    load_out: LoadOutSheet | None = None
    findings: tuple[Finding, ...] = ()
