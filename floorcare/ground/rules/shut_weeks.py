"""Shut weeks: what would fall while a site is shut to us is drawn to the last night before it."""

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta

from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.limits import first_allowed
from floorcare.ground.rules.reasons import said
from floorcare.ground.trade.visit import Due

SHUT_AHEAD_DAYS = 42
"""Work is drawn forward by so many days at most; beyond that it comes late. Assumption."""
ROOM_DAYS = 6
"""Drawn forward, it may still come so many days earlier, for company. Assumption."""

SHUT_FACT = "shut from"
"""The fact of a reason whose work was drawn before shut days."""


def drawn_before_shut_weeks(case: ZoneCase, dues: Sequence[Due]) -> tuple[Due, ...]:
    """The dues with those whose whole window is shut drawn to the last open night before it.

    Those are left as they are that have a night, that cannot come earlier (the minimum age, or
    tomorrow), or whose last open night lies too far back.

    Source: the site's own nights.
    """
    if not case.nights:
        return tuple(dues)
    return tuple(_drawn(case, due) for due in dues)


def _drawn(case: ZoneCase, due: Due) -> Due:
    at = bisect_left(case.nights, due.earliest)
    if at < len(case.nights) and case.nights[at] <= due.latest:
        return due
    before = case.nights[:at]
    if not before or (due.target - before[-1]).days > SHUT_AHEAD_DAYS:
        return due
    night, least = before[-1], first_allowed(case.book, case.surface, due.work)[0]
    if night < least:
        return due
    shut_from = night + timedelta(days=1)
    reason = due.reason
    return replace(
        due,
        earliest=max(least, case.nights[0], night - timedelta(days=ROOM_DAYS)),
        target=night,
        latest=night,
        reason=replace(
            reason,
            inside=f"{reason.inside[:-1]}; no night is open to us from {said(shut_from)} to "
            f"{said(due.latest)}, so it comes before.",
            facts=(*reason.facts, (SHUT_FACT, shut_from.isoformat())),
            rejected=(*reason.rejected, (f"{due.work} on {due.target}", "no night is open then")),
        ),
    )
