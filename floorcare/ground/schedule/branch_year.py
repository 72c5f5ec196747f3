"""A branch's year: books in, visits out. Pure; the service around it loads and saves.

Each site is walked and gathered on its own, what the gathering moved is walked once more from the
moved night, and only then do the sites of a branch meet, at its crews' capacity.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from floorcare.findings import Finding
from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.catalogue import calendar_dues, with_retests
from floorcare.ground.rules.opportunity import opportunities
from floorcare.ground.rules.wear_dues import Outlook, forecast, walked_dues
from floorcare.ground.schedule.difference import match
from floorcare.ground.schedule.gather import SiteNights, Stub, gather
from floorcare.ground.schedule.keeping import SLACK, WALKED_RULES, standing_dues, still_good
from floorcare.ground.schedule.outlook import ZoneOutlook, zone_outlooks
from floorcare.ground.schedule.place import Placed, Wanted, place
from floorcare.ground.schedule.travel import travel_minutes
from floorcare.ground.trade.book import SiteBook, TreatmentDone, ZoneBook
from floorcare.ground.trade.routine import Performer
from floorcare.ground.trade.site import Branch
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.visit import Due, Unplaced, Visit, VisitState
from floorcare.ground.wear.fleet import Fleet, fit_fleet
from floorcare.ground.wear.from_books import routine_dates, runs_by_itself
from floorcare.ground.work.minutes import line_minutes
from floorcare.ground.worktime.holidays import public_holidays
from floorcare.ground.worktime.site_time import SiteTime

LOOK_BEYOND_DAYS = 14
"""The walk goes a fortnight past the horizon, so that its last opportunities look ahead too."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BranchYear:
    """What one branch's plan is made of.

    books : sites it serves today, sorted by code.
    surfaces : by code.
    standing : visits of these sites that are not cancelled and lie today or later.
    today, last_on : the plan's day and the last day of its horizon.
    """

    branch: Branch
    books: tuple[SiteBook, ...]
    surfaces: Mapping[str, Surface]
    standing: tuple[Visit, ...]
    today: date
    last_on: date


@dataclass(frozen=True, slots=True, kw_only=True)
class Decision:
    """What a branch's year came to.

    stubs : visits on their nights; movable : the standing visits they may continue.
    """

    stubs: tuple[Stub, ...]
    movable: tuple[Visit, ...]
    unplaced: tuple[Unplaced, ...]
    people: dict[str, int]
    outlooks: tuple[ZoneOutlook, ...]
    findings: tuple[Finding, ...]
    over_before: int
    over_after: int


def site_time(year: BranchYear, book: SiteBook) -> SiteTime:
    """The working time of a site over the plan's years."""
    years = range(year.today.year, year.last_on.year + 2)
    shut = book.site.holidays == "shut" and book.site.country
    names = public_holidays(book.site.country, book.site.region, years) if shut else {}
    return SiteTime(
        zone=book.site.time_zone,
        windows=book.site.windows,
        shut=book.site.shut_days,
        holidays=names,
    )


def site_nights(year: BranchYear, book: SiteBook) -> SiteNights:
    """The nights a branch can work a site, from tomorrow to a little past the horizon."""
    nights = site_time(year, book).nights(
        year.today + timedelta(days=1), year.last_on + timedelta(days=LOOK_BEYOND_DAYS)
    )
    branch = year.branch
    return SiteNights(
        site=book.site.code,
        nights=tuple(n for n in nights if n.on.weekday() in branch.weekdays),
        people=branch.crew_size,
        visit_minutes=branch.shift_minutes - 2 * travel_minutes(branch, book.site),
    )


def decide_branch(year: BranchYear) -> Decision:
    """Plan a branch's year.

    Returns
    -------
    Visits on their nights, what found none and why, and every zone's outlook.

    Source: design of the walk, the gathering and the placing, see the modules named.
    """
    nights = {book.site.code: site_nights(year, book) for book in year.books}
    bound = tuple(v for v in year.standing if v.stands or v.night <= year.today)
    movable = tuple(
        v
        for v in year.standing
        if v.night > year.today and not v.stands and v.state is VisitState.PROPOSED
    )
    cases = _cases(year, nights, bound)
    dues: dict[tuple[str, str], tuple[Due, ...]] = {}
    outlooks: list[ZoneOutlook] = []
    findings: list[Finding] = []
    for fleet, mine in _fleets(year, cases):
        of_surface, ahead = _surface_dues(year, fleet, mine, nights, movable)
        dues.update(of_surface)
        outlooks.extend(zone_outlooks(fleet, mine, ahead))
        findings.extend(fleet.findings)
    stubs: list[Stub] = []
    unplaced: list[Unplaced] = []
    surface_of = {case.key: case.surface for case in cases}
    for book in year.books:
        code = book.site.code
        owed = [due for key, of_zone in dues.items() if key[0] == code for due in of_zone]
        zones = {key[1]: s for key, s in surface_of.items() if key[0] == code}
        found, left = gather(owed, nights[code], zones)
        stubs.extend(found)
        unplaced.extend(left)
        findings.extend(_closed_site(year, book, nights[code]))
    placed = _placed(year, stubs, movable, bound, nights, surface_of)
    return Decision(
        stubs=placed.stubs,
        movable=movable,
        unplaced=(*unplaced, *placed.unplaced),
        people={book.site.code: year.branch.crew_size for book in year.books},
        outlooks=_by_zone(outlooks),
        findings=tuple(findings),
        over_before=placed.over_before,
        over_after=placed.over_after,
    )


