"""Working days of a month, as a public work-sampling plan counts them.

Source: NAVFAC MO-327, sample plan of November 1990, navalfacilities.tpub.com/mo327/mo3270183.htm,
read as an excerpt: 500 spaces × 19 working days = 9,500 services. November 1990 has 22 weekdays and
two federal holidays, Veterans Day (observed on Monday the 12th) and Thanksgiving. The excerpt does
not name the third day; the Friday after Thanksgiving, entered as a shut day, is ours.
"""

from datetime import date

import pytest

from floorcare.ground.worktime.holidays import public_holidays
from floorcare.ground.worktime.recurrence import Recurrence
from floorcare.ground.worktime.shut import ShutDay
from floorcare.ground.worktime.site_time import SiteTime
from floorcare.ground.worktime.window import AccessWindow

FIRST, LAST = date(1990, 11, 1), date(1990, 11, 30)
SPACES = 500
WEEKDAYS = AccessWindow(weekdays=frozenset(range(5)), starts_minute=420, ends_minute=960)
FRIDAY_AFTER = ShutDay(from_on=date(1990, 11, 23), to_on=date(1990, 11, 23), why="station holiday")


def working_days(*shut: ShutDay, holidays: bool = True) -> list[date]:
    named = public_holidays("US", "", [1990]) if holidays else {}
    time = SiteTime(zone="America/New_York", windows=(WEEKDAYS,), shut=shut, holidays=named)
    return [night.on for night in time.nights(FIRST, LAST)]


@pytest.mark.parametrize(
    ("shut", "holidays", "days"),
    [((), False, 22), ((), True, 20), ((FRIDAY_AFTER,), True, 19)],
)
def test_weekdays_holidays_and_shut_days_are_taken_off_one_by_one(
    shut: tuple[ShutDay, ...], holidays: bool, days: int
) -> None:
    assert len(working_days(*shut, holidays=holidays)) == days


def test_500_spaces_on_19_working_days_are_9500_services() -> None:
    assert SPACES * len(working_days(FRIDAY_AFTER)) == 9_500


def test_a_routine_with_those_days_excepted_falls_on_the_same_19() -> None:
    weekdays = [date(1990, 11, day) for day in range(1, 31)]
    shut = {on for on in weekdays if on.weekday() < 5} - set(working_days(FRIDAY_AFTER))
    assert sorted(shut) == [date(1990, 11, 12), date(1990, 11, 22), date(1990, 11, 23)]
    daily = Recurrence(
        rule="FREQ=WEEKLY;BYDAY=MO,TU,WE,TH,FR", starts_on=FIRST, except_on=tuple(shut)
    )
    assert list(daily.dates(FIRST, LAST)) == working_days(FRIDAY_AFTER)
