from dataclasses import replace
from datetime import date

from floorcare.ground.schedule.doubts import (
    doubts_of,
    keeps_holidays,
    left_out,
    surface_of,
    under_care,
    unknown_holidays,
)
from tests.builders import DAY, TODAY, a_book, a_site_book, a_zone, polished
from tests.called import a_call

SURFACES = {"polished_concrete": polished()}


def test_care_goes_on_to_its_last_day() -> None:
    assert under_care(a_book(), TODAY)
    for ahead, still in ((-1, False), (0, True)):
        book = a_book(zone=a_zone(to_on=TODAY + ahead * DAY))
        assert under_care(book, TODAY) is still


def test_a_zone_has_its_first_surface_before_its_care_begins() -> None:
    assert surface_of(a_book(), TODAY) == "polished_concrete"
    assert surface_of(a_book(zone=a_zone(from_on=TODAY + 9 * DAY)), TODAY) == "polished_concrete"


def test_a_zone_whose_surface_cannot_be_read_is_named() -> None:
    book = a_site_book()
    assert left_out([book], SURFACES, (), TODAY) == []
    (found,) = left_out([book], {}, (), TODAY)
    assert found.problem.startswith("NORTH/LANE is not planned: its surface")
    assert (found.value, found.weight) == ("polished_concrete", "asks")


def test_a_call_of_a_whole_site_is_named_and_one_of_a_zone_is_not() -> None:
    calls = (a_call(zone=""), a_call(), a_call(zone="", site="SOUTH"))
    (found,) = left_out([a_site_book()], SURFACES, calls, TODAY)
    assert "reported at NORTH" in found.problem


def test_holidays_are_asked_about_once_a_country_where_the_table_ends() -> None:
    books = [a_site_book("NORTH"), a_site_book("SOUTH"), a_site_book("EAST", holidays="worked")]
    assert [keeps_holidays(book) for book in books] == [True, True, False]
    assert unknown_holidays(books, TODAY, date(2027, 3, 1)) == []
    far = date(2400, 1, 1)
    (found,) = unknown_holidays(books, far, far)
    assert "NORTH, SOUTH are planned as if there were none" in found.problem
    both = doubts_of(books, {}, (), far, far)
    assert both == [found, *left_out(books, {}, (), far)]
    nowhere = replace(books[0], site=replace(books[0].site, country=""))
    assert unknown_holidays([nowhere], far, far) == []
