"""Calls that are still open on a zone, each with the last night on which it is answered in time."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from zoneinfo import ZoneInfo

from floorcare.ground.trade.book import ZoneBook
from floorcare.ground.trade.people import CallReceived
from floorcare.ground.trade.promise import PromiseKind
from floorcare.ground.worktime.night import instant
from floorcare.ground.worktime.response import respond_by
from floorcare.ground.worktime.site_time import Night, SiteTime


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenCall:
    """A call nobody has closed.

    on : the site's own date on which it came.
    hours : promised response, None where none is promised.
    answer_by : date and time of the site by which it is promised to be answered; None likewise.
    last_night : the last open night that begins by then; None without a promise, or where no night
        does.
    """

    call: CallReceived
    on: date
    hours: int | None
    answer_by: datetime | None
    last_night: date | None


def open_calls(
    calls: Iterable[CallReceived],
    site: str,
    book: ZoneBook,
    time: SiteTime,
    nights: Sequence[Night],
) -> tuple[OpenCall, ...]:
    """The calls on one zone that nobody has closed, oldest first.

    Parameters
    ----------
    calls : of any sites.
    site, book : the zone.
    time, nights : the site's working time, and its open nights from tomorrow on.

    Source: the promised response of the zone on the day of the call.
    Assumption: a call is answered in time when the crew's night begins in time.
    """
    zone = ZoneInfo(time.zone)
    found = []
    for call in calls:
        mine = (call.site, call.zone) == (site, book.zone.code)
        if not mine or call.closed_at is not None:
            continue
        on = call.received_at.astimezone(zone).date()
        line = book.promise_on(on, PromiseKind.RESPONSE)
        hours = line.response_hours if line is not None else None
        by = respond_by(call.received_at, hours, time) if hours else None
        begun = (n.on for n in nights if by and instant(n.on, n.starts_minute, time.zone) <= by)
        found.append(
            OpenCall(
                call=call,
                on=on,
                hours=hours if by else None,
                answer_by=by.astimezone(zone) if by else None,
                last_night=max(begun, default=None),
            )
        )
    return tuple(sorted(found, key=lambda c: (c.call.received_at, c.call.uuid)))
