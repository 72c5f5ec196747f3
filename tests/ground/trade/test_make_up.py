from datetime import date

import pytest

from floorcare.ground.trade.make_up import FloorMakeUp, Season


def a_season(
    first: tuple[int, int] = (11, 15), last: tuple[int, int] = (3, 15), factor: float = 1.5
) -> Season:
    return Season(
        name="grit",
        from_month=first[0],
        from_day=first[1],
        to_month=last[0],
        to_day=last[1],
        factor=factor,
    )


def test_a_season_over_the_new_year_covers_both_its_ends_and_the_days_between() -> None:
    grit = a_season()
    inside = (date(2025, 11, 15), date(2025, 12, 31), date(2026, 1, 1), date(2026, 3, 15))
    outside = (date(2025, 11, 14), date(2026, 3, 16), date(2026, 7, 1))
    assert all(grit.covers(day) for day in inside)
    assert not any(grit.covers(day) for day in outside)


def test_a_season_within_a_year_comes_every_year() -> None:
    pollen = a_season((4, 1), (5, 31))
    for year in (2024, 2026, 2031):
        days = (date(year, 3, 31), date(year, 4, 1), date(year, 5, 31), date(year, 6, 1))
        assert [pollen.covers(day) for day in days] == [False, True, True, False]


def test_a_season_of_one_day_and_one_that_ends_on_a_leap_day_stand() -> None:
    new_year = a_season((1, 1), (1, 1))
    assert new_year.covers(date(2027, 1, 1))
    assert not new_year.covers(date(2027, 1, 2))
    short = a_season((2, 1), (2, 29))
    assert short.covers(date(2027, 2, 28))
    assert not short.covers(date(2027, 3, 1))


@pytest.mark.parametrize("wrong", [(2, 30), (13, 1), (0, 5), (6, 31)])
def test_a_day_no_year_has_is_refused_at_either_end(wrong: tuple[int, int]) -> None:
    with pytest.raises(ValueError, match=r"month|day"):
        a_season(first=wrong)
    with pytest.raises(ValueError, match=r"month|day"):
        a_season(last=wrong)


@pytest.mark.parametrize("factor", [0.99, 0.0, 10.01, float("nan")])
def test_a_season_that_spares_the_floor_or_grinds_it_through_is_refused(factor: float) -> None:
    with pytest.raises(ValueError, match="allowed 1 to 10"):
        a_season(factor=factor)


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"exposure_class": "D"}, "exposure class 'D': allowed A, B, C"),
        ({"obstruction_share": 1.1}, "obstruction share 1.1: allowed 0 to 1"),
        ({"obstruction_share": -0.1}, "allowed 0 to 1"),
        ({"grit": 15}, "grit 15: allowed 16 to 20,000"),
        ({"grit": 20001}, "allowed 16 to 20,000"),
    ],
)
def test_a_make_up_that_cannot_be_is_refused(wrong: dict[str, object], said: str) -> None:
    with pytest.raises(ValueError, match=said):
        FloorMakeUp(from_on=date(2026, 1, 1), **wrong)  # type: ignore[arg-type]


def test_what_nobody_knows_of_a_floor_may_be_left_out() -> None:
    unknown = FloorMakeUp(from_on=date(2026, 1, 1))
    assert (unknown.grit, unknown.exposure_class, unknown.joints_m) == (None, "", None)
    assert FloorMakeUp(from_on=date(2026, 1, 1), grit=800, exposure_class="B").grit == 800
