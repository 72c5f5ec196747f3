"""A branch's year: books in, visits out. Pure; the service around it loads and saves.

Each site is walked and gathered on its own, what the gathering moved is walked once more from the
moved night, and only then do the sites of a branch meet, at its crews' capacity.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, replace
from datetime import date, timedelta

from floorcare.findings import Finding
from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.opportunity import opportunities
from floorcare.ground.rules.wear_dues import Outlook, forecast
from floorcare.ground.schedule.difference import match
from floorcare.ground.schedule.gather import SiteNights, Stub, gather
from floorcare.ground.schedule.outlook import ZoneOutlook, zone_outlooks
from floorcare.ground.schedule.place import Placed, Wanted, crew_minutes, place
from floorcare.ground.schedule.standing import kept_site
from floorcare.ground.schedule.travel import travel_minutes
from floorcare.ground.schedule.zone_dues import LOOK_BEYOND_DAYS, dues_of_fleet
from floorcare.ground.trade.book import SiteBook, TreatmentDone, ZoneBook
from floorcare.ground.trade.routine import Performer
from floorcare.ground.trade.site import Branch
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.visit import Due, Unplaced, Visit, VisitState
from floorcare.ground.wear.fleet import Fleet, fit_fleet
from floorcare.ground.wear.from_books import routine_dates, runs_by_itself
from floorcare.ground.work.minutes import (
    ASSUMED_MINUTES,
    PLAIN_MINUTES,
    SETUP_MINUTES,
    line_minutes,
)
from floorcare.ground.worktime.holidays import known_years, public_holidays
from floorcare.ground.worktime.site_time import SiteTime

LOOK_WEEKS = 52
"""How far ahead floors are looked at where nothing is planned."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BranchYear:
    """What one branch's plan is made of.

    books : sites it serves today, sorted by code.
    surfaces : by code.
    standing : visits of these sites that are not cancelled and lie today or later.
    today, last_on : the plan's day and the last day of its horizon.
    planned_to : end of the horizon of the plan that stands, None before the first.
    """

    branch: Branch
    books: tuple[SiteBook, ...]
    surfaces: Mapping[str, Surface]
    standing: tuple[Visit, ...]
    today: date
    last_on: date
    planned_to: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Decision:
    """What a branch's year came to.

    stubs : visits on their nights; movable : the standing visits they may continue.
    over_before, over_after : crew-minutes above the nights' capacity before and after placing.
    saved_minutes : travel and set-up saved against a visit for each work.
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


def site_time(year: BranchYear, book: SiteBook) -> SiteTime:
    """The working time of a site over the plan's years."""
    names: dict[date, str] = {}
    if _keeps_holidays(book):
        years = known_years(book.site.country, _years(year))
        names = public_holidays(book.site.country, book.site.region, years)
    return SiteTime(
        zone=book.site.time_zone,
        windows=book.site.windows,
        shut=book.site.shut_days,
        holidays=names,
    )


def _keeps_holidays(book: SiteBook) -> bool:
    return book.site.holidays == "shut" and book.site.country != ""


def _years(year: BranchYear) -> range:
    return range(year.today.year, year.last_on.year + 2)


