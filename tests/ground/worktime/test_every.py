from datetime import date, timedelta

import pytest

from floorcare.ground.worktime.every import UNDERSTOOD, every_to_rule
from floorcare.ground.worktime.recurrence import Recurrence, typical_gap_days
from floorcare.ground.worktime.rule_check import rule_problem


@pytest.mark.parametrize(
    ("text", "rule"),
    [
        ("daily", "FREQ=DAILY"),
        ("every night", "FREQ=DAILY"),
        ("Weekly ", "FREQ=WEEKLY"),
        ("2 weeks", "FREQ=WEEKLY;INTERVAL=2"),
        ("every other week", "FREQ=WEEKLY;INTERVAL=2"),
        ("fortnightly", "FREQ=WEEKLY;INTERVAL=2"),
        ("6 weeks", "FREQ=WEEKLY;INTERVAL=6"),
        ("every six weeks", "FREQ=WEEKLY;INTERVAL=6"),
        ("90 days", "FREQ=DAILY;INTERVAL=90"),
        ("monthly", "FREQ=MONTHLY"),
        ("every 3 months", "FREQ=MONTHLY;INTERVAL=3"),
        ("3-monthly", "FREQ=MONTHLY;INTERVAL=3"),
        ("quarterly", "FREQ=MONTHLY;INTERVAL=3"),
        ("every 2 quarters", "FREQ=MONTHLY;INTERVAL=6"),
        ("half-yearly", "FREQ=MONTHLY;INTERVAL=6"),
        ("yearly", "FREQ=YEARLY"),
        ("annually", "FREQ=YEARLY"),
        ("once a year", "FREQ=YEARLY"),
        ("twice a year", "FREQ=MONTHLY;INTERVAL=6"),
        ("4 times a year", "FREQ=MONTHLY;INTERVAL=3"),
        ("once a week", "FREQ=WEEKLY"),
        ("twice a week", "FREQ=WEEKLY;BYDAY=MO,TH"),
        ("twice weekly", "FREQ=WEEKLY;BYDAY=MO,TH"),
        ("3x a week", "FREQ=WEEKLY;BYDAY=MO,WE,FR"),
        ("three times per week", "FREQ=WEEKLY;BYDAY=MO,WE,FR"),
        ("7 times a week", "FREQ=DAILY"),
        ("twice a month", "FREQ=MONTHLY;BYMONTHDAY=1,16"),
        ("Mo, Th", "FREQ=WEEKLY;BYDAY=MO,TH"),
        ("every Tuesday", "FREQ=WEEKLY;BYDAY=TU"),
        ("Mo-Fr", "FREQ=WEEKLY;BYDAY=MO,TU,WE,TH,FR"),
        ("freq=weekly;byday=tu", "FREQ=WEEKLY;BYDAY=TU"),
    ],
)
def test_the_words_of_a_sheet_become_a_rule(text: str, rule: str) -> None:
    assert every_to_rule(text) == rule
    assert rule_problem(rule) == ""


@pytest.mark.parametrize(
    "text",
    [
        *("", "spring", "as needed", "third week", "twice daily", "once", "0 weeks", "every"),
        *("2000 days", "every 1.5 weeks", "26 times a year", "every 6", "-2 weeks", "x" * 100_000),
    ],
)
def test_other_words_are_refused_with_what_is_understood(text: str) -> None:
    with pytest.raises(ValueError, match="is no rhythm understood here") as refused:
        every_to_rule(text)
    assert str(refused.value).endswith(UNDERSTOOD)
    assert len(str(refused.value)) < 300


def test_words_with_two_meanings_are_asked_about() -> None:
    with pytest.raises(ValueError, match="twice a week or every 2 weeks; write which"):
        every_to_rule("bi-weekly")


def test_a_rule_that_is_refused_says_why() -> None:
    with pytest.raises(ValueError, match="goes by the clock"):
        every_to_rule("FREQ=HOURLY")


def dates_from(text: str, starts_on: date, until: date) -> list[str]:
    rule = every_to_rule(text, starts_on)
    found = Recurrence(rule=rule, starts_on=starts_on).dates(starts_on, until)
    return [on.isoformat() for on in found]


def test_monthly_from_31_january_is_the_last_day_of_each_month() -> None:
    assert dates_from("monthly", date(2026, 1, 31), date(2026, 6, 30)) == [
        *("2026-01-31", "2026-02-28", "2026-03-31"),
        *("2026-04-30", "2026-05-31", "2026-06-30"),
    ]


def test_monthly_from_the_30th_is_the_30th_where_there_is_one() -> None:
    assert dates_from("monthly", date(2026, 1, 30), date(2026, 4, 30)) == [
        *("2026-01-30", "2026-02-28", "2026-03-30", "2026-04-30"),
    ]


def test_quarterly_from_30_november_comes_at_the_end_of_february() -> None:
    assert dates_from("quarterly", date(2025, 11, 30), date(2026, 8, 31)) == [
        *("2025-11-30", "2026-02-28", "2026-05-30", "2026-08-30"),
    ]


def test_yearly_from_a_leap_day_comes_every_year() -> None:
    assert dates_from("yearly", date(2024, 2, 29), date(2028, 12, 31)) == [
        *("2024-02-29", "2025-02-28", "2026-02-28", "2027-02-28", "2028-02-29"),
    ]


def test_whatever_the_start_no_month_is_left_out_and_the_start_is_the_first_date() -> None:
    for step in range(366):
        starts_on = date(2024, 1, 1) + timedelta(days=step)
        for text, months in (("monthly", 1), ("every 2 months", 2), ("4 times a year", 3)):
            found = dates_from(text, starts_on, starts_on + timedelta(days=740))
            assert found[0] == starts_on.isoformat()
            assert len(found) == 24 // months + 1


def test_times_a_week_hold_the_weekday_of_the_start_and_their_number() -> None:
    for step in range(7):
        starts_on = date(2026, 6, 1) + timedelta(days=step)
        for times in (2, 3, 4, 5, 6):
            rule = every_to_rule(f"{times} times a week", starts_on)
            week = Recurrence(rule=rule, starts_on=starts_on).dates(
                starts_on, starts_on + timedelta(days=27)
            )
            if times < 5 or step < 5:
                assert starts_on in week
                assert len(week) == 4 * times
    assert typical_gap_days(every_to_rule("twice a week", date(2026, 6, 2))) == 3.5


def test_twice_a_month_falls_on_days_every_month_has() -> None:
    for day in range(1, 32):
        starts_on = date(2026, 1, day)
        assert len(dates_from("twice a month", starts_on, date(2027, 1, day))) in (24, 25)
