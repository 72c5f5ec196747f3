"""Promise lines in and out of the store."""

from collections import defaultdict
from collections.abc import Collection, Mapping
from datetime import date
from typing import Any

from sqlalchemy import Connection, Row, select

from floorcare.ground.trade.promise import Policy, PromiseKind, PromiseLine
from floorcare.ground.trade.reading import SurfaceState
from floorcare.store import rows
from floorcare.store.merge import Kind, Merged, Values, Writer, merge
from floorcare.store.scope import in_zones_at

PROMISES = Kind(
    table=rows.promise_line,
    word="promises",
    key=("zone_id", "contract", "kind", "starts_on"),
    values=(
        "ends_on",
        "reference_gu",
        "reference_on",
        "reference_state",
        "loss_share",
        "confidence",
        "policy",
        "slip_method",
        "slip_limit",
        "slip_place",
        "response_hours",
    ),
)


def put_promises(
    writer: Writer, promises: Mapping[int, tuple[PromiseLine, ...]], back: Mapping[Values, str]
) -> Merged:
    """Bring promise lines in, by the zone's id; `back` are the keys of those taken back."""
    incoming = (
        (
            zone_id,
            line.contract,
            line.kind.value,
            line.starts_on,
            line.ends_on,
            line.reference_gu,
            line.reference_on,
            line.reference_state.value,
            line.loss_share,
            line.confidence,
            line.policy.value,
            line.slip_method,
            line.slip_limit,
            line.slip_place,
            line.response_hours,
        )
        for zone_id, of in promises.items()
        for line in of
    )
    return merge(writer, PROMISES, incoming, back)


def promises_of(
    connection: Connection, sites: Collection[str] | None
) -> dict[int, tuple[PromiseLine, ...]]:
    """Promise lines by their zone's id, sorted by start, contract and kind."""
    found: defaultdict[int, list[PromiseLine]] = defaultdict(list)
    line = rows.promise_line
    for row in connection.execute(
        select(line).where(in_zones_at(line.c.zone_id, sites), line.c.withdrawn_at.is_(None))
    ):
        found[row.zone_id].append(promise_from_row(row))
    return {zone: tuple(sorted(of, key=promise_order)) for zone, of in found.items()}


def promise_from_row(row: Row[Any]) -> PromiseLine:
    """The promise line of a row."""
    return PromiseLine(
        contract=row.contract,
        kind=PromiseKind(row.kind),
        starts_on=row.starts_on,
        ends_on=row.ends_on,
        reference_gu=row.reference_gu,
        reference_on=row.reference_on,
        reference_state=SurfaceState(row.reference_state),
        loss_share=row.loss_share,
        confidence=row.confidence,
        policy=Policy(row.policy),
        slip_method=row.slip_method,
        slip_limit=row.slip_limit,
        slip_place=row.slip_place,
        response_hours=row.response_hours,
    )


def promise_order(line: PromiseLine) -> tuple[date, str, str]:
    """The order in which a zone's promises stand; no two share it."""
    return (line.starts_on, line.contract, line.kind)
