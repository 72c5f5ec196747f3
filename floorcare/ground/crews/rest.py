"""Rest between two nights of a crew: no overtime is taken out of it."""

from dataclasses import replace
from datetime import date, datetime, timedelta

from floorcare.ground.crews.access import access_of
from floorcare.ground.crews.roster import Nights
from floorcare.ground.crews.week import DAY, BranchWeek, CrewNight
from floorcare.ground.crews.wishes import MOST_OVERTIME, REST_MINUTES
from floorcare.ground.worktime.night import DAY_MINUTES, instant

USUAL_HOUR = 18
"""Unnamed crews may set out from this hour where no site says more. Assumption."""


def rested(week: BranchWeek, nights: Nights) -> Nights:
    """The nights, with no overtime where the crew's next one would begin before it has rested.

    Nights without hours of their own all lie within the same hours of the day, those in which the
    week's sites are open most, and those hours leave the rest.

    Source: the rest of `REST_MINUTES`.
    """
    hour = _busiest_hour(week) if any(n.starts_at is None for n in nights.values()) else USUAL_HOUR
    return {
        key: replace(night, within=_within(week, night.on, hour))
        if night.starts_at is None
        else replace(night, overtime_allowed=_may_stay(night, nights))
        for key, night in nights.items()
    }


def _may_stay(night: CrewNight, nights: Nights) -> bool:
    after = nights.get((night.crew, night.on + DAY))
    if after is None or night.ends_at is None or after.starts_at is None:
        return True
    ends = night.ends_at + timedelta(minutes=MOST_OVERTIME)
    return ends + timedelta(minutes=REST_MINUTES) <= after.starts_at


def _within(week: BranchWeek, on: date, hour: int) -> tuple[datetime, datetime]:
    zone = week.branch.time_zone
    begins = hour * 60
    most = DAY_MINUTES - REST_MINUTES
    return instant(on, begins, zone), instant(on, begins + most, zone)


def _busiest_hour(week: BranchWeek) -> int:
    """The hour from which the most minutes of access lie before the rest begins."""
    stretches = [
        (visit.night, access)
        for visit in week.visits
        for access in access_of(visit, week.site(visit))
    ]

    def reached(hour: int) -> float:
        total = 0.0
        for on, access in stretches:
            best = 0.0
            for day in (on - DAY, on, on + DAY):
                begins, ends = _within(week, day, hour)
                shared = min(ends, access.closes_at) - max(begins, access.opens_at)
                best = max(best, shared / timedelta(minutes=1))
            total += best
        return total

    if not stretches:
        return USUAL_HOUR
    return max(range(24), key=lambda hour: (reached(hour), -abs(hour - USUAL_HOUR)))
