"""Odd input to the plain entry for study is named, and the rest estimated."""

from time import perf_counter
from typing import Any

import numpy as np
import pytest

from floorcare.ground.wear import study
from tests.ground.wear.studied import (
    AHEAD,
    DAYS,
    FIT,
    FLEET,
    GIVEN,
    SPAN,
    ZONES,
    again,
    assert_same,
    readings,
    results,
)


@pytest.mark.parametrize("bad", [np.nan, np.inf, 0.0, -3.0])
def test_a_value_that_is_no_gloss_is_named_and_the_rest_estimated(bad: float) -> None:
    value = GIVEN["value"].copy()
    value[[5, 17]] = bad
    fit = again(value=value)
    assert len(fit.findings) == 2
    for row, finding in zip((5, 17), fit.findings, strict=True):
        assert f"row {row}: zone {GIVEN['zone'][row]}, day {GIVEN['day'][row]}" in finding.problem
        assert finding.mend
        assert finding.weight == "asks"
    good = np.delete(np.arange(value.size), [5, 17])
    assert_same(fit, again(**readings(good)))


@pytest.mark.parametrize("bad", [np.nan, np.inf, -5.0])
def test_footfall_that_is_none_is_named_and_the_zones_mean_taken(bad: float) -> None:
    wrong, mended = GIVEN["footfall"].copy(), GIVEN["footfall"].copy()
    wrong[4, 100] = bad
    mended[4, 100] = np.delete(mended[4], 100).mean()
    fit, expected = again(footfall=wrong), again(footfall=mended)
    assert len(fit.findings) == 1
    assert "zone 4, day 100" in fit.findings[0].problem
    for one, other in zip(results(fit), results(expected), strict=True):
        assert one == pytest.approx(other, rel=1e-9)


def test_a_floor_nobody_walks_on_is_estimated_too() -> None:
    footfall = GIVEN["footfall"].copy()
    footfall[3] = 0.0
    fit = again(footfall=footfall)
    assert fit.findings == ()
    assert np.isfinite(study.forecast(fit, AHEAD)[0]).all()


def test_nothing_known_of_a_zones_footfall_is_said_and_not_guessed_away() -> None:
    footfall = GIVEN["footfall"].copy()
    footfall[3] = np.nan
    fit = again(footfall=footfall)
    assert any("zone 3" in finding.problem for finding in fit.findings)
    others = np.delete(np.arange(ZONES), 3)
    for part, whole in zip(results(fit), results(FIT), strict=True):
        assert part[others] == pytest.approx(whole[others], rel=1e-9)


@pytest.mark.parametrize("column", ["zone", "day"])
def test_a_reading_of_no_zone_or_day_is_named_and_left_out(column: str) -> None:
    for bad in (np.nan, -2.0, *((1e6,) if column == "zone" else ())):
        wrong = GIVEN[column].astype(float)
        wrong[8] = bad
        fit = again(**{column: wrong})
        assert len(fit.findings) == 1
        assert "row 8" in fit.findings[0].problem
        assert_same(fit, again(**readings(np.delete(np.arange(wrong.size), 8))))


@pytest.mark.parametrize("column", ["stations", "after_burnish"])
def test_a_station_count_or_state_that_is_none_stands_for_the_least(column: str) -> None:
    wrong, least = GIVEN[column].astype(float), GIVEN[column].astype(float)
    wrong[8], least[8] = np.nan, 1.0 if column == "stations" else 0.0
    assert_same(again(**{column: wrong}), again(**{column: least}))


def test_a_zone_read_the_same_every_time_is_asked_about_and_estimated() -> None:
    value = np.where(GIVEN["zone"] == 9, 47.0, GIVEN["value"])
    fit = again(value=value)
    (finding,) = fit.findings
    assert "zone 9" in finding.problem
    assert "47.0 GU" in str(finding.value)
    assert np.isfinite(study.forecast(fit, AHEAD)[0][9]).all()


