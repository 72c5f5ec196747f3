"""A week as it is kept: visits with their nights and hours, and who goes; all of it or nothing."""

from collections.abc import Collection, Mapping

from sqlalchemy import Connection, insert, select, update

from floorcare.errors import Clash
from floorcare.ground.crews.week_change import Placing, WeekChange, WeekEdit
from floorcare.ground.trade.assignment import Assignment
from floorcare.ground.trade.visit import Visit
from floorcare.ground.worktime.night import format_minute
from floorcare.store import rows, visit_rows
from floorcare.store.assignments import clear_assignments
from floorcare.store.customers import raise_revisions
from floorcare.store.dues import Places
from floorcare.store.history import HistoryEntry, record
from floorcare.store.merge import Writer, ids_by, in_parts
from floorcare.store.revisions import serving
from floorcare.store.visit_edits import visit_versions
from floorcare.store.visits import VisitEvent, put_events, put_visits, visit_ids, visits_named


def put_week(writer: Writer, edit: WeekEdit, versions: Mapping[str, int]) -> None:
    """Keep a branch's week: visits with their nights and hours, who goes, events and history.

    Parameters
    ----------
    versions : of every visit of the week, as it was read.

    Raises
    ------
    Clash : a visit was changed since it was read; nothing is written.
    """
    connection = writer.connection
    _refuse_stale(connection, edit, versions)
    places = Places(
        sites=ids_by(connection, rows.site.c.code),
        zones=ids_by(connection, rows.zone.c.site_id, rows.zone.c.code),
    )
    kept = visits_named(connection, (v.uuid for v in edit.altered))
    plan = _latest_plan(connection)
    put_visits(connection, edit.altered, kept, plan, places, writer.now)
    changed = {change.visit for change in edit.changes} | {v.uuid for v in edit.altered}
    clear_assignments(connection, changed | set(edit.cleared), writer.now)
    _count_up(connection, changed - {v.uuid for v in edit.altered})
    _insert(writer, [one for one in edit.assignments if one.visit in changed])
    put_events(connection, [_event(writer, one, kept) for one in edit.changes], None)
    if edit.altered:
        sites = {places.site(visit.site) for visit in edit.altered}
        raise_revisions(writer, serving(connection, sites))
    record(connection, _entry(writer, edit))


def _count_up(connection: Connection, uuids: Collection[str]) -> None:
    """Another crew is another version too, though the visit's own row says the same."""
    visit = visit_rows.visit
    for part in in_parts(uuids):
        connection.execute(
            update(visit).where(visit.c.uuid.in_(part)).values(version=visit.c.version + 1)
        )


def _refuse_stale(connection: Connection, edit: WeekEdit, versions: Mapping[str, int]) -> None:
    now = visit_versions(connection, versions)
    stale = sorted(uuid for uuid, seen in versions.items() if now.get(uuid) != seen)
    if stale:
        raise Clash(
            f"{len(stale)} {'visit was' if len(stale) == 1 else 'visits were'} changed since the "
            "week was looked at. Look at it again, then write it",
            where=f"week of {edit.branch} from {edit.starts_on}",
        )


def _latest_plan(connection: Connection) -> int:
    plan = visit_rows.plan
    found = connection.scalar(select(plan.c.id).order_by(plan.c.id.desc()).limit(1))
    return int(found or 0)


def _insert(writer: Writer, given: Collection[Assignment]) -> None:
    if not given:
        return
    ids = visit_ids(writer.connection, {one.visit for one in given})
    writer.connection.execute(
        insert(visit_rows.assignment),
        [
            {
                "visit_id": ids[one.visit],
                "part": one.part,
                "parts": one.parts,
                "zones": " ".join(one.zones),
                "crew": one.crew,
                "crew_on": one.on,
                "starts_at": one.starts_at,
                "ends_at": one.ends_at,
                "travel_minutes": one.travel_minutes,
                "machines": " ".join(one.machines),
                "held": one.held,
                "at": writer.now,
                "who": writer.who,
                "withdrawn_at": None,
            }
            for one in given
        ],
    )


def _event(writer: Writer, change: WeekChange, kept: Mapping[str, Visit]) -> VisitEvent:
    before, after = change.before, change.after
    was = kept.get(change.visit)
    night_before = was.night if was is not None else before.night if before else None
    return VisitEvent(
        visit=change.visit,
        kind="given to a crew" if after is not None else "left without a crew",
        at=writer.now,
        who=writer.who,
        why=f"{_said(before)} → {_said(after)}",
        night_before=night_before or (after.night if after else None),
        night_after=after.night if after is not None else night_before,
    )


def _said(placing: Placing | None) -> str:
    if placing is None:
        return "no crew"
    crews = " and ".join(placing.crews)
    return f"{crews} {placing.night.isoformat()} {format_minute(placing.starts_minute)}"


def _entry(writer: Writer, edit: WeekEdit) -> HistoryEntry:
    return HistoryEntry(
        at=writer.now,
        who=writer.who,
        what="week written",
        detail={
            "branch": edit.branch,
            "week": edit.starts_on.isoformat(),
            "visits": str(len({one.visit for one in edit.assignments})),
            "changed": str(len(edit.changes)),
            "moved": str(sum("night" in change.kinds for change in edit.changes)),
        },
    )
