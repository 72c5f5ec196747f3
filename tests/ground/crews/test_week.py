from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

from floorcare.ground.crews.week import fixed_start, minute_of, night_said
from floorcare.ground.schedule.travel import UNKNOWN_MINUTES, travel_minutes
from floorcare.ground.trade.visit import Commitment
from tests.ground.crews.weeks import (
    MONDAY,
    TUESDAY,
    a_crew,
    a_place,
    a_shift,
    a_visit,
    a_week,
    fitted,
    open_from,
    stops_of,
)

EVERY_DAY = frozenset(range(7))


def test_between_two_sites_the_drive_is_reckoned_as_from_the_branch():
    week = a_week()
    north, south = week.books["NORTH"].site, week.books["SOUTH"].site
    assert week.drive(week.branch, north) == travel_minutes(week.branch, north) == 11
    assert week.drive(north, south) == week.drive(south, north) == 11
    assert week.drive(north, replace(south, latitude=None)) == UNKNOWN_MINUTES


def test_two_visits_of_one_site_need_no_drive_even_where_its_place_is_not_known():
    nowhere = replace(a_place().site, latitude=None)
    assert a_week().drive(nowhere, nowhere) == 0


def test_only_an_agreed_hour_fixes_the_start():
    site = a_place().site
    assert fixed_start(a_visit(), site) is None
    fixed = fixed_start(a_visit(commitment=Commitment.HOUR), site)
    assert fixed == datetime(2026, 3, 4, 3, 0, tzinfo=UTC)


def test_minutes_count_from_the_nights_own_midnight():
    at = datetime(2026, 3, 4, 3, 0, tzinfo=UTC)
    assert minute_of(TUESDAY, at, "America/New_York") == 1320
    assert minute_of(TUESDAY, at, "Europe/Berlin") == 1440 + 240
    assert minute_of(TUESDAY + timedelta(days=1), at, "America/New_York") == 1320 - 1440


def test_a_night_is_said_with_its_weekday():
    assert night_said(date(2026, 12, 31)) == "Thu 31 December"


def test_a_week_knows_its_own_nights_and_its_own_crews():
    other = replace(a_crew("C", "cid"), branch="WEST")
    week = a_week(crews=(a_crew("B", "bob"), other, a_crew("A", "ann")))
    assert [crew.code for crew in week.own_crews] == ["A", "B"]
    assert [week.holds(a_visit(night=MONDAY + timedelta(days=n))) for n in (-1, 0, 6, 7)] == [
        False,
        True,
        True,
        False,
    ]


def test_a_crew_night_knows_when_it_leaves_and_is_home():
    fit = fitted(a_week(a_visit()))
    ((night, _),) = stops_of(fit)
    assert f"{night.leaves_at:%H:%M} {night.home_at:%H:%M}" == "02:49 05:11"
    assert night.back_by == night.ends_at - timedelta(minutes=30)
    unnamed = fitted(a_week(a_visit(), crews=())).nights[0]
    assert unnamed.back_by is None


def test_the_evening_before_is_shown_only_where_it_serves_the_week():
    sunday = MONDAY - timedelta(days=1)
    shift = a_shift(weekdays=EVERY_DAY)
    early = a_place("SOUTH", **open_from(60, 300, weekdays=EVERY_DAY))
    late = a_place(**open_from(1320, 360, weekdays=EVERY_DAY))
    week = a_week(
        a_visit(night=sunday),
        a_visit("SOUTH", night=MONDAY, minutes=60),
        a_visit("SOUTH", night=MONDAY + timedelta(days=7), minutes=60),
        places=(early, late),
        crews=(a_crew("A", "ann", "ada", shifts=(shift,)),),
    )
    busy = [night for night in fitted(week).shown(week) if night.stops]
    # one evening serves Monday's early visit, and the last one next Monday's
    assert [(n.on, [s.visit.site for s in n.stops]) for n in busy] == [
        (sunday, ["NORTH", "SOUTH"]),
        (MONDAY + timedelta(days=6), ["SOUTH"]),
    ]
    only_sunday = replace(week, visits=week.visits[:1])
    assert [n for n in fitted(only_sunday).shown(only_sunday) if n.stops] == []
