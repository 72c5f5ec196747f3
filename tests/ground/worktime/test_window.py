from datetime import date

import pytest

from floorcare.ground.worktime.window import (
    EVERY_DAY,
    AccessWindow,
    parse_weekdays,
    week_of,
    weekdays_text,
)

MONDAY = date(2026, 6, 1)


def window(**changes) -> AccessWindow:
    return AccessWindow(
        **{"weekdays": frozenset({0}), "starts_minute": 1320, "ends_minute": 360} | changes
    )


def test_an_end_at_or_before_the_start_is_the_next_day_s() -> None:
    assert (window().minutes, window().last_minute) == (480, 1800)
    assert (window(ends_minute=1439).minutes, window(ends_minute=1439).last_minute) == (119, 1439)
    assert window(ends_minute=1440).last_minute == 1440
    assert window(ends_minute=0).last_minute == 1440
    assert window(ends_minute=1320).minutes == 1440


def test_a_window_belongs_to_the_date_it_starts() -> None:
    assert window().starts_on(MONDAY)
    assert not window().starts_on(date(2026, 6, 2))


def test_a_window_holds_only_between_its_dates_both_included() -> None:
    june = window(weekdays=EVERY_DAY, from_on=date(2026, 6, 1), to_on=date(2026, 6, 30))
    days = [date(2026, 5, 31), date(2026, 6, 1), date(2026, 6, 30), date(2026, 7, 1)]
    assert [june.starts_on(day) for day in days] == [False, True, True, False]


@pytest.mark.parametrize(
    ("changes", "named"),
    [
        ({"weekdays": frozenset()}, "one or more of 0 to 6"),
        ({"weekdays": frozenset({7})}, "one or more of 0 to 6"),
        ({"starts_minute": 1440}, "allowed 0 to 1439"),
        ({"ends_minute": -1}, "allowed 0 to 1440"),
        ({"permits": frozenset({"explosives"})}, "allowed loud, wet, dust, fuel machine"),
        ({"from_on": date(2026, 2, 1), "to_on": date(2026, 1, 1)}, "before it starts"),
    ],
)
def test_an_impossible_window_names_what_is_allowed(changes, named: str) -> None:
    with pytest.raises(ValueError, match=named):
        window(**changes)


@pytest.mark.parametrize(
    ("text", "days"),
    [
        ("Mo-Fr", {0, 1, 2, 3, 4}),
        ("Mo–Fr", {0, 1, 2, 3, 4}),
        ("Sa,Su", {5, 6}),
        ("MO TU", {0, 1}),
        ("Mon - Wed; Saturday", {0, 1, 2, 5}),
        ("Fr-Mo", {4, 5, 6, 0}),
        ("tuesdays", {1}),
        ("Mo/Th,", {0, 3}),
        ("daily", set(range(7))),
    ],
)
def test_weekdays_are_read_from_words(text: str, days: set[int]) -> None:
    assert parse_weekdays(text) == days


@pytest.mark.parametrize("text", ["", "M", "Mo-", "-Fr", "holidays", "Mo-Xx", "1-5", "Mo-We-Fr"])
def test_words_that_name_no_weekday_are_refused(text: str) -> None:
    with pytest.raises(ValueError, match="names no weekdays"):
        parse_weekdays(text)


def test_every_set_of_weekdays_is_written_as_it_is_read() -> None:
    for bits in range(1, 128):
        days = frozenset(day for day in range(7) if bits >> day & 1)
        assert parse_weekdays(weekdays_text(days)) == days


@pytest.mark.parametrize(
    ("day", "monday"),
    [
        (date(2026, 3, 2), date(2026, 3, 2)),
        (date(2026, 3, 8), date(2026, 3, 2)),
        (date(2027, 1, 1), date(2026, 12, 28)),
    ],
)
def test_a_week_starts_on_its_monday(day, monday):
    assert week_of(day) == monday
