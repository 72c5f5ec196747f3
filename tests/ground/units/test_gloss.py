import pytest

from floorcare.ground.units.gloss import (
    doi_class,
    geometry_for,
    loss_is_visible,
    range_warning,
    trimmed_mean,
)


@pytest.mark.parametrize("gloss_gu", [10.0, 42.0, 70.0])
def test_a_reading_in_range_at_60_degrees_is_not_warned_of(gloss_gu: float) -> None:
    assert geometry_for(gloss_gu) == 60
    assert range_warning(gloss_gu, 60) == ""


def test_a_reading_out_of_range_names_the_geometry_that_fits() -> None:
    assert range_warning(70.1, 60) == (
        "70.1 GU is above 70 GU, where 60° tells little: read this floor at 20°."
    )
    assert range_warning(9.9, 60) == (
        "9.9 GU is below 10 GU, where 60° tells little: read this floor at 85°."
    )


def test_the_other_geometries_carry_no_range_of_their_own() -> None:
    assert range_warning(85, 20) == ""
    assert range_warning(3, 85) == ""


def test_an_angle_counted_from_the_floor_is_asked_about() -> None:
    with pytest.raises(ValueError, match="30° to the floor is 60° from the upright"):
        range_warning(50, 30)
    with pytest.raises(ValueError, match=r"allowed 20, 60, 85$"):
        range_warning(50, 45)


def test_four_readings_are_averaged_plainly_and_five_are_trimmed() -> None:
    assert trimmed_mean([40, 50, 60, 90]) == 60.0
    assert trimmed_mean([40, 50, 60, 90, 10]) == 50.0


def test_only_one_of_two_equal_extremes_is_dropped() -> None:
    assert trimmed_mean([10, 10, 50, 50, 90]) == pytest.approx(110 / 3)


def test_the_order_of_readings_does_not_matter() -> None:
    values = [0.1, 0.2, 0.3, 1e6, 0.7, 0.4]
    assert trimmed_mean(values) == trimmed_mean(values[::-1])


def test_a_mean_of_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match="at least one reading"):
        trimmed_mean([])


def test_the_gaps_of_the_chart_are_closed_downwards() -> None:
    assert [doi_class(doi) for doi in (0, 9.9, 10, 39.9, 40, 69.9, 70, 100)] == [
        *(1, 1, 2, 2),
        *(3, 3, 4, 4),
    ]


@pytest.mark.parametrize("doi_pct", [-0.1, 100.1, float("nan")])
def test_an_impossible_image_clarity_is_refused(doi_pct: float) -> None:
    with pytest.raises(ValueError, match="allowed 0 to 100"):
        doi_class(doi_pct)


def test_a_loss_is_visible_from_fifteen_gu_of_the_floor_s_own_first_reading() -> None:
    assert loss_is_visible(57.3, 42.3), "a hair below 15 in binary"
    assert not loss_is_visible(57.3, 42.4)
    assert not loss_is_visible(57.3, 80.0), "a rise is no loss"
