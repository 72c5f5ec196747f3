from datetime import UTC, date, datetime

import pytest

from floorcare.ground.worktime.night import (
    check_zone,
    format_minute,
    instant,
    length_minutes,
    parse_minute,
)

BERLIN = "Europe/Berlin"
DENVER = "America/Denver"


def utc(text: str) -> datetime:
    return datetime.fromisoformat(text).replace(tzinfo=UTC)


def test_clock_times_are_read_as_minutes_of_the_day() -> None:
    times = ["00:00", "6:05", " 22:00 ", "23:59", "24:00", "22:00:00"]
    assert [parse_minute(t) for t in times] == [0, 365, 1320, 1439, 1440, 1320]


@pytest.mark.parametrize(
    "text", ["", "24:01", "22:60", "10 pm", "2200", "-1:00", "22:00:30", "٢:00x"]
)
def test_what_is_no_clock_time_is_refused_with_what_to_write(text: str) -> None:
    with pytest.raises(ValueError, match="write 00:00 to 24:00"):
        parse_minute(text)


def test_every_minute_of_a_day_is_written_as_it_is_read() -> None:
    assert all(parse_minute(format_minute(minute)) == minute for minute in range(1441))


def test_a_minute_above_1440_is_the_next_morning() -> None:
    assert instant(date(2026, 1, 31), 1800, DENVER) == utc("2026-02-01T13:00")
    assert instant(date(2026, 1, 31), 1440, DENVER) == instant(date(2026, 2, 1), 0, DENVER)


def test_an_instant_carries_utc() -> None:
    assert instant(date(2026, 7, 1), 0, BERLIN).tzinfo is UTC


# Berlin 29 March 2026: 02:00 becomes 03:00. Denver 8 March 2026 likewise.
def test_a_wall_time_skipped_in_spring_moves_forward_by_the_gap() -> None:
    assert instant(date(2026, 3, 29), 150, BERLIN) == utc("2026-03-29T01:30")  # 03:30 summer time
    assert instant(date(2026, 3, 29), 210, BERLIN) == utc("2026-03-29T01:30")
    assert instant(date(2026, 3, 8), 150, DENVER) == utc("2026-03-08T09:30")


# Berlin 25 October 2026: 03:00 becomes 02:00, so 02:30 happens at 00:30 and at 01:30 UTC.
def test_a_wall_time_repeated_in_autumn_is_the_first_of_the_two() -> None:
    assert instant(date(2026, 10, 25), 150, BERLIN) == utc("2026-10-25T00:30")
    assert instant(date(2026, 10, 24), 1440 + 150, BERLIN) == utc("2026-10-25T00:30")


def test_a_night_over_the_march_change_is_an_hour_shorter() -> None:
    assert length_minutes(date(2026, 3, 28), 1320, 1800, BERLIN) == 7 * 60
    assert length_minutes(date(2026, 3, 7), 1320, 1800, DENVER) == 7 * 60


def test_a_night_over_the_autumn_change_is_an_hour_longer() -> None:
    assert length_minutes(date(2026, 10, 24), 1320, 1800, BERLIN) == 9 * 60
    assert length_minutes(date(2026, 10, 31), 1320, 1800, DENVER) == 9 * 60


def test_an_ordinary_night_is_as_long_as_it_looks() -> None:
    assert length_minutes(date(2026, 6, 1), 1320, 1800, BERLIN) == 8 * 60


def test_a_stretch_that_lies_in_the_gap_has_no_length() -> None:
    assert length_minutes(date(2026, 3, 29), 120, 180, BERLIN) == 0
    assert length_minutes(date(2026, 3, 29), 150, 185, BERLIN) == 0


def test_an_end_before_its_start_is_refused() -> None:
    with pytest.raises(ValueError, match="minute 360 is not after minute 1320"):
        length_minutes(date(2026, 6, 1), 1320, 360, BERLIN)


def test_half_hour_changes_count_half_an_hour() -> None:
    # Lord Howe Island goes back by 30 minutes on 5 April 2026
    assert length_minutes(date(2026, 4, 4), 1320, 1800, "Australia/Lord_Howe") == 8 * 60 + 30


@pytest.mark.parametrize(
    ("zone", "starts"),
    [
        ("Pacific/Auckland", "2026-01-10T09:00"),  # +13 in summer
        ("Pacific/Tongatapu", "2026-01-10T09:00"),  # +13
        ("Pacific/Honolulu", "2026-01-11T08:00"),  # -10: the site's 10th is UTC's 11th
    ],
)
def test_a_night_keeps_the_site_s_own_date_far_from_greenwich(zone: str, starts: str) -> None:
    assert instant(date(2026, 1, 10), 1320, zone) == utc(starts)
    assert length_minutes(date(2026, 1, 10), 1320, 1800, zone) == 480


def test_a_known_zone_passes() -> None:
    for zone in (BERLIN, DENVER, "UTC", "Pacific/Tongatapu"):
        check_zone(zone)


@pytest.mark.parametrize(
    ("name", "hint"),
    [
        ("Berlin", "did you mean Europe/Berlin?"),
        ("europe/berlin", "did you mean Europe/Berlin?"),
        ("new york", "did you mean America/New_York?"),
        ("Europe/Berln", "did you mean Europe/Berlin or"),
        ("", "write one such as Europe/Berlin."),
        ("../../etc/passwd", "write one such as Europe/Berlin."),
        ("x" * 100_000, "write one such as Europe/Berlin."),
    ],
)
def test_an_unknown_zone_names_those_near_it(name: str, hint: str) -> None:
    with pytest.raises(ValueError, match="is no IANA time zone") as refused:
        check_zone(name)
    assert hint in str(refused.value)
    assert len(str(refused.value)) < 200
