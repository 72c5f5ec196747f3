from datetime import date, datetime, timedelta
from time import perf_counter

import pytest
from dateutil.rrule import rrulestr
from hypothesis import given, settings
from hypothesis import strategies as st

from floorcare.ground.worktime.recurrence import Recurrence, typical_gap_days

WEEKDAYS = st.lists(
    st.sampled_from(["MO", "TU", "WE", "TH", "FR", "SA", "SU"]), min_size=1, unique=True
).map(",".join)


@st.composite
def rules(draw: st.DrawFn) -> str:
    freq = draw(st.sampled_from(["DAILY", "WEEKLY", "MONTHLY", "YEARLY"]))
    parts = [f"FREQ={freq}", f"INTERVAL={draw(st.integers(1, 30))}"]
    if freq == "WEEKLY" and draw(st.booleans()):
        parts.append(f"BYDAY={draw(WEEKDAYS)}")
    if freq == "MONTHLY" and draw(st.booleans()):
        parts += ["BYMONTHDAY=28,29,30,31", "BYSETPOS=-1"]
    elif freq == "MONTHLY" and draw(st.booleans()):
        parts.append(f"BYDAY={draw(st.sampled_from(['1MO', '-1FR', 'TU,TH', '3WE']))}")
    if freq == "YEARLY" and draw(st.booleans()):
        by = ["BYMONTH=3,9", "BYYEARDAY=1,-1,100", "BYWEEKNO=20;BYDAY=MO", "BYWEEKNO=1;BYDAY=MO"]
        parts.append(draw(st.sampled_from(by)))
    if draw(st.booleans()):
        parts.append("WKST=SU")
    return ";".join(parts)


@given(rules(), st.dates(date(1950, 1, 1), date(2026, 1, 1)), st.integers(0, 40_000))
@settings(max_examples=150, deadline=None)
def test_a_window_years_later_holds_what_the_whole_expansion_holds(
    rule: str, starts_on: date, days_later: int
) -> None:
    first = starts_on + timedelta(days=days_later)
    last = first + timedelta(days=800)
    start = datetime(starts_on.year, starts_on.month, starts_on.day)  # noqa: DTZ001
    whole = rrulestr(rule, dtstart=start).between(
        start, start + timedelta(days=days_later + 800), inc=True
    )
    expected = tuple(found.date() for found in whole if found.date() >= first)
    assert Recurrence(rule=rule, starts_on=starts_on).dates(first, last) == expected


def test_a_leap_day_routine_survives_the_year_2100() -> None:
    rule = Recurrence(rule="FREQ=YEARLY", starts_on=date(1996, 2, 29))
    assert rule.dates(date(2099, 1, 1), date(2109, 1, 1)) == (
        date(2104, 2, 29),
        date(2108, 2, 29),
    )


def test_a_daily_rule_from_long_ago_is_quick() -> None:
    def quickest(starts_on: date) -> float:
        rule = Recurrence(rule="FREQ=DAILY", starts_on=starts_on)
        times = []
        for _ in range(5):
            begun = perf_counter()
            assert len(rule.dates(date(2026, 1, 1), date(2026, 12, 31))) == 365
            times.append(perf_counter() - begun)
        return min(times)

    # expanded from its start, the old rule has a hundred and twenty-six times as far to go
    assert quickest(date(1900, 1, 1)) < 5 * quickest(date(2026, 1, 1))


def test_exceptions_and_the_end_fall_out() -> None:
    rule = Recurrence(
        rule="FREQ=WEEKLY;BYDAY=TU,FR",
        starts_on=date(2026, 6, 2),
        ends_on=date(2026, 6, 12),
        except_on=(date(2026, 6, 5),),
    )
    assert rule.dates(date(2026, 1, 1), date(2026, 12, 31)) == (
        date(2026, 6, 2),
        date(2026, 6, 9),
        date(2026, 6, 12),
    )


def test_an_exception_does_not_lengthen_a_count() -> None:
    rule = Recurrence(
        rule="FREQ=DAILY;COUNT=3", starts_on=date(2026, 6, 1), except_on=(date(2026, 6, 2),)
    )
    assert rule.dates(date(2026, 6, 1), date(2026, 7, 1)) == (date(2026, 6, 1), date(2026, 6, 3))


def test_a_count_is_counted_from_the_true_start() -> None:
    rule = Recurrence(rule="FREQ=WEEKLY;COUNT=10", starts_on=date(2026, 1, 5))
    assert rule.dates(date(2026, 3, 1), date(2026, 12, 31)) == (date(2026, 3, 2), date(2026, 3, 9))
    assert rule.dates(date(2027, 1, 1), date(2027, 12, 31)) == ()


def test_nothing_comes_before_the_start_or_from_an_empty_window() -> None:
    rule = Recurrence(rule="FREQ=DAILY", starts_on=date(2026, 6, 1))
    assert rule.dates(date(2025, 1, 1), date(2026, 6, 1)) == (date(2026, 6, 1),)
    assert rule.dates(date(2025, 1, 1), date(2025, 12, 31)) == ()
    assert rule.dates(date(2026, 8, 2), date(2026, 8, 1)) == ()


def test_until_is_the_last_date_itself() -> None:
    rule = Recurrence(rule="FREQ=DAILY;UNTIL=20260603", starts_on=date(2026, 6, 1))
    assert [on.day for on in rule.dates(date(2026, 1, 1), date(2026, 12, 31))] == [1, 2, 3]


def test_a_week_number_alone_means_the_start_s_weekday() -> None:
    # 14 May 2026 is the Thursday of week 20
    rule = Recurrence(rule="FREQ=YEARLY;BYWEEKNO=20", starts_on=date(2026, 5, 14))
    assert rule.dates(date(2026, 1, 1), date(2027, 12, 31)) == (
        date(2026, 5, 14),
        date(2027, 5, 20),
    )


def test_a_refused_rule_or_end_makes_no_recurrence() -> None:
    with pytest.raises(ValueError, match="FREQ=HOURLY goes by the clock"):
        Recurrence(rule="FREQ=HOURLY", starts_on=date(2026, 1, 1))
    with pytest.raises(ValueError, match="before it starts"):
        Recurrence(rule="FREQ=DAILY", starts_on=date(2026, 1, 2), ends_on=date(2026, 1, 1))


@pytest.mark.parametrize(
    ("rule", "days"),
    [
        ("FREQ=DAILY", 1.0),
        ("FREQ=WEEKLY;INTERVAL=6", 42.0),
        ("FREQ=WEEKLY;BYDAY=MO,TU,WE,TH,FR", 1.4),
        ("FREQ=MONTHLY;BYMONTHDAY=28,29,30,31;BYSETPOS=-1", 30.4375),
        ("FREQ=MONTHLY;INTERVAL=3", 91.31),
        ("FREQ=YEARLY", 365.24),
        ("FREQ=WEEKLY;COUNT=1", 7.0),
        ("FREQ=WEEKLY;UNTIL=20010102", 7.0),
    ],
)
def test_the_typical_gap_is_the_mean_over_years(rule: str, days: float) -> None:
    assert typical_gap_days(rule) == pytest.approx(days, abs=0.01)


def test_a_rule_that_never_comes_has_no_typical_gap() -> None:
    with pytest.raises(ValueError, match="less than two dates"):
        typical_gap_days("FREQ=DAILY;INTERVAL=7;BYDAY=TU", date(2026, 6, 1))
    with pytest.raises(ValueError, match="goes by the clock"):
        typical_gap_days("FREQ=HOURLY")
