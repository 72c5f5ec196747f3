"""What has been read so far, and the look-up of what rows refer to."""

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from floorcare.faces.intake.column import FileKind
from floorcare.faces.intake.columns import SITES, ZONES
from floorcare.faces.intake.drafts import (
    ContractDraft,
    CrewDraft,
    MachineDraft,
    MeterDraft,
    SiteDraft,
    WorkerDraft,
    ZoneDraft,
)
from floorcare.faces.intake.lines import Line
from floorcare.faces.intake.notes import Mend, Notes, Weight, nearest
from floorcare.ground.trade.book import Withdrawable, Withdrawal, withdrawal_of
from floorcare.ground.trade.equipment import MeterBridge, Rate, StockEntry, Supply
from floorcare.ground.trade.people import CallReceived, Contact, Person
from floorcare.ground.trade.site import Branch, Customer, TravelLeg

Days = tuple[int, date, date]
"""A row, and the first and last day it holds for."""


@dataclass(slots=True)
class Gathering:
    """Everything read so far.

    machine_kinds, materials : codes that are known; empty where any is taken.
    taken_back : (site, zone, record) of what is withdrawn; kept, and left out of every check.
    contacts, people, withdrawn : None, or left out, while their row does not fit.
    unread : kinds of files whose rows are not known whole; given : those in the folder.
    """

    notes: Notes
    surfaces: frozenset[str]
    today: date
    machine_kinds: frozenset[str] = frozenset()
    materials: frozenset[str] = frozenset()
    branches: dict[str, Branch | None] = field(default_factory=dict)
    branch_lines: dict[str, Line] = field(default_factory=dict)
    customers: dict[str, Customer | None] = field(default_factory=dict)
    sites: dict[str, SiteDraft] = field(default_factory=dict)
    contacts: dict[str, Contact | None] = field(default_factory=dict)
    people: dict[str, Person | None] = field(default_factory=dict)
    workers: dict[str, WorkerDraft] = field(default_factory=dict)
    crews: dict[str, CrewDraft] = field(default_factory=dict)
    machines: dict[str, MachineDraft] = field(default_factory=dict)
    meters: dict[str, MeterDraft] = field(default_factory=dict)
    bridges: list[tuple[int, MeterBridge]] = field(default_factory=list)
    legs: list[tuple[Line, TravelLeg]] = field(default_factory=list)
    stock: list[StockEntry] = field(default_factory=list)
    supplies: list[Supply] = field(default_factory=list)
    rates: list[Rate] = field(default_factory=list)
    contracts: dict[str, ContractDraft] = field(default_factory=dict)
    calls: list[CallReceived] = field(default_factory=list)
    withdrawn: list[Withdrawal] = field(default_factory=list)
    taken_back: list[tuple[str, str, Withdrawable]] = field(default_factory=list)
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

    def names(
        self, kind: FileKind, line: Line, column: str, known: Collection[str], to: FileKind
    ) -> bool:
        """Whether a cell is empty or names something with a row in file `to`; if not, noted."""
        code = line.cells[column]
        if not code or code in known:
            return not (line.typed(column) and code is None)
        if to.name not in self.unread:
            what = to.codes[0]
            self.note(
                "stops",
                kind,
                line,
                column,
                f"there is no {what} of this code in {to.name}",
                mend=nearest(code, known, f"add it to {to.name} or correct the code"),
            )
        return False

    def is_one_of(
        self, kind: FileKind, line: Line, column: str, known: Collection[str], what: str
    ) -> bool:
        """Whether a cell's code is one that the surfaces know, or none is known; if not, noted."""
        code = line.cells[column]
        if not code or not known or code in known:
            return True
        self.note(
            "stops",
            kind,
            line,
            column,
            f"no surface knows a {what} of this code",
            allowed=", ".join(sorted(known)),
            mend=nearest(code, known, "write one of the allowed codes"),
        )
        return False

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

    def meets_none(
        self,
        kind: FileKind,
        line: Line,
        others: Iterable[Days],
        problem: str,
        *,
        first: str = "from_on",
        last: str = "to_on",
        mend: str = "end the earlier one the day before with to_on",
        weight: Weight = "stops",
    ) -> bool:
        """Whether the row shares no day with others; if it does, the other row is named."""
        starts, ends = self.days_of(line, first, last)[1:]
        for row, other_starts, other_ends in others:
            if starts <= other_ends and other_starts <= ends:
                problem = f"{problem}; the other is row {row}"
                self.note(weight, kind, line, first, problem, mend=mend)
                return False
        return True

    def days_of(self, line: Line, first: str = "from_on", last: str = "to_on") -> Days:
        """The days a row holds for, from ever and for ever where it says nothing."""
        return line.row, line.cells[first] or date.min, line.cells[last] or date.max

    def takes_back(self, line: Line, site: str, zone: str, record: Withdrawable) -> bool:
        """Whether the row takes back what it says; if so, that is remembered."""
        if not line.cells["withdrawn"]:
            return False
        self.withdrawn.append(withdrawal_of(site, zone, record))
        self.taken_back.append((site, zone, record))
        return True

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

        def mend(_: bool) -> str:
            fitting = self._fitting(line, on, zone)
            if fitting:
                return f"write it on {' or '.join(fitting)}, under care that day"
            return "correct the date, or from_on and to_on in zones.csv"

        self.note("stops", kind, line, column, problem, mend=mend)
        return False

    def _fitting(self, line: Line, on: date, zone: ZoneDraft) -> list[str]:
        """Codes of the zones split or merged from or into this one that the day belongs to.

        Those that know the row's station come alone.
        """
        site = self.sites[line.cells["site"]]
        kin = site.kin_on(zone, on)
        station = line.cells.get("station")
        stationed = [each for each in kin if station and station in each.stations]
        return sorted(f"{site.code}/{each.code}" for each in stationed or kin)
