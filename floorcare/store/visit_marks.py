"""Visits in brief: enough to say what a plan was made from, and which visits it may move."""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date

from sqlalchemy import Connection, and_, func, select

from floorcare.ground.trade.visit import (
    Agreement,
    Commitment,
    Visit,
    VisitState,
    stands_firm,
)
from floorcare.store import rows, visit_rows
from floorcare.store.scope import at_sites


@dataclass(frozen=True, slots=True, kw_only=True)
class VisitMark:
    """A visit in brief.

    first_target : the earliest target among its lines' dues; None without lines.
    stands : no plan may move it.
    """

    uuid: str
    site: str
    night: date
    sequence: int
    state: VisitState
    agreement: Agreement
    first_target: date | None
    stands: bool

    def is_movable(self, today: date, last_on: date) -> bool:
        """Whether a plan of that day and horizon may move it."""
        target = self.first_target
        return self.night > today and not self.stands and target is not None and target <= last_on


def mark_of(visit: Visit) -> VisitMark:
    """The visit in brief."""
    return VisitMark(
        uuid=visit.uuid,
        site=visit.site,
        night=visit.night,
        sequence=visit.sequence,
        state=visit.state,
        agreement=visit.agreement,
        first_target=min((line.due.target for line in visit.lines), default=None),
        stands=visit.stands,
    )


def visit_marks_of(connection: Connection, first: date) -> tuple[VisitMark, ...]:
    """Visits of that night or later that are not cancelled, sorted by UUID; one statement."""
    visit, line, due, site = visit_rows.visit, visit_rows.visit_line, visit_rows.due, rows.site
    own = ("uuid", "night", "sequence", "state", "agreement", "commitment")
    told = (site.c.code, *(visit.c[name] for name in own))
    found = connection.execute(
        select(*told, func.min(due.c.target).label("first_target"))
        .join(site, visit.c.site_id == site.c.id)
        .outerjoin(line, and_(line.c.visit_id == visit.c.id, line.c.withdrawn_by.is_(None)))
        .outerjoin(due, line.c.due_id == due.c.id)
        .where(visit.c.night >= first, visit.c.state != VisitState.CANCELLED.value)
        .group_by(*told)
        .order_by(visit.c.uuid)
    )
    states, agreements = {s.value: s for s in VisitState}, {a.value: a for a in Agreement}
    commitments = {c.value: c for c in Commitment}
    return tuple(
        VisitMark(
            uuid=row.uuid,
            site=row.code,
            night=row.night,
            sequence=row.sequence,
            state=states[row.state],
            agreement=agreements[row.agreement],
            first_target=row.first_target,
            stands=stands_firm(
                states[row.state], agreements[row.agreement], commitments[row.commitment]
            ),
        )
        for row in found
    )


def visit_uuids_at(connection: Connection, sites: Collection[str]) -> frozenset[str]:
    """The UUID of every visit there ever was at these sites, cancelled ones too."""
    c = visit_rows.visit.c
    found = connection.execute(select(c.uuid).where(at_sites(c.site_id, sites)))
    return frozenset(row.uuid for row in found)
