"""A branch's year: books in, visits out. Pure; the service around it loads and saves.

Each site is walked and gathered on its own, what the gathering moved is walked once more from the
moved night, and only then do the sites of a branch meet, at its crews' capacity.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, replace
from datetime import date, timedelta

from floorcare.findings import Finding
from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.wear_dues import Outlook, forecast
from floorcare.ground.schedule.difference import match
from floorcare.ground.schedule.doubts import doubts_of
from floorcare.ground.schedule.gather import SiteNights, Stub, gather
from floorcare.ground.schedule.level.levelling import place_levelled
from floorcare.ground.schedule.offered import on_offered_nights
from floorcare.ground.schedule.outlook import ZoneOutlook, zone_outlooks
from floorcare.ground.schedule.place import Placed, Wanted
from floorcare.ground.schedule.round_minutes import round_minutes
from floorcare.ground.schedule.sites_look import (
    LOOK_WEEKS,
    BranchYear,
    SitesLook,
    bound_visits,
    fleets_of,
    is_given,
    look_at_sites,
    nights_beside,
    site_nights,
    site_time,
    surfaces_by_zone,
    zone_cases,
)
from floorcare.ground.schedule.standing import as_it_stands, kept_site
from floorcare.ground.schedule.stay import may_stay
from floorcare.ground.schedule.what_frees import BranchNights, nights_left
from floorcare.ground.schedule.zone_dues import (
    dues_beside,
)
from floorcare.ground.trade.book import SiteBook
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.visit import Due, Unplaced, Visit, VisitState
from floorcare.ground.wear.fleet import Fleet
from floorcare.ground.work.minutes import SETUP_MINUTES

__all__ = [
    "LOOK_WEEKS",
    "BranchYear",
    "Decision",
    "decide_branch",
    "look_ahead",
    "movable_visits",
    "site_nights",
    "site_time",
    "survey_branch",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Decision:
    """What a branch's year came to.

    stubs : visits on their nights; movable : the standing visits they may continue.
    over_before, over_after : crew-minutes above the nights' capacity before and after placing.
    saved_minutes : travel and set-up saved against a visit for each work.
    short : what its crews lack, levelled; left : what its nights have left.
    """

    stubs: tuple[Stub, ...]
    movable: tuple[Visit, ...]
    unplaced: tuple[Unplaced, ...]
    people: dict[str, int]
    outlooks: tuple[ZoneOutlook, ...]
    findings: tuple[Finding, ...]
    over_before: int
    over_after: int
    saved_minutes: int
    short: tuple[Finding, ...] = ()
    left: BranchNights | None = None


def decide_branch(
    year: BranchYear, looks: Sequence[SitesLook] = (), mending: Set[str] = frozenset()
) -> Decision:
    """Plan a branch's year.

    Parameters
    ----------
    looks : the sites to decide, looked at already; none for every site. Sites that none of them
        looked at keep their visits as they stand, and meet the others at the crews' capacity.
    mending : sites whose visits are looked over once more by the plan that made them.

    Returns
    -------
    Visits on their nights, what found none and why, and every zone's outlook.

    Source: design of the walk, the gathering and the placing, see the modules named.
    """
    looks = tuple(looks) or (look_at_sites(year),)
    nights, movable = nights_beside(year, looks[0].nights), movable_visits(year)
    looked = [b for b in year.books if any(b.site.code in look.sites for look in looks)]
    findings = [f for book in looked for f in _closed_site(year, book, nights[book.site.code])]
    findings += doubts_of(looked, year.surfaces, year.calls, year.today, year.last_on)
    made: dict[str, tuple[tuple[Stub, ...], tuple[Unplaced, ...]]] = {}
    for look in looks:
        made.update(_visits_of(year, look, nights, movable, mending))
    stubs: list[Stub] = []
    unplaced: list[Unplaced] = []
    own = _by_site(movable)
    for code in (book.site.code for book in year.books):
        stay = [as_it_stands(visit, nights[code]) for visit in own.get(code, ())]
        gathered, left = made.get(code) or (tuple(stub for stub in stay if stub), ())
        stubs.extend(gathered)
        unplaced.extend(left)
    travel = year.round_trips()
    surfaces = surfaces_by_zone(year)
    placed = _placed(year, stubs, movable, bound_visits(year), nights, surfaces, travel)
    return Decision(
        stubs=placed.stubs,
        movable=movable,
        unplaced=(*unplaced, *placed.unplaced),
        people={book.site.code: year.branch.crew_size for book in year.books},
        outlooks=_by_zone(outlook for look in looks for outlook in look.outlooks),
        findings=(*findings, *(finding for look in looks for finding in look.findings)),
        over_before=placed.over_before,
        over_after=placed.over_after,
        saved_minutes=_saved_minutes(placed.stubs, travel),
        short=placed.findings,
        left=nights_left(year.branch, nights, surfaces, travel, placed),
    )


def _saved_minutes(stubs: Iterable[Stub], travel: Mapping[str, int]) -> int:
    return sum((len(stub.lines) - 1) * (SETUP_MINUTES + travel[stub.site]) for stub in stubs)


def _by_site(visits: Iterable[Visit]) -> dict[str, tuple[Visit, ...]]:
    found: dict[str, list[Visit]] = {}
    for visit in visits:
        found.setdefault(visit.site, []).append(visit)
    return {site: tuple(own) for site, own in found.items()}


def movable_visits(year: BranchYear) -> tuple[Visit, ...]:
    """Proposed visits a plan may move: of nights to come, and of this horizon's business."""
    return tuple(
        v
        for v in year.standing
        if v.night > year.today
        and not v.stands
        and not is_given(year, v)
        and v.state is VisitState.PROPOSED
        # what fell due after this horizon is another plan's business
        and min(line.due.target for line in v.lines) <= year.last_on
    )


