"""A small branch whose zones are compared, shared by the tests of the comparison."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

from floorcare.ground.schedule.branch_year import BranchYear
from floorcare.ground.schedule.comparison.compare import Comparison, compare
from floorcare.ground.schedule.comparison.cost import prices_of, visit_costs
from floorcare.ground.schedule.comparison.parts import Apart, Part, laid_out
from floorcare.ground.trade.book import SiteBook, ZoneBook
from floorcare.ground.trade.equipment import Rate, RateKind
from floorcare.ground.trade.routine import Performer
from floorcare.ground.trade.traffic import TrafficLevel
from floorcare.ground.trade.treatment import Work
from tests.builders import (
    BEGUN,
    TODAY,
    a_book,
    a_branch,
    a_site_book,
    a_zone,
    look_promised,
    polished,
    read_down,
    routinely,
)

FUTURES = 8
RATES = (
    Rate(
        branch="EAST",
        kind=RateKind.LABOUR_HOUR,
        amount=Decimal("30.00"),
        currency="USD",
        from_on=BEGUN,
    ),
    Rate(
        branch="EAST",
        kind=RateKind.TRAVEL_KM,
        amount=Decimal("0.50"),
        currency="USD",
        from_on=BEGUN,
    ),
)


def a_year(*sites: SiteBook, days: int = 180) -> BranchYear:
    """A branch's year of some sites; one of a busy lane where none is named."""
    return BranchYear(
        branch=a_branch(),
        books=sites or (a_site_book("NORTH", busy()),),
        surfaces={"polished_concrete": polished()},
        standing=(),
        today=TODAY,
        last_on=TODAY + timedelta(days=days),
    )


def busy(code: str = "LANE", **more: object) -> ZoneBook:
    """A lane that wears fast and has come near its promise."""
    return a_book(code, **{"readings": read_down(50.0), **more})


BURNISHED = routinely(Work.BURNISH, "FREQ=WEEKLY", by=Performer.SITE_TEAM)
"""Done by the site's own people, so that no cap of ours asks for it."""


def quiet(code: str = "EDGE", **more: object) -> ZoneBook:
    """An edge hardly walked on, far above its promise, with no calendar of ours."""
    zone = a_zone(code, traffic=TrafficLevel.LIGHT)
    own = {"zone": zone, "readings": read_down(59.0, fall=0.05), "routines": (BURNISHED,)}
    return a_book(code, **{**own, "promises": (look_promised(60.0, loss_share=0.5),), **more})


def over_treated(code: str = "EDGE") -> ZoneBook:
    """The same edge, recoated every six weeks by our own habit."""
    habit = routinely(Work.RECOAT, "FREQ=WEEKLY;INTERVAL=6", starts_on=BEGUN)
    return quiet(code, routines=(BURNISHED, habit))


def parts_of(year: BranchYear, futures: int = FUTURES) -> tuple[list[Part], list[Apart]]:
    """The parts of a year, and what stands apart."""
    found = list(laid_out(year, prices_of(year.branch, RATES, TODAY), futures))
    parts = [each for each in found if isinstance(each, Part)]
    return parts, [each for each in found if isinstance(each, Apart)]


def visits_of(year: BranchYear, parts: Sequence[Part]) -> Mapping[tuple[str, str], object]:
    """What a visit to each site costs."""
    prices = prices_of(year.branch, RATES, TODAY)
    sites = {book.site.code: book.site for book in year.books}
    keys = {key for part in parts for key in part.keys}
    return {key: visit_costs(year.branch, sites[key[0]], prices) for key in keys}


def compared(year: BranchYear, futures: int = FUTURES) -> Comparison:
    """The comparison of a year."""
    parts, _ = parts_of(year, futures)
    return compare(parts, visits_of(year, parts))


def walked_more(part: Part, times: float) -> Part:
    """The same zones with so many times the passes."""
    course = part.futures.course
    more = replace(course, thousand_passes=course.thousand_passes * times)
    return replace(part, futures=replace(part.futures, course=more))
