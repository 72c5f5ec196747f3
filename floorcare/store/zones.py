"""Zones in and out of the store, with their values over time and their stations."""

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping
from typing import Any

from sqlalchemy import Connection, Row, select

from floorcare.errors import NotKnown
from floorcare.ground.trade.traffic import TrafficLevel
from floorcare.ground.trade.zone import Opening, Station, Zone, ZoneSpan
from floorcare.store import rows
from floorcare.store.merge import Kind, Merged, Timed, Writer, merge
from floorcare.store.scope import at_sites, in_zones_at
from floorcare.store.texts import codes_of, codes_text

ZONES = Kind(
    table=rows.zone,
    word="zones",
    key=("site_id", "code"),
    values=(
        "area_id",
        "name",
        "exposure",
        "opening",
        "polished_on",
        "about_days",
        "poured_on",
        "parents",
    ),
    new=(("version", 0),),
)
ZONE_SPANS = Kind(
    table=rows.zone_span,
    word="values of zones",
    key=("zone_id", "from_on"),
    values=("to_on", "surface", "area_m2", "traffic", "place"),
    timed=Timed(starts="from_on", ends="to_on", competes=1),
)
STATIONS = Kind(table=rows.station, word="stations", key=("zone_id", "code"), values=("note",))


def put_zones(
    writer: Writer,
    zones: Iterable[tuple[int, str, Zone]],
    area_ids: Mapping[tuple[int, str], int],
) -> Merged:
    """Bring zones in, each with its site's id and code, without what belongs to them.

    Raises
    ------
    NotKnown : a zone's area is neither brought in nor kept.
    """
    incoming = (_zone_row(site_id, site, zone, area_ids) for site_id, site, zone in zones)
    return merge(writer, ZONES, incoming)


def _zone_row(
    site_id: int, site: str, zone: Zone, area_ids: Mapping[tuple[int, str], int]
) -> tuple[Any, ...]:
    area_id = area_ids.get((site_id, zone.area))
    if zone.area and area_id is None:
        raise NotKnown(f'area "{zone.area}" is not known', where=f"zone {site}/{zone.code}")
    return (
        site_id,
        zone.code,
        area_id,
        zone.name,
        zone.exposure,
        zone.opening.value,
        zone.polished_on,
        zone.about_days,
        zone.poured_on,
        codes_text(zone.parents),
    )


def put_spans(writer: Writer, zones: Mapping[int, Zone]) -> Merged:
    """Bring in the zones' values over time, by the zone's id."""
    incoming = (
        (
            zone_id,
            span.from_on,
            span.to_on,
            span.surface,
            span.area_m2,
            span.traffic.value,
            span.place,
        )
        for zone_id, zone in zones.items()
        for span in zone.spans
    )
    return merge(writer, ZONE_SPANS, incoming)


def put_stations(writer: Writer, stations: Mapping[int, tuple[Station, ...]]) -> Merged:
    """Bring stations in, by the zone's id."""
    incoming = ((zone_id, s.code, s.note) for zone_id, of in stations.items() for s in of)
    return merge(writer, STATIONS, incoming)


def zones_of(
    connection: Connection, sites: Collection[str] | None
) -> dict[int, list[tuple[int, Zone]]]:
    """Zones with their ids by their site's id, sorted by code, in two statements."""
    spans: defaultdict[int, list[ZoneSpan]] = defaultdict(list)
    zone_span = rows.zone_span
    for row in connection.execute(
        select(zone_span).where(
            in_zones_at(zone_span.c.zone_id, sites), zone_span.c.withdrawn_at.is_(None)
        )
    ):
        spans[row.zone_id].append(span_from_row(row))
    found: defaultdict[int, list[tuple[int, Zone]]] = defaultdict(list)
    zone, area = rows.zone, rows.area
    for row in connection.execute(
        select(zone, area.c.code.label("area"))
        .outerjoin(area, zone.c.area_id == area.c.id)
        .where(at_sites(zone.c.site_id, sites))
    ):
        ordered = tuple(sorted(spans[row.id], key=lambda s: s.from_on))
        found[row.site_id].append((row.id, zone_from_row(row, spans=ordered)))
    return {site: sorted(zones, key=lambda z: z[1].code) for site, zones in found.items()}


def zone_from_row(row: Row[Any], *, spans: tuple[ZoneSpan, ...]) -> Zone:
    """The zone of a row and of its values over time."""
    return Zone(
        code=row.code,
        area=row.area or "",
        name=row.name,
        spans=spans,
        exposure=row.exposure,
        opening=Opening(row.opening),
        polished_on=row.polished_on,
        about_days=row.about_days,
        poured_on=row.poured_on,
        parents=codes_of(row.parents),
    )


def span_from_row(row: Row[Any]) -> ZoneSpan:
    """The zone's values of some days."""
    return ZoneSpan(
        from_on=row.from_on,
        to_on=row.to_on,
        surface=row.surface,
        area_m2=row.area_m2,
        traffic=TrafficLevel(row.traffic),
        place=row.place,
    )


def stations_of(
    connection: Connection, sites: Collection[str] | None
) -> dict[int, tuple[Station, ...]]:
    """Stations by their zone's id, sorted by code."""
    found: defaultdict[int, list[Station]] = defaultdict(list)
    station = rows.station
    for row in connection.execute(select(station).where(in_zones_at(station.c.zone_id, sites))):
        found[row.zone_id].append(Station(code=row.code, note=row.note))
    return {zone: tuple(sorted(of, key=lambda s: s.code)) for zone, of in found.items()}
