"""Drafts: things as their rows stand, before every file is read."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Any

from floorcare.faces.intake.lines import Line
from floorcare.ground.trade.book import TreatmentDone
from floorcare.ground.trade.contract import Exclusion, FeeLine
from floorcare.ground.trade.crew import Absence, CrewMember, Qualification, Shift
from floorcare.ground.trade.equipment import Calibration, MachinePlace
from floorcare.ground.trade.make_up import FloorMakeUp, Season
from floorcare.ground.trade.people import SiteRequirement
from floorcare.ground.trade.promise import PromiseLine
from floorcare.ground.trade.reading import Reading
from floorcare.ground.trade.routine import Routine
from floorcare.ground.trade.site import Area
from floorcare.ground.trade.traffic import TrafficRow
from floorcare.ground.trade.zone import Station
from floorcare.ground.worktime.shut import ShutDay
from floorcare.ground.worktime.window import AccessWindow

_DAY = timedelta(days=1)


@dataclass(slots=True)
class ZoneDraft:
    """A zone as its rows stand: `rows` are those of zones.csv, by from_on once all are read."""

    code: str
    rows: list[Line] = field(default_factory=list)
    stations: dict[str, Station] = field(default_factory=dict)
    listed_stations: bool = False
    readings: list[Reading] = field(default_factory=list)
    done: list[TreatmentDone] = field(default_factory=list)
    traffic: list[TrafficRow] = field(default_factory=list)
    routines: list[Routine] = field(default_factory=list)
    promises: list[tuple[int, PromiseLine]] = field(default_factory=list)
    make_ups: list[FloorMakeUp] = field(default_factory=list)

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
        days += [row.from_on for row in self.traffic]
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
    requirements: list[SiteRequirement] = field(default_factory=list)
    seasons: list[Season] = field(default_factory=list)

    def kin_on(self, zone: ZoneDraft, on: date) -> list[ZoneDraft]:
        """The zones this one was split or merged from or into that were under care that day."""
        return [kin for kin in self._kin(zone) if _cared_for(kin, on)]

    def _kin(self, zone: ZoneDraft) -> Iterator[ZoneDraft]:
        """Parents and their parents, then children and theirs; each once."""
        children: dict[str, list[str]] = {}
        for each in self.zones.values():
            for parent in each.value("parents") or ():
                children.setdefault(parent, []).append(each.code)
        met = {zone.code}
        for up in (True, False):
            near = [zone.code]
            while near:
                code = near.pop(0)
                known = self.zones[code].value("parents") if up else children.get(code)
                for other in known or ():
                    if other in self.zones and other not in met:
                        met.add(other)
                        near.append(other)
                        yield self.zones[other]


def _cared_for(zone: ZoneDraft, on: date) -> bool:
    return (zone.starts_on or date.max) <= on <= (zone.ends_on or date.max)


@dataclass(slots=True)
class WorkerDraft:
    """A worker as the row stands."""

    line: Line
    qualifications: list[Qualification] = field(default_factory=list)
    absences: list[Absence] = field(default_factory=list)


@dataclass(slots=True)
class CrewDraft:
    """A crew as its row stands."""

    line: Line
    members: list[CrewMember] = field(default_factory=list)
    shifts: list[Shift] = field(default_factory=list)


@dataclass(slots=True)
class MachineDraft:
    """A machine as its row stands."""

    line: Line
    places: list[MachinePlace] = field(default_factory=list)
    outages: list[tuple[date, date]] = field(default_factory=list)


@dataclass(slots=True)
class MeterDraft:
    """An instrument as its first row stands, with the calibrations of all its rows.

    uncalibrated : readings taken with it outside every calibration; `first_row` is the first.
    """

    line: Line
    calibrations: list[Calibration] = field(default_factory=list)
    uncalibrated: int = 0
    first_row: int = 0

    def calibrated_on(self, on: date) -> bool:
        """Whether a calibration covers that day."""
        return any(each.done_on <= on <= each.valid_to for each in self.calibrations)


@dataclass(slots=True)
class TermDraft:
    """A term as its row stands."""

    line: Line
    fees: list[FeeLine] = field(default_factory=list)


@dataclass(slots=True)
class ContractDraft:
    """A contract as its row stands; `terms` by their first day."""

    line: Line
    terms: dict[date, TermDraft] = field(default_factory=dict)
    exclusions: list[Exclusion] = field(default_factory=list)

    def covers(self, starts_on: date, ends_on: date) -> bool:
        """Whether every day of a stretch lies in one of the terms."""
        uncovered_on = starts_on
        for first, term in sorted(self.terms.items()):
            last = term.line.cells["ends_on"]
            if first <= uncovered_on <= (last or date.max):
                if last is None or last >= ends_on:
                    return True
                uncovered_on = last + _DAY
        return False
