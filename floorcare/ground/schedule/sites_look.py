"""A branch's sites seen afresh: nights, zones and what they ask for, whatever stands.

It is looked at once and serves every look at the visits that stand.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta

from floorcare.findings import Finding
from floorcare.ground.rules.call_clock import OpenCall, open_calls
from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.cost import STANDARD_COSTS, BranchCosts
from floorcare.ground.rules.opportunity import opportunities
from floorcare.ground.schedule.answers import site_answers
from floorcare.ground.schedule.doubts import (
    keeps_holidays,
    surface_of,
    under_care,
)
from floorcare.ground.schedule.gather import SiteNights, Stub
from floorcare.ground.schedule.outlook import ZoneOutlook, zone_outlooks
from floorcare.ground.schedule.place import crew_minutes
from floorcare.ground.schedule.travel import BY_MAP, Travel
from floorcare.ground.schedule.treated import as_treatments, share_treated
from floorcare.ground.schedule.zone_dues import (
    LOOK_BEYOND_DAYS,
    FreshLook,
    fresh_look,
)
from floorcare.ground.trade.book import SiteBook, ZoneBook
from floorcare.ground.trade.people import CallReceived
from floorcare.ground.trade.site import Branch, Site
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.treatment import WHOLE_ZONE_SHARE
from floorcare.ground.trade.visit import Unplaced, Visit, VisitLine, needs_of
from floorcare.ground.wear.books.meters import NO_METERS, Meters
from floorcare.ground.wear.fleet import Fleet, fit_fleet
from floorcare.ground.wear.pooled import Pooled
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
    pooled : what each surface's zones have in common, by its code; the surface's own where missing.
    meters : the meters readings name, and the bridges between them.
    calls : of these sites, closed ones too.
    keep_notice : what is newly proposed keeps the sites' notice days, unless it presses.
    costs : what work costs the branch, and which contracts pay by the visit.
    travel : the drives between the branch and its sites.
    """

    branch: Branch
    books: tuple[SiteBook, ...]
    surfaces: Mapping[str, Surface]
    standing: tuple[Visit, ...]
    today: date
    last_on: date
    planned_to: date | None = None
    pooled: Mapping[str, Pooled] = field(default_factory=dict)
    meters: Meters = NO_METERS
    keep_notice: bool = False
    calls: tuple[CallReceived, ...] = ()
    costs: BranchCosts = STANDARD_COSTS
    travel: Travel = BY_MAP

    def round_trips(self) -> dict[str, int]:
        """Minutes from the branch to each of its sites and back."""
        return {book.site.code: self.round_trip(book.site) for book in self.books}

    def round_trip(self, site: Site) -> int:
        """Minutes from the branch to a site and back, each way by its own drive."""
        return self.travel.minutes(self.branch, site) + self.travel.minutes(site, self.branch)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SitesLook:
    """Some sites of a branch seen afresh, whatever stands; it serves every look at what stands.

    nights : by site, those of sites nobody looked at too; shared by the looks at one branch.
    cases, fleets, outlooks, findings : of the zones looked at.
    made : by site, what its visits were made from last, and those visits; the same is not made
        again.
    """

    sites: frozenset[str]
    nights: dict[str, SiteNights]
    cases: tuple[ZoneCase, ...]
    fleets: tuple[FreshLook, ...]
    outlooks: tuple[ZoneOutlook, ...]
    findings: tuple[Finding, ...]
    made: dict[str, tuple[object, tuple[tuple[Stub, ...], tuple[Unplaced, ...]]]]


def look_at_sites(
    year: BranchYear,
    sites: Collection[str] | None = None,
    nights: dict[str, SiteNights] | None = None,
) -> SitesLook:
    """What the zones of some sites ask for, or of all, before visits that may move are asked about.

    Parameters
    ----------
    sites : codes; None for every site.
    nights : those known from another look at the branch; what is missing is put in.

    Source: see `fresh_look`.
    """
    books = tuple(b for b in year.books if sites is None or b.site.code in sites)
    nights = {} if nights is None else nights
    for book in books:
        if book.site.code not in nights:
            nights[book.site.code] = site_nights(year, book)
    bound = bound_visits(year)
    fleets, outlooks, findings = [], list[ZoneOutlook](), list[Finding]()
    cases = zone_cases(replace(year, books=books), nights, bound)
    for fleet, mine in fleets_of(year, cases):
        fresh = fresh_look(fleet, mine, year.last_on)
        fleets.append(fresh)
        outlooks.extend(zone_outlooks(fleet, mine, fresh.ahead))
        findings.extend((*fleet.findings, *fresh.findings))
    return SitesLook(
        sites=frozenset(book.site.code for book in books),
        nights=nights,
        cases=tuple(cases),
        fleets=tuple(fleets),
        outlooks=tuple(outlooks),
        findings=tuple(findings),
        made={},
    )


