from datetime import date

import pytest

from floorcare.faces.intake.dating import NOON_MINUTE, about_day, day, day_of_year, moment
from floorcare.faces.intake.unfit import Unfit

TODAY = date(2026, 11, 24)


@pytest.mark.parametrize(
    "text",
    [
        "2026-03-13",
        "2026-3-13",
        "2026-03-13 00:00:00",
        "2026/03/13",
        "13.03.2026",
        "13.3.2026",
        "13/03/2026",
        "03/13/2026",
        "13 Mar 2026",
        "13 March 2026",
        "13. March 2026",
        "13-Mar-2026",
        "13th March 2026",
        "March 13, 2026",
        "Mar 13 2026",
    ],
)
def test_a_day_that_can_mean_one_day_is_read(text):
    assert day(text) == date(2026, 3, 13)


@pytest.mark.parametrize(
    ("text", "says", "mend"),
    [
        ("03/04/2026", "can mean two days", "write 2026-04-03 or 2026-03-04"),
        ("2026-02-30", "is a day no calendar has", "correct day or month"),
        ("31.04.2026", "is a day no calendar has", "correct day or month"),
        ("26-03-13", "is not a date", "write it as year-month-day, 2026-03-12"),
        ("13 Mrz 2026", "names no month", "write the month in English or as a number"),
        ("0206-03-13", "lies in a year that cannot be meant", "correct the year"),
        ("soon", "is not a date", "write it as year-month-day, 2026-03-12"),
    ],
)
def test_any_other_day_is_refused_with_its_mend(text, says, mend):
    with pytest.raises(Unfit) as caught:
        day(text)
    assert caught.value.problem == says
    assert caught.value.mend == mend


def test_a_spreadsheets_day_number_is_named_as_such():
    with pytest.raises(Unfit) as caught:
        day("46094")
    assert "day number" in caught.value.mend


def test_the_same_number_for_day_and_month_is_one_day():
    assert day("03/03/2026") == date(2026, 3, 3)


@pytest.mark.parametrize(
    ("text", "minute"),
    [
        ("2026-03-13 21:40", 1300),
        ("2026-03-13T21:40:30", 1300),
        ("13.03.2026 06:05", 365),
        ("13 Mar 2026, 21:40", 1300),
        ("2026-03-13 00:00", 0),
        ("2026-03-13", NOON_MINUTE),
    ],
)
def test_a_moment_is_the_sites_own_clock(text, minute):
    assert moment(text) == (date(2026, 3, 13), minute)


@pytest.mark.parametrize("text", ["2026-03-13T21:40Z", "2026-03-13 21:40+01:00"])
def test_an_offset_is_refused(text):
    with pytest.raises(Unfit) as caught:
        moment(text)
    assert caught.value.problem == "names an offset from UTC"


def test_an_hour_no_clock_shows_is_refused():
    with pytest.raises(Unfit, match="no clock shows"):
        moment("2026-03-13 25:00")


@pytest.mark.parametrize(
    ("text", "on", "about_days"),
    [
        ("2026-03-12", date(2026, 3, 12), 0),
        ("about 2026-03-12", date(2026, 3, 12), 7),
        ("March 2026", date(2026, 3, 15), 15),
        ("mar 2026", date(2026, 3, 15), 15),
        ("2026-03", date(2026, 3, 15), 15),
        ("03/2026", date(2026, 3, 15), 15),
        ("early March 2026", date(2026, 3, 5), 5),
        ("late March 2026", date(2026, 3, 25), 5),
        ("spring 2026", date(2026, 4, 15), 45),
        ("ca. summer 2026", date(2026, 7, 15), 45),
        ("Q1 2026", date(2026, 2, 15), 45),
        ("2026 Q2", date(2026, 5, 15), 45),
        ("winter 2025/26", date(2026, 1, 15), 45),
        ("2025", date(2025, 7, 1), 182),
    ],
)
def test_a_date_is_as_vague_as_it_was_written(text, on, about_days):
    assert about_day(text, TODAY) == (on, about_days)


def test_a_span_that_reaches_past_today_is_cut_at_today():
    assert about_day("November 2026", TODAY) == (date(2026, 11, 12), 12)
    assert about_day("2026", TODAY) == (date(2026, 6, 13), 164)


@pytest.mark.parametrize("text", ["", "unknown", "never", "?", "–"])
def test_what_is_not_known_is_none(text):
    assert about_day(text, TODAY) is None


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("spring 2027", "lies in the future"),
        ("winter 2026", "names a winter at either end of that year"),
        ("winter 2025/27", "names no winter"),
        ("last autumn", "is not a date"),
        ("Smarch 2026", "names no month"),
        ("13/2026", "is a day no calendar has"),
    ],
)
def test_what_cannot_be_meant_is_refused(text, says):
    with pytest.raises(Unfit) as caught:
        about_day(text, TODAY)
    assert caught.value.problem == says


@pytest.mark.parametrize(
    "text", ["11-05", "--11-05", "11-5", "5 Nov", "5-Nov", "Nov 5th", "5. nov"]
)
def test_a_day_of_the_year_is_read(text):
    assert day_of_year(text) == (11, 5)


def test_29_february_is_a_day_of_the_year():
    assert day_of_year("02-29") == (2, 29)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("2026-11-05", "is not a day of the year"),
        ("11/05", "is not a day of the year"),
        ("13-05", "is a day no calendar has"),
        ("02-30", "is a day no calendar has"),
        ("5 Fog", "names no month"),
    ],
)
def test_what_is_no_day_of_the_year_is_refused(text, says):
    with pytest.raises(Unfit) as caught:
        day_of_year(text)
    assert caught.value.problem == says
    assert caught.value.mend
