"""Traffic rows in and out of the store."""

from collections import defaultdict
from collections.abc import Collection, Mapping
from datetime import date
from typing import Any

from sqlalchemy import Connection, Row, select

from floorcare.ground.trade.traffic import TrafficRow
from floorcare.store import rows
from floorcare.store.merge import Kind, Merged, Timed, Values, Writer, merge
from floorcare.store.scope import in_zones_at

TRAFFIC = Kind(
    table=rows.traffic_row,
    word="traffic",
    key=("zone_id", "kind", "from_on"),
    values=("to_on", "per_day", "counted"),
    timed=Timed(starts="from_on", ends="to_on", competes=2),
)


def put_traffic(
    writer: Writer, traffic: Mapping[int, tuple[TrafficRow, ...]], back: Mapping[Values, str]
) -> Merged:
    """Bring traffic in, by the zone's id; `back` are the keys of rows taken back."""
    incoming = (
        (zone_id, row.kind, row.from_on, row.to_on, row.per_day, row.counted)
        for zone_id, of in traffic.items()
        for row in of
    )
    return merge(writer, TRAFFIC, incoming, back)


def traffic_of(
    connection: Connection, sites: Collection[str] | None
) -> dict[int, tuple[TrafficRow, ...]]:
    """Traffic by its zone's id, sorted by first day and kind."""
    found: defaultdict[int, list[TrafficRow]] = defaultdict(list)
    table = rows.traffic_row
    for row in connection.execute(
        select(table).where(in_zones_at(table.c.zone_id, sites), table.c.withdrawn_at.is_(None))
    ):
        found[row.zone_id].append(traffic_from_row(row))
    return {zone: tuple(sorted(of, key=traffic_order)) for zone, of in found.items()}


def traffic_from_row(row: Row[Any]) -> TrafficRow:
    """The traffic of a row."""
    return TrafficRow(
        kind=row.kind,
        per_day=row.per_day,
        counted=row.counted,
        from_on=row.from_on,
        to_on=row.to_on,
    )


def traffic_order(row: TrafficRow) -> tuple[date, str]:
    """The order in which a zone's traffic stands; no two share it."""
    return (row.from_on, row.kind)
