from dataclasses import replace
from datetime import UTC, date, datetime

from floorcare.ground.rules.call_clock import OpenCall, open_calls
from floorcare.ground.trade.people import CallReceived
from floorcare.ground.worktime.shut import ShutDay
from floorcare.ground.worktime.site_time import SiteTime
from tests.builders import DAY, TODAY, a_book, a_night
from tests.called import a_call, response_promised

NIGHTS = tuple(a_night(TODAY + ahead * DAY) for ahead in range(1, 15))
"""Every night from tomorrow on, from 22:00."""


def found(
    *calls: CallReceived,
    hours: int | None = 24,
    shut: tuple[date, date] | None = None,
    **more: object,
) -> tuple[OpenCall, ...]:
    book = a_book(promises=(response_promised(hours),) if hours else ())
    days = () if shut is None else (ShutDay(from_on=shut[0], to_on=shut[1], why="fair"),)
    time = SiteTime(zone="America/New_York", windows=(), shut=days)
    return open_calls(calls, "NORTH", book, time, NIGHTS)  # type: ignore[arg-type]


def test_an_open_call_has_its_hours_its_instant_and_its_last_night() -> None:
    # 9:00 UTC on Monday 2 March is 4:00 in New York
    (one,) = found(a_call(), hours=48)
    assert (one.on, one.hours) == (TODAY, 48)
    assert one.answer_by == datetime(2026, 3, 4, 9, tzinfo=UTC)
    assert one.answer_by.hour == 4
    assert one.last_night == TODAY + DAY


def test_a_night_that_begins_after_the_hour_is_too_late() -> None:
    assert found(a_call(), hours=24)[0].last_night is None
    # until 22:00 on Tuesday
    assert found(a_call(), hours=42)[0].last_night == TODAY + DAY
    assert found(a_call(), hours=41)[0].last_night is None


def test_shut_days_hold_the_clock() -> None:
    (one,) = found(a_call(), hours=48, shut=(TODAY + DAY, TODAY + 4 * DAY))
    assert one.answer_by == datetime(2026, 3, 8, 9, tzinfo=UTC)  # summer time began that morning
    assert one.last_night == TODAY + 5 * DAY


def test_without_a_promise_there_is_no_hour() -> None:
    (one,) = found(a_call(), hours=None)
    assert (one.hours, one.answer_by, one.last_night) == (None, None, None)


def test_closed_calls_and_those_elsewhere_are_left_out() -> None:
    call = a_call()
    closed = replace(call, closed_at=call.received_at)
    assert found(closed, a_call(zone="EDGE"), a_call(site="SOUTH"), a_call(zone="")) == ()
    later = a_call(TODAY - DAY)
    assert [one.call for one in found(call, later)] == [later, call]
