"""Machines in and out of the store, with their dated places and the days they were out of order."""

from collections import defaultdict
from collections.abc import Iterable
from datetime import date
from typing import Any

from sqlalchemy import Connection, Row, select

from floorcare.ground.trade.equipment import MachinePlace, OwnedMachine
from floorcare.store import equipment_rows, rows
from floorcare.store.known import Known
from floorcare.store.merge import Kind, Merged, Timed, Writer, ids_by, merge

MACHINES = Kind(
    table=equipment_rows.machine,
    word="machines",
    key=("code",),
    values=("kind", "name", "fuel"),
    parented=False,
)
PLACES = Kind(
    table=equipment_rows.machine_place,
    word="places of machines",
    key=("machine_id", "from_on"),
    values=("branch_id", "site_id", "to_on"),
    timed=Timed(starts="from_on", ends="to_on", competes=1),
    order=("from_on", "to_on"),
)
OUTAGES = Kind(
    table=equipment_rows.machine_outage,
    word="outages of machines",
    key=("machine_id", "from_on"),
    values=("to_on",),
    order=("from_on", "to_on"),
)


def put_machines(
    writer: Writer, machines: Iterable[OwnedMachine], known: Known
) -> tuple[Merged, Merged, Merged]:
    """Bring machines in, with their places and outages.

    Raises
    ------
    NotKnown : a branch or site at which a machine stands is neither brought in nor kept.
    """
    listed = tuple(machines)
    merged = merge(writer, MACHINES, ((m.code, m.kind, m.name, m.fuel) for m in listed))
    ids = ids_by(writer.connection, equipment_rows.machine.c.code)
    places = (
        (
            ids[machine.code],
            one.from_on,
            known.maybe(rows.branch, one.branch, f"machine {machine.code}"),
            known.maybe(rows.site, one.site, f"machine {machine.code}"),
            one.to_on,
        )
        for machine in listed
        for one in machine.places
    )
    outages = (
        (ids[machine.code], first, last)
        for machine in listed
        for first, last in machine.out_of_order
    )
    return merged, merge(writer, PLACES, places), merge(writer, OUTAGES, outages)


def machines_of(connection: Connection) -> tuple[OwnedMachine, ...]:
    """Every machine with its places and outages, sorted by code, in three statements."""
    places: defaultdict[int, list[MachinePlace]] = defaultdict(list)
    place, branch, site = equipment_rows.machine_place, rows.branch, rows.site
    for row in connection.execute(
        select(place, branch.c.code.label("branch"), site.c.code.label("site"))
        .outerjoin(branch, place.c.branch_id == branch.c.id)
        .outerjoin(site, place.c.site_id == site.c.id)
        .where(place.c.withdrawn_at.is_(None))
    ):
        places[row.machine_id].append(place_from_row(row))
    outages: defaultdict[int, list[tuple[date, date]]] = defaultdict(list)
    for row in connection.execute(select(equipment_rows.machine_outage)):
        outages[row.machine_id].append((row.from_on, row.to_on))
    listed = (
        OwnedMachine(
            code=row.code,
            kind=row.kind,
            name=row.name,
            places=tuple(sorted(places[row.id], key=lambda p: p.from_on)),
            fuel=row.fuel,
            out_of_order=tuple(sorted(outages[row.id])),
        )
        for row in connection.execute(select(equipment_rows.machine))
    )
    return tuple(sorted(listed, key=lambda m: m.code))


def place_from_row(row: Row[Any]) -> MachinePlace:
    """Where a machine stands, of a row."""
    return MachinePlace(
        branch=row.branch or "", site=row.site or "", from_on=row.from_on, to_on=row.to_on
    )
