"""How branches buy their materials, in and out of the store."""

from collections.abc import Iterable
from typing import Any

from sqlalchemy import Connection, Row, select

from floorcare.ground.trade.equipment import Supply
from floorcare.store import equipment_rows, rows
from floorcare.store.known import Known
from floorcare.store.merge import Kind, Merged, Writer, merge

SUPPLIES = Kind(
    table=equipment_rows.supply,
    word="supplies",
    key=("branch_id", "material"),
    values=("pack", "unit", "lead_days", "reserve"),
)


def put_supplies(writer: Writer, supplies: Iterable[Supply], known: Known) -> Merged:
    """Bring supplies in.

    Raises
    ------
    NotKnown : a supply's branch is neither brought in nor kept.
    """
    incoming = (
        (
            known.id(rows.branch, one.branch, f"supply of {one.material}"),
            one.material,
            one.pack,
            one.unit,
            one.lead_days,
            one.reserve,
        )
        for one in supplies
    )
    return merge(writer, SUPPLIES, incoming)


def supplies_of(connection: Connection) -> tuple[Supply, ...]:
    """Every supply, sorted by branch and material."""
    supply, branch = equipment_rows.supply, rows.branch
    found = connection.execute(
        select(supply, branch.c.code.label("branch"))
        .join(branch)
        .where(supply.c.withdrawn_at.is_(None))
    )
    return tuple(sorted(map(supply_from_row, found), key=supply_order))


def supply_from_row(row: Row[Any]) -> Supply:
    """The supply of a row."""
    return Supply(
        branch=row.branch,
        material=row.material,
        pack=row.pack,
        unit=row.unit,
        lead_days=row.lead_days,
        reserve=row.reserve,
    )


def supply_order(supply: Supply) -> tuple[str, str]:
    """The order in which supplies stand; no two share it."""
    return (supply.branch, supply.material)
