import pytest

from floorcare.ground.trade.treatment import Work
from floorcare.ground.work.quantities import machines_used, quantities, tools_used
from floorcare.store.surfaces import load_surfaces

CONCRETE = load_surfaces()["polished_concrete"]


def litres(work: Work, area_m2: float) -> dict[str, tuple[float, int]]:
    found = quantities(CONCRETE, CONCRETE.methods[work], area_m2)
    return {quantity.material: (quantity.litres, quantity.coats) for quantity in found}


def test_upkeep_lays_one_coat_and_polishing_two() -> None:
    # 4,000 ft²/gal is 98.17 m²/L; 981.7 m² take 10 L a coat, 11 L with the waste.
    recoat = litres(Work.RECOAT, 981.7)["protector"]
    repolish = litres(Work.REPOLISH, 981.7)["protector"]
    assert recoat == (pytest.approx(11.0, rel=1e-4), 1)
    assert repolish == (pytest.approx(22.0, rel=1e-4), 2)


def test_a_product_used_twice_stands_once_with_its_charges_added() -> None:
    assert litres(Work.REPOLISH, 100.0)["neutral_cleaner"][1] == 2


def test_twice_the_area_takes_twice_the_product() -> None:
    one, two = litres(Work.DENSIFY, 50.0), litres(Work.DENSIFY, 100.0)
    assert {code: 2 * one[code][0] for code in one} == pytest.approx(
        {code: two[code][0] for code in two}
    )


def test_a_coverage_not_from_the_products_sheet_is_a_marked_estimate() -> None:
    found = quantities(CONCRETE, CONCRETE.methods[Work.RECOAT], 100.0)
    assert [quantity.marked_estimate for quantity in found] == [True, True]


def test_nothing_is_said_about_an_area_nobody_has_measured() -> None:
    assert quantities(CONCRETE, CONCRETE.methods[Work.RECOAT], None) == ()


def test_an_impossible_area_is_refused() -> None:
    with pytest.raises(ValueError, match="allowed 0 or more"):
        quantities(CONCRETE, CONCRETE.methods[Work.RECOAT], -5.0)


def test_machines_and_tools_stand_once_in_the_order_of_first_use() -> None:
    rung = CONCRETE.methods[Work.RECOAT]
    assert [machine.code for machine in machines_used(CONCRETE, rung)] == ["scrubber", "burnisher"]
    assert [tool.code for tool in tools_used(CONCRETE, rung)] == [
        "dust_mop",
        "red_pad",
        "applicator",
        "burnish_pad",
    ]
