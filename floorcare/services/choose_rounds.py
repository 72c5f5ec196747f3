"""The next reading round of every branch: which zones within so many minutes, and what is left.

What is shown holds no reading and no estimate, so that whoever reads the floors does so blind.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from floorcare.errors import NotKnown
from floorcare.ground.rules.wear_dues import READ_STATIONS
from floorcare.ground.schedule.branch_year import BranchYear, look_ahead
from floorcare.ground.schedule.round_zones import zones_to_read
from floorcare.ground.schedule.years import year_of
from floorcare.ground.trade.book import SiteBook, ZoneBook
from floorcare.ground.trade.reading import Measure
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.zone import Station
from floorcare.ground.wear.books.judged import group_rounds, main_geometry
from floorcare.ground.wear.reading_rounds import (
    RoundCost,
    ZoneChosen,
    ZoneToRead,
    age_worth,
    choose_round,
)
from floorcare.services.sheets import Units
from floorcare.store.open import Store

BUDGET_MINUTES = 240
"""Minutes of one round. Assumption: half a shift."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundZone:
    """A zone of a round.

    stations : its stations; without any, as many unnamed ones as a round usually reads.
    geometry_deg : the angle its gloss is usually read at.
    last_read_on, age_days : its last believed round, and its age on the round's day; None where it
        was never read.
    planned_on : night of the next visit that reads it anyway.
    """

    zone: str
    zone_name: str
    area_name: str
    stations: tuple[Station, ...]
    geometry_deg: int
    reason: str
    last_read_on: date | None
    age_days: int | None
    planned_on: date | None


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundSite:
    """A site of a round, its zones in the order they are walked: by area, then code."""

    site: str
    site_name: str
    address: str
    access_note: str
    minutes: int
    zones: tuple[RoundZone, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundSheet:
    """A branch's next reading round.

    on, by : the day it was chosen, and the day it is to be walked by.
    budget_minutes, minutes : what there was and what it takes; travel is not counted.
    zone_minutes, site_minutes : what a zone and a site were counted with.
    sites : by code.
    left : zones with a promised look that are not read, the longest unread first.
    read_anyway : zones a planned visit reads by then; they cost this round nothing.
    unpromised : zones without a promised look; rounds leave them alone.
    """

    branch: str
    branch_code: str
    on: date
    by: date
    budget_minutes: int
    minutes: int
    zone_minutes: int
    site_minutes: int
    sites: tuple[RoundSite, ...]
    left: tuple[RoundZone, ...]
    read_anyway: tuple[RoundZone, ...]
    unpromised: int
    units: Units

    @property
    def zones(self) -> tuple[RoundZone, ...]:
        """Every zone of the round, in walking order."""
        return tuple(zone for site in self.sites for zone in site.zones)


def choose_rounds(
    store: Store,
    surfaces: Mapping[str, Surface],
    *,
    today: date,
    by: date | None = None,
    budget_minutes: int = BUDGET_MINUTES,
    cost: RoundCost | None = None,
    sites: Sequence[str] = (),
) -> tuple[RoundSheet, ...]:
    """The next reading round of each branch, by branch.

    Parameters
    ----------
    by : the day the round is to be walked by; None for today.
    budget_minutes : of each branch's round.
    cost : None for the usual minutes a zone and a site.
    sites : only these; all where none is named.

    Raises
    ------
    NotKnown : there is no such site, or none of them is under care.
    """
    with store.work() as work:
        branches = work.branches()
        books = work.books()
        visits = work.visits(first=today)
        pooled, meters = work.pooled(), work.meters()
    known = {book.site.code for book in books}
    for site in sorted(set(sites) - known):
        raise NotKnown(f'There is no site "{site}"; there are {", ".join(sorted(known))}.')
    asked = [book for book in books if not sites or book.site.code in sites]
    found = []
    for branch in branches:
        year = year_of(
            branch,
            books=asked,
            visits=visits,
            surfaces=surfaces,
            pooled=pooled,
            meters=meters,
            today=today,
        )
        if year.books or not sites:
            found.append(_sheet(year, by or today, budget_minutes, cost or RoundCost()))
    if sites and not found:
        raise NotKnown(f"No branch serves {', '.join(sites)} on {today}.")
    return tuple(found)


def _sheet(year: BranchYear, by: date, budget: int, cost: RoundCost) -> RoundSheet:
    promised: list[ZoneToRead] = []
    cared_for = 0
    for fleet, cases, ahead in look_ahead(year):
        cared_for += len(cases)
        promised.extend(zones_to_read(fleet, cases, ahead, by))
    promised.sort(key=lambda z: (-age_worth(z), z.site, z.zone))
    planned = _planned(year)
    anyway = [z for z in promised if planned.get((z.site, z.zone), date.max) <= by]
    waiting = [z for z in promised if z not in anyway]
    chosen = choose_round(waiting, budget_minutes=budget, cost=cost)
    taken = {(c.zone.site, c.zone.zone) for c in chosen}
    left = [z for z in waiting if (z.site, z.zone) not in taken]
    books = {book.site.code: book for book in year.books}
    return RoundSheet(
        branch=year.branch.name,
        branch_code=year.branch.code,
        on=year.today,
        by=by,
        budget_minutes=budget,
        minutes=cost.minutes(c.zone for c in chosen),
        zone_minutes=cost.zone_minutes,
        site_minutes=cost.site_minutes,
        sites=tuple(
            _site(books[site], [c for c in chosen if c.zone.site == site], cost, by, planned)
            for site in sorted({c.zone.site for c in chosen})
        ),
        left=tuple(_zone(books[z.site], z, "", by, planned) for z in left),
        read_anyway=tuple(_zone(books[z.site], z, "", by, planned) for z in anyway),
        unpromised=cared_for - len(promised),
        units=year.branch.units,
    )


def _planned(year: BranchYear) -> dict[tuple[str, str], date]:
    """The night of the next visit that reads a zone, by site and zone."""
    nights: dict[tuple[str, str], date] = {}
    for visit in sorted(year.standing, key=lambda v: v.night):
        for line in visit.lines:
            if line.work is Work.READING_ROUND:
                nights.setdefault((visit.site, line.zone), visit.night)
    return nights


def _site(
    book: SiteBook,
    chosen: Sequence[ZoneChosen],
    cost: RoundCost,
    by: date,
    planned: Mapping[tuple[str, str], date],
) -> RoundSite:
    zones = [_zone(book, c.zone, c.reason.value, by, planned) for c in chosen]
    return RoundSite(
        site=book.site.code,
        site_name=book.site.name,
        address=book.site.address,
        access_note=book.site.access_note,
        minutes=cost.minutes(c.zone for c in chosen),
        zones=tuple(sorted(zones, key=lambda z: (z.area_name, z.zone))),
    )


def _zone(
    book: SiteBook,
    waiting: ZoneToRead,
    reason: str,
    by: date,
    planned: Mapping[tuple[str, str], date],
) -> RoundZone:
    zone = next(z for z in book.zones if z.zone.code == waiting.zone)
    age = waiting.age_days
    return RoundZone(
        zone=f"{waiting.site}/{waiting.zone}",
        zone_name=zone.zone.name,
        area_name=book.area_name(zone.zone),
        stations=zone.stations or (Station(code=""),) * READ_STATIONS,
        geometry_deg=_geometry(zone),
        reason=reason,
        last_read_on=None if age is None else date.fromordinal(by.toordinal() - age),
        age_days=age,
        planned_on=planned.get((waiting.site, waiting.zone)),
    )


def _geometry(zone: ZoneBook) -> int:
    """The angle a zone's gloss is usually read at, 60° where it never was."""
    gloss = tuple(r for r in zone.readings if r.measure is Measure.GLOSS)
    return next(iter(main_geometry(group_rounds(gloss)).values()), 60)
