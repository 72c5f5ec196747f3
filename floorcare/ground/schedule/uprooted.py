"""A standing visit that has lost its night, whole, on another: nothing else of its site moves."""

from collections.abc import Collection
from dataclasses import replace
from datetime import date, timedelta

from floorcare.ground.schedule.gather import LATE_DAYS, SiteNights, Stub
from floorcare.ground.trade.visit import Visit, needs_of
from floorcare.ground.worktime.site_time import Night


def on_another_night(visit: Visit, site: SiteNights, taken: Collection[date]) -> Stub | None:
    """The visit with all its lines on the night that suits it best, None where no night takes it.

    Parameters
    ----------
    site : the nights of its site; those `taken` by other visits are left out.

    A night in the windows of all its lines comes before a late one, and there a counter-night the
    customer offered before the night nearest to where the visit stood.
    """
    earliest = max(line.due.earliest for line in visit.lines)
    latest = max(earliest, min(line.due.latest for line in visit.lines))
    nights = [
        night
        for night in site.nights
        if earliest <= night.on <= latest + timedelta(days=LATE_DAYS)
        and night.on not in taken
        and needs_of(visit.lines) <= night.permits
        and visit.minutes <= site.room(night)
        and site.answers.takes(night.on, visit.lines)
    ]
    if not nights:
        return None

    def suits(night: Night) -> tuple[bool, bool, int, date, int]:
        wished = any(site.answers.wishes(night.on, line) for line in visit.lines)
        apart = abs((night.on - visit.night).days)
        return (night.on > latest, not wished, apart, night.on, -night.minutes)

    night = min(nights, key=suits)
    inside = night.on <= latest
    return Stub(
        site=visit.site,
        night=night,
        lines=tuple(
            replace(line, due=replace(line.due, recheck=night.on > line.due.latest))
            for line in visit.lines
        ),
        earliest=earliest if inside else night.on,
        latest=latest if inside else night.on,
        minutes=visit.minutes,
    )
