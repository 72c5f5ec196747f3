"""Calls in and out of the store."""

from collections.abc import Iterable, Mapping
from typing import Any

from sqlalchemy import Connection, Row, select

from floorcare.ground.trade.people import CallKind, CallReceived
from floorcare.store import people_rows, rows
from floorcare.store.known import Known
from floorcare.store.merge import Kind, Merged, Values, Writer, merge

CALLS = Kind(
    table=people_rows.call,
    word="calls",
    key=("uuid",),
    values=(
        "site_id",
        "zone_id",
        "kind",
        "received_at",
        "reported_by",
        "text",
        "spot_m2",
        "closed_at",
    ),
    parented=False,
    least_zero=("spot_m2",),
)


def put_calls(
    writer: Writer, calls: Iterable[CallReceived], known: Known, back: Mapping[Values, str]
) -> Merged:
    """Bring calls in; `back` are the keys of those taken back.

    Raises
    ------
    NotKnown : a call's site or zone is neither brought in nor kept.
    """

    def row(call: CallReceived) -> tuple[Any, ...]:
        where = f"call {call.uuid}"
        return (
            call.uuid,
            known.id(rows.site, call.site, where),
            known.maybe_zone(call.site, call.zone, where),
            call.kind.value,
            call.received_at,
            call.reported_by,
            call.text,
            call.spot_m2,
            call.closed_at,
        )

    return merge(writer, CALLS, map(row, calls), back)


def calls_of(connection: Connection) -> tuple[CallReceived, ...]:
    """Every call that was not taken back, by when it was received."""
    call, site, zone = people_rows.call, rows.site, rows.zone
    found = connection.execute(
        select(call, site.c.code.label("site"), zone.c.code.label("zone"))
        .join(site, call.c.site_id == site.c.id)
        .outerjoin(zone, call.c.zone_id == zone.c.id)
        .where(call.c.withdrawn_at.is_(None))
    )
    return tuple(sorted(map(call_from_row, found), key=lambda c: (c.received_at, c.uuid)))


def call_from_row(row: Row[Any]) -> CallReceived:
    """The call of a row."""
    return CallReceived(
        uuid=row.uuid,
        site=row.site,
        zone=row.zone or "",
        kind=CallKind(row.kind),
        received_at=row.received_at,
        reported_by=row.reported_by,
        text=row.text,
        spot_m2=row.spot_m2,
        closed_at=row.closed_at,
    )
