"""One zone's readings on their way to the estimate: in one meter's language, rounds, judged."""

from dataclasses import dataclass, replace
from datetime import date

from floorcare.ground.trade.book import ZoneBook
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.treatment import Work
from floorcare.ground.wear.books.from_books import routine_dates, runs_by_itself, whole_zone_dates
from floorcare.ground.wear.books.judged import (
    JudgedRounds,
    group_rounds,
    judge_rounds,
    main_geometry,
)
from floorcare.ground.wear.books.meters import Meters, OneLanguage, in_one_language, main_meter

USUAL_ANGLE = 60
"""The angle of a zone whose gloss was never read."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ZoneRead:
    """A zone's readings as the estimate takes them in.

    spoken : in the language of its main meter, with the days on which another took over.
    judged : its rounds.
    """

    spoken: OneLanguage
    judged: JudgedRounds


def read_zone(
    name: str, book: ZoneBook, surface: Surface, meters: Meters, first: date, today: date
) -> ZoneRead:
    """One zone's readings from the first day of the columns to today.

    Parameters
    ----------
    name : SITE/ZONE.
    meters : the meters and bridges known today.

    Source: see `in_one_language` and `judge_rounds`.
    """
    readings = tuple(replace(r, zone=name) for r in book.readings if first <= r.taken_on <= today)
    angle = main_geometry(group_rounds(readings)).get(name, USUAL_ANGLE)
    spoken = in_one_language(name, readings, main_meter(book, angle), angle, meters)
    resets = {*_resets(book, surface, first, today), *spoken.epochs}
    judged = judge_rounds(spoken.readings, surface.law, {name: tuple(sorted(resets))})
    return ZoneRead(spoken=spoken, judged=judged)


def _resets(book: ZoneBook, surface: Surface, first: date, today: date) -> set[date]:
    """Days whose work explains a rise of gloss."""
    days = {
        day
        for work, rung in surface.methods.items()
        if rung.resets_reading or work in (Work.BURNISH, Work.FINE_BURNISH)
        for day in whole_zone_dates(book.done, work)
    }
    for routine in book.routines:
        if routine.work in (Work.BURNISH, Work.FINE_BURNISH) and runs_by_itself(routine):
            days.update(routine_dates(routine, first, today))
    return days
