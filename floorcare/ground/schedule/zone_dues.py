"""Dues of a fleet: calendar rules, the walk, what still stands, and the walk once more.

The horizon is walked once a zone; zones whose due was drawn to another night, or has none, are
walked once more from where they really stand.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.catalogue import calendar_dues, with_retests
from floorcare.ground.rules.wear_dues import Outlook, forecast, walked_dues
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
    by_wear = [z for z, case in enumerate(cases) if case.by_wear and fleet.measured[z]]
    calendar = {z: calendar_dues(case, by_wear=z in by_wear) for z, case in enumerate(cases)}
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
    slack: dict[int, float] = {}
    for z in by_wear:
        begun = {due.work for due in calendar[z] if due.reason.rule == "work begun"}
        stands = standing_dues(movable, *cases[z].key, begun)
        kept = still_good(stands, walked[z], fleet.today)
        if kept and not (z in again and again[z].hopeless):
            again[z] = _Again(pins=kept, hopeless=())
            slack[z] = SLACK
    if again:
        pinned = [
            replace(case, fixed=(*case.fixed, *((due.work, on) for on, due in again[z].pins)))
            if z in again
            else case
            for z, case in enumerate(fixed)
        ]
        rewalked = walked_dues(
            fleet,
            pinned,
            forecast(fleet, pinned, days),
            sorted(again),
            {z: {due.work for due in one.hopeless} for z, one in again.items()},
            slack,
        )
        for z, dues in rewalked.items():
            first = (*(due for _, due in again[z].pins), *again[z].hopeless)
            both[z] = with_retests(cases[z], (*calendar[z], *first, *dues))
    return FleetDues(
        dues={case.key: both[z] for z, case in enumerate(cases)},
        by_wear=frozenset(cases[z].key for z in by_wear),
        outlook=ahead,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Again:
    """Why a zone is walked once more.

    pins : (night, due) up to the first that was gathered to another night than its target.
    hopeless : dues for which the site has no night; their rungs are barred from the second walk.
    """

    pins: tuple[tuple[date, Due], ...]
    hopeless: tuple[Due, ...]


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
    gathered: dict[int, list[tuple[date, Due]]] = {}
    hopeless: dict[int, list[Due]] = {}
    for site in sorted({case.site for case in cases}):
        mine = [z for z, case in enumerate(cases) if case.site == site]
        surfaces = {cases[z].book.zone.code: cases[z].surface for z in mine}
        stubs, left = gather([due for z in mine for due in dues[z]], nights[site], surfaces)
        for stub in stubs:
            for line in stub.lines:
                gathered.setdefault(rows[site, line.zone], []).append((stub.night.on, line.due))
        for unplaced in left:
            hopeless.setdefault(rows[site, unplaced.due.zone], []).append(unplaced.due)
    again: dict[int, _Again] = {}
    for z in by_wear:
        pins: list[tuple[date, Due]] = []
        moved = False
        barred = [due for due in hopeless.get(z, ()) if due.reason.rule in WALKED_RULES][:1]
        for on, due in sorted(gathered.get(z, ()), key=lambda g: (g[0], g[1].work)):
            if due.reason.rule not in WALKED_RULES or any(due.target > b.target for b in barred):
                continue
            pins.append((on, due))
            moved = on != due.target
            if moved:
                break
        if moved or barred:
            again[z] = _Again(pins=tuple(pins), hopeless=tuple(barred))
    return again
