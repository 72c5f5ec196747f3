"""Routines in and out of the store."""

from collections import defaultdict
from collections.abc import Collection, Mapping
from datetime import date
from typing import Any

from sqlalchemy import Connection, Row, select

from floorcare.ground.trade.routine import Performer, Proof, Routine
from floorcare.ground.trade.treatment import Work
from floorcare.store import rows
from floorcare.store.merge import Kind, Merged, Timed, Values, Writer, merge
from floorcare.store.scope import in_zones_at
from floorcare.store.texts import dates_of, dates_text

ROUTINES = Kind(
    table=rows.routine,
    word="routines",
    key=("zone_id", "work", "starts_on"),
    values=(
        "ends_on",
        "rule",
        "performer",
        "proof",
        "except_on",
        "minutes",
        "about_days",
        "promised",
    ),
    # Otherwise a sheet with a newer "last done" date would leave two rhythms of the same work.
    timed=Timed(starts="starts_on", ends="ends_on", competes=2),
)


def put_routines(
    writer: Writer, routines: Mapping[int, tuple[Routine, ...]], back: Mapping[Values, str]
) -> Merged:
    """Bring routines in, by the zone's id; `back` are the keys of those taken back."""
    incoming = (
        (
            zone_id,
            routine.work.value,
            routine.starts_on,
            routine.ends_on,
            routine.rule,
            routine.performer.value,
            routine.proof.value,
            dates_text(routine.except_on),
            routine.minutes,
            routine.about_days,
            routine.promised,
        )
        for zone_id, of in routines.items()
        for routine in of
    )
    return merge(writer, ROUTINES, incoming, back)


def routines_of(
    connection: Connection, sites: Collection[str] | None
) -> dict[int, tuple[Routine, ...]]:
    """Routines by their zone's id, sorted by start and work."""
    found: defaultdict[int, list[Routine]] = defaultdict(list)
    table = rows.routine
    for row in connection.execute(
        select(table).where(in_zones_at(table.c.zone_id, sites), table.c.withdrawn_at.is_(None))
    ):
        found[row.zone_id].append(routine_from_row(row))
    return {zone: tuple(sorted(of, key=routine_order)) for zone, of in found.items()}


def routine_from_row(row: Row[Any]) -> Routine:
    """The routine of a row."""
    return Routine(
        work=Work(row.work),
        rule=row.rule,
        starts_on=row.starts_on,
        performer=Performer(row.performer),
        proof=Proof(row.proof),
        ends_on=row.ends_on,
        except_on=dates_of(row.except_on),
        minutes=row.minutes,
        about_days=row.about_days,
        promised=row.promised,
    )


def routine_order(routine: Routine) -> tuple[date, str]:
    """The order in which a zone's routines stand; no two share it."""
    return (routine.starts_on, routine.work)
