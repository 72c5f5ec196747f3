"""One branch's year out of everybody's books and visits."""

from collections.abc import Iterable, Mapping
from datetime import date, timedelta

from floorcare.ground.rules.cost import STANDARD_COSTS, BranchCosts
from floorcare.ground.schedule.branch_year import LOOK_WEEKS, BranchYear
from floorcare.ground.schedule.travel import Travel
from floorcare.ground.trade.book import SiteBook
from floorcare.ground.trade.people import CallReceived
from floorcare.ground.trade.site import Branch, TravelLeg
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.visit import Visit, VisitState
from floorcare.ground.wear.books.meters import NO_METERS, Meters
from floorcare.ground.wear.books.site_year import with_site_year
from floorcare.ground.wear.pooled import Pooled


def year_of(
    branch: Branch,
    *,
    books: Iterable[SiteBook],
    visits: Iterable[Visit],
    surfaces: Mapping[str, Surface],
    pooled: Mapping[str, Pooled],
    meters: Meters = NO_METERS,
    calls: Iterable[CallReceived] = (),
    keep_notice: bool = False,
    costs: BranchCosts = STANDARD_COSTS,
    legs: Iterable[TravelLeg] = (),
    today: date,
    last_on: date | None = None,
    planned_to: date | None = None,
) -> BranchYear:
    """The year of a branch: the sites it serves today and what stands there from today on.

    Parameters
    ----------
    books, visits, calls : of any sites, cancelled visits, past ones and closed calls too.
    surfaces, pooled : by the surface's code.
    meters : the meters readings name, and the bridges between them.
    last_on : None for as far as floors are looked at where nothing is planned.
    planned_to : end of the horizon of the plan that stands.
    keep_notice : new proposals keep the sites' notice days. legs : typed drives, of any branch.
    """
    mine = tuple(
        with_site_year(book, today) for book in books if book.site.branch_on(today) == branch.code
    )
    sites = {book.site.code for book in mine}
    return BranchYear(
        branch=branch,
        books=mine,
        surfaces=surfaces,
        standing=tuple(v for v in visits if v.site in sites and _still_stands(v, today)),
        today=today,
        last_on=last_on or today + timedelta(weeks=LOOK_WEEKS),
        planned_to=planned_to,
        pooled=pooled,
        meters=meters,
        calls=tuple(call for call in calls if call.site in sites),
        keep_notice=keep_notice,
        costs=costs,
        travel=Travel.of(branch.code, legs),
    )


def _still_stands(visit: Visit, today: date) -> bool:
    return visit.night >= today and visit.state is not VisitState.CANCELLED
