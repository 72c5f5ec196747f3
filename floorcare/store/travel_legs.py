"""Typed drives in and out of the store, by branch."""

from collections.abc import Iterable
from typing import Any

from sqlalchemy import Connection, Row, select

from floorcare.ground.trade.site import TravelLeg
from floorcare.store import crew_rows, rows
from floorcare.store.known import Known
from floorcare.store.merge import Kind, Merged, Writer, merge

LEGS = Kind(
    table=crew_rows.travel_leg,
    word="drives",
    key=("branch_id", "leaves", "reaches"),
    values=("minutes", "km"),
    least_zero=("minutes", "km"),
)


def put_legs(writer: Writer, legs: Iterable[TravelLeg], known: Known) -> Merged:
    """Bring typed drives in.

    Raises
    ------
    NotKnown : a drive's branch, or a site it leaves or reaches, is neither brought in nor kept.
    """
    return merge(writer, LEGS, (_row(one, known) for one in legs))


def _row(leg: TravelLeg, known: Known) -> tuple[Any, ...]:
    named = f"drive from {leg.leaves or leg.branch} to {leg.reaches or leg.branch}"
    for code in (leg.leaves, leg.reaches):
        known.maybe(rows.site, code, named)
    return (
        known.id(rows.branch, leg.branch, named),
        leg.leaves,
        leg.reaches,
        leg.minutes,
        leg.km,
    )


def legs_of(connection: Connection) -> tuple[TravelLeg, ...]:
    """Every typed drive, sorted by branch, where it leaves and where it arrives."""
    leg, branch = crew_rows.travel_leg, rows.branch
    found = connection.execute(
        select(leg, branch.c.code.label("branch")).join(branch).where(leg.c.withdrawn_at.is_(None))
    )
    return tuple(sorted(map(leg_from_row, found), key=leg_order))


def leg_from_row(row: Row[Any]) -> TravelLeg:
    """The drive of a row."""
    return TravelLeg(
        branch=row.branch, leaves=row.leaves, reaches=row.reaches, minutes=row.minutes, km=row.km
    )


def leg_order(leg: TravelLeg) -> tuple[str, str, str]:
    """The order in which drives stand; no two share it."""
    return (leg.branch, leg.leaves, leg.reaches)
