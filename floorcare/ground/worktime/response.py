"""The clock of a response: hours that run from a call on and stand still while a site is shut."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from floorcare.ground.worktime.night import instant
from floorcare.ground.worktime.site_time import SiteTime

LONGEST_PAUSE_DAYS = 366
"""A site shut for longer no longer holds the clock. Assumption."""


def respond_by(received_at: datetime, hours: int, time: SiteTime) -> datetime:
    """The UTC instant by which a call must be answered.

    Parameters
    ----------
    received_at : the instant of the call, with its zone.
    hours : promised, 1 or more.
    time : the site's; its shut days and public holidays hold the clock for their whole date.

    Raises
    ------
    ValueError : hours below 1, or an instant without its zone.

    Source: IANA time zone database; a day of 23 or 25 hours counts as so many.
    Assumption: the clock runs day and night, and stands still on dates on which the site is shut;
    the contract may say otherwise.
    """
    if hours < 1:
        raise ValueError(f"a response within {hours} h: allowed 1 or more")
    if received_at.tzinfo is None:
        raise ValueError("the instant of a call needs its zone")
    at = received_at.astimezone(UTC)
    left = timedelta(hours=hours)
    day = at.astimezone(ZoneInfo(time.zone)).date()
    paused = 0
    while True:
        following = day + timedelta(days=1)
        midnight = instant(following, 0, time.zone)
        if paused < LONGEST_PAUSE_DAYS and time.closed_why(day):
            paused += 1
        elif at + left <= midnight:
            return at + left
        else:
            left -= midnight - at
        at, day = midnight, following
