from datetime import date

import pytest

from floorcare.faces.intake.export_dates import (
    Clock,
    first_doubtful,
    first_unfit,
    orders_fitting,
    read_clock,
    read_day,
    split_moment,
)
from floorcare.faces.intake.unfit import Unfit


@pytest.mark.parametrize(
    ("dates", "orders"),
    [
        (["03/04/2026", "04/05/2026"], ("day first", "month first")),
        (["03/04/2026", "13/05/2026"], ("day first",)),
        (["03/04/2026", "04/13/2026"], ("month first",)),
        (["13/04/2026", "04/13/2026"], ()),
        (["12.03.2026"], ("day first", "month first")),
        (["05/05/2026"], ("day first",)),
        (["2026-03-04", "3 Apr 2026"], ("day first",)),
        (["12.03.26"], ("day first", "month first", "year first")),
        (["31.03.26", "12.03.26"], ("day first", "year first")),
        (["26-03-31", "32-03-12"], ("year first",)),
        (["13/04/2026", "2026-14-13"], ("day first",)),
        ([], ("day first",)),
    ],
)
def test_the_orders_that_fit_every_date(dates, orders):
    assert orders_fitting(dates) == orders


def test_what_is_in_doubt_and_what_fits_none_are_named():
    assert first_doubtful(["13/04/2026", "03/04/2026"]) == "03/04/2026"
    assert first_doubtful(["2026-03-04"]) == ""
    assert first_unfit(["13/04/2026", "04/13/2026"], "day first") == "04/13/2026"


@pytest.mark.parametrize(
    ("text", "order", "day"),
    [
        ("03/04/2026", "day first", date(2026, 4, 3)),
        ("03/04/2026", "month first", date(2026, 3, 4)),
        ("3.4.26", "day first", date(2026, 4, 3)),
        ("26-04-03", "year first", date(2026, 4, 3)),
        ("2026/04/03", "month first", date(2026, 4, 3)),
        ("3 Apr 2026", "month first", date(2026, 4, 3)),
    ],
)
def test_a_day_is_read_in_the_order_it_is_written_in(text, order, day):
    assert read_day(text, order) == day


@pytest.mark.parametrize("text", ["31/02/2026", "2026-13-40", "soon", "1/2/123"])
def test_what_is_no_day_is_refused(text):
    with pytest.raises(Unfit):
        read_day(text, "day first")


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("2026-03-02T21:40:05", ("2026-03-02", "21:40:05")),
        ("02.03.2026 21:40", ("02.03.2026", "21:40")),
        ("3/2/2026, 9:40 PM", ("3/2/2026", "9:40 PM")),
        ("3/2/2026", ("3/2/2026", "")),
    ],
)
def test_a_moment_is_parted_into_day_and_time(text, parts):
    assert split_moment(text) == parts


@pytest.mark.parametrize(
    ("at", "minute"),
    [
        ("21:40", 1300),
        ("9:40 PM", 1300),
        ("12:05 am", 5),
        ("21.40", 1300),
        ("9 pm", 1260),
        ("", 720),
    ],
)
def test_a_time_is_read_as_it_is_typed(at, minute):
    assert read_clock("2026-03-02", at, "day first") == Clock(date(2026, 3, 2), minute)


@pytest.mark.parametrize("at", ["25:10", "13:00 PM", "noonish", "12:75", "7"])
def test_what_no_clock_shows_is_refused(at):
    with pytest.raises(Unfit):
        read_clock("2026-03-02", at, "day first")


def test_an_offset_is_turned_into_the_sites_own_clock():
    clock = read_clock("2026-07-01", "23:30Z", "day first")
    assert clock.at_site("Europe/Berlin") == (date(2026, 7, 2), 90)
    west = read_clock("2026-07-01", "01:30+02:00", "day first")
    assert west.at_site("America/Chicago") == (date(2026, 6, 30), 1110)
    assert read_clock("2026-07-01", "23:30", "day first").at_site("Asia/Tokyo")[1] == 1410
