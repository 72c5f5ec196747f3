"""Everything known about a site, as one record a service can load and a rule can read."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from floorcare.ground.trade.answer import NightAnswer
from floorcare.ground.trade.contract import Contract
from floorcare.ground.trade.crew import Crew, Worker
from floorcare.ground.trade.equipment import (
    Instrument,
    MeterBridge,
    OwnedMachine,
    Rate,
    StockEntry,
    Supply,
)
from floorcare.ground.trade.make_up import FloorMakeUp, Season
from floorcare.ground.trade.people import CallReceived, Contact, Person, SiteRequirement
from floorcare.ground.trade.promise import PromiseKind, PromiseLine
from floorcare.ground.trade.reading import Reading
from floorcare.ground.trade.routine import Routine
from floorcare.ground.trade.site import Area, Branch, Customer, Site, TravelLeg
from floorcare.ground.trade.traffic import TrafficRow
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.zone import Station, Zone, spoken_name
from floorcare.ground.worktime.shut import ShutDay


class DateKnown(StrEnum):
    """How well the date of a past treatment is known."""

    KNOWN = "known"
    ABOUT = "about"


@dataclass(frozen=True, slots=True, kw_only=True)
class TreatmentDone:
    """A treatment that was done, by us or before us.

    done_on : the site's own date of the night it started on.
    known, about_days : how well the date is known.
    share : share of the zone that was treated, 0..1.
    performer : who did it, as typed.
    visit : UUID of our visit, "" for work from before the system.
    """

    work: Work
    done_on: date
    known: DateKnown = DateKnown.KNOWN
    about_days: int = 0
    share: float = 1.0
    performer: str = ""
    visit: str = ""

    def __post_init__(self) -> None:
        if not 0 < self.share <= 1:
            raise ValueError(f"share {self.share:g} of the zone: allowed above 0 up to 1")


@dataclass(frozen=True, slots=True, kw_only=True)
class ZoneBook:
    """A zone with all that was recorded on it, each list sorted by its date.

    seasons : those of its site; a site's book keeps them, a plan lays them in here.
    by_month : what a level's footfall is multiplied by in each calendar month, twelve, or nothing;
        a plan learns it from the site's counted zones and lays it in here.
    """

    zone: Zone
    stations: tuple[Station, ...] = ()
    readings: tuple[Reading, ...] = ()
    done: tuple[TreatmentDone, ...] = ()
    traffic: tuple[TrafficRow, ...] = ()
    routines: tuple[Routine, ...] = ()
    promises: tuple[PromiseLine, ...] = ()
    make_ups: tuple[FloorMakeUp, ...] = ()
    seasons: tuple[Season, ...] = ()
    by_month: tuple[float, ...] = ()

    def promise_on(self, day: date, kind: PromiseKind) -> PromiseLine | None:
        """The promise of that kind in force on that day; the latest term wins."""
        found = None
        for line in self.promises:
            if line.kind is kind and line.starts_on <= day <= line.ends_on:
                found = line
        return found


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteBook:
    """A site with its areas and zones, zones sorted by code.

    answers : what the customer said of nights, by night, zone and work.
    """

    site: Site
    areas: tuple[Area, ...] = ()
    zones: tuple[ZoneBook, ...] = ()
    requirements: tuple[SiteRequirement, ...] = ()
    seasons: tuple[Season, ...] = ()
    answers: tuple[NightAnswer, ...] = ()

    def zone(self, code: str) -> ZoneBook | None:
        """The zone of that code, or None."""
        return next((z for z in self.zones if z.zone.code == code), None)

    def area_name(self, zone: Zone) -> str:
        """The name of the area a zone lies in."""
        return next((a.name for a in self.areas if a.code == zone.area), zone.area)

    def spoken(self, zone: Zone) -> str:
        """How contract and customer speak of a zone of this site."""
        return spoken_name(self.area_name(zone), zone.name)


Withdrawable = Reading | TreatmentDone | ShutDay | TrafficRow | Routine | PromiseLine | CallReceived
"""What can be taken back."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Withdrawal:
    """A row taken back: it is kept and left out of everything from then on.

    kind : "reading", "treatment done", "shut day", "traffic", "routine", "promise" or "call".
    site, zone : codes; zone "" for a shut day or a call of a whole site.
    key : what tells the row from others of its kind there, as text; `withdrawal_of` writes it.
    """

    kind: str
    site: str
    zone: str
    key: tuple[str, ...]


def withdrawal_of(site: str, zone: str, row: Withdrawable) -> Withdrawal:
    """The withdrawal of a row of that site and zone; its values do not matter, only its key.

    >>> may_day = ShutDay(from_on=date(2026, 5, 1), to_on=date(2026, 5, 1), why="fair")
    >>> withdrawal_of("NORTH", "", may_day)
    Withdrawal(kind='shut day', site='NORTH', zone='', key=('2026-05-01',))
    """
    key: tuple[object, ...]
    match row:
        case Reading():
            kind = "reading"
            when, how = (row.taken_on, row.taken_minute), (row.measure, row.geometry_deg)
            key = (row.station, *when, *how, row.method, row.instrument, row.state)
        case TreatmentDone():
            kind, key = "treatment done", (row.work, row.done_on)
        case ShutDay():
            kind, key = "shut day", (row.from_on,)
        case TrafficRow():
            kind, key = "traffic", (row.kind, row.from_on)
        case Routine():
            kind, key = "routine", (row.work, row.starts_on)
        case PromiseLine():
            kind, key = "promise", (row.contract, row.kind, row.starts_on)
        case CallReceived():
            kind, key = "call", (row.uuid,)
    return Withdrawal(kind=kind, site=site, zone=zone, key=tuple(str(part) for part in key))


@dataclass(frozen=True, slots=True, kw_only=True)
class Portfolio:
    """A contractor's whole care: what a folder holds and the store keeps, sorted by code.

    withdrawn : rows taken back; one that is named here as well is kept, and left out.
    """

    customers: tuple[Customer, ...] = ()
    branches: tuple[Branch, ...] = ()
    books: tuple[SiteBook, ...] = ()
    contacts: tuple[Contact, ...] = ()
    people: tuple[Person, ...] = ()
    workers: tuple[Worker, ...] = ()
    crews: tuple[Crew, ...] = ()
    machines: tuple[OwnedMachine, ...] = ()
    instruments: tuple[Instrument, ...] = ()
    bridges: tuple[MeterBridge, ...] = ()
    stock: tuple[StockEntry, ...] = ()
    supplies: tuple[Supply, ...] = ()
    legs: tuple[TravelLeg, ...] = ()
    rates: tuple[Rate, ...] = ()
    contracts: tuple[Contract, ...] = ()
    calls: tuple[CallReceived, ...] = ()
    withdrawn: tuple[Withdrawal, ...] = ()
