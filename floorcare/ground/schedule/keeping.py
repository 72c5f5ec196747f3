"""What stands is kept while it is still good: the same work, about when it is wanted.

Far off, a day's shift of the forecast says nothing; a plan that jumped with it would be useless to
everybody who reads it. So a zone keeps its standing dues as long as a fresh look agrees with the
first of them; where it does not, the zone is planned anew.
"""

from collections.abc import Sequence, Set
from dataclasses import replace
from datetime import date, timedelta

from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Due, Visit

WALKED_RULES = frozenset(
    {
        "promise at confidence",
        "ladder escape",
        "least cost",
        "evidence outranks forecast",
        "calendar cap",
    }
)
"""Rules whose dues come from the walk of the horizon."""

NEAR_DAYS = 42
"""Nearer than this a standing night must not be later than the fresh latest. Assumption."""
EARLIER_DAYS = 7
"""Further off, the fresh target may lie so many days before the standing night. Assumption."""
LATER_DAYS = 21
"""A standing night may come so many days before the fresh target. Assumption."""
SLACK = 0.10
"""Standing dues are good while they keep the promise at this much less than q. Assumption."""


def standing_dues(
    visits: Sequence[Visit],
    site: str,
    zone: str,
    begun: Set[Work] = frozenset(),
    ends_on: date | None = None,
) -> tuple[tuple[date, Due], ...]:
    """The walked dues that a zone's standing visits answer, with the night each is done by.

    Parameters
    ----------
    visits : proposed visits that a plan may move, in any order.
    begun : works of which a part is done; the rest has a due of its own.
    ends_on : last day of the zone's care, None while it goes on; nothing is done after it.

    Parts of one work are one due, done by its last night.

    Source: the visits' own dues.
    """
    nights: dict[tuple[str, date, date], tuple[date, Due]] = {}
    for visit in sorted(visits, key=lambda v: v.night):
        if visit.site != site or (ends_on is not None and visit.night > ends_on):
            continue
        for line in visit.lines:
            if line.zone == zone and line.due.reason.rule in WALKED_RULES:
                due = line.due
                nights[due.work, due.target, due.latest] = (visit.night, due)
    found = sorted(nights.values(), key=lambda pair: (pair[0], pair[1].work))
    for work in begun:
        rest = next((pair for pair in found if pair[1].work is work), None)
        if rest is not None:
            found.remove(rest)
    return tuple(found)


def still_good(
    standing: Sequence[tuple[date, Due]], fresh: Sequence[Due], today: date
) -> tuple[tuple[date, Due], ...]:
    """The standing dues, where the fresh look agrees with the first of them; else none.

    Parameters
    ----------
    standing : (night, due) of one zone, rising.
    fresh : what a walk from today finds for it, rising.

    Assumption: the days named above.
    """
    if not standing or not fresh:
        return ()
    night, due = standing[0]
    soon = fresh[0].target + timedelta(days=LATER_DAYS)
    if not any(_agrees(night, due, one, today) for one in fresh if one.target <= soon):
        return ()
    return tuple((on, replace(d, earliest=min(d.earliest, on))) for on, d in standing)


def _agrees(night: date, due: Due, fresh: Due, today: date) -> bool:
    burnishes = {Work.BURNISH, Work.FINE_BURNISH}
    if due.work is not fresh.work and not {due.work, fresh.work} <= burnishes:
        return False
    near = fresh.target <= today + timedelta(days=NEAR_DAYS)
    latest = fresh.latest if near else fresh.latest + timedelta(days=EARLIER_DAYS)
    if due.recheck:
        # it found no earlier night before; the placing tries again, the rest of the zone stands
        latest = max(latest, night)
    return fresh.target - timedelta(days=LATER_DAYS) <= night <= latest
