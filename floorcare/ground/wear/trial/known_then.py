"""A zone's book as it stood on an earlier day: what was known then, and nothing of later days."""

from dataclasses import replace
from datetime import date
from typing import TypeVar

from floorcare.ground.trade.book import ZoneBook
from floorcare.ground.trade.traffic import TrafficRow
from floorcare.ground.trade.zone import ZoneSpan

Dated = TypeVar("Dated", TrafficRow, ZoneSpan)


def book_then(book: ZoneBook, day: date) -> ZoneBook | None:
    """The book as it stood at the end of a day, None where the zone was not under care yet.

    Readings and treatments up to that day; traffic and values of the zone that began by then, each
    as if it went on; routines begun by then. A count that ended later was not yet made.

    Assumption: what is dated up to a day was written down by then; seasons, stations and the
    opening state were known from the start.
    """
    spans = [span for span in book.zone.spans if span.from_on <= day]
    if not spans:
        return None
    spans[-1] = _gone_on(spans[-1], day)
    return replace(
        book,
        zone=replace(book.zone, spans=tuple(spans)),
        readings=tuple(r for r in book.readings if r.taken_on <= day),
        done=tuple(d for d in book.done if d.done_on <= day),
        traffic=tuple(
            _gone_on(row, day) for row in book.traffic if row.from_on <= day and _made(row, day)
        ),
        routines=tuple(r for r in book.routines if r.starts_on <= day),
    )


def _made(row: TrafficRow, day: date) -> bool:
    return not row.counted or row.to_on is None or row.to_on <= day


def _gone_on(row: Dated, day: date) -> Dated:
    """Nobody knew yet when it would end."""
    return replace(row, to_on=None) if row.to_on is not None and row.to_on > day else row
