"""Rest: overtime never eats it, and unnamed crews go out within the hours that leave it."""

from datetime import timedelta

from floorcare.ground.crews.rest import rested
from floorcare.ground.crews.roster import crew_nights
from tests.ground.crews.weeks import (
    MONDAY,
    TUESDAY,
    a_crew,
    a_place,
    a_shift,
    a_visit,
    a_week,
    open_from,
)

REST = timedelta(hours=11)


def test_overtime_is_allowed_where_the_next_night_is_far_enough():
    week = a_week(a_visit())
    assert all(night.overtime_allowed for night in rested(week, crew_nights(week)).values())


def test_none_is_allowed_where_the_next_shift_begins_too_soon_after_it():
    long = a_shift(18 * 60, 6 * 60 + 30)
    week = a_week(a_visit(), crews=(a_crew("A", "ann", "ada", shifts=(long,)),))
    nights = rested(week, crew_nights(week))
    assert not nights["A", MONDAY].overtime_allowed, "eleven hours and a half are left"
    assert nights["A", MONDAY + timedelta(days=4)].overtime_allowed, "a free day lies behind"


def test_unnamed_crews_go_out_when_their_sites_are_open_and_rest_between():
    week = a_week(a_visit(), crews=(), workers=())
    nights = rested(week, crew_nights(week))
    out, back = nights["EAST-1", TUESDAY].within
    assert nights["EAST-1", TUESDAY + timedelta(days=1)].within[0] - back == REST
    assert (back - out) == timedelta(hours=13)
    site = week.books["NORTH"].site
    assert site.windows


def test_a_branch_of_day_sites_goes_out_by_day():
    place = a_place("NORTH", **open_from(8 * 60, 16 * 60))
    week = a_week(a_visit(starts_minute=480), places=(place,), crews=(), workers=())
    out, back = rested(week, crew_nights(week))["EAST-1", TUESDAY].within
    opens = out.replace(hour=13, minute=0)  # 08:00 in New York
    assert out <= opens <= back
