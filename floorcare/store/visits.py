"""Visits, their lines and their dues in and out of the store, and each visit's own account."""

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from sqlalchemy import (
    ColumnElement,
    Connection,
    Row,
    ScalarSelect,
    and_,
    bindparam,
    insert,
    select,
    update,
)

from floorcare.errors import NotKnown
from floorcare.ground.trade.answer import Manner
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import (
    Agreement,
    Commitment,
    Origin,
    Visit,
    VisitLine,
    VisitState,
)
from floorcare.store import rows, visit_rows
from floorcare.store.dues import Places, due_from_row, due_row
from floorcare.store.merge import in_parts
from floorcare.store.scope import at_sites


@dataclass(frozen=True, slots=True, kw_only=True)
class VisitEvent:
    """One thing that happened to a visit.

    visit : the visit's UUID.
    kind : added, moved, merged, changed, dropped, held, asked and so on.
    at : UTC instant.
    who : who entered it.
    night_before, night_after : the site's own dates, None where there is none.
    done_by, how, said_on : who decided it, by phone, paper, mail or in the office, and on which
        day; "" and None for what a plan did.
    """

    visit: str
    kind: str
    at: datetime
    who: str
    why: str
    night_before: date | None
    night_after: date | None
    done_by: str = ""
    how: Manner | None = None
    said_on: date | None = None


def visits_of(
    connection: Connection,
    *,
    sites: Collection[str] | None = None,
    first: date | None = None,
    last: date | None = None,
) -> tuple[Visit, ...]:
    """Visits at these sites from the first night to the last, both included, cancelled ones too.

    Sorted by night, site and UUID; two statements however many they are.
    """
    visit = visit_rows.visit
    chosen = [at_sites(visit.c.site_id, sites)]
    if first is not None:
        chosen.append(visit.c.night >= first)
    if last is not None:
        chosen.append(visit.c.night <= last)
    return visits_where(connection, and_(*chosen))


def visits_named(connection: Connection, uuids: Iterable[str]) -> dict[str, Visit]:
    """Those of the visits that are kept, by UUID."""
    c = visit_rows.visit.c
    return {
        visit.uuid: visit
        for part in in_parts(uuids)
        for visit in visits_where(connection, c.uuid.in_(part))
    }


def visits_where(connection: Connection, chosen: ColumnElement[bool]) -> tuple[Visit, ...]:
    """Visits of which that holds, with their lines, by night, site and UUID; two statements."""
    visit, line, due = visit_rows.visit, visit_rows.visit_line, visit_rows.due
    site, zone = rows.site, rows.zone
    line_zone = zone.alias("line_zone")
    lines: defaultdict[int, list[VisitLine]] = defaultdict(list)
    for row in connection.execute(
        select(
            line.c.visit_id,
            line.c.work.label("line_work"),
            line.c.minutes.label("line_minutes"),
            line.c.area_m2.label("line_area_m2"),
            line_zone.c.code.label("line_zone"),
            due,
            site.c.code.label("site"),
            zone.c.code.label("zone"),
        )
        .join(visit, line.c.visit_id == visit.c.id)
        .join(due, line.c.due_id == due.c.id)
        .join(site, due.c.site_id == site.c.id)
        .outerjoin(zone, due.c.zone_id == zone.c.id)
        .outerjoin(line_zone, line.c.zone_id == line_zone.c.id)
        .where(chosen, line.c.withdrawn_by.is_(None))
        .order_by(line.c.visit_id, line.c.position)
    ):
        lines[row.visit_id].append(line_from_row(row))
    found = connection.execute(
        select(visit, site.c.code.label("site"), crew_of_visit().label("crew"))
        .join(site)
        .where(chosen)
    )
    visits = [visit_from_row(row, lines=tuple(lines[row.id])) for row in found]
    return tuple(sorted(visits, key=lambda v: (v.night, v.site, v.uuid)))


def visit_from_row(row: Row[Any], *, lines: tuple[VisitLine, ...]) -> Visit:
    """The visit of a row, with its lines."""
    return Visit(
        uuid=row.uuid,
        site=row.site,
        night=row.night,
        starts_minute=row.starts_minute,
        minutes=row.minutes,
        people=row.people,
        lines=lines,
        state=VisitState(row.state),
        commitment=Commitment(row.commitment),
        agreement=Agreement(row.agreement),
        origin=Origin(row.origin),
        sequence=row.sequence,
        changed_at=row.changed_at,
        crew=row.crew or "",
    )


def crew_of_visit() -> ScalarSelect[str]:
    """The crew a week gave a visit; of several that share it the first part's."""
    visit, one = visit_rows.visit, visit_rows.assignment
    return (
        select(one.c.crew)
        .where(one.c.visit_id == visit.c.id, one.c.withdrawn_at.is_(None))
        .order_by(one.c.part)
        .limit(1)
        .correlate(visit)
        .scalar_subquery()
    )


def line_from_row(row: Row[Any]) -> VisitLine:
    """The visit line of a row that carries its due."""
    return VisitLine(
        zone=row.line_zone or "",
        work=Work(row.line_work),
        minutes=row.line_minutes,
        area_m2=row.line_area_m2,
        due=due_from_row(row),
    )


