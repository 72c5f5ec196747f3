"""Dues of a fleet: calendar rules, the walk, what still stands, and the walk once more.

The horizon is walked once a zone; zones whose due was drawn to another night, or has none, are
walked once more from where they really stand.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from floorcare.findings import Finding
from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.catalogue import barred_visits, calendar_dues, with_retests
from floorcare.ground.rules.wear_dues import (
    Outlook,
    forecast,
    laid_anew,
    unkept_promises,
    walked_dues,
)
from floorcare.ground.schedule.gather import SiteNights, gather
from floorcare.ground.schedule.keeping import SLACK, WALKED_RULES, standing_dues, still_good
from floorcare.ground.trade.visit import Due, Visit
from floorcare.ground.wear.fleet import Fleet

LOOK_BEYOND_DAYS = 14
"""The walk goes a fortnight past the horizon, so that its last opportunities look ahead too."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FleetDues:
    """The dues of every zone of a fleet by (site, zone), and what they were found from."""

    dues: dict[tuple[str, str], tuple[Due, ...]]
    by_wear: frozenset[tuple[str, str]]
    outlook: Outlook
    findings: tuple[Finding, ...]


def dues_of_fleet(
    fleet: Fleet,
    cases: Sequence[ZoneCase],
    nights: Mapping[str, SiteNights],
    movable: Sequence[Visit],
    last_on: date,
) -> FleetDues:
    """The dues of every zone of a fleet, and the outlook they were walked from.

    Parameters
    ----------
    fleet, cases : the same zones in the same order.
    nights : of every site among them.
    movable : standing visits the plan may move; a zone keeps their dues while they are still good.
    last_on : end of the horizon.

    Source: the rules of the catalogue; the order of their use is a design rule.
    """
    walks = [case.by_wear and bool(fleet.measured[z]) for z, case in enumerate(cases)]
    by_wear = [z for z, walked in enumerate(walks) if walked]
    calendar = {z: calendar_dues(case, by_wear=walks[z]) for z, case in enumerate(cases)}
    days = (last_on - fleet.today).days + LOOK_BEYOND_DAYS
    # set rhythms happen whatever wear asks, so the walk is told of them
    fixed = [
        replace(case, fixed=(*case.fixed, *((d.work, d.target) for d in calendar[z])))
        for z, case in enumerate(cases)
    ]
    ahead = forecast(fleet, fixed, days)
    walked = walked_dues(fleet, fixed, ahead, by_wear)
    both = {
        z: with_retests(case, (*calendar[z], *walked.get(z, ()))) for z, case in enumerate(cases)
    }
    again = _walked_again(cases, both, nights, by_wear)
    for z in by_wear:
        begun = {due.work for due in calendar[z] if due.reason.rule == "work begun"}
        stands = standing_dues(movable, *cases[z].key, begun, cases[z].ends_on)
        kept = still_good(stands, walked[z], fleet.today)
        if kept and not (z in again and again[z].hopeless):
            # what stands late for want of a night is waited for
            late = max((on for on, due in kept if due.recheck), default=date.min)
            again[z] = _Again(pins=kept, hopeless=(), from_on=late, slack=SLACK)
    for z, dues in _second_walk(fleet, fixed, again, ahead).items():
        first = (*(due for _, due in again[z].pins), *again[z].hopeless)
        both[z] = with_retests(cases[z], (*calendar[z], *first, *dues))
    return FleetDues(
        dues={case.key: both[z] for z, case in enumerate(cases)},
        by_wear=frozenset(cases[z].key for z in by_wear),
        outlook=ahead,
        findings=_asked(fleet, fixed, ahead, by_wear),
    )


def _asked(
    fleet: Fleet, cases: Sequence[ZoneCase], ahead: Outlook, by_wear: Sequence[int]
) -> tuple[Finding, ...]:
    """What a person must decide: promises out of reach, and visits that slip bars."""
    barred = (finding for case in cases for finding in barred_visits(case))
    return (*unkept_promises(fleet, cases, ahead, by_wear), *barred)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Again:
    """Why a zone is walked once more.

    pins : (night, due) up to the first that was gathered to another night than its target.
    hopeless : dues for which the site has no night; their rungs are barred from the second walk.
    from_on : the night from which it is walked; before it nothing further is decided.
    slack : how much less than q is good enough, where the pins are dues that stand.
    """

    pins: tuple[tuple[date, Due], ...]
    hopeless: tuple[Due, ...]
    from_on: date
    slack: float = 0.0


def _second_walk(
    fleet: Fleet, cases: Sequence[ZoneCase], again: Mapping[int, _Again], ahead: Outlook
) -> dict[int, tuple[Due, ...]]:
    """What the zones to be walked again need besides their pins, by row."""
    if not again:
        return {}
    pinned = [
        replace(
            case,
            fixed=(*case.fixed, *((due.work, on) for on, due in again[z].pins)),
            opportunities=tuple(on for on in case.opportunities if on >= again[z].from_on),
        )
        if z in again
        else case
        for z, case in enumerate(cases)
    ]
    return walked_dues(
        fleet,
        pinned,
        laid_anew(ahead, fleet, pinned),
        sorted(again),
        {z: {due.work for due in one.hopeless} for z, one in again.items()},
        {z: one.slack for z, one in again.items()},
        {z: [due for _, due in one.pins] for z, one in again.items()},
    )


def _walked_again(
    cases: Sequence[ZoneCase],
    dues: Mapping[int, tuple[Due, ...]],
    nights: Mapping[str, SiteNights],
    by_wear: Sequence[int],
) -> dict[int, _Again]:
    """Zones whose later dues were walked from a night that will not happen, by row.

    Either the gathering drew a due to another night, or there is no night for it at all.
    """
    rows = {case.key: z for z, case in enumerate(cases)}
    gathered: dict[int, dict[tuple[str, date, date], tuple[date, Due]]] = {}
    hopeless: dict[int, list[Due]] = {}
    for site in sorted({case.site for case in cases}):
        mine = [z for z, case in enumerate(cases) if case.site == site]
        surfaces = {cases[z].book.zone.code: cases[z].surface for z in mine}
        stubs, left = gather([due for z in mine for due in dues[z]], nights[site], surfaces)
        for stub in stubs:
            for line in stub.lines:
                due = replace(line.due, recheck=False)
                # parts of one work are one due, done by its last night; stubs rise by night
                of_zone = gathered.setdefault(rows[site, line.zone], {})
                of_zone[due.work, due.target, due.latest] = stub.night.on, due
        for unplaced in left:
            hopeless.setdefault(rows[site, unplaced.due.zone], []).append(unplaced.due)
    again: dict[int, _Again] = {}
    for z in by_wear:
        pins: list[tuple[date, Due]] = []
        moved = False
        barred = [due for due in hopeless.get(z, ()) if due.reason.rule in WALKED_RULES][:1]
        for on, due in sorted(gathered.get(z, {}).values(), key=lambda g: (g[0], g[1].work)):
            if due.reason.rule not in WALKED_RULES or any(due.target > b.target for b in barred):
                continue
            moved = on != due.target
            # the night it was drawn to is now its target, or the last gathering would undo it
            inside = due.earliest <= on <= due.latest
            pins.append((on, replace(due, target=on) if inside else due))
            if moved:
                break
        if moved or barred:
            from_on = pins[-1][0] if pins else date.min
            again[z] = _Again(pins=tuple(pins), hopeless=tuple(barred), from_on=from_on)
    return again
