"""Workers and their qualifications in and out of the store."""

from collections import defaultdict
from collections.abc import Iterable
from typing import Any

from sqlalchemy import Connection, Row, select

from floorcare.ground.trade.crew import Absence, Qualification, Worker
from floorcare.store import crew_rows, rows
from floorcare.store.known import Known
from floorcare.store.merge import Kind, Merged, Writer, ids_by, merge
from floorcare.store.texts import codes_of, codes_text

WORKERS = Kind(
    table=crew_rows.worker,
    word="workers",
    key=("code",),
    values=("name", "branch_id", "languages", "from_on", "to_on"),
    parented=False,
    order=("from_on", "to_on"),
)
QUALIFICATIONS = Kind(
    table=crew_rows.qualification,
    word="qualifications",
    key=("worker_id", "name", "from_on"),
    values=("expires_on",),
    order=("from_on", "expires_on"),
)
ABSENCES = Kind(
    table=crew_rows.worker_absence,
    word="absences",
    key=("worker_id", "from_on"),
    values=("to_on", "why"),
    order=("from_on", "to_on"),
)


def put_workers(
    writer: Writer, workers: Iterable[Worker], known: Known
) -> tuple[Merged, Merged, Merged]:
    """Bring workers in, with what they hold and the days they do not come.

    Raises
    ------
    NotKnown : a worker's branch is neither brought in nor kept.
    """
    listed = tuple(workers)
    incoming = (
        (
            one.code,
            one.name,
            known.id(rows.branch, one.branch, f"worker {one.code}"),
            codes_text(one.languages),
            one.from_on,
            one.to_on,
        )
        for one in listed
    )
    merged = merge(writer, WORKERS, incoming)
    ids = ids_by(writer.connection, crew_rows.worker.c.code)
    held = (
        (ids[one.code], held.name, held.from_on, held.expires_on)
        for one in listed
        for held in one.qualifications
    )
    away = (
        (ids[one.code], absence.from_on, absence.to_on, absence.why)
        for one in listed
        for absence in one.absences
    )
    return merged, merge(writer, QUALIFICATIONS, held), merge(writer, ABSENCES, away)


def workers_of(connection: Connection) -> tuple[Worker, ...]:
    """Every worker with what they hold and when they are away, by code, in three statements."""
    held: defaultdict[int, list[Qualification]] = defaultdict(list)
    for row in connection.execute(select(crew_rows.qualification)):
        held[row.worker_id].append(qualification_from_row(row))
    away: defaultdict[int, list[Absence]] = defaultdict(list)
    absence = crew_rows.worker_absence
    for row in connection.execute(select(absence).where(absence.c.withdrawn_at.is_(None))):
        away[row.worker_id].append(absence_from_row(row))
    worker, branch = crew_rows.worker, rows.branch
    found = connection.execute(select(worker, branch.c.code.label("branch")).join(branch))
    listed = (
        worker_from_row(
            row,
            tuple(sorted(held[row.id], key=_order)),
            tuple(sorted(away[row.id], key=lambda a: a.from_on)),
        )
        for row in found
    )
    return tuple(sorted(listed, key=lambda w: w.code))


def worker_from_row(
    row: Row[Any],
    qualifications: tuple[Qualification, ...],
    absences: tuple[Absence, ...] = (),
) -> Worker:
    """The worker of a row, with what they hold and when they are away."""
    return Worker(
        code=row.code,
        name=row.name,
        branch=row.branch,
        languages=codes_of(row.languages),
        qualifications=qualifications,
        from_on=row.from_on,
        to_on=row.to_on,
        absences=absences,
    )


def absence_from_row(row: Row[Any]) -> Absence:
    """The absence of a row."""
    return Absence(from_on=row.from_on, to_on=row.to_on, why=row.why)


def qualification_from_row(row: Row[Any]) -> Qualification:
    """The qualification of a row."""
    return Qualification(name=row.name, from_on=row.from_on, expires_on=row.expires_on)


def _order(held: Qualification) -> tuple[Any, ...]:
    return (held.name, held.from_on)
