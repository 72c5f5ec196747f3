"""Nights over the change of clocks, against the rules that governments published.

The rules are worked out here by the calendar, without the time zone database the program reads.
"""

from datetime import UTC, date, datetime, timedelta

import pytest

from floorcare.ground.worktime.night import instant, length_minutes
from floorcare.ground.worktime.response import respond_by
from floorcare.ground.worktime.site_time import SiteTime
from floorcare.ground.worktime.window import AccessWindow

NIGHTLY = AccessWindow(weekdays=frozenset(range(7)), starts_minute=1320, ends_minute=360)


def sunday(year: int, month: int, which: int) -> date:
    """The first, second … Sunday of a month, the last one for -1."""
    days = [date(year, month, day) for day in range(1, 29)]
    days += [date(year, month, day) for day in range(29, 32) if month in (1, 3, 5, 7, 8, 10, 12)]
    days += [date(year, month, day) for day in (29, 30) if month in (4, 6, 9, 11)]
    sundays = [on for on in days if on.weekday() == 6]
    return sundays[which if which < 0 else which - 1]


# Source: Directive 2000/84/EC: summer time from the last Sunday of March to the last Sunday of
# October, 1:00 UTC. Energy Policy Act of 2005, section 110 (15 U.S.C. 260a): from the second Sunday
# of March to the first Sunday of November, 2:00 local time.
RULES = {
    "Europe/Berlin": ((3, -1), (10, -1)),
    "America/Denver": ((3, 2), (11, 1)),
}


@pytest.mark.parametrize("zone", RULES)
@pytest.mark.parametrize("year", range(2007, 2037))
def test_a_night_is_an_hour_shorter_in_spring_longer_in_autumn_and_eight_hours_else(
    zone: str, year: int
) -> None:
    spring, autumn = (sunday(year, *rule) for rule in RULES[zone])
    time = SiteTime(zone=zone, windows=(NIGHTLY,))
    nights = time.nights(date(year, 1, 1), date(year, 12, 31))
    odd = {n.on: n.minutes for n in nights if n.minutes != 480}
    eve = timedelta(days=1)
    assert odd == {spring - eve: 420, autumn - eve: 540}


@pytest.mark.parametrize("year", [2026, 2027])
def test_the_whole_european_union_changes_at_one_in_the_morning_utc(year: int) -> None:
    for month, which, before, after in ((3, -1, 1, 2), (10, -1, 2, 1)):
        on = sunday(year, month, which)
        change = datetime(on.year, on.month, on.day, 1, tzinfo=UTC)
        for zone, west in (("Europe/Berlin", 0), ("Europe/Lisbon", 1), ("Europe/Helsinki", -1)):
            midnight = instant(on, 0, zone)
            assert change - midnight == timedelta(hours=1 + before - west)
            next_midnight = instant(on + timedelta(days=1), 0, zone)
            assert next_midnight - change == timedelta(hours=23 - (after - west))


# Source: tz database, file australasia: Lord Howe Island moves its clocks by half an hour.
def test_where_clocks_move_by_half_an_hour_the_night_does() -> None:
    on = sunday(2026, 4, 1) - timedelta(days=1)
    assert length_minutes(on, 1320, 1800, "Australia/Lord_Howe") == 510
    on = sunday(2026, 10, 1) - timedelta(days=1)
    assert length_minutes(on, 1320, 1800, "Australia/Lord_Howe") == 450


# Source: tz database, file australasia: Samoa left out 30 December 2011 when it crossed the date
# line.
def test_a_date_that_never_was_takes_no_time() -> None:
    midnights = [instant(date(2011, 12, day), 0, "Pacific/Apia") for day in (29, 31)]
    assert midnights[1] - midnights[0] == timedelta(hours=24)


def test_a_promised_hour_is_an_hour_of_the_world_over_either_change() -> None:
    for zone, changes in RULES.items():
        for month, which in changes:
            on = sunday(2026, month, which)
            called = datetime(on.year, on.month, on.day, tzinfo=UTC) - timedelta(hours=3)
            time = SiteTime(zone=zone, windows=())
            assert respond_by(called, 24, time) == called + timedelta(hours=24)
