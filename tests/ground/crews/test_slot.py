from dataclasses import replace
from datetime import timedelta

from floorcare.ground.crews.access import access_of
from floorcare.ground.crews.roster import crew_nights
from floorcare.ground.crews.slot import Lack, best_slot, with_stop
from floorcare.ground.trade.visit import Commitment
from tests.ground.crews.weeks import TUESDAY, a_place, a_visit, a_week, open_from


def slot_of(week, visit, night=None, nights=None):
    nights = nights or crew_nights(week)
    night = night or nights[next(iter(nights))[0], TUESDAY]
    return night, best_slot(week, visit, access_of(visit, week.site(visit)), night, nights)


def filled(week, *visits):
    """The first crew's Tuesday with these visits put in one after the other."""
    night = None
    for visit in visits:
        night, slot = slot_of(week, visit, night)
        assert slot.lacks == ()
        night = with_stop(night, visit, slot, ())
    return night


def clock(at):
    return f"{at:%H:%M}"


def test_an_empty_night_is_reached_after_the_drive_and_waits_for_access():
    _, slot = slot_of(a_week(), a_visit())
    assert (slot.at, slot.travel_minutes, slot.onward_minutes, slot.lacks) == (0, 11, 11, ())
    assert (clock(slot.reached_at), clock(slot.starts_at)) == ("02:41", "03:00")


def test_a_stop_put_before_another_changes_only_the_drive_to_it():
    week = a_week(places=(a_place("SOUTH", **open_from(1410, 360)),))
    later = a_visit("SOUTH", minutes=60)
    night = filled(week, later, a_visit(minutes=30))
    assert [stop.visit.site for stop in night.stops] == ["NORTH", "SOUTH"]
    assert [stop.travel_minutes for stop in night.stops] == [11, 11]
    assert [clock(stop.starts_at) for stop in night.stops] == ["03:00", "04:30"]
    assert night.home_minutes == 21


def test_a_gap_too_short_is_left_and_the_next_one_taken():
    week = a_week(places=(a_place("SOUTH", **open_from(1380, 360)),))
    night = filled(week, a_visit("SOUTH", minutes=60), a_visit(minutes=55))
    assert [stop.visit.site for stop in night.stops] == ["SOUTH", "NORTH"]


def test_what_is_lacking_is_told_by_the_minute():
    _, slot = slot_of(a_week(), a_visit(minutes=481))
    assert slot.lacks == (Lack(kind="access", minutes=1), Lack(kind="back", minutes=72))
    assert slot.lacking == 73
    agreed = a_visit(commitment=Commitment.HOUR, starts_minute=1290)
    site = a_place(**open_from(1200, 360))
    _, slot = slot_of(a_week(places=(site,)), agreed)
    assert slot.lacks == (Lack(kind="hour", minutes=11),)


def test_the_second_stretch_of_a_night_is_taken_where_the_first_is_too_short():
    first = open_from(1320, 1380)["windows"]
    second = open_from(1400, 360)["windows"]
    week = a_week(places=(a_place(windows=(*first, *second)),))
    _, slot = slot_of(week, a_visit(minutes=90))
    assert (clock(slot.starts_at), slot.lacks) == ("04:20", ())


def test_an_unnamed_crew_sets_out_for_its_first_visit_and_has_a_shift_from_then():
    week = a_week(crews=(), branch=replace(a_week().branch, shift_minutes=200))
    night, slot = slot_of(week, a_visit(minutes=150))
    assert (clock(slot.reached_at), slot.lacks) == ("03:00", ())
    night = with_stop(night, a_visit(minutes=150), slot, ())
    _, slot = slot_of(week, a_visit("SOUTH", minutes=30), night)
    # out at 21:49, back by 1:09; from NORTH on it would be home at 1:32
    assert slot.lacks == (Lack(kind="back", minutes=23),)


def test_a_night_does_not_run_into_the_crews_next():
    week = a_week(crews=())
    nights = crew_nights(week)
    before = nights["EAST-1", TUESDAY - timedelta(days=1)]
    visit = replace(a_visit(minutes=400), night=TUESDAY - timedelta(days=1))
    slot = best_slot(week, visit, access_of(visit, week.site(visit)), before, nights)
    nights[before.crew, before.on] = with_stop(before, visit, slot, ())
    early = a_place("SOUTH", **open_from(60, 480))
    meets = replace(week, books={**week.books, "SOUTH": early})
    _, slot = slot_of(meets, a_visit("SOUTH", minutes=60), nights=nights)
    # home at 4:51 from the night before, so it cannot be there at one
    assert clock(slot.reached_at) == "10:12"