def put_visits(
    connection: Connection,
    visits: Iterable[Visit],
    kept: Mapping[str, Visit],
    plan_id: int,
    places: Places,
    now: datetime,
) -> None:
    """Write whole new versions of visits; lines that differ from those kept replace them."""
    visits = tuple(visits)
    table = visit_rows.visit
    fresh = [v for v in visits if v.uuid not in kept]
    if fresh:
        connection.execute(
            insert(table), [{**_visit_row(v, places, now), "version": 1} for v in fresh]
        )
    altered = [v for v in visits if v.uuid in kept]
    if altered:
        names = [name for name in _visit_row(altered[0], places, now) if name != "uuid"]
        values: dict[str, Any] = {name: bindparam(f"new_{name}") for name in names}
        connection.execute(
            update(table)
            .where(table.c.uuid == bindparam("new_uuid"))
            .values({**values, "version": table.c.version + 1}),
            [
                {f"new_{name}": value for name, value in _visit_row(v, places, now).items()}
                for v in altered
            ],
        )
    relined = [v for v in visits if v.uuid not in kept or kept[v.uuid].lines != v.lines]
    _put_lines(connection, relined, plan_id, places)


def _visit_row(visit: Visit, places: Places, now: datetime) -> dict[str, Any]:
    return {
        "uuid": visit.uuid,
        "site_id": places.site(visit.site),
        "night": visit.night,
        "starts_minute": visit.starts_minute,
        "minutes": visit.minutes,
        "people": visit.people,
        "state": visit.state.value,
        "commitment": visit.commitment.value,
        "agreement": visit.agreement.value,
        "origin": visit.origin.value,
        "sequence": visit.sequence,
        "changed_at": visit.changed_at or now,
    }


def visit_ids(connection: Connection, uuids: Iterable[str]) -> dict[str, int]:
    """The visits' ids by UUID."""
    c = visit_rows.visit.c
    found: dict[str, int] = {}
    for part in in_parts(uuids):
        rows_of = connection.execute(select(c.uuid, c.id).where(c.uuid.in_(part)))
        found.update((row.uuid, row.id) for row in rows_of)
    return found


def _put_lines(connection: Connection, visits: list[Visit], plan_id: int, places: Places) -> None:
    line, due = visit_rows.visit_line, visit_rows.due
    ids = visit_ids(connection, (v.uuid for v in visits))
    for part in in_parts(ids.values()):
        connection.execute(
            update(line)
            .where(line.c.visit_id.in_(part), line.c.withdrawn_by.is_(None))
            .values(withdrawn_by=plan_id)
        )
    placed = [(v, at, one) for v in visits for at, one in enumerate(v.lines)]
    if not placed:
        return
    due_ids = connection.scalars(
        insert(due).returning(due.c.id, sort_by_parameter_order=True),
        [due_row(one.due, plan_id, places) for _, _, one in placed],
    ).all()
    connection.execute(
        insert(line),
        [
            {
                "visit_id": ids[v.uuid],
                "zone_id": places.zone(v.site, one.zone),
                "due_id": due_id,
                "position": at,
                "work": one.work.value,
                "minutes": one.minutes,
                "area_m2": one.area_m2,
                "written_by": plan_id,
                "withdrawn_by": None,
            }
            for (v, at, one), due_id in zip(placed, due_ids, strict=True)
        ],
    )


def put_events(connection: Connection, events: Iterable[VisitEvent], plan_id: int | None) -> None:
    """Add to the visits' accounts; no event is ever changed.

    Raises
    ------
    NotKnown : an event of a visit that is not kept.
    """
    events = tuple(events)
    ids = visit_ids(connection, {event.visit for event in events})
    for event in events:
        if event.visit not in ids:
            raise NotKnown("there is no such visit", where=f"visit {event.visit}")
    if events:
        connection.execute(
            insert(visit_rows.visit_event),
            [
                {
                    "visit_id": ids[event.visit],
                    "plan_id": plan_id,
                    "kind": event.kind,
                    "at": event.at,
                    "who": event.who,
                    "why": event.why,
                    "night_before": event.night_before,
                    "night_after": event.night_after,
                    "done_by": event.done_by,
                    "how": event.how.value if event.how else "",
                    "said_on": event.said_on,
                }
                for event in events
            ],
        )


def events_of(connection: Connection, uuid: str) -> tuple[VisitEvent, ...]:
    """What happened to a visit, oldest first."""
    event, visit = visit_rows.visit_event, visit_rows.visit
    found = connection.execute(
        select(event, visit.c.uuid)
        .join(visit, event.c.visit_id == visit.c.id)
        .where(visit.c.uuid == uuid)
        .order_by(event.c.id)
    )
    return tuple(
        VisitEvent(
            visit=row.uuid,
            kind=row.kind,
            at=row.at,
            who=row.who,
            why=row.why,
            night_before=row.night_before,
            night_after=row.night_after,
            done_by=row.done_by,
            how=Manner(row.how) if row.how else None,
            said_on=row.said_on,
        )
        for row in found
    )
