"""Evidence outranks forecast: a reading after a rung, still below the promise, climbs one rung."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from floorcare.ground.rules.limits import coats_since_film_came_off
from floorcare.ground.trade.book import ZoneBook
from floorcare.ground.trade.promise import PromiseLine
from floorcare.ground.trade.reading import RoundValue, SurfaceState
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.treatment import Work
from floorcare.ground.wear.books.from_books import whole_zone_dates

EVIDENCE_DAYS = 14
"""A reading within this time, or the rung's worthwhile hold, judges the rung. Assumption."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence:
    """A rung that did not bring the look back, and the reading that says so.

    rung : the next rung of the ladder, the one that is due.
    after : the rung that was done on `done_on`.
    """

    rung: Work
    after: Work
    done_on: date
    read_on: date
    read_gu: float
    promise_gu: float


def evidence_against(
    book: ZoneBook,
    surface: Surface,
    rounds: Sequence[RoundValue],
    promise: PromiseLine,
    promise_gu: float,
) -> Evidence | None:
    """The next rung, where every valid reading since the last rung is still below the promise.

    Parameters
    ----------
    book, surface : the zone and its ladder.
    rounds : valid gloss rounds of the zone in rising date, gross ones already taken out.
    promise, promise_gu : the appearance promise and the gloss it comes to.

    Returns
    -------
    None where no rung was done, none was read soon after, or one reading since was good enough.

    Source: the trade's ladder, common practice, no source.
    """
    latest: tuple[date, int, Work] | None = None
    for index, work in enumerate(surface.ladder):
        if work in (Work.CLEAN, Work.BURNISH):
            continue  # nightly rungs: the reading before the next one is the forecast's business
        for day in whole_zone_dates(book.done, work)[-1:]:
            if latest is None or (day, index) > latest[:2]:
                latest = (day, index, work)
    if latest is None:
        return None
    done_on, index, work = latest
    states = {SurfaceState.AFTER_BURNISH, promise.reference_state}
    since = [r for r in rounds if r.on > done_on and r.state in states]
    if not since or any(r.value >= promise_gu for r in since):
        return None
    soon = max(_worthwhile_days(surface, work), EVIDENCE_DAYS)
    if (since[0].on - done_on).days > soon:
        return None  # read so late, it tells of wear since, not of what the rung could do
    above = min(index + 1, len(surface.ladder) - 1)
    used_up = coats_since_film_came_off(book) >= surface.coat_limit
    if surface.ladder[above] is Work.RECOAT and used_up:
        above = min(above + 1, len(surface.ladder) - 1)
    return Evidence(
        rung=surface.ladder[above],
        after=work,
        done_on=done_on,
        read_on=since[-1].on,
        read_gu=since[-1].value,
        promise_gu=promise_gu,
    )


def _worthwhile_days(surface: Surface, work: Work) -> int:
    rung = surface.rung(work)
    return rung.worthwhile_hold_days if rung is not None else 0
