"""Visits of a span of nights, as plain rows for a list or for another program."""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date

from floorcare.errors import NotKnown
from floorcare.ground.trade.visit import VisitLine, VisitState
from floorcare.ground.worktime.night import format_minute
from floorcare.store.open import Store


@dataclass(frozen=True, slots=True, kw_only=True)
class VisitRow:
    """One visit: when, where, how long, what, why and where it stands.

    version : rises with every change; whoever changes it may name the one they saw.
    """

    visit: str
    site: str
    site_name: str
    night: date
    starts: str
    minutes: int
    people: int
    state: str
    agreement: str
    work: tuple[str, ...]
    latest: date
    late: bool
    reason: str
    commitment: str = "week"
    version: int = 1


def show_visits(
    store: Store,
    *,
    first: date,
    last: date,
    sites: Collection[str] = (),
    cancelled: bool = False,
) -> tuple[VisitRow, ...]:
    """Visits from `first` to `last`, both included, by night and site.

    Raises
    ------
    NotKnown : there is no such site.
    """
    with store.work() as work:
        visits = work.visits(sites=sites or None, first=first, last=last)
        versions = work.visit_versions(visit.uuid for visit in visits)
        names = {b.site.code: b.site.name for b in work.books(sites or None)}
    missing = set(sites) - set(names)
    if missing:
        raise NotKnown(f"There is no site {', '.join(sorted(missing))}.")
    rows = []
    for visit in visits:
        if visit.state is VisitState.CANCELLED and not cancelled:
            continue
        latest = min(line.due.latest for line in visit.lines)
        rows.append(
            VisitRow(
                visit=visit.uuid,
                site=visit.site,
                site_name=names[visit.site],
                night=visit.night,
                starts=format_minute(visit.starts_minute),
                minutes=visit.minutes,
                people=visit.people,
                state=visit.state.value,
                agreement=visit.agreement.value,
                work=tuple(_said(line) for line in visit.lines),
                latest=latest,
                late=visit.night > latest,
                reason=min(visit.lines, key=lambda line: line.due.latest).due.reason.inside,
                commitment=visit.commitment.value,
                version=versions[visit.uuid],
            )
        )
    return tuple(rows)


def _said(line: VisitLine) -> str:
    part = " in part" if line.minutes < line.due.minutes else ""
    return f"{line.zone} {line.work.value}{part}"
