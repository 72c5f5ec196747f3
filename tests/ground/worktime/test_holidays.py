from datetime import date

import pytest

from floorcare.ground.worktime.holidays import country_problem, known_years, public_holidays


def test_a_site_without_a_country_keeps_no_holidays() -> None:
    assert public_holidays("", "", [2026]) == {}


def test_several_years_come_in_order_of_date() -> None:
    days = list(public_holidays("US", "", [2027, 2026, 2026]))
    assert days == sorted(days)
    assert {day.year for day in days} == {2026, 2027}


def test_a_region_adds_its_own_days_with_english_names() -> None:
    epiphany = date(2026, 1, 6)
    assert epiphany not in public_holidays("DE", "", [2026])
    assert public_holidays("DE", "BY", [2026])[epiphany] == "Epiphany"


def test_changing_the_answer_does_not_change_the_next_one() -> None:
    public_holidays("US", "", [2026]).clear()
    assert public_holidays("US", "", [2026])


@pytest.mark.parametrize(
    ("country", "region", "hint"),
    [
        ("us", "", "did you mean US?"),
        ("Germany", "", "did you mean DE?"),
        ("USA", "", "did you mean US?"),
        ("UK", "", "did you mean GB?"),
        ("Atlantis", "", "write two letters such as US"),
        ("x" * 100_000, "", "write two letters such as US"),
        ("GB", "England", "did you mean ENG?"),
        ("DE", "Bayern", "did you mean BY?"),
        ("US", "XX", "allowed AK, AL"),
        ("GG", "XX", "leave it empty"),
        ("", "BY", "needs a country"),
    ],
)
def test_an_unknown_country_or_region_says_what_is_known(
    country: str, region: str, hint: str
) -> None:
    problem = country_problem(country, region)
    assert hint in problem
    assert len(problem) < 400
    with pytest.raises(ValueError, match=r"region|country"):
        public_holidays(country, region, [2026])


def test_a_year_beyond_the_tables_is_refused_rather_than_empty() -> None:
    with pytest.raises(ValueError, match="known from 1777 to 2100, not for 2300"):
        public_holidays("US", "", [2300])


def test_only_years_of_the_table_are_known() -> None:
    assert known_years("US", range(2099, 2103)) == (2099, 2100)
    for year in known_years("LK", range(2000, 2101)):
        assert public_holidays("LK", "", [year])