def test_a_hundred_thousand_readings_of_one_zone_are_no_trouble() -> None:
    random = np.random.default_rng(5)
    many = 100_000
    day = random.integers(0, DAYS, many)
    truth = FLEET.truth.before[6, day]
    more = {
        "zone": np.full(many, 6),
        "day": day,
        "value": truth * np.exp(0.05 * random.standard_normal(many)),
        "stations": np.ones(many, dtype=np.int64),
        "after_burnish": np.zeros(many, dtype=bool),
    }
    given = {name: np.r_[GIVEN[name], column] for name, column in more.items()}
    begun = perf_counter()
    fit = again(**given)
    assert perf_counter() - begun < 10.0
    median, lower, upper = study.forecast(fit, AHEAD)
    assert lower[6, 0] < FLEET.truth.before[6, DAYS] < upper[6, 0]
    assert np.log(upper[6, 0] / lower[6, 0]) < np.log(results(FIT)[2][6, 0] / results(FIT)[1][6, 0])
    others = np.delete(np.arange(ZONES), 6)
    assert median[others] == pytest.approx(results(FIT)[0][others], rel=1e-9)


def test_footfall_may_be_float32_or_whole_numbers() -> None:
    whole = np.round(GIVEN["footfall"])
    exact = again(footfall=whole)
    for kind, within in ((np.float32, 1e-4), (np.int64, 1e-9), (np.int32, 1e-9)):
        for one, other in zip(
            study.forecast(again(footfall=whole.astype(kind)), AHEAD),
            study.forecast(exact, AHEAD),
            strict=True,
        ):
            assert one == pytest.approx(other, rel=within)


def test_lists_and_one_number_for_all_zones_will_do() -> None:
    listed = {name: value.tolist() for name, value in GIVEN.items()}
    assert_same(again(**listed), FIT)
    assert_same(again(today=DAYS - 1), FIT)
    assert_same(again(counted=True, traffic=1), again(counted=[True] * ZONES, traffic=[1] * ZONES))
    assert study.forecast(FIT, 30)[0].tolist() == study.forecast(FIT, [30])[0].tolist()


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"traffic": 4}, "traffic must be 0"),
        ({"traffic": -1}, "traffic must be 0"),
        ({"today": SPAN}, "today must lie"),
        ({"today": -1}, "today must lie"),
        ({"value": GIVEN["value"][1:]}, "of one length"),
        ({"burnish": GIVEN["burnish"][:, 1:]}, "must be"),
        ({"recoat": GIVEN["recoat"][1:]}, "must be"),
    ],
)
def test_arrays_that_do_not_fit_together_are_refused(change: dict[str, Any], said: str) -> None:
    with pytest.raises(ValueError, match=said):
        again(**change)


@pytest.mark.parametrize("column", ["burnish", "recoat", "repolish"])
def test_a_treatment_that_is_no_number_is_named_and_taken_as_not_done(column: str) -> None:
    wrong = GIVEN[column].astype(float)
    row, day = np.argwhere(wrong == 0)[777]
    wrong[row, day] = np.nan
    fit = again(**{column: wrong})
    assert_same(fit, FIT)
    assert len(fit.findings) == 1
    assert f"zone {row}, day {day}" in fit.findings[0].problem


@pytest.mark.parametrize(
    ("column", "instead"), [("counted", 0), ("traffic", 1), ("opening", 1), ("today", DAYS - 1)]
)
def test_a_zones_own_number_that_is_none_is_named_and_the_safest_taken(
    column: str, instead: int
) -> None:
    given = {**GIVEN, "opening": np.zeros(ZONES, dtype=np.int64)}[column]
    wrong, safe = given.astype(float), given.astype(np.int64)
    wrong[3], safe[3] = np.nan, instead
    fit = again(**{column: wrong})
    assert_same(fit, again(**{column: safe}))
    (finding,) = fit.findings
    assert finding.problem.startswith(f"{column} (zone 3) is no number")
