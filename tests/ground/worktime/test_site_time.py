from datetime import date

import pytest

from floorcare.ground.worktime.shut import ShutDay
from floorcare.ground.worktime.site_time import Night, SiteTime
from floorcare.ground.worktime.window import EVERY_DAY, AccessWindow, parse_weekdays

BERLIN = "Europe/Berlin"
LOUD = frozenset({"loud"})


def hours(days: str, starts: int, ends: int, **more) -> AccessWindow:
    return AccessWindow(
        weekdays=parse_weekdays(days), starts_minute=starts * 60, ends_minute=ends * 60, **more
    )


def site(*windows: AccessWindow, zone: str = BERLIN, **more) -> SiteTime:
    return SiteTime(zone=zone, windows=windows, **more)


def spans(nights: tuple[Night, ...]) -> list[tuple[int, int, int]]:
    return [(n.starts_minute, n.ends_minute, n.minutes) for n in nights]


NIGHTLY = hours("daily", 22, 6)
MONDAY = date(2026, 6, 1)


def test_a_night_is_one_date_and_one_window() -> None:
    evenings = hours("Mo-Fr", 18, 22, permits=LOUD)
    nights = site(NIGHTLY, evenings).nights(MONDAY, MONDAY)
    assert nights == (
        Night(on=MONDAY, starts_minute=1080, ends_minute=1320, minutes=240, permits=LOUD),
        Night(on=MONDAY, starts_minute=1320, ends_minute=1800, minutes=480, permits=frozenset()),
    )


def test_nights_come_by_date_first_and_last_included() -> None:
    nights = site(NIGHTLY).nights(MONDAY, date(2026, 6, 7))
    assert [n.on.day for n in nights] == [1, 2, 3, 4, 5, 6, 7]
    assert site(NIGHTLY).nights(MONDAY, date(2026, 5, 31)) == ()


def test_both_clock_changes_change_the_true_length() -> None:
    spring = site(NIGHTLY).nights(date(2026, 3, 27), date(2026, 3, 29))
    autumn = site(NIGHTLY).nights(date(2026, 10, 23), date(2026, 10, 25))
    assert [n.minutes for n in spring] == [480, 420, 480]
    assert [n.minutes for n in autumn] == [480, 540, 480]
    assert {n.ends_minute for n in spring + autumn} == {1800}


def test_the_southern_hemisphere_changes_the_other_way() -> None:
    # New Zealand: summer time (+13) ends 5 April and begins 27 September 2026
    auckland = site(NIGHTLY, zone="Pacific/Auckland")
    assert auckland.longest(date(2026, 4, 4), date(2026, 4, 4)) == 540
    assert auckland.longest(date(2026, 9, 26), date(2026, 9, 26)) == 420


@pytest.mark.parametrize("zone", ["Pacific/Tongatapu", "Pacific/Honolulu", "UTC"])
def test_zones_without_clock_changes_keep_every_night_of_a_year_alike(zone: str) -> None:
    nights = site(NIGHTLY, zone=zone).nights(date(2026, 1, 1), date(2026, 12, 31))
    assert [n.on.isoformat() for n in nights[:2]] == ["2026-01-01", "2026-01-02"]
    assert len(nights) == 365
    assert {n.minutes for n in nights} == {480}


def test_a_shut_day_has_no_night_and_is_not_run_into() -> None:
    shut = ShutDay(from_on=date(2026, 6, 3), to_on=date(2026, 6, 4), why="stocktaking")
    time = site(NIGHTLY, shut=(shut,))
    nights = time.nights(MONDAY, date(2026, 6, 5))
    assert [(n.on.day, n.ends_minute, n.minutes) for n in nights] == [
        (1, 1800, 480),
        (2, 1440, 120),
        (5, 1800, 480),
    ]
    assert time.why_closed(date(2026, 6, 3)) == "shut: stocktaking"
    assert time.why_closed(date(2026, 6, 2)) == ""


def test_a_public_holiday_has_no_night_and_is_not_run_into() -> None:
    time = site(NIGHTLY, holidays={date(2026, 6, 2): "Founders' Day"})
    assert [(n.on.day, n.ends_minute) for n in time.nights(MONDAY, date(2026, 6, 3))] == [
        (1, 1440),
        (3, 1800),
    ]
    assert time.why_closed(date(2026, 6, 2)) == "public holiday: Founders' Day"


def test_work_after_midnight_belongs_to_the_morning_s_own_date() -> None:
    mornings = hours("daily", 0, 6)
    time = site(mornings, holidays={date(2026, 6, 2): "Founders' Day"})
    assert [n.on.day for n in time.nights(MONDAY, date(2026, 6, 3))] == [1, 3]
    assert spans(time.nights(MONDAY, MONDAY)) == [(0, 360, 360)]


