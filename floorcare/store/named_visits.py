"""Which visit people mean: by site and night, or by the beginning of its UUID."""

from collections.abc import Sequence
from datetime import date, timedelta

from sqlalchemy import Connection

from floorcare.errors import NotKnown, NotUnderstood
from floorcare.ground.trade.visit import Visit, VisitState
from floorcare.ground.worktime.night import format_minute, parse_minute
from floorcare.store import visit_rows
from floorcare.store.visits import visits_of, visits_where

SHORTEST_ID = 6
"""A visit may be named by so many first characters of its UUID, where they are its alone."""
NEAR_DAYS = 60
"""Where a night has no visit, those within so many days are named."""
HOW = "name it by site and night, such as NORTH 2026-12-03, or by its UUID"


def visit_named(connection: Connection, words: Sequence[str]) -> Visit:
    """The visit of a site and night, with its start where there are two, or of a UUID.

    Parameters
    ----------
    words : site, night and perhaps start; or six or more first characters of a UUID.

    One that was called off is meant only where there is no other.

    Raises
    ------
    NotKnown : there is no such visit, or there are several.
    NotUnderstood : the words name no visit.
    """
    given = [word.strip() for word in words]
    if len(given) == 1:
        return _by_uuid(connection, given[0])
    if len(given) not in (2, 3):
        raise NotUnderstood(f'"{" ".join(given)}" names no visit; {HOW}.')
    try:
        night = date.fromisoformat(given[1])
        minute = parse_minute(given[2]) if len(given) == 3 else None
    except ValueError as trouble:
        raise NotUnderstood(f'"{" ".join(given)}" names no visit; {HOW}.') from trouble
    return _by_night(connection, given[0], night, minute)


def _by_uuid(connection: Connection, start: str) -> Visit:
    if len(start) < SHORTEST_ID:
        raise NotUnderstood(
            f'"{start}" names no visit; {HOW} (at least {SHORTEST_ID} characters of it).'
        )
    column = visit_rows.visit.c.uuid
    found = visits_where(connection, column.startswith(start.lower(), autoescape=True))
    if not found:
        raise NotKnown(f'There is no visit "{start}"; {HOW}.')
    if len(found) > 1:
        several = ", ".join(v.uuid[:13] for v in found[:4])
        raise NotKnown(f'"{start}" begins several visits: {several}. Give more of it.')
    return found[0]


def _by_night(connection: Connection, site: str, night: date, minute: int | None) -> Visit:
    found = visits_of(connection, sites=[site], first=night, last=night)
    if minute is not None:
        found = tuple(v for v in found if v.starts_minute % 1440 == minute % 1440)
    standing = tuple(v for v in found if v.state is not VisitState.CANCELLED) or found
    if len(standing) > 1:
        starts = " or ".join(format_minute(v.starts_minute) for v in standing)
        raise NotKnown(f"{site} has several visits on {night}; add the start, {starts}.")
    if standing:
        return standing[0]
    days = timedelta(days=NEAR_DAYS)
    near = visits_of(connection, sites=[site], first=night - days, last=night + days)
    nights = sorted(
        {v.night for v in near if v.state is not VisitState.CANCELLED},
        key=lambda on: (abs((on - night).days), on),
    )
    there = ", ".join(on.isoformat() for on in sorted(nights[:4]))
    hint = f"visits near it: {there}" if there else "and none near it; is that the site's code"
    raise NotKnown(f"{site} has no visit on {night}; {hint}.")