def site_nights(year: BranchYear, book: SiteBook) -> SiteNights:
    """The nights a branch can work a site, from tomorrow to a little past the horizon."""
    nights = site_time(year, book).nights(
        year.today + timedelta(days=1), year.last_on + timedelta(days=LOOK_BEYOND_DAYS)
    )
    branch = year.branch
    # the reserve for calls may leave less of a night than one crew's shift
    longest = min(branch.shift_minutes, crew_minutes(branch) or branch.shift_minutes)
    return SiteNights(
        site=book.site.code,
        nights=tuple(
            n
            for n in nights
            if n.on.weekday() in branch.weekdays and book.site.branch_on(n.on) != ""
        ),
        people=branch.crew_size,
        visit_minutes=longest - 2 * travel_minutes(branch, book.site),
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
    movable = _movable(year)
    cases = _cases(year, nights, bound)
    dues: dict[tuple[str, str], tuple[Due, ...]] = {}
    outlooks: list[ZoneOutlook] = []
    findings = [f for book in year.books for f in _closed_site(year, book, nights[book.site.code])]
    findings += _unknown_holidays(year)
    by_wear: set[tuple[str, str]] = set()
    for fleet, mine in _fleets(year, cases):
        found = dues_of_fleet(fleet, mine, nights, movable, year.last_on)
        dues.update(found.dues)
        by_wear |= found.by_wear
        outlooks.extend(zone_outlooks(fleet, mine, found.outlook))
        findings.extend((*fleet.findings, *found.findings))
    stubs: list[Stub] = []
    unplaced: list[Unplaced] = []
    for book in year.books:
        site = nights[book.site.code]
        gathered, left = _site_visits(year, site, cases, dues, by_wear, movable)
        stubs.extend(gathered)
        unplaced.extend(left)
    travel = {b.site.code: 2 * travel_minutes(year.branch, b.site) for b in year.books}
    surfaces: dict[str, dict[str, Surface]] = {}
    for case in cases:
        surfaces.setdefault(case.site, {})[case.book.zone.code] = case.surface
    placed = _placed(year, stubs, movable, bound, nights, surfaces, travel)
    return Decision(
        stubs=placed.stubs,
        movable=movable,
        unplaced=(*unplaced, *placed.unplaced),
        people={book.site.code: year.branch.crew_size for book in year.books},
        outlooks=_by_zone(outlooks),
        findings=tuple(findings),
        over_before=placed.over_before,
        over_after=placed.over_after,
        saved_minutes=sum(
            (len(stub.lines) - 1) * (SETUP_MINUTES + travel[stub.site]) for stub in placed.stubs
        ),
    )


def _movable(year: BranchYear) -> tuple[Visit, ...]:
    """Proposed visits a plan may move: of nights to come, and of this horizon's business."""
    return tuple(
        v
        for v in year.standing
        if v.night > year.today
        and not v.stands
        and v.state is VisitState.PROPOSED
        # what fell due after this horizon is another plan's business
        and min(line.due.target for line in v.lines) <= year.last_on
    )


def _site_visits(
    year: BranchYear,
    site: SiteNights,
    cases: Sequence[ZoneCase],
    dues: Mapping[tuple[str, str], tuple[Due, ...]],
    by_wear: Set[tuple[str, str]],
    movable: Sequence[Visit],
) -> tuple[tuple[Stub, ...], tuple[Unplaced, ...]]:
    """One site's visits: those that stand where they still answer everything, else new ones."""
    mine = [case for case in cases if case.site == site.site]
    its_own = [visit for visit in movable if visit.site == site.site]
    surfaces = {case.book.zone.code: case.surface for case in mine}
    kept = kept_site(mine, dues, by_wear, its_own, site, year.planned_to)
    if kept is None:
        return gather([due for case in mine for due in dues[case.key]], site, surfaces)
    stand, added = kept
    taken = {stub.night.on for stub in stand}
    free = replace(site, nights=tuple(n for n in site.nights if n.on not in taken))
    gathered, left = gather(added, free, surfaces)
    return (*stand, *gathered), left


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
    bound = tuple(v for v in year.standing if v.stands or v.night <= year.today)
    days = (year.last_on - year.today).days
    for fleet, mine in _fleets(year, _cases(year, nights, bound)):
        yield fleet, tuple(mine), forecast(fleet, mine, days)


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
    key = book.site.code, zone.zone.code
    standing = as_treatments(bound, key, span.area_m2, year.today)
    ends = (zone.zone.ends_on, book.site.branches[-1].to_on)
    ends_on = min((on for on in ends if on is not None), default=None)
    # tonight's crews are on their way: what stands for tonight counts as done
    tonight = tuple(t for t in standing if t.done_on == year.today)
    return ZoneCase(
        site=book.site.code,
        book=replace(zone, done=(*zone.done, *tonight), seasons=book.seasons),
        area=book.spoken(zone.zone),
        surface=year.surfaces[span.surface],
        today=year.today,
        last_on=min(year.last_on, ends_on or year.last_on),
        ends_on=ends_on,
        opportunities=opportunities(book.site.code, nights.nights, year.branch.weekdays),
        first_open=nights.nights[0].on if nights.nights else year.today + timedelta(days=1),
        standing=standing,
    )


def as_treatments(
    visits: Iterable[Visit], zone: tuple[str, str], zone_m2: float | None, today: date
) -> tuple[TreatmentDone, ...]:
    """A zone's lines of visits from today on, as if they were done on their nights.

    zone : site and code.
    zone_m2 : the zone's area, None where nobody measured it.
    """
    return tuple(
        TreatmentDone(
            work=line.work,
            done_on=visit.night,
            share=share_treated(line.area_m2, zone_m2),
            visit=visit.uuid,
        )
        for visit in visits
        if visit.site == zone[0] and visit.night >= today
        for line in visit.lines
        if line.zone == zone[1]
    )


def share_treated(part_m2: float | None, zone_m2: float | None) -> float:
    """Share of a zone that a line treats, above 0 up to 1."""
    if part_m2 is None or zone_m2 is None:
        return 1.0  # nobody measured it, so nobody can say it was only a part
    return min(1.0, max(0.001, part_m2 / zone_m2))


def _fleets(year: BranchYear, cases: Sequence[ZoneCase]) -> Iterator[tuple[Fleet, list[ZoneCase]]]:
    """The zones of each surface, with what their readings say."""
    for code in sorted({case.surface.code for case in cases}):
        mine = [case for case in cases if case.surface.code == code]
        zones = [(case.site, case.book) for case in mine]
        yield fit_fleet(zones, year.surfaces[code], year.today), mine


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
                    plain = PLAIN_MINUTES.get(routine.work, ASSUMED_MINUTES)
                    each = line_minutes(rung, span.area_m2).minutes if rung else plain
                for on in routine_dates(routine, tomorrow, year.last_on):
                    minutes[on] = minutes.get(on, 0) + -(-each // year.branch.crew_size)
    return minutes


def _unknown_holidays(year: BranchYear) -> list[Finding]:
    """Countries whose public holidays are not known to the end of the horizon, once each."""
    sites: dict[str, list[str]] = {}
    for book in year.books:
        if _keeps_holidays(book):
            sites.setdefault(book.site.country, []).append(book.site.code)
    wanted = range(year.today.year, year.last_on.year + 1)
    return [
        Finding(
            problem=f"public holidays of {country} are not known for {', '.join(map(str, lacking))}"
            f", so {', '.join(codes)} are planned as if there were none",
            allowed="a year of the table",
            mend="enter those days as shut days",
            weight="asks",
        )
        for country, codes in sorted(sites.items())
        if (lacking := sorted(set(wanted) - set(known_years(country, wanted))))
    ]


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
