import pytest

from floorcare.ground.units.dilution import (
    Dilution,
    active_ppm,
    oz_per_gal_of_water,
    product_l,
    product_share,
    use_cost,
)


def test_the_two_conventions_differ_by_one_part() -> None:
    for parts in (2, 10, 256):
        assert product_share(parts - 1, Dilution.PARTS_TO_PARTS) == product_share(
            parts, Dilution.PART_IN_PARTS
        )


def test_product_and_water_make_up_the_mix() -> None:
    product = product_l(10, 4, Dilution.PARTS_TO_PARTS)
    assert product == 2.0
    assert (10 - product) / product == 4.0
    assert product_l(10, 4, Dilution.PART_IN_PARTS) == 2.5


def test_undiluted_product_is_one_part_in_one() -> None:
    assert use_cost(9.0, 1, Dilution.PART_IN_PARTS) == 9.0
    assert active_ppm(100, 1, Dilution.PART_IN_PARTS) == 1_000_000


def test_impossible_dilutions_are_refused() -> None:
    for parts in (0, 0.5, -3, float("nan")):
        with pytest.raises(ValueError, match="1:1 or weaker"):
            product_share(parts, Dilution.PARTS_TO_PARTS)
    with pytest.raises(ValueError, match="1:1 or weaker"):
        oz_per_gal_of_water(0)
    with pytest.raises(ValueError, match="0 to 100"):
        active_ppm(101, 10, Dilution.PARTS_TO_PARTS)
    with pytest.raises(ValueError, match="0 or more"):
        product_l(-1, 10, Dilution.PARTS_TO_PARTS)
