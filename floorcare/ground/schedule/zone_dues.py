"""Dues of a fleet: calendar rules, the walk, what still stands, and the walk once more.

The horizon is walked once a zone; zones whose due was drawn to another night, or has none, are
walked once more from where they really stand.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from floorcare.findings import Finding
from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.catalogue import calendar_dues, case_findings, with_retests
from floorcare.ground.rules.cheapest import refused_cheapest
from floorcare.ground.rules.prohibited import unfit_methods
from floorcare.ground.rules.seasons import SEASON_FACT, drawn_before_seasons
from floorcare.ground.rules.wear_dues import (
    Outlook,
    forecast,
    laid_anew,
    unkept_promises,
    walked_dues,
    wear_rungs,
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


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FreshLook:
    """A fleet's dues as if nothing stood that may move, and what is needed to decide again.

    fleet, cases : the same zones in the same order; `fixed` are the cases with their set rhythms.
    calendar, walked, both : dues by row: of the calendar, of the walk, and all with their retests.
    by_wear : rows whose ladder is walked by measured wear.
    drawn : by site, its nights and the rows the gathering would have walked once more on them.
    second : what rows walked again came to, by why they were; asked for again, it is looked up.
    """

    fleet: Fleet
    cases: tuple[ZoneCase, ...]
    fixed: tuple[ZoneCase, ...]
    calendar: Mapping[int, tuple[Due, ...]]
    ahead: Outlook
    walked: Mapping[int, tuple[Due, ...]]
    both: Mapping[int, tuple[Due, ...]]
    by_wear: tuple[int, ...]
    findings: tuple[Finding, ...]
    drawn: dict[str, tuple[SiteNights, dict[int, "_Again"]]] = field(default_factory=dict)
    second: dict[int, tuple["_Again", tuple[Due, ...]]] = field(default_factory=dict)


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
    return dues_beside(fresh_look(fleet, cases, last_on), movable, nights)


def fresh_look(fleet: Fleet, cases: Sequence[ZoneCase], last_on: date) -> FreshLook:
    """What a fleet asks for whatever stands; made once, however often the plan is looked at.

    Parameters
    ----------
    fleet, cases, last_on : as for `dues_of_fleet`.

    Source: as `dues_of_fleet`.
    """
    climbs = bool(wear_rungs(fleet.surface))
    walks = [climbs and case.by_wear and bool(fleet.measured[z]) for z, case in enumerate(cases)]
    by_wear = [z for z, walked in enumerate(walks) if walked]
    unfit = unfit_methods(fleet.surface)
    calendar = {
        z: tuple(d for d in calendar_dues(case, by_wear=walks[z]) if d.work not in unfit)
        for z, case in enumerate(cases)
    }
    days = (last_on - fleet.today).days + LOOK_BEYOND_DAYS
    # set rhythms happen whatever wear asks, so the walk is told of them
    fixed = [
        replace(case, fixed=(*case.fixed, *((d.work, d.target) for d in calendar[z])))
        for z, case in enumerate(cases)
    ]
    ahead = forecast(fleet, fixed, days)
    walked = {
        z: drawn_before_seasons(cases[z], dues)
        for z, dues in walked_dues(
            fleet, fixed, ahead, by_wear, {z: set(unfit) for z in by_wear}
        ).items()
    }
    both = {
        z: with_retests(case, (*calendar[z], *walked.get(z, ()))) for z, case in enumerate(cases)
    }
    return FreshLook(
        fleet=fleet,
        cases=tuple(cases),
        fixed=tuple(fixed),
        calendar=calendar,
        ahead=ahead,
        walked=walked,
        both=both,
        by_wear=tuple(by_wear),
        findings=(*unfit.values(), *_asked(fleet, fixed, ahead, by_wear, both)),
    )


def dues_beside(
    look: FreshLook, movable: Sequence[Visit], nights: Mapping[str, SiteNights]
) -> FleetDues:
    """The dues of every zone beside the visits that stand.

    Parameters
    ----------
    movable : standing visits the plan may move; a zone keeps their dues while they are still good.
    nights : of every site among them.

    Source: as `dues_of_fleet`.
    """
    cases, calendar = look.cases, look.calendar
    both, again = dict(look.both), _walked_again(look, nights)
    at_site: dict[str, list[Visit]] = {}
    for visit in movable:
        at_site.setdefault(visit.site, []).append(visit)
    for z in look.by_wear:
        begun = {due.work for due in calendar[z] if due.reason.rule == "work begun"}
        own = at_site.get(cases[z].site, ())
        stands = standing_dues(own, *cases[z].key, begun, cases[z].ends_on)
        kept = still_good(stands, look.walked[z], look.fleet.today)
        if kept and not (z in again and again[z].hopeless):
            # what stands late for want of a night is waited for
            late = max((on for on, due in kept if due.recheck), default=date.min)
            again[z] = _Again(pins=kept, hopeless=(), from_on=late, slack=SLACK)
    for z, dues in _second_walk(look, again).items():
        first = (*(due for _, due in again[z].pins), *again[z].hopeless)
        both[z] = with_retests(cases[z], (*calendar[z], *first, *dues))
    return FleetDues(
        dues={case.key: both[z] for z, case in enumerate(cases)},
        by_wear=frozenset(cases[z].key for z in look.by_wear),
        outlook=look.ahead,
        findings=look.findings,
    )


def _asked(
    fleet: Fleet,
    cases: Sequence[ZoneCase],
    ahead: Outlook,
    by_wear: Sequence[int],
    dues: Mapping[int, tuple[Due, ...]],
) -> tuple[Finding, ...]:
    """What a person must decide: promises out of reach, and what the zones' rules cannot settle."""
    own = (finding for z, case in enumerate(cases) for finding in case_findings(case, dues[z]))
    return (*unkept_promises(fleet, cases, ahead, by_wear), *refused_cheapest(cases), *own)


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


