"""What our own standing rounds take off a branch's nights."""

from collections.abc import Iterable, Mapping
from datetime import date

from floorcare.ground.trade.book import SiteBook
from floorcare.ground.trade.routine import Performer
from floorcare.ground.trade.site import Branch
from floorcare.ground.trade.surface import Surface
from floorcare.ground.wear.books.from_books import routine_dates, runs_by_itself
from floorcare.ground.work.minutes import ASSUMED_MINUTES, PLAIN_MINUTES, line_minutes


def round_minutes(
    books: Iterable[SiteBook],
    surfaces: Mapping[str, Surface],
    branch: Branch,
    *,
    today: date,
    first: date,
    last: date,
) -> dict[date, int]:
    """Crew-minutes of our own standing rounds by night, shared by one crew.

    Parameters
    ----------
    books : of the sites the branch serves.
    today : a zone counts with the surface and area it has on this day.
    first, last : the nights looked at, both included.
    """
    minutes: dict[date, int] = {}
    for book in books:
        for zone in book.zones:
            for routine in zone.routines:
                if routine.performer is not Performer.US or not runs_by_itself(routine):
                    continue
                span = zone.zone.span_on(today)
                if span is None or span.surface not in surfaces:
                    continue
                rung = surfaces[span.surface].rung(routine.work)
                each = routine.minutes
                if each is None:
                    plain = PLAIN_MINUTES.get(routine.work, ASSUMED_MINUTES)
                    each = line_minutes(rung, span.area_m2).minutes if rung else plain
                for on in routine_dates(routine, first, last):
                    minutes[on] = minutes.get(on, 0) + -(-each // branch.crew_size)
    return minutes