def site_time(year: BranchYear, book: SiteBook) -> SiteTime:
    """The working time of a site over the plan's years."""
    names: dict[date, str] = {}
    if keeps_holidays(book):
        years = known_years(book.site.country, _years(year))
        names = public_holidays(book.site.country, book.site.region, years)
    return SiteTime(
        zone=book.site.time_zone,
        windows=book.site.windows,
        shut=book.site.shut_days,
        holidays=names,
    )


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
        visit_minutes=longest - year.round_trip(book.site),
        answers=site_answers(book, year.standing, today=year.today, keep_notice=year.keep_notice),
    )


def nights_beside(year: BranchYear, nights: dict[str, SiteNights]) -> dict[str, SiteNights]:
    """The nights of every site of the branch beside what stands.

    Parameters
    ----------
    nights : those known from a look; what is missing is put in.
    """
    for book in year.books:
        if book.site.code not in nights:
            nights[book.site.code] = site_nights(year, book)
    return {
        book.site.code: replace(
            nights[book.site.code],
            answers=site_answers(
                book, year.standing, today=year.today, keep_notice=year.keep_notice
            ),
        )
        for book in year.books
    }


def bound_visits(year: BranchYear) -> tuple[Visit, ...]:
    """Visits no plan may move: those that stand, tonight's, and those a week gave to a crew."""
    return tuple(v for v in year.standing if v.stands or v.night <= year.today or is_given(year, v))


def _is_part(book: SiteBook, line: VisitLine, on: date) -> bool:
    """Whether a line treats only a part of its zone."""
    zone = book.zone(line.zone)
    span = zone.zone.span_about(on) if zone is not None else None
    return share_treated(line.area_m2, span.area_m2 if span else None) < WHOLE_ZONE_SHARE


def is_given(year: BranchYear, visit: Visit) -> bool:
    """Whether a week gave a visit to a crew and its night still takes it: people were told.

    One night of a longer work is left to the plan, which keeps its nights together; it is put where
    it stands as long as that can be.
    """
    if not visit.crew:
        return False
    book = next((one for one in year.books if one.site.code == visit.site), None)
    if book is None or any(_is_part(book, line, visit.night) for line in visit.lines):
        return False
    ends = visit.starts_minute + visit.minutes
    needs = needs_of(visit.lines)
    return any(
        needs <= night.permits
        and night.starts_minute <= visit.starts_minute
        # by the wall clock: where it changes, a visit may end an hour off and is looked at again
        and ends <= night.ends_minute
        for night in site_time(year, book).nights(visit.night, visit.night)
    )


def zone_cases(
    year: BranchYear, nights: Mapping[str, SiteNights], bound: Sequence[Visit]
) -> list[ZoneCase]:
    return [
        _case(year, book, zone, nights[book.site.code], bound)
        for book in year.books
        for zone in book.zones
        if under_care(zone, year.today) and surface_of(zone, year.today) in year.surfaces
    ]


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
        nights=tuple(sorted({night.on for night in nights.nights})),
        calls=_open_calls(year, book, zone, nights),
        costs=year.costs,
    )


def _open_calls(
    year: BranchYear, book: SiteBook, zone: ZoneBook, nights: SiteNights
) -> tuple[OpenCall, ...]:
    mine = [call for call in year.calls if call.site == book.site.code and call.closed_at is None]
    if not mine:
        return ()
    # the clock of an old call ran over holidays of its own year
    oldest = min(call.received_at.date() for call in mine)
    time = site_time(replace(year, today=min(oldest, year.today)), book)
    return open_calls(mine, book.site.code, zone, time, nights.nights)


def fleets_of(
    year: BranchYear, cases: Sequence[ZoneCase]
) -> Iterator[tuple[Fleet, list[ZoneCase]]]:
    """The zones of each surface, with what their readings say."""
    for code in sorted({case.surface.code for case in cases}):
        mine = [case for case in cases if case.surface.code == code]
        zones = [(case.site, case.book) for case in mine]
        pooled = year.pooled.get(code)
        fleet = fit_fleet(zones, year.surfaces[code], year.today, pooled=pooled, meters=year.meters)
        yield fleet, mine


def surfaces_by_zone(year: BranchYear) -> dict[str, dict[str, Surface]]:
    """The surface of each zone under care, by site and zone code."""
    return {
        book.site.code: {
            zone.zone.code: year.surfaces[surface_of(zone, year.today)]
            for zone in book.zones
            if under_care(zone, year.today) and surface_of(zone, year.today) in year.surfaces
        }
        for book in year.books
    }
