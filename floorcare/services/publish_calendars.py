"""Calendars of sites: one event a visit, for everybody who needs to know when an area is closed."""

from collections.abc import Collection, Mapping, Sequence
from datetime import timedelta

from floorcare.errors import NotKnown
from floorcare.ground.schedule.closings import visit_closings
from floorcare.ground.trade.book import SiteBook, ZoneBook
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.treatment import TREATMENTS, WHOLE_ZONE_SHARE
from floorcare.ground.trade.visit import Agreement, Commitment, Visit, VisitLine, VisitState
from floorcare.ground.worktime.night import format_minute, instant
from floorcare.services.sheets import BEFORE_ANY_PLAN, CalendarEvent, CalendarSheet
from floorcare.store.open import Store

PROPOSED = "Proposed, not yet agreed: the night may still change."
REFUSED = "You refused this night: another will be proposed."
WET_FLOORS = (
    "Wet floors can be slippery: please keep behind the barriers until they are taken away."
)


def publish_calendars(
    store: Store,
    surfaces: Mapping[str, Surface],
    *,
    sites: Collection[str] = (),
) -> tuple[tuple[str, CalendarSheet], ...]:
    """A calendar for each site: (site code, sheet), sorted by code; all sites if none is named.

    Raises
    ------
    NotKnown : there is no such site.
    """
    with store.work() as work:
        installation = work.installation()
        books = work.books(sites or None)
        visits = work.visits(sites=sites or None)
    missing = set(sites) - {book.site.code for book in books}
    if missing:
        raise NotKnown(f"There is no site {', '.join(sorted(missing))}.")
    by_site: dict[str, list[Visit]] = {}
    for visit in visits:
        by_site.setdefault(visit.site, []).append(visit)
    return tuple(
        (
            book.site.code,
            calendar_sheet(
                book, by_site.get(book.site.code, []), surfaces, domain=installation.domain
            ),
        )
        for book in books
    )


def calendar_sheet(
    book: SiteBook, visits: Sequence[Visit], surfaces: Mapping[str, Surface], *, domain: str
) -> CalendarSheet:
    """One site's calendar; its revision is the sum of what its visits went through."""
    changed = [v.changed_at for v in visits if v.changed_at is not None]
    revised_at = max(changed, default=BEFORE_ANY_PLAN)
    return CalendarSheet(
        name=f"Floor care, {book.site.name}",
        domain=domain,
        revision=sum(1 + v.sequence for v in visits),
        revised_at=revised_at,
        as_of=revised_at.date(),
        description="Areas closed for floor care, with the time each reopens.",
        events=tuple(_event(visit, book, surfaces) for visit in visits),
    )


def _event(visit: Visit, book: SiteBook, surfaces: Mapping[str, Surface]) -> CalendarEvent:
    site = book.site
    zones = {z.zone.code: z for z in book.zones}
    closings = visit_closings(visit, book, surfaces)
    names = {closing.zone: book.spoken(zones[closing.zone].zone) for closing in closings}
    treated = {line.zone for line in visit.lines if line.work in TREATMENTS}
    closed = [
        f"{names[c.zone]} ({_works_said(visit, zones[c.zone])}): "
        + (
            f"closed {format_minute(c.closes_minute)} to {format_minute(c.reopens_minute)}"
            if c.zone in treated
            else "stays open"
        )
        for c in closings
    ]
    proposed = _only_proposed(visit)
    why = list(dict.fromkeys(line.due.reason.customer for line in visit.lines))
    areas = sorted(set(names.values()))
    return CalendarEvent(
        uid=visit.uuid,
        night=visit.night,
        sequence=visit.sequence,
        changed_at=visit.changed_at or BEFORE_ANY_PLAN,
        summary=f"Floor care{', proposed' if proposed else ''}: {_listed(areas)}",
        starts_at=instant(visit.night, visit.starts_minute, site.time_zone),
        ends_at=instant(visit.night, visit.starts_minute, site.time_zone)
        + timedelta(minutes=visit.minutes),
        description=(
            *((_standing_said(visit),) if proposed else ()),
            *why,
            *closed,
            "Times are the site's own clock; a reopening time is the earliest.",
            *((WET_FLOORS,) if treated else ()),
        ),
        location=", ".join(part for part in (site.name, site.address) if part),
        latitude=site.latitude,
        longitude=site.longitude,
        categories=tuple(sorted({line.work.value for line in visit.lines})),
        proposed=proposed,
        asked=visit.agreement is Agreement.ASKED,
        cancelled=visit.state is VisitState.CANCELLED,
    )


def _standing_said(visit: Visit) -> str:
    return REFUSED if visit.agreement is Agreement.REFUSED else PROPOSED


def _only_proposed(visit: Visit) -> bool:
    """Whether a visit is, or was when it was called off, neither held nor agreed."""
    called_off = visit.state is VisitState.CANCELLED and visit.commitment is Commitment.WEEK
    proposed = visit.state is VisitState.PROPOSED or called_off
    return proposed and visit.agreement is not Agreement.AGREED


def _works_said(visit: Visit, zone: ZoneBook) -> str:
    mine = (line for line in visit.lines if line.zone == zone.zone.code)
    return ", ".join(_work_said(line, zone, visit) for line in mine)


def _work_said(line: VisitLine, zone: ZoneBook, visit: Visit) -> str:
    """The work, with the share of the zone it covers where that is only a part."""
    whole = zone.zone.span_about(visit.night).area_m2
    if line.area_m2 is None or whole is None or line.area_m2 >= WHOLE_ZONE_SHARE * whole:
        return line.work.value
    return f"{line.work.value} of {line.area_m2 / whole:.0%} of it"


def _listed(names: Sequence[str], most: int = 6) -> str:
    if len(names) <= most:
        return "; ".join(names)
    return f"{'; '.join(names[:most])} and {len(names) - most} more"
