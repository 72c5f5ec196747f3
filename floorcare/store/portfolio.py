"""Bringing a whole portfolio in: each thing by its natural key, nothing else touched."""

from collections.abc import Iterable
from dataclasses import dataclass

from floorcare.ground.trade.book import Portfolio, ZoneBook
from floorcare.store import rows
from floorcare.store.calls import put_calls
from floorcare.store.changes import told
from floorcare.store.contacts import put_contacts, put_people
from floorcare.store.contracts import put_contracts
from floorcare.store.crews import put_crews
from floorcare.store.customers import put_branches, put_customers, raise_revisions
from floorcare.store.history import HistoryEntry, record
from floorcare.store.instruments import put_bridges, put_instruments
from floorcare.store.known import Known
from floorcare.store.machines import put_machines
from floorcare.store.make_ups import put_make_ups, put_seasons
from floorcare.store.merge import Merged, PutCount, Writer
from floorcare.store.promises import put_promises
from floorcare.store.readings import put_readings
from floorcare.store.requirements import put_requirements
from floorcare.store.revisions import reading_means, serving
from floorcare.store.routines import put_routines
from floorcare.store.sites import put_belongings, put_sites, raise_versions
from floorcare.store.stock import put_rates, put_stock
from floorcare.store.supplies import put_supplies
from floorcare.store.traffic import put_traffic
from floorcare.store.travel_legs import put_legs
from floorcare.store.treatments import put_treatments
from floorcare.store.withdrawals import Withdrawals
from floorcare.store.workers import put_workers
from floorcare.store.zones import put_spans, put_stations, put_zones


@dataclass(frozen=True, slots=True, kw_only=True)
class _Bringing:
    """A portfolio on its way in: who writes, what is known already, what is taken back."""

    writer: Writer
    portfolio: Portfolio
    known: Known
    back: Withdrawals


def put_portfolio(writer: Writer, portfolio: Portfolio) -> dict[str, PutCount]:
    """Bring a portfolio in and say, by kind, how many were added, changed and left alone.

    Where anything changed, the branches whose plans read it have a new revision, the sites and
    zones edited a new version, and the history one entry.

    Raises
    ------
    NotKnown : something names a customer, branch, area or station that nobody knows, or a row to
        withdraw that never was.
    NotUnderstood : two things have one natural key and differ.
    """
    connection = writer.connection
    known = Known(connection)
    bringing = _Bringing(
        writer=writer,
        portfolio=portfolio,
        known=known,
        back=Withdrawals(portfolio.withdrawn, known),
    )
    customers = put_customers(writer, portfolio.customers)
    branches = put_branches(writer, portfolio.branches)
    of_sites = _put_sites(bringing)
    of_zones = _put_zones(bringing)
    edited, recorded = _put_books(bringing)
    means = _put_means(bringing)
    calls = put_calls(writer, portfolio.calls, known, bringing.back.of("call"))
    merged = (customers, branches, *of_sites, of_zones, *edited, *recorded, *means, calls)
    if any(one.rows for one in merged):
        zone_ids = known.ids(rows.zone.c.site_id, rows.zone.c.code)
        zones = {zone_ids[key] for key in of_zones.keys}.union(*(one.parents for one in edited))
        sites = {known.ids(rows.site.c.code)[code] for code in of_sites[0].parents}
        sites = sites.union(*(one.parents for one in of_sites[1:]))
        raise_versions(connection, rows.site, sites)
        raise_versions(connection, rows.zone, zones)
        site_of = {zone_id: site_id for (site_id, _), zone_id in zone_ids.items()}
        touched = sites.union(site_of[zone] for zone in zones)
        touched.update(site_of[zone] for one in recorded for zone in one.parents)
        touched |= calls.ever("site_id")
        revised = serving(connection, touched) | reading_means(connection, means)
        revised |= {known.ids(rows.branch.c.code)[code] for code in branches.parents}
        raise_revisions(writer, revised)
        record(connection, _entry(merged, writer))
    return told(connection, merged)