def test_a_shut_year_has_no_night_at_all() -> None:
    year = ShutDay(from_on=date(2026, 1, 1), to_on=date(2026, 12, 31), why="refurbishment")
    time = site(NIGHTLY, shut=(year,))
    assert time.nights(date(2026, 1, 1), date(2026, 12, 31)) == ()
    assert time.longest(date(2026, 1, 1), date(2026, 12, 31)) == 0
    assert spans(time.nights(date(2025, 12, 31), date(2025, 12, 31))) == [(1320, 1440, 120)]


def test_a_site_without_windows_is_never_open_and_says_so() -> None:
    assert site().nights(MONDAY, date(2026, 6, 30)) == ()
    assert site().why_closed(MONDAY) == "no access window on Mondays"


def test_a_day_without_a_window_says_which_and_a_dated_one_says_that() -> None:
    weekdays = hours("Mo-Fr", 22, 6, from_on=date(2026, 7, 1))
    assert site(weekdays).why_closed(date(2026, 7, 5)) == "no access window on Sundays"
    assert site(weekdays).why_closed(MONDAY) == "access on Mondays is given for other dates only"
    assert site(weekdays).why_closed(date(2026, 7, 6)) == ""


def test_a_blackout_leaves_the_longest_piece() -> None:
    midnight_rush = hours("daily", 23, 1)
    time = site(NIGHTLY, blackouts=(midnight_rush,))
    assert spans(time.nights(MONDAY, MONDAY)) == [(1500, 1800, 300)]


def test_of_two_equal_pieces_the_earlier_stays() -> None:
    time = site(hours("daily", 20, 4), blackouts=(hours("daily", 23, 1),))
    assert spans(time.nights(MONDAY, MONDAY)) == [(1200, 1380, 180)]


def test_the_longest_piece_is_the_truly_longest_over_a_clock_change() -> None:
    # 20:00-23:00 and 01:00-04:00 look alike; the second loses the skipped hour, or gains one
    time = site(hours("daily", 20, 4), blackouts=(hours("daily", 23, 1),))
    spring, autumn = date(2026, 3, 28), date(2026, 10, 24)
    assert spans(time.nights(spring, spring)) == [(1200, 1380, 180)]
    assert spans(time.nights(autumn, autumn)) == [(1500, 1680, 240)]


def test_blackouts_of_the_days_before_and_after_count_too() -> None:
    # Sunday's blackout runs into Monday morning, Tuesday's cuts Monday night's end
    sunday = hours("Su", 23, 2)
    tuesday = hours("Tu", 4, 8)
    time = site(hours("Mo", 0, 6), NIGHTLY, blackouts=(sunday, tuesday))
    assert spans(time.nights(MONDAY, MONDAY)) == [(120, 360, 240), (1320, 1680, 360)]


def test_overlapping_blackouts_are_taken_out_once() -> None:
    time = site(NIGHTLY, blackouts=(hours("daily", 21, 24), hours("daily", 23, 2)))
    assert spans(time.nights(MONDAY, MONDAY)) == [(1560, 1800, 240)]


def test_a_blackout_over_everything_leaves_no_night_and_says_so() -> None:
    time = site(NIGHTLY, blackouts=(hours("daily", 20, 8),))
    assert time.nights(MONDAY, MONDAY) == ()
    assert time.why_closed(MONDAY) == "blackout hours leave nothing of the night"


def test_a_window_inside_the_skipped_hour_makes_no_night() -> None:
    time = site(hours("daily", 2, 3))
    assert time.nights(date(2026, 3, 29), date(2026, 3, 29)) == ()
    assert time.why_closed(date(2026, 3, 29)) == "the change of clocks leaves nothing of the night"
    assert spans(time.nights(MONDAY, MONDAY)) == [(120, 180, 60)]


def test_why_closed_and_nights_always_agree() -> None:
    time = site(
        hours("Mo-Fr", 22, 6),
        hours("Sa", 8, 12, to_on=date(2026, 6, 10)),
        shut=(ShutDay(from_on=date(2026, 6, 9), to_on=date(2026, 6, 12), why="fair"),),
        holidays={date(2026, 6, 4): "Corpus Christi"},
        blackouts=(hours("We", 20, 24), hours("Th", 0, 8)),
    )
    for day in range(1, 31):
        on = date(2026, 6, day)
        assert (time.why_closed(on) == "") == bool(time.nights(on, on))


def test_an_unknown_zone_is_refused_at_once() -> None:
    with pytest.raises(ValueError, match="did you mean Europe/Berlin"):
        SiteTime(
            zone="Berlin",
            windows=(AccessWindow(weekdays=EVERY_DAY, starts_minute=0, ends_minute=0),),
        )
