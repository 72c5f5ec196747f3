"""Readings in and out of the store: the one kind of row there are very many of."""

from collections import defaultdict
from collections.abc import Collection, Mapping
from typing import Any

from sqlalchemy import Connection, Row, select

from floorcare.errors import NotKnown
from floorcare.ground.trade.reading import Measure, Reading, SurfaceState
from floorcare.store import rows
from floorcare.store.merge import Kind, Merged, Values, Writer, merge
from floorcare.store.scope import in_zones_at

READINGS = Kind(
    table=rows.reading,
    word="readings",
    key=(
        "zone_id",
        "station_id",
        "taken_on",
        "taken_minute",
        "measure",
        "geometry_deg",
        "method",
        "instrument",
        "state",
    ),
    values=("value", "reader", "witness"),
)


def put_readings(
    writer: Writer,
    readings: Mapping[int, tuple[Reading, ...]],
    station_ids: Mapping[tuple[int, str], int],
    back: Mapping[Values, str],
) -> Merged:
    """Bring readings in, by the zone's id; `back` are the keys of those taken back.

    Raises
    ------
    NotKnown : a reading's station is neither brought in nor kept.
    """
    incoming = (
        _reading_row(zone_id, reading, station_ids)
        for zone_id, of in readings.items()
        for reading in of
    )
    return merge(writer, READINGS, incoming, back)


def _reading_row(
    zone_id: int, reading: Reading, station_ids: Mapping[tuple[int, str], int]
) -> tuple[Any, ...]:
    station_id = station_ids.get((zone_id, reading.station)) if reading.station else None
    if reading.station and station_id is None:
        raise NotKnown(
            f'station "{reading.station}" is not known',
            where=f"reading of zone {reading.zone} on {reading.taken_on}",
        )
    return (
        zone_id,
        station_id,
        reading.taken_on,
        reading.taken_minute,
        reading.measure.value,
        reading.geometry_deg,
        reading.method,
        reading.instrument,
        reading.state.value,
        reading.value,
        reading.reader,
        reading.witness,
    )


def readings_of(
    connection: Connection, sites: Collection[str] | None
) -> dict[int, tuple[Reading, ...]]:
    """Readings by their zone's id, sorted by when and where they were taken."""
    reading, station, zone = rows.reading, rows.station, rows.zone
    found: defaultdict[int, list[Reading]] = defaultdict(list)
    for row in connection.execute(
        select(reading, station.c.code.label("station"), zone.c.code.label("zone"))
        .join(zone, reading.c.zone_id == zone.c.id)
        .outerjoin(station, reading.c.station_id == station.c.id)
        .where(in_zones_at(reading.c.zone_id, sites), reading.c.withdrawn_at.is_(None))
    ):
        found[row.zone_id].append(reading_from_row(row))
    return {zone_id: tuple(sorted(of, key=reading_order)) for zone_id, of in found.items()}


def reading_from_row(row: Row[Any]) -> Reading:
    """The reading of a row."""
    return Reading(
        zone=row.zone,
        station=row.station or "",
        taken_on=row.taken_on,
        taken_minute=row.taken_minute,
        measure=Measure(row.measure),
        value=row.value,
        state=SurfaceState(row.state),
        geometry_deg=row.geometry_deg,
        method=row.method,
        instrument=row.instrument,
        reader=row.reader,
        witness=row.witness,
    )


def reading_order(reading: Reading) -> tuple[Any, ...]:
    """The order in which a zone's readings stand; no two share it."""
    return (
        reading.taken_on,
        reading.taken_minute,
        reading.station,
        reading.measure,
        reading.geometry_deg,
        reading.method,
        reading.instrument,
        reading.state,
    )
