from datetime import UTC, date, datetime, timedelta

import pytest

from floorcare.ground.worktime.response import LONGEST_PAUSE_DAYS, respond_by
from floorcare.ground.worktime.shut import ShutDay
from floorcare.ground.worktime.site_time import SiteTime


def site(*shut: tuple[date, date], zone: str = "Europe/Berlin", **more: object) -> SiteTime:
    days = tuple(ShutDay(from_on=first, to_on=last, why="fair") for first, last in shut)
    return SiteTime(zone=zone, windows=(), shut=days, **more)  # type: ignore[arg-type]


def utc(text: str) -> datetime:
    return datetime.fromisoformat(text).replace(tzinfo=UTC)


def test_hours_run_day_and_night_where_nothing_is_shut() -> None:
    assert respond_by(utc("2026-06-02T14:30"), 24, site()) == utc("2026-06-03T14:30")
    assert respond_by(utc("2026-06-02T14:30"), 1, site()) == utc("2026-06-02T15:30")
    assert respond_by(utc("2026-06-02T14:30"), 72, site()) == utc("2026-06-05T14:30")


def test_the_clock_stands_still_on_shut_days_by_the_sites_own_midnight() -> None:
    # 3 June in Berlin runs from 22:00 UTC of the 2nd to 22:00 UTC of the 3rd
    shut = site((date(2026, 6, 3), date(2026, 6, 3)))
    assert respond_by(utc("2026-06-02T14:00"), 12, shut) == utc("2026-06-04T02:00")
    assert respond_by(utc("2026-06-02T14:00"), 8, shut) == utc("2026-06-02T22:00")
    assert respond_by(utc("2026-06-03T10:00"), 1, shut) == utc("2026-06-03T23:00")


def test_a_public_holiday_holds_it_as_well() -> None:
    may_day = site(holidays={date(2026, 5, 1): "May Day"})
    assert respond_by(utc("2026-04-30T21:00"), 2, may_day) == utc("2026-05-01T23:00")


# Berlin goes from 2:00 to 3:00 on 29 March 2026: that date has 23 hours.
def test_an_hour_is_an_hour_over_the_change_of_clocks() -> None:
    assert respond_by(utc("2026-03-28T22:30"), 24, site()) == utc("2026-03-29T22:30")
    shut = site((date(2026, 3, 29), date(2026, 3, 29)))
    assert respond_by(utc("2026-03-28T22:30"), 1, shut) == utc("2026-03-29T22:30")


def test_a_site_shut_for_ever_does_not_hold_the_clock_for_ever() -> None:
    shut = site((date(2026, 1, 1), date(2060, 1, 1)), zone="UTC")
    by = respond_by(utc("2026-01-01T00:00"), 24, shut)
    assert by == utc("2026-01-01T00:00") + timedelta(days=LONGEST_PAUSE_DAYS + 1)


def test_an_instant_of_another_zone_is_the_same_instant() -> None:
    at = utc("2026-06-02T14:30")
    assert respond_by(at.astimezone(), 5, site()) == respond_by(at, 5, site())


def test_no_hours_and_no_zone_are_refused() -> None:
    with pytest.raises(ValueError, match="allowed 1 or more"):
        respond_by(utc("2026-06-02T14:30"), 0, site())
    with pytest.raises(ValueError, match="needs its zone"):
        respond_by(utc("2026-06-02T14:30").replace(tzinfo=None), 1, site())
