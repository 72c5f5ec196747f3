"""Bringing a whole portfolio in: each thing by its natural key, nothing else touched."""

from collections.abc import Iterable
from datetime import datetime

from sqlalchemy import Connection, select

from floorcare.ground.trade.book import Portfolio, ZoneBook
from floorcare.store import rows
from floorcare.store.customers import put_branches, put_customers, raise_revisions
from floorcare.store.history import HistoryEntry, record
from floorcare.store.merge import Merged, PutCount, ids_by, in_parts
from floorcare.store.promises import put_promises
from floorcare.store.readings import put_readings
from floorcare.store.routines import put_routines
from floorcare.store.sites import put_belongings, put_sites, raise_versions
from floorcare.store.traffic import put_traffic
from floorcare.store.treatments import put_treatments
from floorcare.store.zones import put_spans, put_stations, put_zones


def put_portfolio(
    connection: Connection, portfolio: Portfolio, *, who: str, now: datetime
) -> dict[str, PutCount]:
    """Bring a portfolio in and say, by kind, how many were added, changed and left alone.

    Where anything changed, the branches that serve the sites concerned have a new revision, the
    sites and zones edited a new version, and the history one entry.

    Raises
    ------
    NotKnown : something names a customer, branch, area or station that nobody knows.
    NotUnderstood : two things have one natural key and differ.
    """
    customers = put_customers(connection, portfolio.customers, now)
    branches = put_branches(connection, portfolio.branches, who, now)
    branch_ids = ids_by(connection, rows.branch.c.code)
    of_sites, site_ids = _put_sites(connection, portfolio, branch_ids, now)
    of_zones, zone_ids = _put_zones(connection, portfolio, site_ids, now)
    books = {
        zone_ids[site_ids[book.site.code], zone.zone.code]: zone
        for book in portfolio.books
        for zone in book.zones
    }
    edited, recorded = _put_books(connection, books, now)
    merged = (customers, branches, *of_sites, of_zones, *edited, *recorded)
    counts = {one.word: one.count for one in merged}
    if not any(count.added or count.changed for count in counts.values()):
        return counts

    site_of = {zone_id: site_id for (site_id, _), zone_id in zone_ids.items()}
    zones = {zone_ids[key] for key in of_zones.keys}.union(*(one.parents for one in edited))
    sites = {site_ids[code] for code in of_sites[0].parents}
    sites = sites.union(*(one.parents for one in of_sites[1:]))
    raise_versions(connection, rows.site, sites)
    raise_versions(connection, rows.zone, zones)
    touched = sites.union(site_of[zone] for zone in zones)
    touched.update(site_of[zone] for one in recorded for zone in one.parents)
    revised = _serving(connection, touched) | {branch_ids[code] for code in branches.parents}
    raise_revisions(connection, revised, who, now)
    record(connection, _entry(merged, who, now))
    return counts


def _put_sites(
    connection: Connection, portfolio: Portfolio, branch_ids: dict[str, int], now: datetime
) -> tuple[tuple[Merged, ...], dict[str, int]]:
    customer_ids = ids_by(connection, rows.customer.c.code)
    sites = put_sites(connection, (b.site for b in portfolio.books), customer_ids, now)
    site_ids = ids_by(connection, rows.site.c.code)
    belongings = put_belongings(
        connection,
        {site_ids[book.site.code]: book.site for book in portfolio.books},
        {site_ids[book.site.code]: book.areas for book in portfolio.books},
        branch_ids,
        now,
    )
    return (sites, *belongings), site_ids


def _put_zones(
    connection: Connection, portfolio: Portfolio, site_ids: dict[str, int], now: datetime
) -> tuple[Merged, dict[tuple[int, str], int]]:
    area_ids = ids_by(connection, rows.area.c.site_id, rows.area.c.code)
    incoming = (
        (site_ids[book.site.code], book.site.code, zone.zone)
        for book in portfolio.books
        for zone in book.zones
    )
    zones = put_zones(connection, incoming, area_ids, now)
    return zones, ids_by(connection, rows.zone.c.site_id, rows.zone.c.code)


def _put_books(
    connection: Connection, books: dict[int, ZoneBook], now: datetime
) -> tuple[tuple[Merged, ...], tuple[Merged, ...]]:
    """What zones consist of, and what was recorded on them."""
    spans = put_spans(connection, {i: book.zone for i, book in books.items()}, now)
    stations = put_stations(connection, {i: book.stations for i, book in books.items()}, now)
    station_ids = ids_by(connection, rows.station.c.zone_id, rows.station.c.code)
    readings = {i: book.readings for i, book in books.items()}
    return (spans, stations), (
        put_readings(connection, readings, station_ids, now),
        put_treatments(connection, {i: book.done for i, book in books.items()}, now),
        put_traffic(connection, {i: book.traffic for i, book in books.items()}, now),
        put_routines(connection, {i: book.routines for i, book in books.items()}, now),
        put_promises(connection, {i: book.promises for i, book in books.items()}, now),
    )


def _serving(connection: Connection, site_ids: Iterable[int]) -> set[int]:
    """The branches that serve any of these sites, now or at another time."""
    c = rows.site_branch.c
    found: set[int] = set()
    for part in in_parts(site_ids):
        found.update(connection.scalars(select(c.branch_id).where(c.site_id.in_(part)).distinct()))
    return found


def _entry(merged: Iterable[Merged], who: str, now: datetime) -> HistoryEntry:
    counts = {
        one.word: {"added": one.count.added, "changed": one.count.changed}
        for one in merged
        if one.count.added or one.count.changed
    }
    before = {one.word: list(one.before) for one in merged if one.before}
    return HistoryEntry(
        at=now, who=who, what="portfolio brought in", detail={"counts": counts, "before": before}
    )
