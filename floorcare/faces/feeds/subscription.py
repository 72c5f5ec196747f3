"""Subscription rules: which visits a calendar holds, and what its copies are called."""

from collections.abc import Iterable
from datetime import date, timedelta

from floorcare.findings import Finding
from floorcare.services.sheets import CalendarEvent

DAYS_BACK = 180
DAYS_AHEAD = 180
DAYS_CALLED_OFF = 7
"""A called-off visit stays so long after its day, so that every subscriber has seen it."""

LARGEST_BYTES = 700_000
"""Some calendar services refuse a calendar of one megabyte; above this we say so."""


def in_window(event: CalendarEvent, today: date) -> bool:
    """Whether the calendar of that day holds the event.

    Parameters
    ----------
    event : its own days count, not the instants they turn into.
    today : the day the calendar is made for; the window rolls with it.
    """
    last = event.last_day or event.night
    back = DAYS_CALLED_OFF if event.cancelled else DAYS_BACK
    return last >= today - timedelta(days=back) and event.night <= today + timedelta(
        days=DAYS_AHEAD
    )


def copy_name(scope: str, today: date) -> str:
    """The file name of a copy handed out, which says that it will not follow changes.

    >>> copy_name("NORTH-1", date(2026, 3, 2))
    'NORTH-1-copy-2026-03-02.ics'
    """
    kept = "".join(c if c.isascii() and (c.isalnum() or c in "-_.") else "-" for c in scope)
    return f"{kept.strip('.-') or 'calendar'}-copy-{today.isoformat()}.ics"


def size_finding(name: str, calendar: bytes) -> Finding | None:
    """Asks for a smaller scope where a calendar grows too large for some calendar services."""
    if len(calendar) <= LARGEST_BYTES:
        return None
    return Finding(
        problem=f"the calendar {name} is so large that some calendar services may refuse it",
        value=f"{len(calendar):,} bytes",
        allowed=f"{LARGEST_BYTES:,} bytes",
        mend="offer one calendar a site instead of one for all sites",
        weight="asks",
    )


WEEKS_PROPOSED = 8
"""A customer sees proposed visits at most so many weeks ahead, and only if that is switched on."""


def held(
    events: Iterable[CalendarEvent], today: date, *, proposed: bool
) -> tuple[CalendarEvent, ...]:
    """The events a site's calendar holds on a day.

    Parameters
    ----------
    events : every visit of the site, called-off ones too.
    today : the day the calendar is made for.
    proposed : visits not yet asked or agreed are shown, within eight weeks.
    """
    return tuple(
        event
        for event in events
        if in_window(event, today)
        and (not event.proposed or event.asked or (proposed and _in_sight(event, today)))
    )


def _in_sight(event: CalendarEvent, today: date) -> bool:
    """Whether a proposed visit is near enough to be shown, or was when it was called off."""
    # nobody is told of the end of a visit that nobody was shown
    seen_on = min(today, event.changed_at.date()) if event.cancelled else today
    return event.night <= seen_on + timedelta(weeks=WEEKS_PROPOSED)
