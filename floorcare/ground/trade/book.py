"""Everything known about a site, as one record a service can load and a rule can read."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from floorcare.ground.trade.promise import PromiseKind, PromiseLine
from floorcare.ground.trade.reading import Reading
from floorcare.ground.trade.routine import Routine
from floorcare.ground.trade.site import Area, Branch, Customer, Site
from floorcare.ground.trade.traffic import TrafficRow
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.zone import Station, Zone, spoken_name


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
    """A zone with all that was recorded on it, each list sorted by its date."""

    zone: Zone
    stations: tuple[Station, ...] = ()
    readings: tuple[Reading, ...] = ()
    done: tuple[TreatmentDone, ...] = ()
    traffic: tuple[TrafficRow, ...] = ()
    routines: tuple[Routine, ...] = ()
    promises: tuple[PromiseLine, ...] = ()

    def promise_on(self, day: date, kind: PromiseKind) -> PromiseLine | None:
        """The promise of that kind in force on that day; the latest term wins."""
        found = None
        for line in self.promises:
            if line.kind is kind and line.starts_on <= day <= line.ends_on:
                found = line
        return found


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteBook:
    """A site with its areas and zones, zones sorted by code."""

    site: Site
    areas: tuple[Area, ...] = ()
    zones: tuple[ZoneBook, ...] = ()

    def zone(self, code: str) -> ZoneBook | None:
        """The zone of that code, or None."""
        return next((z for z in self.zones if z.zone.code == code), None)

    def area_name(self, zone: Zone) -> str:
        """The name of the area a zone lies in."""
        return next((a.name for a in self.areas if a.code == zone.area), zone.area)

    def spoken(self, zone: Zone) -> str:
        """How contract and customer speak of a zone of this site."""
        return spoken_name(self.area_name(zone), zone.name)


@dataclass(frozen=True, slots=True, kw_only=True)
class Portfolio:
    """A contractor's whole care: what a folder holds and the store keeps, sorted by code."""

    customers: tuple[Customer, ...] = ()
    branches: tuple[Branch, ...] = ()
    books: tuple[SiteBook, ...] = ()
