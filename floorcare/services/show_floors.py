"""The condition of every zone: read, estimated, promised, and what comes next."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date
from math import isinf

from floorcare.errors import NotKnown
from floorcare.ground.schedule.branch_year import LOOK_WEEKS, BranchYear, look_ahead
from floorcare.ground.schedule.outlook import ZoneOutlook, zone_outlooks
from floorcare.ground.schedule.years import year_of
from floorcare.ground.schedule.zone_course import FloorToday, floors_today, zone_courses
from floorcare.ground.trade.book import SiteBook, ZoneBook
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.treatment import TREATMENTS
from floorcare.ground.trade.visit import Visit, VisitLine
from floorcare.ground.wear.fleet import Fleet
from floorcare.ground.wear.watch.fleet_alarms import alarms_of
from floorcare.services.sheets import ConditionRow, ConditionTable, GlossBand, ZoneChart
from floorcare.store.open import Store


def show_floors(
    store: Store,
    surfaces: Mapping[str, Surface],
    *,
    today: date,
    sites: Sequence[str] = (),
    zone: str = "",
    charts: bool = False,
) -> tuple[ConditionTable, ...]:
    """A condition table for each branch, rows by site and zone.

    Parameters
    ----------
    sites : only these; all where none is named.
    zone : only this one, as SITE/ZONE.
    charts : make the course of every zone as well.

    Raises
    ------
    NotKnown : there is no such site or zone under care.
    """
    with store.work() as work:
        branches = work.branches()
        books = work.books()
        visits = work.visits(first=today)
        pooled, meters = work.pooled(), work.meters()
    books = _asked_for(books, sites, zone)
    years = (
        year_of(
            branch,
            books=books,
            visits=visits,
            surfaces=surfaces,
            pooled=pooled,
            meters=meters,
            today=today,
        )
        for branch in branches
    )
    tables = (_table(year, charts) for year in years)
    asked = bool(sites or zone)
    found = tuple(table for table in tables if table.rows or not asked)
    if asked and not found:
        raise NotKnown(f"No zone of {zone or ', '.join(sites)} is under care on {today}.")
    return found


def _asked_for(
    books: tuple[SiteBook, ...], sites: Sequence[str], zone: str
) -> tuple[SiteBook, ...]:
    of_zone, _, code = zone.partition("/")
    wanted = {*sites, *([of_zone] if zone else [])}
    known = {book.site.code: book for book in books}
    for site in sorted(wanted - set(known)):
        raise NotKnown(f'There is no site "{site}"; there are {", ".join(sorted(known))}.')
    if not wanted:
        return books
    if not zone:
        return tuple(book for book in books if book.site.code in wanted)
    book = known[of_zone]
    chosen = tuple(z for z in book.zones if z.zone.code == code)
    if not chosen:
        there = ", ".join(z.zone.code for z in book.zones)
        raise NotKnown(f'Site {of_zone} has no zone "{code}"; it has {there}.')
    return (replace(book, zones=chosen),)


def _table(year: BranchYear, charts: bool) -> ConditionTable:
    by_code = {b.site.code: b for b in year.books}
    surfaces, today = year.surfaces, year.today
    coming = _coming(year.standing)
    rows: list[ConditionRow] = []
    drawn: list[ZoneChart] = []
    fleets: list[Fleet] = []
    for fleet, cases, ahead in look_ahead(year):
        fleets.append(fleet)
        looks = zip(
            cases, zone_outlooks(fleet, cases, ahead), floors_today(fleet, ahead), strict=True
        )
        made = [
            _row(by_code[case.site], case.book, look, floor, coming.get(case.key), surfaces, today)
            for case, look, floor in looks
        ]
        rows.extend(made)
        if charts:
            courses = zone_courses(fleet, cases, ahead, year.standing)
            drawn.extend(
                ZoneChart(row=row, course=course) for row, course in zip(made, courses, strict=True)
            )
    return ConditionTable(
        contractor="",
        branch=year.branch.name,
        on=today,
        rows=tuple(sorted(rows, key=lambda r: r.zone.split("/"))),
        units=year.branch.units,
        charts=tuple(sorted(drawn, key=lambda c: c.row.zone.split("/"))),
        alarms=alarms_of(fleets, year.pooled),
    )


def _coming(visits: Sequence[Visit]) -> dict[tuple[str, str], tuple[Visit, VisitLine]]:
    """The next treatment of every zone that has one planned."""
    coming: dict[tuple[str, str], tuple[Visit, VisitLine]] = {}
    for visit in visits:
        for line in visit.lines:
            if line.work in TREATMENTS:
                coming.setdefault((visit.site, line.zone), (visit, line))
    return coming


def _row(
    book: SiteBook,
    zone: ZoneBook,
    outlook: ZoneOutlook,
    floor: FloorToday,
    following: tuple[Visit, VisitLine] | None,
    surfaces: Mapping[str, Surface],
    today: date,
) -> ConditionRow:
    span = zone.zone.span_about(today)
    share = None
    if outlook.gloss_gu is not None and outlook.reference_gu:
        share = outlook.gloss_gu / outlook.reference_gu
    counted = any(t.counted for t in zone.traffic)
    return ConditionRow(
        zone=f"{outlook.site}/{outlook.zone}",
        zone_name=zone.zone.name,
        area_name=book.area_name(zone.zone),
        surface=surfaces[span.surface].name,
        area_m2=span.area_m2,
        traffic=f"{span.traffic.value}, {'counted' if counted else 'by level'}",
        evidence="guarded for slip" if outlook.guarded else outlook.evidence.value,
        reading_gu=outlook.read_gu,
        reading_on=outlook.read_on,
        gloss_gu=outlook.gloss_gu,
        low_gu=outlook.low_gu,
        high_gu=outlook.high_gu,
        promise_gu=outlook.promise_gu,
        share=share,
        next_work=following[1].work.value if following else "",
        next_night=following[0].night if following else None,
        nights_to_promise=nights_said(outlook),
        reason=following[1].due.reason.inside if following else "",
        haze=floor.haze,
        film=floor.film,
        scratch=floor.scratch,
        haze_times=floor.haze_times,
        wear_times=floor.wear_times,
        bands=tuple(
            GlossBand(level=level, low_gu=low, high_gu=high) for level, low, high in floor.bands
        ),
    )


def nights_said(outlook: ZoneOutlook) -> str:
    """Nights until the promise breaks under the routine alone, in words; "–" where not forecast."""
    early, middle, late = outlook.early_days, outlook.median_days, outlook.late_days
    if early is None or middle is None or late is None:
        return "–"
    if isinf(early):
        return f"over {LOOK_WEEKS * 7}"
    if early <= 1 and middle <= 1:
        return "now"
    if isinf(late):
        return f"from {early:.0f}"
    return f"{early:.0f} to {late:.0f}"