def survey_branch(year: BranchYear) -> tuple[ZoneOutlook, ...]:
    """Every zone's condition under what stands, by site and zone, without planning anything."""
    nights = {book.site.code: site_nights(year, book) for book in year.books}
    bound = tuple(v for v in year.standing if v.stands or v.night <= year.today)
    days = (year.last_on - year.today).days
    return _by_zone(
        outlook
        for fleet, mine in _fleets(year, _cases(year, nights, bound))
        for outlook in zone_outlooks(fleet, mine, forecast(fleet, mine, days))
    )


def _by_zone(outlooks: Iterable[ZoneOutlook]) -> tuple[ZoneOutlook, ...]:
    return tuple(sorted(outlooks, key=lambda o: (o.site, o.zone)))


def _cases(
    year: BranchYear, nights: Mapping[str, SiteNights], bound: Sequence[Visit]
) -> list[ZoneCase]:
    return [
        _case(year, book, zone, nights[book.site.code], bound)
        for book in year.books
        for zone in book.zones
        if _under_care(zone, year.today)
    ]


def _under_care(zone: ZoneBook, today: date) -> bool:
    return zone.zone.ends_on is None or zone.zone.ends_on >= today


def _case(
    year: BranchYear, book: SiteBook, zone: ZoneBook, nights: SiteNights, bound: Sequence[Visit]
) -> ZoneCase:
    span = zone.zone.span_on(year.today) or zone.zone.spans[0]
    standing = tuple(
        TreatmentDone(
            work=line.work,
            done_on=visit.night,
            share=_share(line.area_m2, span.area_m2),
            visit=visit.uuid,
        )
        for visit in bound
        if visit.site == book.site.code and visit.night >= year.today
        for line in visit.lines
        if line.zone == zone.zone.code
    )
    # tonight's crews are on their way: what stands for tonight counts as done
    tonight = tuple(t for t in standing if t.done_on == year.today)
    return ZoneCase(
        site=book.site.code,
        book=replace(zone, done=(*zone.done, *tonight)),
        area=book.spoken(zone.zone),
        surface=year.surfaces[span.surface],
        today=year.today,
        last_on=year.last_on,
        opportunities=opportunities(book.site.code, nights.nights, year.branch.weekdays),
        standing=standing,
    )


def _share(part_m2: float | None, zone_m2: float | None) -> float:
    if part_m2 is None or zone_m2 is None:
        return 1.0  # nobody measured it, so nobody can say it was only a part
    return min(1.0, max(0.001, part_m2 / zone_m2))


def _fleets(year: BranchYear, cases: Sequence[ZoneCase]) -> Iterator[tuple[Fleet, list[ZoneCase]]]:
    """The zones of each surface, with what their readings say."""
    for code in sorted({case.surface.code for case in cases}):
        mine = [case for case in cases if case.surface.code == code]
        zones = [(case.site, case.book) for case in mine]
        yield fit_fleet(zones, year.surfaces[code], year.today), mine


def _surface_dues(
    year: BranchYear,
    fleet: Fleet,
    cases: Sequence[ZoneCase],
    nights: Mapping[str, SiteNights],
    movable: Sequence[Visit],
) -> tuple[dict[tuple[str, str], tuple[Due, ...]], Outlook]:
    by_wear = [z for z, case in enumerate(cases) if case.by_wear and fleet.measured[z]]
    calendar = {z: calendar_dues(case, by_wear=z in by_wear) for z, case in enumerate(cases)}
    days = (year.last_on - year.today).days + LOOK_BEYOND_DAYS
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
        kept = still_good(stands, walked[z], year.today)
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
    return {case.key: both[z] for z, case in enumerate(cases)}, ahead


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


def _placed(
    year: BranchYear,
    stubs: Sequence[Stub],
    movable: Sequence[Visit],
    bound: Sequence[Visit],
    nights: Mapping[str, SiteNights],
    surface_of: Mapping[tuple[str, str], Surface],
) -> Placed:
    stands = {s: movable[v].night for s, v in match(stubs, movable).items()}
    travel = {b.site.code: 2 * travel_minutes(year.branch, b.site) for b in year.books}
    wanted = [
        Wanted(
            stub=stub,
            stands_on=stands.get(s),
            load=stub.minutes + travel[stub.site],
            site=nights[stub.site],
            surfaces={key[1]: surf for key, surf in surface_of.items() if key[0] == stub.site},
        )
        for s, stub in enumerate(stubs)
    ]
    used: dict[date, int] = {}
    for visit in bound:
        if visit.night > year.today:
            minutes = visit.minutes + travel.get(visit.site, 0)
            used[visit.night] = used.get(visit.night, 0) + minutes
    for on, minutes in _round_minutes(year).items():
        used[on] = used.get(on, 0) + minutes
    return place(wanted, year.branch, used)


def _round_minutes(year: BranchYear) -> dict[date, int]:
    """Crew-minutes of our own standing rounds by night, shared by one crew."""
    minutes: dict[date, int] = {}
    tomorrow = year.today + timedelta(days=1)
    for book in year.books:
        for zone in book.zones:
            for routine in zone.routines:
                if routine.performer is not Performer.US or not runs_by_itself(routine):
                    continue
                span = zone.zone.span_on(year.today)
                if span is None:
                    continue
                rung = year.surfaces[span.surface].rung(routine.work)
                each = routine.minutes
                if each is None:
                    each = line_minutes(rung, span.area_m2).minutes if rung else 30
                for on in routine_dates(routine, tomorrow, year.last_on):
                    minutes[on] = minutes.get(on, 0) + -(-each // year.branch.crew_size)
    return minutes


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
