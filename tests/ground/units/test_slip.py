import pytest

from floorcare.ground.units.slip import (
    PLACES,
    REFUSED_METHODS,
    SLIP_METHODS,
    ptv_band,
    slip_method_problem,
    slip_value_problem,
    slip_verdict,
)


def test_the_verdict_says_what_was_compared_with_what() -> None:
    verdict = slip_verdict("wet DCOF", "level", 0.41)
    assert (verdict.passes, verdict.limit) == (False, 0.42)
    assert verdict.sentence == "wet DCOF 0.41 is below 0.42, the least for a level floor."
    assert slip_verdict("pendulum PTV", "level", 36).sentence == (
        "pendulum PTV 36 keeps 36, the least for a level floor."
    )


def test_a_value_just_below_its_limit_is_not_printed_as_the_limit() -> None:
    verdict = slip_verdict("wet DCOF", "level", 0.4196)
    assert not verdict.passes
    assert verdict.sentence.startswith("wet DCOF 0.4196 is below 0.42")


def test_binary_fractions_do_not_fail_a_mean_that_is_the_limit() -> None:
    mean = (0.41 + 0.47 + 0.47) / 3
    assert mean < 0.45
    assert slip_verdict("wet DCOF", "ramp", mean).passes


def test_the_stricter_of_promise_and_method_counts() -> None:
    assert not slip_verdict("wet DCOF", "level", 0.45, promised=0.48).passes
    assert slip_verdict("wet DCOF", "level", 0.45, promised=0.48).sentence.endswith("the promise.")
    assert not slip_verdict("wet DCOF", "level", 0.41, promised=0.30).passes


@pytest.mark.parametrize("method", REFUSED_METHODS)
def test_a_refused_method_names_its_reason_and_what_to_use(method: str) -> None:
    for written in (method, method.lower()):
        problem = slip_method_problem(written, "level")
        assert problem == f"{REFUSED_METHODS[method]}; use wet DCOF or pendulum PTV"
    with pytest.raises(ValueError, match="use wet DCOF"):
        slip_verdict(method, "level", 0.6)


def test_an_unknown_method_or_place_names_what_is_known() -> None:
    assert "allowed wet DCOF, pendulum PTV" in slip_method_problem("tribometer", "level")
    assert "allowed level, ramp, wet-plus, outdoor" in slip_method_problem("wet DCOF", "stairs")


def test_a_pendulum_is_refused_where_it_has_no_published_limit() -> None:
    assert slip_method_problem("pendulum PTV", "ramp") == (
        'pendulum PTV has no published limit for the place "ramp"; use wet DCOF'
    )


def test_every_method_and_place_is_either_judged_or_refused() -> None:
    for name, method in SLIP_METHODS.items():
        for place in PLACES:
            assert bool(slip_method_problem(name, place)) == (method.limit(place) is None)


def test_a_value_of_another_method_is_asked_about() -> None:
    assert slip_value_problem("wet DCOF", 45) != ""
    assert slip_value_problem("pendulum PTV", 151) != ""
    assert slip_value_problem("pendulum PTV", float("nan")) != ""
    assert slip_value_problem("pendulum PTV", 45) == ""
    with pytest.raises(ValueError, match="was another method meant"):
        slip_verdict("wet DCOF", "level", 45)


def test_half_a_point_below_36_is_still_moderate() -> None:
    assert [ptv_band(v) for v in (0, 24.9, 35.9, 150)] == ["high", "high", "moderate", "low"]
    with pytest.raises(ValueError, match="allowed 0 to 150"):
        ptv_band(-1)
