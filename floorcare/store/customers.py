"""Customers and branches in and out of the store."""

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from sqlalchemy import Connection, Row, select, update

from floorcare.ground.trade.site import Branch, Customer
from floorcare.store import rows
from floorcare.store.merge import Kind, Merged, Writer, merge
from floorcare.store.texts import numbers_of, numbers_text

CUSTOMERS = Kind(
    table=rows.customer, word="customers", key=("code",), values=("name",), parented=False
)
BRANCHES = Kind(
    table=rows.branch,
    word="branches",
    key=("code",),
    values=(
        "name",
        "time_zone",
        "country",
        "region",
        "latitude",
        "longitude",
        "crews",
        "crew_size",
        "shift_minutes",
        "weekdays",
        "reserve_share",
        "units",
        "currency",
    ),
    parented=False,
)


def put_customers(writer: Writer, customers: Iterable[Customer]) -> Merged:
    """Bring customers in."""
    return merge(writer, CUSTOMERS, ((c.code, c.name) for c in customers))


def customer_from_row(row: Row[Any]) -> Customer:
    """The customer of a row."""
    return Customer(code=row.code, name=row.name)


def customers_of(connection: Connection) -> tuple[Customer, ...]:
    """Every customer, sorted by code."""
    found = connection.execute(select(rows.customer))
    return tuple(sorted(map(customer_from_row, found), key=lambda c: c.code))


def put_branches(writer: Writer, branches: Iterable[Branch]) -> Merged:
    """Bring branches in; whoever calls raises the revision of those touched, new ones from 0."""
    kind = replace(
        BRANCHES, new=(("revision", 0), ("revised_at", writer.now), ("revised_by", writer.who))
    )
    return merge(writer, kind, map(_branch_row, branches))


def _branch_row(branch: Branch) -> tuple[Any, ...]:
    return (
        branch.code,
        branch.name,
        branch.time_zone,
        branch.country,
        branch.region,
        branch.latitude,
        branch.longitude,
        branch.crews,
        branch.crew_size,
        branch.shift_minutes,
        numbers_text(branch.weekdays),
        branch.reserve_share,
        branch.units,
        branch.currency,
    )


def branch_from_row(row: Row[Any]) -> Branch:
    """The branch of a row."""
    return Branch(
        code=row.code,
        name=row.name,
        time_zone=row.time_zone,
        country=row.country,
        region=row.region,
        latitude=row.latitude,
        longitude=row.longitude,
        crews=row.crews,
        crew_size=row.crew_size,
        shift_minutes=row.shift_minutes,
        weekdays=numbers_of(row.weekdays),
        reserve_share=row.reserve_share,
        units=row.units,
        currency=row.currency,
    )


def branches_of(connection: Connection) -> tuple[Branch, ...]:
    """Every branch, sorted by code."""
    found = connection.execute(select(rows.branch))
    return tuple(sorted(map(branch_from_row, found), key=lambda b: b.code))


def revisions_of(connection: Connection) -> dict[str, int]:
    """The inputs' revision of every branch."""
    found = connection.execute(select(rows.branch.c.code, rows.branch.c.revision))
    return dict(sorted((row.code, row.revision) for row in found))


def raise_revisions(writer: Writer, branch_ids: Iterable[int]) -> None:
    """Say that what a plan of these branches reads has changed."""
    c = rows.branch.c
    writer.connection.execute(
        update(rows.branch)
        .where(c.id.in_(sorted(branch_ids)))
        .values(revision=c.revision + 1, revised_at=writer.now, revised_by=writer.who)
    )
