"""Who goes to which visit: read, taken back and pinned."""

from collections.abc import Iterable
from datetime import date, datetime

from sqlalchemy import Connection, select, update

from floorcare.ground.trade.assignment import Assignment
from floorcare.store import visit_rows
from floorcare.store.merge import in_parts
from floorcare.store.visits import visit_ids


def assignments_of(connection: Connection, first: date, last: date) -> tuple[Assignment, ...]:
    """Assignments of visits whose night lies between two days, by crew, start and visit."""
    visit, one = visit_rows.visit, visit_rows.assignment
    found = connection.execute(
        select(one, visit.c.uuid)
        .join(visit, one.c.visit_id == visit.c.id)
        .where(one.c.withdrawn_at.is_(None), visit.c.night >= first, visit.c.night <= last)
    )
    listed = (
        Assignment(
            visit=row.uuid,
            crew=row.crew,
            on=row.crew_on,
            starts_at=row.starts_at,
            ends_at=row.ends_at,
            part=row.part,
            parts=row.parts,
            zones=tuple(row.zones.split()),
            travel_minutes=row.travel_minutes,
            machines=tuple(row.machines.split()),
            held=row.held,
        )
        for row in found
    )
    return tuple(sorted(listed, key=lambda a: (a.crew, a.starts_at, a.visit, a.part)))


def clear_assignments(connection: Connection, uuids: Iterable[str], now: datetime) -> None:
    """Take back who goes to these visits: they moved, or were called off."""
    one = visit_rows.assignment
    ids = visit_ids(connection, uuids)
    for part in in_parts(ids.values()):
        connection.execute(
            update(one)
            .where(one.c.visit_id.in_(part), one.c.withdrawn_at.is_(None))
            .values(withdrawn_at=now)
        )


def hold_assignment(connection: Connection, uuid: str, *, held: bool) -> bool:
    """Pin a visit to its crew and night, or let it go; False where it has no crew."""
    one = visit_rows.assignment
    ids = visit_ids(connection, [uuid])
    changed = connection.execute(
        update(one)
        .where(one.c.visit_id == ids.get(uuid, 0), one.c.withdrawn_at.is_(None))
        .values(held=held)
    )
    return changed.rowcount > 0
