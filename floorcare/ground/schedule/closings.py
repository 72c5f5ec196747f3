"""When each zone of a visit closes and reopens: the visit's own timeline, from its lines."""

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from floorcare.ground.schedule.gather import timed_line
from floorcare.ground.trade.assignment import Assignment
from floorcare.ground.trade.book import SiteBook, ZoneBook
from floorcare.ground.trade.site import Site
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.visit import Visit
from floorcare.ground.work.timeline import ZoneClosing, timeline
from floorcare.ground.worktime.night import instant, minute_after


@dataclass(frozen=True, slots=True, kw_only=True)
class Attendance:
    """A crew at a visit: when it arrives, and what it does of it.

    arrives_at : UTC instant of the arrival.
    zones : codes of the zones it works in, none for all of the visit's.
    """

    arrives_at: datetime
    zones: frozenset[str] = frozenset()


def attendances(
    visit: Visit, site: Site, assignments: Collection[Assignment] = ()
) -> tuple[Attendance, ...]:
    """Who comes to a visit: the crews a week gave it in order of arrival, else as it was planned.

    Parameters
    ----------
    assignments : those of other visits are passed over.
    """
    crews = [one for one in assignments if one.visit == visit.uuid]
    if not crews:
        arrives_at = instant(visit.night, visit.starts_minute, site.time_zone)
        return (Attendance(arrives_at=arrives_at),)
    return tuple(
        Attendance(arrives_at=one.starts_at, zones=frozenset(one.zones))
        for one in sorted(crews, key=lambda one: (one.starts_at, one.part))
    )


def true_closings(
    visit: Visit,
    book: SiteBook,
    surfaces: Mapping[str, Surface],
    zones: Collection[str] = (),
) -> tuple[ZoneClosing, ...]:
    """The closings of a visit's zones in true minutes after the crew's arrival.

    Parameters
    ----------
    zones : the part of the visit that is meant, none for all of it.

    Source: the visit's timeline, see ground/work/timeline.
    """
    of_code = {zone.zone.code: zone for zone in book.zones}
    return timeline(
        tuple(
            timed_line(line, surface_of(of_code[line.zone], visit, surfaces))
            for line in visit.lines
            if not zones or line.zone in zones
        ),
        starts_minute=0,
        people=visit.people,
    )


def surface_of(zone: ZoneBook, visit: Visit, surfaces: Mapping[str, Surface]) -> Surface:
    """The surface a zone has on the visit's night, its last known one after care has ended."""
    span = zone.zone.span_about(visit.night)
    return surfaces[span.surface]


def visit_closings(
    visit: Visit, book: SiteBook, surfaces: Mapping[str, Surface]
) -> tuple[ZoneClosing, ...]:
    """The closings of a visit's zones, in the order in which its lines first name them.

    Minutes are what the site's wall clock shows, also on a night on which the clocks change.

    Source: the visit's timeline, see ground/work/timeline; the IANA time zone database.
    """

    def shown(minute: int) -> int:
        return minute_after(visit.night, visit.starts_minute, minute, book.site.time_zone)

    return tuple(_shown(closing, shown) for closing in true_closings(visit, book, surfaces))


def _shown(closing: ZoneClosing, shown: Callable[[int], int]) -> ZoneClosing:
    return replace(
        closing,
        closes_minute=shown(closing.closes_minute),
        starts_minute=shown(closing.starts_minute),
        ends_minute=shown(closing.ends_minute),
        reopens_minute=shown(closing.reopens_minute),
        steps=tuple(
            replace(
                step,
                starts_minute=shown(step.starts_minute),
                ends_minute=shown(step.ends_minute),
                waits_until_minute=shown(step.waits_until_minute),
            )
            for step in closing.steps
        ),
        phases=tuple(
            replace(
                phase,
                starts_minute=shown(phase.starts_minute),
                ends_minute=shown(phase.ends_minute),
            )
            for phase in closing.phases
        ),
    )