def _visits_of(
    year: BranchYear,
    look: SitesLook,
    nights: Mapping[str, SiteNights],
    movable: Sequence[Visit],
    mending: Set[str],
) -> dict[str, tuple[tuple[Stub, ...], tuple[Unplaced, ...]]]:
    """The visits of every site looked at, before the branch's crews are asked for."""
    dues: dict[tuple[str, str], tuple[Due, ...]] = {}
    by_wear: set[tuple[str, str]] = set()
    for fresh in look.fleets:
        found = dues_beside(fresh, movable, nights)
        dues.update(found.dues)
        by_wear |= found.by_wear
    own, cases = _by_site(movable), dict[str, list[ZoneCase]]()
    for case in look.cases:
        cases.setdefault(case.site, []).append(case)
    made = {}
    for code in sorted(look.sites):
        visits, mine = own.get(code, ()), cases.get(code, [])
        made_from = (nights[code], visits, year.planned_to, code in mending)
        known = look.made.get(code)
        if known is None or known[0] != made_from:
            stay = year.planned_to is not None and code not in mending
            fresh_visits = _site_visits(
                mine, dues, by_wear, visits, nights[code], year.planned_to, stay=stay
            )
            known = look.made[code] = made_from, fresh_visits
        made[code] = known[1]
    return made


def _site_visits(
    mine: Sequence[ZoneCase],
    dues: Mapping[tuple[str, str], tuple[Due, ...]],
    by_wear: Set[tuple[str, str]],
    its_own: Sequence[Visit],
    site: SiteNights,
    planned_to: date | None,
    *,
    stay: bool,
) -> tuple[tuple[Stub, ...], tuple[Unplaced, ...]]:
    """One site's visits: those that stand where they still answer everything, else new ones."""
    surfaces = {case.book.zone.code: case.surface for case in mine}
    kept = kept_site(mine, dues, by_wear, its_own, site, planned_to)
    if kept is None:
        gathered, left = gather([due for case in mine for due in dues[case.key]], site, surfaces)
        stubs = on_offered_nights(gathered, site, surfaces)
        as_they_stand = may_stay(stubs, its_own, site) if stay and not left else None
        return as_they_stand or stubs, left
    stand, added = kept
    taken = {stub.night.on for stub in stand}
    free = replace(site, nights=tuple(n for n in site.nights if n.on not in taken))
    gathered, left = gather(added, free, surfaces)
    return (*stand, *on_offered_nights(gathered, site, surfaces, stand)), left


def survey_branch(year: BranchYear) -> tuple[ZoneOutlook, ...]:
    """Every zone's condition under what stands, by site and zone, without planning anything."""
    return _by_zone(
        outlook
        for fleet, mine, ahead in look_ahead(year)
        for outlook in zone_outlooks(fleet, mine, ahead)
    )


def look_ahead(year: BranchYear) -> Iterator[tuple[Fleet, tuple[ZoneCase, ...], Outlook]]:
    """The zones of each surface, and what happens to them if only what stands is done."""
    nights = {book.site.code: site_nights(year, book) for book in year.books}
    bound = bound_visits(year)
    days = (year.last_on - year.today).days
    for fleet, mine in fleets_of(year, zone_cases(year, nights, bound)):
        yield fleet, tuple(mine), forecast(fleet, mine, days)


def _by_zone(outlooks: Iterable[ZoneOutlook]) -> tuple[ZoneOutlook, ...]:
    return tuple(sorted(outlooks, key=lambda o: (o.site, o.zone)))


def _placed(
    year: BranchYear,
    stubs: Sequence[Stub],
    movable: Sequence[Visit],
    bound: Sequence[Visit],
    nights: Mapping[str, SiteNights],
    surfaces: Mapping[str, dict[str, Surface]],
    travel: Mapping[str, int],
) -> Placed:
    stands = {s: movable[v].night for s, v in match(stubs, movable).items()}
    wanted = [
        Wanted(
            stub=stub,
            stands_on=stands.get(s),
            load=stub.minutes + travel[stub.site],
            site=nights[stub.site],
            surfaces=surfaces[stub.site],
        )
        for s, stub in enumerate(stubs)
    ]
    used: dict[date, int] = {}
    for visit in bound:
        if visit.night > year.today:
            minutes = visit.minutes + travel.get(visit.site, 0)
            used[visit.night] = used.get(visit.night, 0) + minutes
    tomorrow, last = year.today + timedelta(days=1), year.last_on
    rounds = round_minutes(
        year.books, year.surfaces, year.branch, today=year.today, first=tomorrow, last=last
    )
    for on, minutes in rounds.items():
        used[on] = used.get(on, 0) + minutes
    return place_levelled(wanted, year.branch, used)


def _closed_site(year: BranchYear, book: SiteBook, nights: SiteNights) -> list[Finding]:
    if any(n.on <= year.last_on for n in nights.nights):
        return []
    why = site_time(year, book).why_closed(year.today + timedelta(days=1))
    return [
        Finding(
            problem=f"site {book.site.code} has no night open to branch {year.branch.code} until "
            f"{year.last_on}",
            value=why or "its windows fall on nights without a crew",
            allowed="at least one open night",
            mend="look at its access windows, shut days and the branch's nights",
            weight="asks",
        )
    ]
