"""Crews in and out of the store, with their members and shifts."""

from collections import defaultdict
from collections.abc import Iterable
from datetime import date
from typing import Any

from sqlalchemy import Connection, Row, select

from floorcare.ground.trade.crew import Crew, CrewMember, Shift
from floorcare.store import crew_rows, rows
from floorcare.store.known import Known
from floorcare.store.merge import Kind, Merged, Timed, Writer, ids_by, merge
from floorcare.store.texts import numbers_of, numbers_text

CREWS = Kind(
    table=crew_rows.crew,
    word="crews",
    key=("code",),
    values=("branch_id", "name"),
    parented=False,
)
MEMBERS = Kind(
    table=crew_rows.crew_member,
    word="members of crews",
    key=("crew_id", "worker_id", "from_on"),
    values=("to_on",),
    timed=Timed(starts="from_on", ends="to_on", competes=2),
    order=("from_on", "to_on"),
)
SHIFTS = Kind(
    table=crew_rows.shift,
    word="shifts",
    key=("crew_id", "weekdays", "starts_minute", "from_on"),
    values=("ends_minute", "break_minutes", "to_on"),
    # A crew goes out once a night, so another start on the same weekdays is a later word.
    timed=Timed(starts="from_on", ends="to_on", competes=2),
    order=("from_on", "to_on"),
)


def put_crews(writer: Writer, crews: Iterable[Crew], known: Known) -> tuple[Merged, Merged, Merged]:
    """Bring crews in, with their members and shifts.

    Raises
    ------
    NotKnown : a crew's branch or a member is neither brought in nor kept.
    """
    listed = tuple(crews)
    merged = merge(
        writer,
        CREWS,
        ((c.code, known.id(rows.branch, c.branch, f"crew {c.code}"), c.name) for c in listed),
    )
    ids = ids_by(writer.connection, crew_rows.crew.c.code)
    members = (
        (
            ids[crew.code],
            known.id(crew_rows.worker, one.worker, f"crew {crew.code}"),
            one.from_on,
            one.to_on,
        )
        for crew in listed
        for one in crew.members
    )
    shifts = (
        (
            ids[crew.code],
            numbers_text(one.weekdays),
            one.starts_minute,
            one.from_on,
            one.ends_minute,
            one.break_minutes,
            one.to_on,
        )
        for crew in listed
        for one in crew.shifts
    )
    return merged, merge(writer, MEMBERS, members), merge(writer, SHIFTS, shifts)


def crews_of(connection: Connection) -> tuple[Crew, ...]:
    """Every crew with its members and shifts, sorted by code, in three statements."""
    members: defaultdict[int, list[CrewMember]] = defaultdict(list)
    member, worker = crew_rows.crew_member, crew_rows.worker
    for row in connection.execute(
        select(member, worker.c.code.label("worker"))
        .join(worker)
        .where(member.c.withdrawn_at.is_(None))
    ):
        members[row.crew_id].append(member_from_row(row))
    shifts: defaultdict[int, list[Shift]] = defaultdict(list)
    shift = crew_rows.shift
    for row in connection.execute(select(shift).where(shift.c.withdrawn_at.is_(None))):
        shifts[row.crew_id].append(shift_from_row(row))
    crew, branch = crew_rows.crew, rows.branch
    found = connection.execute(select(crew, branch.c.code.label("branch")).join(branch))
    listed = (
        Crew(
            code=row.code,
            branch=row.branch,
            name=row.name,
            members=tuple(sorted(members[row.id], key=member_order)),
            shifts=tuple(sorted(shifts[row.id], key=shift_order)),
        )
        for row in found
    )
    return tuple(sorted(listed, key=lambda c: c.code))


def member_from_row(row: Row[Any]) -> CrewMember:
    """A worker's time in a crew, of a row."""
    return CrewMember(worker=row.worker, from_on=row.from_on, to_on=row.to_on)


def member_order(member: CrewMember) -> tuple[str, date]:
    """The order in which a crew's members stand; no two share it."""
    return (member.worker, member.from_on)


def shift_from_row(row: Row[Any]) -> Shift:
    """The shift of a row."""
    return Shift(
        weekdays=numbers_of(row.weekdays),
        starts_minute=row.starts_minute,
        ends_minute=row.ends_minute,
        break_minutes=row.break_minutes,
        from_on=row.from_on,
        to_on=row.to_on,
    )


def shift_order(shift: Shift) -> tuple[date, str, int]:
    """The order in which a crew's shifts stand; no two share it."""
    return (shift.from_on, numbers_text(shift.weekdays), shift.starts_minute)
