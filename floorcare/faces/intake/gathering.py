"""What has been read so far: drafts of sites and zones, and the look-up of what rows refer to."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from floorcare.faces.intake.columns import SITES, ZONES, FileKind
from floorcare.faces.intake.lines import Line
from floorcare.faces.intake.notes import Mend, Notes, Weight, nearest
from floorcare.ground.trade.book import TreatmentDone
from floorcare.ground.trade.promise import PromiseLine
from floorcare.ground.trade.reading import Reading
from floorcare.ground.trade.routine import Routine
from floorcare.ground.trade.site import Area, Branch, Customer
from floorcare.ground.trade.traffic import TrafficRow
from floorcare.ground.trade.zone import Station
from floorcare.ground.worktime.shut import ShutDay
from floorcare.ground.worktime.window import AccessWindow


@dataclass(slots=True)
class ZoneDraft:
    """A zone as its rows stand: `rows` are those of zones.csv, by from_on once all are read."""

    code: str
    rows: list[Line] = field(default_factory=list)
    stations: dict[str, Station] = field(default_factory=dict)
    listed_stations: bool = False
    readings: list[Reading] = field(default_factory=list)
    done: list[TreatmentDone] = field(default_factory=list)
    traffic: list[tuple[int, TrafficRow]] = field(default_factory=list)
    routines: list[Routine] = field(default_factory=list)
    promises: list[tuple[int, PromiseLine]] = field(default_factory=list)

    @property
    def starts_on(self) -> date | None:
        """First day of care as typed, None where it was left to what is recorded."""
        days = [line.cells["from_on"] for line in self.rows]
        return None if not days or None in days else min(days)

    @property
    def ends_on(self) -> date | None:
        """Last day of care, None while it goes on."""
        days = [line.cells["to_on"] for line in self.rows]
        return None if not days or None in days else max(days)

    @property
    def first_recorded_on(self) -> date | None:
        """The first day of which anything is recorded of the zone, None where nothing is."""
        days = [reading.taken_on for reading in self.readings]
        days += [done.done_on for done in self.done]
        days += [row.from_on for _, row in self.traffic]
        days += [routine.starts_on for routine in self.routines]
        days += [line.starts_on for _, line in self.promises]
        return min(days, default=None)

    def value(self, column: str) -> Any:
        """A value that holds for the zone's whole life: of the first row that gives it."""
        given = (line.cells[column] for line in self.rows if line.typed(column))
        return next(given, self.rows[0].cells[column] if self.rows else None)


@dataclass(slots=True)
class SiteDraft:
    """A site as its rows stand; `line` is its row in sites.csv."""

    code: str
    line: Line
    windows: list[AccessWindow] = field(default_factory=list)
    windows_named: bool = False
    shut_days: list[tuple[int, ShutDay]] = field(default_factory=list)
    areas: dict[str, Area] = field(default_factory=dict)
    zones: dict[str, ZoneDraft] = field(default_factory=dict)


@dataclass(slots=True)
class Gathering:
    """Everything read so far. `unread` holds kinds of files whose rows are not known whole."""

    notes: Notes
    surfaces: frozenset[str]
    today: date
    branches: dict[str, Branch | None] = field(default_factory=dict)
    customers: dict[str, Customer | None] = field(default_factory=dict)
    sites: dict[str, SiteDraft] = field(default_factory=dict)
    unread: set[str] = field(default_factory=set)
    given: set[str] = field(default_factory=set)

    def note(
        self,
        weight: Weight,
        kind: FileKind,
        line: Line,
        column: str,
        problem: str,
        *,
        allowed: str = "",
        mend: Mend = "",
    ) -> None:
        """Note a problem of one cell of a row, with what was typed there."""
        self.notes.add(
            weight,
            kind.name,
            line.row,
            problem,
            column=column,
            value=line.typed(column),
            allowed=allowed,
            mend=mend,
        )

    def site_of(self, kind: FileKind, line: Line) -> SiteDraft | None:
        """The site a row names; one that is not known is noted."""
        code = line.cells["site"]
        if code is None:
            return None
        site = self.sites.get(code)
        if site is None and SITES.name not in self.unread:
            self.note(
                "stops",
                kind,
                line,
                "site",
                "there is no site of this code in sites.csv",
                mend=nearest(code, self.sites, "add the site to sites.csv or correct the code"),
            )
        return site

    def zones_of(self, kind: FileKind, line: Line) -> Iterator[tuple[SiteDraft, ZoneDraft]]:
        """The zone a row names, or every zone of its site where it names none."""
        site = self.site_of(kind, line)
        if site is None:
            return
        code = line.cells["zone"]
        if code is None:
            if not line.typed("zone"):
                yield from ((site, zone) for zone in site.zones.values())
            return
        zone = site.zones.get(code)
        if zone is not None:
            yield site, zone
        elif ZONES.name not in self.unread:
            self.note(
                "stops",
                kind,
                line,
                "zone",
                f"site {site.code} has no zone of this code in zones.csv",
                mend=nearest(code, site.zones, "add the zone to zones.csv or correct the code"),
            )

    def zone_of(self, kind: FileKind, line: Line) -> ZoneDraft | None:
        """The one zone a row names, None with a note where there is no such zone."""
        if line.cells["zone"] is None:
            return None
        return next((zone for _, zone in self.zones_of(kind, line)), None)

    def first_of(
        self, kind: FileKind, line: Line, seen: dict[Any, int], key: Any, column: str, what: str
    ) -> bool:
        """Whether this key is met for the first time; if not, the first row is named."""
        first = seen.setdefault(key, line.row)
        if first == line.row:
            return True
        self.note(
            "stops",
            kind,
            line,
            column,
            f"{what} is given twice; the first stands in row {first}",
            mend="leave one of the two out or give it another code",
        )
        return False

    def in_order(
        self, kind: FileKind, line: Line, first: str = "from_on", last: str = "to_on"
    ) -> bool:
        """Whether the row does not end before it starts; if it does, that is noted."""
        starts, ends = line.cells[first], line.cells[last]
        if starts is None or ends is None or starts <= ends:
            return True
        self.note(
            "stops",
            kind,
            line,
            last,
            f"it ends before it starts on {starts}",
            allowed=f"{starts} or later",
            mend="correct one of the two dates",
        )
        return False

    def is_past(self, kind: FileKind, line: Line, column: str, on: date | None) -> bool:
        """Whether a date of something that happened is not after today; if it is, that is noted."""
        if on is None or on <= self.today:
            return True
        self.note(
            "stops",
            kind,
            line,
            column,
            "the date is in the future",
            allowed=f"up to {self.today}",
            mend="correct the date",
        )
        return False

    def in_care(self, kind: FileKind, line: Line, column: str, on: date, zone: ZoneDraft) -> bool:
        """Whether a reading's day lies in the zone's care; if not, that is noted."""
        starts, ends, poured_on = zone.starts_on, zone.ends_on, zone.value("poured_on")
        if poured_on is not None and on < poured_on:
            problem = f"it lies before the floor was poured on {poured_on}"
        elif starts is not None and on < starts:
            problem = f"it lies before the zone's care starts on {starts}"
        elif ends is not None and on > ends:
            problem = f"it lies after the zone's care ended on {ends}"
        else:
            return True
        mend = "correct the date, or from_on and to_on in zones.csv"
        self.note("stops", kind, line, column, problem, mend=mend)
        return False
