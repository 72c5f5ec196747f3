"""Calendars of sites: one event a visit, for everybody who needs to know when an area is closed."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from floorcare.errors import NotKnown
from floorcare.ground.schedule.closings import attendances, true_closings
from floorcare.ground.trade.assignment import Assignment
from floorcare.ground.trade.book import SiteBook, ZoneBook
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.treatment import TREATMENTS, WHOLE_ZONE_SHARE
from floorcare.ground.trade.visit import Agreement, Commitment, Visit, VisitLine, VisitState
from floorcare.ground.work.timeline import visit_clock_minutes
from floorcare.services.sheets import BEFORE_ANY_PLAN, CalendarEvent, CalendarSheet
from floorcare.store.open import Store

PROPOSED = "Proposed, not yet agreed: the night may still change."
REFUSED = "You refused this night: another will be proposed."
WET_FLOORS = (
    "Wet floors can be slippery: please keep behind the barriers until they are taken away."
)

CLOCKS_CHANGE = "The clocks change that night: {} is the time before, {} the time after."
WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


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
    book: SiteBook,
    visits: Sequence[Visit],
    surfaces: Mapping[str, Surface],
    *,
    domain: str,
    assignments: Sequence[Assignment] = (),
) -> CalendarSheet:
    """One site's calendar; its revision is the sum of what its visits went through.

    Parameters
    ----------
    assignments : crews the week gave to the visits; their hours outrank the plan's.
    """
    changed = [v.changed_at for v in visits if v.changed_at is not None]
    revised_at = max(changed, default=BEFORE_ANY_PLAN)
    return CalendarSheet(
        name=f"Floor care, {book.site.name}",
        domain=domain,
        revision=sum(1 + v.sequence for v in visits),
        revised_at=revised_at,
        as_of=revised_at.date(),
        description="Areas closed for floor care, with the time each reopens.",
        events=tuple(_event(visit, book, surfaces, assignments) for visit in visits),
    )


@dataclass(frozen=True, slots=True)
class _Closed:
    """A zone shut from one instant to another."""

    zone: str
    closes_at: datetime
    reopens_at: datetime


def _course(
    visit: Visit,
    book: SiteBook,
    surfaces: Mapping[str, Surface],
    assignments: Sequence[Assignment],
) -> tuple[datetime, datetime, list[_Closed]]:
    """When the first crew comes and the last leaves, and the zones they shut."""
    arrivals, leavings, closed = [], [], []
    crews = attendances(visit, book.site, assignments)
    for crew in crews:
        closings = true_closings(visit, book, surfaces, crew.zones)
        at = crew.arrives_at
        arrivals.append(at)
        # the plan's own length stands while one crew comes for all of it
        minutes = visit.minutes if len(crews) == 1 else visit_clock_minutes(closings)
        leavings.append(at + timedelta(minutes=minutes))
        closed += [
            _Closed(
                c.zone,
                at + timedelta(minutes=c.closes_minute),
                at + timedelta(minutes=c.reopens_minute),
            )
            for c in closings
        ]
    return min(arrivals), max(leavings), closed


def _closed_said(closed: _Closed, visit: Visit, zone: str, *, named: bool) -> str:
    ends = (closed.closes_at, closed.reopens_at)
    closes, reopens = (_clock_said(at, visit.night, zone, named=named) for at in ends)
    return f"closed {closes} to {reopens}"


def _clock_said(at: datetime, night: date, zone: str, *, named: bool) -> str:
    """The site's clock, with its weekday after midnight and, if named, which time it shows."""
    there = at.astimezone(ZoneInfo(zone))
    day = "" if there.date() == night else f"{WEEKDAYS[there.weekday()]} "
    return f"{day}{there:%H:%M}{f' {_time_named(there)}' if named else ''}"


def _time_named(there: datetime) -> str:
    name = there.tzname() or ""
    return name if name.isalpha() else f"UTC{name}"


def _event(
    visit: Visit,
    book: SiteBook,
    surfaces: Mapping[str, Surface],
    assignments: Sequence[Assignment],
) -> CalendarEvent:
    site = book.site
    zones = {z.zone.code: z for z in book.zones}
    starts_at, ends_at, closings = _course(visit, book, surfaces, assignments)
    first, last = (at.astimezone(ZoneInfo(site.time_zone)) for at in (starts_at, ends_at))
    changes = first.utcoffset() != last.utcoffset()
    names = {closing.zone: book.spoken(zones[closing.zone].zone) for closing in closings}
    treated = {line.zone for line in visit.lines if line.work in TREATMENTS}
    closed = [
        f"{names[c.zone]} ({_works_said(visit, zones[c.zone])}): "
        + (
            _closed_said(c, visit, site.time_zone, named=changes)
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
        starts_at=starts_at,
        ends_at=ends_at,
        description=(
            *((_standing_said(visit),) if proposed else ()),
            *why,
            *closed,
            "Times are the site's own clock; a reopening time is the earliest.",
            *((CLOCKS_CHANGE.format(_time_named(first), _time_named(last)),) if changes else ()),
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
