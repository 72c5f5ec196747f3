from datetime import date

from floorcare.ground.wear.watch.alarm import days_asked_about
from tests.ground.wear.watched import DAYS, TODAY, watched_fleet


def test_the_days_asked_about_are_firsts_of_months_and_the_same_all_month():
    asked = (date(2026, 8, 1), date(2026, 5, 1), date(2025, 11, 1))
    assert days_asked_about(date(2026, 11, 1)) == asked
    assert days_asked_about(date(2026, 11, 30)) == asked


def test_they_reach_over_the_turn_of_the_year():
    asked = (date(2025, 10, 1), date(2025, 7, 1), date(2025, 1, 1))
    assert days_asked_about(date(2026, 1, 31)) == asked


def test_days_and_dates_of_a_fleet_answer_one_another():
    watched = watched_fleet(zones=1)
    assert watched.day_of(TODAY) == DAYS - 1
    assert watched.date_of(DAYS - 1) == TODAY
    assert watched.day_of(watched.date_of(7)) == 7
