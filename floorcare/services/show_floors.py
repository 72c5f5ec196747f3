"""The condition of every zone: read, estimated, promised, and what comes next."""

from collections.abc import Mapping
from datetime import date, timedelta
from math import isinf

from floorcare.ground.schedule.branch_year import BranchYear, survey_branch
from floorcare.ground.schedule.outlook import ZoneOutlook
from floorcare.ground.trade.book import SiteBook, ZoneBook
from floorcare.ground.trade.site import Branch
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.treatment import TREATMENTS
from floorcare.ground.trade.visit import Visit, VisitLine, VisitState
from floorcare.services.sheets import ConditionRow, ConditionTable
from floorcare.store.open import Store

LOOK_WEEKS = 52


def show_floors(
    store: Store, surfaces: Mapping[str, Surface], *, today: date
) -> tuple[ConditionTable, ...]:
    """A condition table for each branch, rows by site and zone."""
    with store.work() as work:
        branches = work.branches()
        books = work.books()
        visits = tuple(v for v in work.visits(first=today) if v.state is not VisitState.CANCELLED)
    return tuple(_table(branch, books, visits, surfaces, today) for branch in branches)


def _table(
    branch: Branch,
    books: tuple[SiteBook, ...],
    visits: tuple[Visit, ...],
    surfaces: Mapping[str, Surface],
    today: date,
) -> ConditionTable:
    mine = tuple(b for b in books if b.site.branch_on(today) == branch.code)
    by_code = {b.site.code: b for b in mine}
    year = BranchYear(
        branch=branch,
        books=mine,
        surfaces=surfaces,
        standing=tuple(v for v in visits if v.site in by_code),
        today=today,
        last_on=today + timedelta(weeks=LOOK_WEEKS),
    )
    coming: dict[tuple[str, str], tuple[Visit, VisitLine]] = {}
    for visit in year.standing:
        for line in visit.lines:
            if line.work in TREATMENTS:
                coming.setdefault((visit.site, line.zone), (visit, line))
    rows = []
    for outlook in survey_branch(year):
        book = by_code[outlook.site]
        zone = book.zone(outlook.zone)
        if zone is not None:
            following = coming.get((outlook.site, outlook.zone))
            rows.append(_row(book, zone, outlook, following, surfaces, today))
    return ConditionTable(
        contractor="", branch=branch.name, on=today, rows=tuple(rows), units=branch.units
    )


def _row(
    book: SiteBook,
    zone: ZoneBook,
    outlook: ZoneOutlook,
    following: tuple[Visit, VisitLine] | None,
    surfaces: Mapping[str, Surface],
    today: date,
) -> ConditionRow:
    span = zone.zone.span_on(today) or zone.zone.spans[-1]
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
        evidence="guarded, slip" if outlook.guarded else outlook.evidence.value,
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
