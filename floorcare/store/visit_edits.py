"""One visit changed by a person: written whole, on the version they saw, or not at all."""

from collections.abc import Iterable
from dataclasses import dataclass

from sqlalchemy import Connection, insert, select, update

from floorcare.errors import Clash, NotKnown
from floorcare.ground.trade.answer import NightAnswer, Said
from floorcare.ground.trade.visit import Visit, VisitState
from floorcare.store import rows, visit_rows
from floorcare.store.answers import put_answers, reopen_night
from floorcare.store.assignments import clear_assignments
from floorcare.store.customers import raise_revisions
from floorcare.store.dues import Places
from floorcare.store.history import HistoryEntry, record
from floorcare.store.merge import Writer, ids_by, in_parts
from floorcare.store.revisions import serving


@dataclass(frozen=True, slots=True, kw_only=True)
class VisitEdit:
    """A person's change of one visit.

    kind : what was done, such as "moved" or "agreed".
    before, after : the visit as it was read, and as it is to be; its lines are left as they are.
    version : the version it was read in.
    answers : nights refused or offered with it.
    reopened : what was refused on its night is refused no longer.
    """

    kind: str
    before: Visit
    after: Visit
    said: Said
    version: int
    answers: tuple[NightAnswer, ...] = ()
    reopened: bool = False


def visit_versions(connection: Connection, uuids: Iterable[str]) -> dict[str, int]:
    """The visits' versions by UUID."""
    c = visit_rows.visit.c
    found: dict[str, int] = {}
    for part in in_parts(uuids):
        kept = connection.execute(select(c.uuid, c.version).where(c.uuid.in_(part)))
        found.update((row.uuid, row.version) for row in kept)
    return found


def version_seen(connection: Connection, visit: Visit, seen: int | None) -> int:
    """The visit's version.

    Raises
    ------
    Clash : it is another than the one somebody saw, told with who changed it and when.
    """
    version = visit_versions(connection, [visit.uuid])[visit.uuid]
    if seen is not None and seen != version:
        raise _stale(connection, visit, seen)
    return version


def put_edit(writer: Writer, edit: VisitEdit) -> int:
    """Write the visit, its event, the nights it was answered with, and one line of history.

    The plans of the branches that serve its site read otherwise from now on, so they have a new
    revision: a plan that was being made meanwhile is decided once more.

    Returns
    -------
    Its version from now on.

    Raises
    ------
    NotKnown : there is no such visit.
    Clash : somebody changed it since that version, or a plan did.
    """
    connection, visit = writer.connection, visit_rows.visit
    after = edit.after
    written = connection.execute(
        update(visit)
        .where(visit.c.uuid == after.uuid, visit.c.version == edit.version)
        .values(
            night=after.night,
            starts_minute=after.starts_minute,
            minutes=after.minutes,
            state=after.state.value,
            commitment=after.commitment.value,
            agreement=after.agreement.value,
            sequence=after.sequence,
            changed_at=writer.now,
            version=edit.version + 1,
        )
        .returning(visit.c.id, visit.c.site_id)
    ).one_or_none()
    if written is None:
        raise _stale(connection, edit.before, edit.version)
    _put_event(writer, edit, written.id)
    when = (edit.before.night, edit.before.starts_minute)
    if after.state is VisitState.CANCELLED or when != (after.night, after.starts_minute):
        clear_assignments(connection, [after.uuid], writer.now)
    if edit.reopened:
        zones = {line.zone for line in after.lines}
        reopen_night(connection, written.site_id, after.night, zones, writer.now)
    places = Places(
        sites=ids_by(connection, rows.site.c.code),
        zones=ids_by(connection, rows.zone.c.site_id, rows.zone.c.code),
    )
    put_answers(connection, written.id, after.site, edit.answers, places, writer.now)
    raise_revisions(writer, serving(connection, {written.site_id}))
    record(connection, _entry(writer, edit))
    return edit.version + 1


def _stale(connection: Connection, before: Visit, seen: int) -> Clash | NotKnown:
    """Who changed the visit meanwhile, and when."""
    visit, event = visit_rows.visit, visit_rows.visit_event
    where = f"visit of {before.site} on {before.night}"
    last = connection.execute(
        select(event.c.who, event.c.at, event.c.kind, visit.c.version)
        .join(visit, event.c.visit_id == visit.c.id)
        .where(visit.c.uuid == before.uuid)
        .order_by(event.c.id.desc())
        .limit(1)
    ).one_or_none()
    if last is None:
        return NotKnown("there is no such visit", where=where)
    return Clash(
        f"{last.who} changed it at {last.at:%H:%M} UTC on {last.at:%Y-%m-%d} ({last.kind}); it is "
        f"version {last.version} now, you saw {seen}. Look at it again, then decide",
        where=where,
    )


def _put_event(writer: Writer, edit: VisitEdit, visit_id: int) -> None:
    off = edit.kind == "cancelled"
    writer.connection.execute(
        insert(visit_rows.visit_event).values(
            visit_id=visit_id,
            plan_id=None,
            kind=edit.kind,
            at=writer.now,
            who=writer.who,
            why=edit.said.why,
            night_before=edit.before.night,
            night_after=None if off else edit.after.night,
            done_by=edit.said.by,
            how=edit.said.how.value,
            said_on=edit.said.on,
        )
    )


def _entry(writer: Writer, edit: VisitEdit) -> HistoryEntry:
    said = edit.said
    detail = {
        "visit": edit.after.uuid,
        "site": edit.after.site,
        "night": edit.before.night.isoformat(),
        "by": said.by,
        "how": said.how.value,
        "on": said.on.isoformat(),
        "why": said.why,
    }
    if edit.after.night != edit.before.night:
        detail["to"] = edit.after.night.isoformat()
    offered = sorted({a.night.isoformat() for a in edit.answers} - {detail["night"]})
    if offered:
        detail["instead"] = ", ".join(offered)
    return HistoryEntry(at=writer.now, who=writer.who, what=f"visit {edit.kind}", detail=detail)
