"""Which branches' plans read what has changed."""

from collections.abc import Iterable
from typing import Any

from sqlalchemy import Column, Connection, select

from floorcare.store import crew_rows, equipment_rows, rows
from floorcare.store.kind import Merged
from floorcare.store.merge import in_parts


def serving(connection: Connection, site_ids: Iterable[int]) -> set[int]:
    """The branches that serve any of these sites, now or at another time."""
    c = rows.site_branch.c
    return _found(connection, c.branch_id, c.site_id, site_ids)


def reading_means(connection: Connection, merged: Iterable[Merged]) -> set[int]:
    """The branches whose plans read what work is done with: people, crews, machines, meters, rates.

    Parameters
    ----------
    merged : what came of bringing them in; kinds no plan reads are passed over.
    """
    branches: set[int] = set()
    for one in merged:
        if not one.rows:
            continue
        table = one.kind.table
        if table in (crew_rows.worker, crew_rows.crew):
            branches |= one.ever("branch_id")
        elif table in (equipment_rows.rate, crew_rows.travel_leg):
            branches |= one.parents
        elif table in (crew_rows.qualification, crew_rows.worker_absence):
            c = crew_rows.worker.c
            branches |= _found(connection, c.branch_id, c.id, one.parents)
        elif table in (crew_rows.crew_member, crew_rows.shift):
            c = crew_rows.crew.c
            branches |= _found(connection, c.branch_id, c.id, one.parents)
        elif table is equipment_rows.machine:
            c = equipment_rows.machine.c
            branches |= _placed(connection, _found(connection, c.id, c.code, one.parents))
        elif table in (equipment_rows.machine_place, equipment_rows.machine_outage):
            branches |= _placed(connection, one.parents)
        elif table in _METERS:
            branches |= set(connection.scalars(select(rows.branch.c.id)))
    return branches


_METERS = (equipment_rows.instrument, equipment_rows.calibration, equipment_rows.meter_bridge)
"""A meter is carried from branch to branch, and a bridge joins what all of them read."""


def _placed(connection: Connection, machine_ids: Iterable[int]) -> set[int]:
    """The branches at which, or at whose sites, these machines ever stood."""
    c = equipment_rows.machine_place.c
    branches = _found(connection, c.branch_id, c.machine_id, machine_ids)
    return branches | serving(connection, _found(connection, c.site_id, c.machine_id, machine_ids))


def _found(
    connection: Connection, wanted: Column[Any], by: Column[Any], among: Iterable[Any]
) -> set[Any]:
    found: set[Any] = set()
    for part in in_parts(among):
        found.update(connection.scalars(select(wanted).where(by.in_(part)).distinct()))
    return found - {None}
