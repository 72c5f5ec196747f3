"""Stock entries and our own rates in and out of the store, by branch."""

from collections.abc import Iterable
from typing import Any

from sqlalchemy import Connection, Row, select

from floorcare.ground.trade.equipment import Rate, RateKind, StockEntry, StockMove
from floorcare.store import equipment_rows, rows
from floorcare.store.known import Known
from floorcare.store.merge import Kind, Merged, Timed, Writer, merge

STOCK = Kind(
    table=equipment_rows.stock_entry,
    word="stock",
    key=("branch_id", "material", "moved_on", "move"),
    values=("quantity", "unit"),
)
RATES = Kind(
    table=equipment_rows.rate,
    word="rates",
    key=("branch_id", "kind", "what", "from_on"),
    values=("amount", "currency", "to_on"),
    timed=Timed(starts="from_on", ends="to_on", competes=3),
)


def put_stock(writer: Writer, stock: Iterable[StockEntry], known: Known) -> Merged:
    """Bring stock entries in.

    Raises
    ------
    NotKnown : an entry's branch is neither brought in nor kept.
    """
    incoming = (
        (
            known.id(rows.branch, one.branch, f"stock of {one.material} on {one.on}"),
            one.material,
            one.on,
            one.move.value,
            one.quantity,
            one.unit,
        )
        for one in stock
    )
    return merge(writer, STOCK, incoming)


def put_rates(writer: Writer, rates: Iterable[Rate], known: Known) -> Merged:
    """Bring rates in.

    Raises
    ------
    NotKnown : a rate's branch is neither brought in nor kept.
    """
    incoming = (
        (
            known.id(rows.branch, one.branch, f"rate of a {one.kind} from {one.from_on}"),
            one.kind.value,
            one.what,
            one.from_on,
            one.amount,
            one.currency,
            one.to_on,
        )
        for one in rates
    )
    return merge(writer, RATES, incoming)


def stock_of(connection: Connection) -> tuple[StockEntry, ...]:
    """Every stock entry, sorted by branch, material, day and move."""
    entry, branch = equipment_rows.stock_entry, rows.branch
    found = connection.execute(select(entry, branch.c.code.label("branch")).join(branch))
    return tuple(sorted(map(stock_from_row, found), key=stock_order))


def stock_from_row(row: Row[Any]) -> StockEntry:
    """The stock entry of a row."""
    return StockEntry(
        branch=row.branch,
        material=row.material,
        on=row.moved_on,
        move=StockMove(row.move),
        quantity=row.quantity,
        unit=row.unit,
    )


def stock_order(entry: StockEntry) -> tuple[Any, ...]:
    """The order in which stock entries stand; no two share it."""
    return (entry.branch, entry.material, entry.on, entry.move)


def rates_of(connection: Connection) -> tuple[Rate, ...]:
    """Every rate, sorted by branch, kind, what it prices and first day."""
    rate, branch = equipment_rows.rate, rows.branch
    found = connection.execute(
        select(rate, branch.c.code.label("branch"))
        .join(branch)
        .where(rate.c.withdrawn_at.is_(None))
    )
    return tuple(sorted(map(rate_from_row, found), key=rate_order))


def rate_from_row(row: Row[Any]) -> Rate:
    """The rate of a row."""
    return Rate(
        branch=row.branch,
        kind=RateKind(row.kind),
        amount=row.amount,
        currency=row.currency,
        from_on=row.from_on,
        to_on=row.to_on,
        what=row.what,
    )


def rate_order(rate: Rate) -> tuple[Any, ...]:
    """The order in which rates stand; no two share it."""
    return (rate.branch, rate.kind, rate.what, rate.from_on)
