import pytest

from floorcare.ground.trade.surface import NO_EFFECT, Rung, Step
from floorcare.ground.trade.treatment import Work
from floorcare.ground.work.minutes import (
    ARRIVE_MINUTES,
    ASSUMED_MINUTES,
    PACK_MINUTES,
    SETUP_MINUTES,
    line_minutes,
    step_minutes,
)

MOP = Step(name="Mop", rate_m2_per_hour=600.0)
STRIP = Step(name="Strip", rate_m2_per_hour=60.0, passes=2, people=2, wait_minutes=30)
EDGES = Step(name="Edges", minutes_fixed=12.5, wait_minutes=15)


def rung(*steps: Step) -> Rung:
    return Rung(
        work=Work.STRIP,
        effect=NO_EFFECT,
        effect_spread=0.0,
        worthwhile_hold_days=0,
        forward_days=0,
        cap_days=None,
        min_age_days=0,
        after_densify_hours=0,
        changes_surface=False,
        restores_slip=False,
        resets_reading=False,
        needs=frozenset(),
        steps=steps,
        cautions=(),
    )


def test_a_step_takes_area_over_rate_times_passes_rounded_up() -> None:
    assert step_minutes(MOP, 100.0) == 10
    assert step_minutes(MOP, 101.0) == 11
    assert step_minutes(STRIP, 100.0) == 200


def test_fixed_minutes_do_not_grow_with_the_area() -> None:
    assert step_minutes(EDGES, 10.0) == step_minutes(EDGES, 10_000.0) == 13


def test_among_obstacles_the_pace_falls_to_three_quarters() -> None:
    assert step_minutes(MOP, 100.0, obstruction_share=1.0) == 14  # 10 / 0.75 = 13.3
    assert step_minutes(MOP, 100.0, obstruction_share=0.5) == 12  # 5 + 5 / 0.75 = 11.7


def test_person_minutes_count_everybody_and_no_wait_while_clock_minutes_count_the_waits() -> None:
    found = line_minutes(rung(MOP, STRIP, EDGES), 100.0)
    assert (found.minutes, found.clock_minutes, found.source) == (
        10 + 2 * 200 + 13,
        10 + 200 + 30 + 13,  # the last wait is the floor's, not the crew's
        "rate",
    )


def test_typed_minutes_outrank_the_rates_and_a_missing_area() -> None:
    for area_m2 in (100.0, None):
        found = line_minutes(rung(MOP), area_m2, typed_minutes=45)
        assert (found.minutes, found.clock_minutes, found.source) == (45, 45, "typed")


def test_without_area_and_typed_minutes_the_line_is_marked_as_assumed() -> None:
    found = line_minutes(rung(MOP), None)
    assert (found.minutes, found.source) == (ASSUMED_MINUTES, "assumed")


def test_rounding_of_the_arithmetic_is_no_extra_minute() -> None:
    # 1.1 m² at 66 m²/h is one minute, in floats a hair more.
    assert step_minutes(Step(name="Mop", rate_m2_per_hour=0.1 * 660), 1.1) == 1


@pytest.mark.parametrize("area_m2", [-1.0, float("nan")])
def test_an_impossible_area_is_refused(area_m2: float) -> None:
    with pytest.raises(ValueError, match="allowed 0 or more"):
        line_minutes(rung(MOP), area_m2)


def test_no_typed_minutes_below_one() -> None:
    with pytest.raises(ValueError, match="allowed 1 or more"):
        line_minutes(rung(MOP), 100.0, typed_minutes=0)


def test_set_up_is_arrival_and_packing() -> None:
    assert SETUP_MINUTES == ARRIVE_MINUTES + PACK_MINUTES