def _second_walk(look: FreshLook, wanted: Mapping[int, _Again]) -> dict[int, tuple[Due, ...]]:
    """What the zones to be walked again need besides their pins, by row.

    A zone's walk depends on no other zone, so one already made for the same pins is not made again.
    """
    known = {z: look.second[z][1] for z in wanted if look.second.get(z, (None,))[0] == wanted[z]}
    again = {z: one for z, one in wanted.items() if z not in known}
    if not again:
        return known
    fleet, cases, ahead = look.fleet, look.fixed, look.ahead
    unfit = unfit_methods(fleet.surface)
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
    walked = walked_dues(
        fleet,
        pinned,
        laid_anew(ahead, fleet, pinned),
        sorted(again),
        {z: {*unfit, *(due.work for due in one.hopeless)} for z, one in again.items()},
        {z: one.slack for z, one in again.items()},
        {z: [due for _, due in one.pins] for z, one in again.items()},
    )
    look.second.update({z: (again[z], dues) for z, dues in walked.items()})
    return {**known, **walked}


def _walked_again(look: FreshLook, nights: Mapping[str, SiteNights]) -> dict[int, _Again]:
    """Zones whose later dues were walked from a night that will not happen, by row.

    Either the gathering drew a due to another night, or there is no night for it at all.
    """
    of_site: dict[str, list[int]] = {}
    for z, case in enumerate(look.cases):
        of_site.setdefault(case.site, []).append(z)
    again: dict[int, _Again] = {}
    for site in sorted(of_site):
        known = look.drawn.get(site)
        if known is None or known[0] != nights[site]:
            known = look.drawn[site] = nights[site], _drawn(look, of_site[site], nights[site])
        again.update(known[1])
    return again


def _drawn(look: FreshLook, mine: Sequence[int], nights: SiteNights) -> dict[int, _Again]:
    """Those rows of one site that its gathering would have walked once more."""
    rows = {look.cases[z].book.zone.code: z for z in mine}
    surfaces = {code: look.cases[z].surface for code, z in rows.items()}
    gathered: dict[int, dict[tuple[str, date, date], tuple[date, Due]]] = {}
    hopeless: dict[int, list[Due]] = {}
    stubs, left = gather([due for z in mine for due in look.both[z]], nights, surfaces)
    for stub in stubs:
        for line in stub.lines:
            due = replace(line.due, recheck=False)
            # parts of one work are one due, done by its last night; stubs rise by night
            of_zone = gathered.setdefault(rows[line.zone], {})
            of_zone[due.work, due.target, due.latest] = stub.night.on, due
    for unplaced in left:
        hopeless.setdefault(rows[unplaced.due.zone], []).append(unplaced.due)
    again: dict[int, _Again] = {}
    for z in sorted(set(mine) & set(look.by_wear)):
        pins: list[tuple[date, Due]] = []
        moved = False
        barred = [due for due in hopeless.get(z, ()) if due.reason.rule in WALKED_RULES][:1]
        for on, due in sorted(gathered.get(z, {}).values(), key=lambda g: (g[0], g[1].work)):
            if due.reason.rule not in WALKED_RULES or any(due.target > b.target for b in barred):
                continue
            # drawn before a season it is on another night than it was walked for, too
            moved = on != due.target or any(name == SEASON_FACT for name, _ in due.reason.facts)
            # the night it was drawn to is now its target, or the last gathering would undo it
            inside = due.earliest <= on <= due.latest
            pins.append((on, replace(due, target=on) if inside else due))
            if moved:
                break
        if moved or barred:
            from_on = pins[-1][0] if pins else date.min
            again[z] = _Again(pins=tuple(pins), hopeless=tuple(barred), from_on=from_on)
    return again
