"""Why a visit stands on its night, or a zone is due when it is, and what would change that."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from floorcare.errors import NotKnown
from floorcare.ground.schedule.branch_year import look_ahead, survey_branch
from floorcare.ground.schedule.outlook import ZoneOutlook
from floorcare.ground.schedule.what_if import WhatIf, only_zone, what_ifs
from floorcare.ground.schedule.years import year_of
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.visit import Due, Unplaced, Visit
from floorcare.ground.wear.watch.alarm import Alarm
from floorcare.ground.wear.watch.fleet_alarms import alarms_of
from floorcare.store.open import Store
from floorcare.store.visits import VisitEvent

SHORTEST_ID = 6
"""A visit may be named by so many first characters of its id, where they are its alone."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkReason:
    """One work with its nights, its window and its whole reason; no nights where it found none."""

    zone: str
    work: str
    nights: tuple[date, ...]
    earliest: date
    target: date
    latest: date
    minutes: int
    rule: str
    inside: str
    customer: str
    facts: tuple[tuple[str, str | float | int | None], ...]
    rejected: tuple[tuple[str, str], ...]
    unplaced: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Explanation:
    """What was asked about, and the answer.

    about : "visit" or "zone"; `name` is the visit's id or SITE/ZONE.
    works : a visit's lines, or what is coming up on a zone.
    outlook, what_ifs, alarms : of a zone only; alarms are to be looked at and moved nothing.
    events : of a visit only, what happened to it, oldest first.
    """

    about: str
    name: str
    state: str
    night: date | None
    works: tuple[WorkReason, ...]
    outlook: ZoneOutlook | None = None
    what_ifs: tuple[WhatIf, ...] = ()
    alarms: tuple[Alarm, ...] = ()
    events: tuple[VisitEvent, ...] = ()


def explain_why(
    store: Store, surfaces: Mapping[str, Surface], *, target: str, today: date
) -> Explanation:
    """Explain a visit (by its id or the beginning of it) or a zone (as SITE/ZONE).

    Raises
    ------
    NotKnown : there is no such visit or zone under care, or the beginning fits several.
    """
    if "/" in target:
        return _zone(store, surfaces, target, today)
    return _visit(store, target)


def _visit(store: Store, target: str) -> Explanation:
    with store.work() as work:
        visits = work.visits()
    found = [v for v in visits if v.uuid.startswith(target.strip().lower())]
    if len(target.strip()) < SHORTEST_ID or not found:
        raise NotKnown(
            f'There is no visit "{target}". Give at least {SHORTEST_ID} characters of an id as '
            "floorcare visits --json shows it, or a zone as SITE/ZONE."
        )
    if len(found) > 1:
        several = ", ".join(v.uuid[:13] for v in found[:4])
        raise NotKnown(f'"{target}" begins several visits: {several}. Give more of the id.')
    visit = found[0]
    with store.work() as work:
        events = work.visit_events(visit.uuid)
    return Explanation(
        about="visit",
        name=visit.uuid,
        state=f"{visit.site}, {visit.state.value}, {visit.commitment.value} fixed",
        night=visit.night,
        works=tuple(_reason(line.due, (visit.night,)) for line in visit.lines),
        events=events,
    )


def _zone(store: Store, surfaces: Mapping[str, Surface], target: str, today: date) -> Explanation:
    site, _, zone = target.partition("/")
    with store.work() as work:
        books = work.books([site])
        branches = {branch.code: branch for branch in work.branches()}
        visits = work.visits(sites=[site], first=today)
        unplaced = work.unplaced()
        pooled, meters = work.pooled(), work.meters()
    if not books:
        raise NotKnown(f'There is no site "{site}".')
    book = books[0].zone(zone)
    if book is None:
        known = ", ".join(z.zone.code for z in books[0].zones)
        raise NotKnown(f'Site {site} has no zone "{zone}"; it has {known}.')
    ends_on = book.zone.ends_on
    if ends_on is not None and ends_on < today:
        raise NotKnown(f"The care of {target} ended on {ends_on}, so nothing is planned there.")
    branch = branches.get(books[0].site.branch_on(today))
    if branch is None:
        raise NotKnown(f"Site {site} has no branch on {today}, so nothing is planned there.")
    year = year_of(
        branch,
        books=books,
        visits=visits,
        surfaces=surfaces,
        pooled=pooled,
        meters=meters,
        today=today,
    )
    alone = only_zone(year, site, zone)
    outlook = survey_branch(alone)[0]
    return Explanation(
        about="zone",
        name=target,
        state=outlook.evidence.value,
        night=None,
        works=_coming(year.standing, unplaced, site, zone),
        outlook=outlook,
        what_ifs=what_ifs(alone, outlook),
        alarms=alarms_of([fleet for fleet, _, _ in look_ahead(alone)], alone.pooled),
    )


def _coming(
    visits: tuple[Visit, ...], unplaced: tuple[Unplaced, ...], site: str, zone: str
) -> tuple[WorkReason, ...]:
    """What is planned on a zone; the parts of one work told as one."""
    nights: dict[tuple[str, date, date], list[date]] = {}
    dues: dict[tuple[str, date, date], Due] = {}
    for visit in visits:
        for line in visit.lines:
            if line.zone == zone:
                key = (line.due.work, line.due.target, line.due.latest)
                nights.setdefault(key, []).append(visit.night)
                dues[key] = line.due
    placed = [_reason(due, tuple(nights[key])) for key, due in dues.items()]
    without = [
        _reason(u.due, (), f"{u.why}; would help: {u.mend}")
        for u in unplaced
        if u.due.site == site and u.due.zone == zone
    ]
    return tuple(
        sorted((*placed, *without), key=lambda w: (w.nights[0] if w.nights else w.target, w.work))
    )


def _reason(due: Due, nights: tuple[date, ...], unplaced: str = "") -> WorkReason:
    return WorkReason(
        zone=f"{due.site}/{due.zone}",
        work=due.work.value,
        nights=nights,
        earliest=due.earliest,
        target=due.target,
        latest=due.latest,
        minutes=due.minutes,
        rule=due.reason.rule,
        inside=due.reason.inside,
        customer=due.reason.customer,
        facts=due.reason.facts,
        rejected=due.reason.rejected,
        unplaced=unplaced,
    )
