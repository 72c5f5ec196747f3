from dataclasses import replace

from floorcare.ground.schedule.settled_year import (
    becomes,
    changed_sites,
    must_be_looked_at,
    same_unplaced,
)
from floorcare.ground.trade.book import SiteBook
from floorcare.ground.trade.visit import ChangeKind, Unplaced, VisitState
from floorcare.ground.worktime.shut import ShutDay
from tests.builders import DAY, TODAY, a_due
from tests.ground.schedule.settled_years import (
    a_year,
    settle,
    three_sites,
    visits_of_first_plan,
)


def standing(*books: SiteBook):
    """A settled year as it stands, before anything changes."""
    year = a_year(*(books or three_sites()))
    return replace(year, standing=visits_of_first_plan(year), planned_to=year.last_on)


def shut_at(book: SiteBook, on, days: int = 0) -> SiteBook:
    shut = ShutDay(from_on=on, to_on=on + days * DAY, why="fair")
    return replace(book, site=replace(book.site, shut_days=(shut,)))


def test_a_settled_year_planned_again_keeps_every_visit():
    again = settle(standing())
    assert again.settled
    assert again.found.empty
    assert {change.kind for change in again.found.changes} == {ChangeKind.KEPT}


def test_the_plan_of_another_day_settles_too():
    year = standing()
    later = replace(year, today=year.today + 3 * DAY, last_on=year.last_on + 3 * DAY)
    found = settle(later)
    assert found.settled
    visits = becomes(later.standing, found.found)
    assert settle(replace(later, standing=visits, planned_to=later.last_on)).found.empty


def test_a_low_reading_planned_by_itself_gives_what_the_whole_plan_gives():
    year = standing()
    read = replace(year, books=three_sites(low=44.0))
    whole, part = settle(read), settle(read, ["MID"])
    assert not whole.found.empty
    assert changed_sites(whole.found.changes) == {"MID"}
    assert part.beyond == frozenset()
    assert (part.found, part.decision.stubs) == (whole.found, whole.decision.stubs)


def test_a_shut_day_planned_by_itself_gives_what_the_whole_plan_gives():
    year = standing()
    night = next(v.night for v in year.standing if v.site == "MID")
    mid, *others = year.books
    shut = replace(year, books=(shut_at(mid, night), *others))
    whole, part = settle(shut), settle(shut, ["MID"])
    assert not whole.found.empty
    assert part.found == whole.found


def test_a_site_that_is_pushed_is_named_to_be_looked_at():
    """SOUTH lies on a night that somebody has pinned full, and nobody looked at it."""
    year = standing()
    south = next(v for v in year.standing if v.site == "SOUTH")
    full = replace(
        next(v for v in year.standing if v.site == "MID"),
        uuid="full",
        night=south.night,
        minutes=600,
        state=VisitState.HELD,
    )
    pinned = replace(year, standing=(*year.standing, full))
    part = settle(pinned, ["MID"])
    assert "SOUTH" in part.beyond
    assert not part.settled
    assert settle(pinned, sorted({"MID", *part.beyond})).found == settle(pinned).found


def test_a_site_without_its_night_must_be_looked_at():
    year = standing()
    night = next(v.night for v in year.standing if v.site == "NORTH")
    mid, north, south = year.books
    shut = replace(year, books=(mid, shut_at(north, night), south))
    assert must_be_looked_at(year, (), {}) == frozenset()
    assert must_be_looked_at(shut, (), {}) == {"NORTH"}


def test_a_site_with_work_that_found_no_night_must_be_looked_at():
    left = Unplaced(due=replace(a_due(), site="SOUTH"), why="no crew", mend="one crew")
    assert must_be_looked_at(standing(), (left,), {}) == {"SOUTH"}
    elsewhere = replace(left, due=replace(a_due(), site="ELSEWHERE"))
    assert must_be_looked_at(standing(), (elsewhere,), {}) == frozenset()


def test_a_site_whose_zone_is_no_longer_cared_for_must_be_looked_at():
    year = standing()
    mid, *others = year.books
    (zone,) = mid.zones
    span = replace(zone.zone.spans[0], to_on=TODAY - DAY)
    ended = replace(zone, zone=replace(zone.zone, spans=(span,)))
    over = replace(year, books=(replace(mid, zones=(ended,)), *others))
    assert must_be_looked_at(over, (), {}) == {"MID"}


def test_unplaced_work_is_the_same_whatever_its_order():
    one = Unplaced(due=a_due(), why="no crew", mend="one crew")
    other = Unplaced(due=replace(a_due(), site="SOUTH"), why="no crew", mend="one crew")
    assert same_unplaced([one, other], [other, one])
    assert same_unplaced([one], [replace(one, mend="two crews")])
    assert not same_unplaced([one], [replace(one, why="no night")])
    assert not same_unplaced([one], [])
