"""When each zone of a visit closes and reopens: the visit's own timeline, from its lines."""

from collections.abc import Mapping
from dataclasses import replace

from floorcare.ground.schedule.gather import timed_line
from floorcare.ground.trade.book import SiteBook, ZoneBook
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.visit import Visit
from floorcare.ground.work.timeline import ZoneClosing, timeline
from floorcare.ground.worktime.night import minute_after


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
    zones = {zone.zone.code: zone for zone in book.zones}
    closings = timeline(
        tuple(
            timed_line(line, surface_of(zones[line.zone], visit, surfaces)) for line in visit.lines
        ),
        starts_minute=visit.starts_minute,
        people=visit.people,
    )

    def shown(minute: int) -> int:
        after = minute - visit.starts_minute
        return minute_after(visit.night, visit.starts_minute, after, book.site.time_zone)

    return tuple(
        replace(
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
        )
        for closing in closings
    )
