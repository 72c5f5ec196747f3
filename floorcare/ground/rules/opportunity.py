"""Opportunities: the nights on which a site is accessible and a decision can be acted on."""

import zlib
from collections.abc import Sequence
from datetime import date

from floorcare.ground.worktime.site_time import Night
from floorcare.ground.worktime.window import week_of


def decision_weekday(site: str, weekdays: frozenset[int]) -> int:
    """The weekday a site's decisions fall on, spread evenly over sites by their code alone.

    Parameters
    ----------
    site : the site's code.
    weekdays : weekdays on which both the site is open to us and a crew goes out, Monday 0.

    Assumption: any fixed rule would do; a digest of the code keeps sites apart from each other, so
    that adding one site moves no other.
    """
    ordered = sorted(weekdays)
    return ordered[zlib.crc32(site.encode()) % len(ordered)]


def opportunities(
    site: str, nights: Sequence[Night], crew_weekdays: frozenset[int]
) -> tuple[date, ...]:
    """One night a week on which to decide: the site's weekday, else the nearest open night.

    Parameters
    ----------
    site : the site's code.
    nights : open nights over the horizon, sorted.
    crew_weekdays : nights on which the branch's crews go out, Monday 0.

    Returns
    -------
    Rising dates, at most one in each week from Monday to Sunday; none where nothing is open.

    Assumption: a weekly rhythm of decision.
    """
    usable = sorted({n.on for n in nights if n.on.weekday() in crew_weekdays})
    if not usable:
        return ()
    wanted = decision_weekday(site, frozenset(d.weekday() for d in usable))
    by_week: dict[date, list[date]] = {}
    for day in usable:
        by_week.setdefault(week_of(day), []).append(day)
    return tuple(
        min(days, key=lambda d: (abs(d.weekday() - wanted), d))
        for _, days in sorted(by_week.items())
    )
