"""Plans in and out of the store: a plan is written as its difference from the one that stood."""

from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, Row, insert, select

from floorcare.errors import Clash
from floorcare.ground.trade.visit import (
    ChangeKind,
    Plan,
    PlanChange,
    Unplaced,
    Visit,
    VisitState,
)
from floorcare.store import rows, visit_rows
from floorcare.store.assignments import clear_assignments
from floorcare.store.dues import Places, due_from_row, due_row
from floorcare.store.history import HistoryEntry, record
from floorcare.store.merge import ids_by
from floorcare.store.visits import VisitEvent, put_events, put_visits, visits_named


def put_plan(
    connection: Connection,
    plan: Plan,
    *,
    visits: tuple[Visit, ...],
    changes: tuple[PlanChange, ...],
    unplaced: tuple[Unplaced, ...],
    revisions: Mapping[str, int],
    who: str,
    now: datetime,
) -> None:
    """Write a plan that changed something.

    Parameters
    ----------
    visits : whole new versions of the visits that were added or altered.
    changes : what became of each visit; those kept leave no trace.
    unplaced : the dues that found no night.
    revisions : the inputs' revision of each branch as the plan read it.

    Raises
    ------
    Clash : a branch's inputs or one of the visits changed since the plan read them.
    """
    _refuse_stale(connection, revisions)
    told = tuple(change for change in changes if change.kind is not ChangeKind.KEPT)
    kept = visits_named(connection, {v.uuid for v in visits} | {c.visit for c in told})
    for change in told:
        _refuse_moved(change, kept.get(change.visit))
    plan_id = connection.scalar(insert(visit_rows.plan).returning(visit_rows.plan.c.id), _row(plan))
    assert plan_id is not None
    places = Places(
        sites=ids_by(connection, rows.site.c.code),
        zones=ids_by(connection, rows.zone.c.site_id, rows.zone.c.code),
    )
    put_visits(connection, visits, kept, plan_id, places, now)
    clear_assignments(connection, (v.uuid for v in visits if _retimed(v, kept)), now)
    _put_unplaced(connection, unplaced, plan_id, places)
    put_events(connection, (_event(change, who, now) for change in told), plan_id)
    figures = {kind.value: getattr(plan, kind.value) for kind in ChangeKind}
    record(
        connection,
        HistoryEntry(
            at=now, who=who, what="plan made", detail={**figures, "unplaced": plan.unplaced}
        ),
    )


def _retimed(visit: Visit, kept: Mapping[str, Visit]) -> bool:
    """Whether who goes to it is to be settled anew: another night or hour, or called off."""
    before = kept.get(visit.uuid)
    if before is None:
        return False
    when = (before.night, before.starts_minute)
    return visit.state is VisitState.CANCELLED or when != (visit.night, visit.starts_minute)


def _refuse_stale(connection: Connection, revisions: Mapping[str, int]) -> None:
    found = {row.code: row for row in connection.execute(select(rows.branch))}
    for code, read in sorted(revisions.items()):
        branch = found.get(code)
        if branch is None:
            raise Clash("is no longer kept; plan again", where=f"branch {code}")
        if branch.revision != read:
            raise Clash(
                f"{branch.revised_by} changed it at {branch.revised_at:%H:%M} UTC on "
                f"{branch.revised_at:%Y-%m-%d}, while the plan was being made; plan again",
                where=f"branch {code}",
            )


def _refuse_moved(change: PlanChange, kept: Visit | None) -> None:
    where = f"visit of {change.site} on {change.night_before or change.night_after}"
    if change.kind is ChangeKind.ADDED:
        if kept is not None and kept.state is not VisitState.CANCELLED:
            raise Clash("another plan has added it meanwhile; plan again", where=where)
        return
    if kept is None or kept.night != change.night_before:
        now_on = f"it is now on {kept.night}" if kept else "it is no longer kept"
        raise Clash(f"{now_on}, another plan has changed it; plan again", where=where)


def _row(plan: Plan) -> dict[str, Any]:
    return {
        "made_at": plan.made_at,
        "made_by": plan.made_by,
        "today": plan.today,
        "last_on": plan.last_on,
        "digest": plan.digest,
        "added": plan.added,
        "moved": plan.moved,
        "merged": plan.merged,
        "changed": plan.changed,
        "dropped": plan.dropped,
        "kept": plan.kept,
        "unplaced": plan.unplaced,
        "prior_version": plan.prior_version,
    }


def plan_from_row(row: Row[Any]) -> Plan:
    """The plan of a row."""
    return Plan(
        made_at=row.made_at,
        made_by=row.made_by,
        today=row.today,
        last_on=row.last_on,
        digest=row.digest,
        added=row.added,
        moved=row.moved,
        merged=row.merged,
        changed=row.changed,
        dropped=row.dropped,
        kept=row.kept,
        unplaced=row.unplaced,
        prior_version=row.prior_version,
    )


def _put_unplaced(
    connection: Connection, unplaced: Iterable[Unplaced], plan_id: int, places: Places
) -> None:
    listed = [
        {
            **due_row(one.due, plan_id, places),
            "unplaced_why": one.why,
            "unplaced_mend": one.mend,
        }
        for one in unplaced
    ]
    if listed:
        connection.execute(insert(visit_rows.due), listed)


def _event(change: PlanChange, who: str, now: datetime) -> VisitEvent:
    return VisitEvent(
        visit=change.visit,
        kind=change.kind.value,
        at=now,
        who=who,
        why=change.why,
        night_before=change.night_before,
        night_after=change.night_after,
    )


def standing_plan_of(connection: Connection) -> Plan | None:
    """The latest plan, None before the first."""
    plan = visit_rows.plan
    row = connection.execute(select(plan).order_by(plan.c.id.desc()).limit(1)).one_or_none()
    return None if row is None else plan_from_row(row)


def unplaced_of(connection: Connection) -> tuple[Unplaced, ...]:
    """What the latest plan could not place, in the order it was told."""
    plan, due, site, zone = visit_rows.plan, visit_rows.due, rows.site, rows.zone
    latest = select(plan.c.id).order_by(plan.c.id.desc()).limit(1).scalar_subquery()
    found = connection.execute(
        select(due, site.c.code.label("site"), zone.c.code.label("zone"))
        .join(site, due.c.site_id == site.c.id)
        .outerjoin(zone, due.c.zone_id == zone.c.id)
        .where(due.c.plan_id == latest, due.c.unplaced_why.is_not(None))
        .order_by(due.c.id)
    )
    return tuple(
        Unplaced(due=due_from_row(row), why=row.unplaced_why, mend=row.unplaced_mend)
        for row in found
    )