def _put_sites(bringing: _Bringing) -> tuple[Merged, ...]:
    """Sites, then what belongs to them."""
    writer, known, books = bringing.writer, bringing.known, bringing.portfolio.books
    sites = put_sites(writer, (b.site for b in books), known.ids(rows.customer.c.code))
    site_ids = known.ids(rows.site.c.code)
    belongings = put_belongings(
        writer,
        {site_ids[book.site.code]: book.site for book in books},
        {site_ids[book.site.code]: book.areas for book in books},
        known.ids(rows.branch.c.code),
        bringing.back.of("shut day"),
    )
    required = {site_ids[book.site.code]: book.requirements for book in books}
    seasons = {site_ids[book.site.code]: book.seasons for book in books}
    return (
        sites,
        *belongings,
        put_requirements(writer, required),
        put_seasons(writer, seasons),
    )


def _put_zones(bringing: _Bringing) -> Merged:
    site_ids = bringing.known.ids(rows.site.c.code)
    incoming = (
        (site_ids[book.site.code], book.site.code, zone.zone)
        for book in bringing.portfolio.books
        for zone in book.zones
    )
    area_ids = bringing.known.ids(rows.area.c.site_id, rows.area.c.code)
    return put_zones(bringing.writer, incoming, area_ids)


def _put_books(bringing: _Bringing) -> tuple[tuple[Merged, ...], tuple[Merged, ...]]:
    """What zones consist of, and what was recorded on them."""
    writer, known, back = bringing.writer, bringing.known, bringing.back
    site_ids = known.ids(rows.site.c.code)
    zone_ids = known.ids(rows.zone.c.site_id, rows.zone.c.code)
    books: dict[int, ZoneBook] = {
        zone_ids[site_ids[book.site.code], zone.zone.code]: zone
        for book in bringing.portfolio.books
        for zone in book.zones
    }
    spans = put_spans(writer, {i: book.zone for i, book in books.items()})
    stations = put_stations(writer, {i: book.stations for i, book in books.items()})
    make_ups = put_make_ups(writer, {i: book.make_ups for i, book in books.items()})
    station_ids = known.ids(rows.station.c.zone_id, rows.station.c.code)
    readings = {i: book.readings for i, book in books.items()}
    done = {i: book.done for i, book in books.items()}
    traffic = {i: book.traffic for i, book in books.items()}
    routines = {i: book.routines for i, book in books.items()}
    promises = {i: book.promises for i, book in books.items()}
    return (spans, stations, make_ups), (
        put_readings(writer, readings, station_ids, back.of("reading")),
        put_treatments(writer, done, back.of("treatment done")),
        put_traffic(writer, traffic, back.of("traffic")),
        put_routines(writer, routines, back.of("routine")),
        put_promises(writer, promises, back.of("promise")),
    )


def _put_means(bringing: _Bringing) -> tuple[Merged, ...]:
    """Who the work is done for and by, with what, and for what price."""
    writer, portfolio, known = bringing.writer, bringing.portfolio, bringing.known
    return (
        put_contacts(writer, portfolio.contacts, known),
        *put_workers(writer, portfolio.workers, known),
        put_people(writer, portfolio.people, known),
        *put_crews(writer, portfolio.crews, known),
        *put_machines(writer, portfolio.machines, known),
        *put_instruments(writer, portfolio.instruments),
        put_bridges(writer, portfolio.bridges, known),
        put_legs(writer, portfolio.legs, known),
        put_stock(writer, portfolio.stock, known),
        put_supplies(writer, portfolio.supplies, known),
        put_rates(writer, portfolio.rates, known),
        *put_contracts(writer, portfolio.contracts, known),
    )


def _entry(merged: Iterable[Merged], writer: Writer) -> HistoryEntry:
    listed = [one for one in merged if one.rows]
    counts = {
        one.kind.word: {"added": one.count.added, "changed": one.count.changed} for one in listed
    }
    before = {one.kind.word: list(one.before) for one in listed if one.before}
    return HistoryEntry(
        at=writer.now,
        who=writer.who,
        what="portfolio brought in",
        detail={"counts": counts, "before": before},
    )
