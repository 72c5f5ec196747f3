from dataclasses import replace
from datetime import date, timedelta

import pytest

from floorcare.ground.wear.books.counts import (
    CountAverages,
    DayCount,
    Doubt,
    average_days,
    covered_days,
    doubt_days,
)

FIRST = date(2026, 6, 1)
"""A Monday."""


def days(many, persons=lambda on: 1000.0 + on.day, first=FIRST, **more):
    dates = [first + timedelta(days=at) for at in range(many)]
    return [DayCount(on=on, persons=persons(on), **more) for on in dates]


def doubts(counted):
    return [(d.day.on, d.doubt) for d in doubt_days(counted)]


def test_a_day_with_too_few_buckets_is_not_counted_whole():
    counted = days(28, buckets=96)
    counted[3] = replace(counted[3], buckets=80)
    whole, part = covered_days(counted)
    assert (len(whole), [d.on for d in part]) == (27, [date(2026, 6, 4)])


def test_a_day_of_a_changed_clock_is_whole():
    counted = days(28, buckets=96)
    counted[6] = replace(counted[6], buckets=92)
    assert covered_days(counted)[1] == ()


def test_shorter_hours_on_one_weekday_are_its_usual_ones():
    counted = [replace(d, buckets=40 if d.on.weekday() == 6 else 64) for d in days(28)]
    assert covered_days(counted)[1] == ()


def test_nobody_on_a_weekday_with_traffic_is_asked_about():
    counted = days(28)
    counted[9] = replace(counted[9], persons=0.0)
    assert doubts(counted) == [(date(2026, 6, 10), Doubt.ZERO)]


def test_a_weekday_on_which_nobody_ever_comes_is_no_fault():
    assert doubts(days(28, lambda on: 0.0 if on.weekday() == 6 else 900.0 + on.day)) == []


def test_one_number_all_day_is_a_stuck_counter():
    counted = days(14, buckets=16)
    counted[2] = replace(counted[2], one_number=True)
    assert doubts(counted) == [(date(2026, 6, 3), Doubt.STUCK)]


def test_a_daily_count_is_one_number_without_being_stuck():
    assert doubts(days(14, buckets=1, one_number=True)) == []


def test_three_days_of_one_total_are_a_stuck_counter():
    counted = days(14)
    for at in (4, 5, 6):
        counted[at] = replace(counted[at], persons=777.0)
    assert [doubt for _, doubt in doubts(counted)] == [Doubt.STUCK] * 3


def test_a_day_six_times_its_weekday_is_a_jump_up_and_a_sixth_a_jump_down():
    counted = days(28)
    counted[8] = replace(counted[8], persons=6300.0)
    counted[17] = replace(counted[17], persons=150.0)
    assert doubts(counted) == [(date(2026, 6, 9), Doubt.JUMP), (date(2026, 6, 18), Doubt.JUMP)]


def test_few_persons_never_jump():
    counted = days(28, lambda on: 4.0 + on.day % 3)
    counted[8] = replace(counted[8], persons=40.0)
    assert doubts(counted) == []


def test_each_month_has_its_average():
    found = average_days(days(61, lambda on: 100.0 if on.month == 6 else 200.0))
    assert [(s.from_on, s.to_on, s.per_day, s.days) for s in found.spans] == [
        (date(2026, 6, 1), date(2026, 6, 30), 100.0, 30),
        (date(2026, 7, 1), date(2026, 7, 31), 200.0, 31),
    ]
    assert (found.gaps, found.too_few) == ((), ())


def test_missing_days_weigh_like_their_weekday():
    counted = days(28, lambda on: 700.0 if on.weekday() == 6 else 100.0)
    full = average_days(counted).spans[0].per_day
    (span,) = average_days([d for d in counted if d.on != date(2026, 6, 14)]).spans
    assert full == pytest.approx((6 * 100 + 700) / 7)
    assert (span.per_day, span.uncovered) == (pytest.approx(full), (date(2026, 6, 14),))


def test_a_weekday_never_counted_is_named():
    (span,) = average_days([d for d in days(28) if d.on.weekday() != 6]).spans
    assert span.unknown_weekdays == (6,)


def test_a_short_end_joins_the_month_beside_it():
    found = average_days(days(33))
    assert [(s.from_on, s.to_on) for s in found.spans] == [(FIRST, date(2026, 7, 3))]
    found = average_days(days(33, first=date(2026, 5, 29)))
    assert [(s.from_on, s.to_on) for s in found.spans] == [(date(2026, 5, 29), date(2026, 6, 30))]


def test_no_average_is_carried_over_a_fortnight_without_a_count():
    counted = days(60)
    counted = [d for d in counted if not 20 <= (d.on - FIRST).days < 34]
    found = average_days(counted)
    assert [(s.from_on, s.to_on) for s in found.spans] == [
        (FIRST, date(2026, 6, 20)),
        (date(2026, 7, 5), date(2026, 7, 30)),
    ]
    assert found.gaps == ((date(2026, 6, 21), date(2026, 7, 4)),)


def test_thirteen_days_without_a_count_are_bridged():
    counted = [d for d in days(60) if not 20 <= (d.on - FIRST).days < 33]
    found = average_days(counted)
    assert found.gaps == ()
    assert sum(len(span.uncovered) for span in found.spans) == 13


def test_less_than_a_week_is_no_average():
    found = average_days(days(6))
    assert (found.spans, len(found.too_few)) == ((), 6)


def test_nothing_counted_is_no_average():
    assert average_days([]) == CountAverages(spans=(), gaps=(), too_few=())
    assert (doubt_days([]), covered_days([])) == ((), ((), ()))
