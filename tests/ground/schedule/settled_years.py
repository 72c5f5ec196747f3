"""A branch of three sites for tests of looks and settled years."""

from floorcare.ground.schedule.settled_year import (
    Naming,
    SettledYear,
    becomes,
    settled_year,
)
from floorcare.ground.schedule.sites_look import BranchYear, look_at_sites
from floorcare.ground.trade.book import SiteBook
from floorcare.ground.trade.visit import Visit
from tests.builders import DAY, TODAY, a_book, a_branch, a_site_book, polished, read_down
from tests.store.sample import INSTALLATION, NOW

DAYS = 100
NAMING = Naming(installation=INSTALLATION, known=frozenset(), now=NOW)


def three_sites(low: float = 50.0) -> tuple[SiteBook, ...]:
    """MID, NORTH and SOUTH, one lane each; `low` is what MID was read down to."""
    return tuple(
        a_site_book(code, a_book("LANE", readings=read_down(gloss)))
        for code, gloss in (("MID", low), ("NORTH", 51.0), ("SOUTH", 52.5))
    )


def a_year(*books: SiteBook, **more: object) -> BranchYear:
    """The year of a branch with one crew."""
    own = {"standing": (), "today": TODAY, "last_on": TODAY + DAYS * DAY, **more}
    return BranchYear(
        branch=a_branch(crews=1),
        books=books,
        surfaces={"polished_concrete": polished()},
        **own,  # type: ignore[arg-type]
    )


def settle(year: BranchYear, sites: list[str] | None = None) -> SettledYear:
    """The year settled, with only some sites looked at or with all."""
    return settled_year(year, [look_at_sites(year, sites)], NAMING)


def visits_of_first_plan(year: BranchYear) -> tuple[Visit, ...]:
    """The visits that stand after a first plan."""
    return becomes((), settle(year).found)
