"""Quantities worked by hand from published coverage and dilution figures.

Sources: a maker's data sheet (maker withheld) covers 200 to 400 ft² with a gallon of densifier on
flat finished concrete; suppliers' dilution charts (makers withheld) pour 128/N oz to the gallon of
water and reckon the use cost by N + 1. Conversion: NIST SP 811.
"""

from dataclasses import replace

import pytest

from floorcare.ground.trade.treatment import Work
from floorcare.ground.units.dilution import Dilution
from floorcare.ground.work.quantities import quantities
from floorcare.store.surfaces import load_surfaces

M2_PER_FT2, L_PER_GAL = 0.09290304, 3.785411784
CONCRETE = load_surfaces()["polished_concrete"]


def taken(work: Work, code: str, area_ft2: float, **changed):
    material = replace(CONCRETE.materials[code], waste_share=0.0, **changed)
    surface = replace(CONCRETE, materials={**CONCRETE.materials, code: material})
    found = quantities(surface, CONCRETE.methods[work], area_ft2 * M2_PER_FT2)
    return next(quantity for quantity in found if quantity.material == code)


@pytest.mark.parametrize(("ft2_per_gal", "gallons"), [(200, 50.0), (400, 25.0)])
def test_densifier_for_ten_thousand_square_feet(ft2_per_gal: float, gallons: float) -> None:
    coverage = ft2_per_gal * M2_PER_FT2 / L_PER_GAL
    found = taken(Work.DENSIFY, "densifier", 10_000.0, coverage_m2_per_l=coverage)
    assert found.litres / L_PER_GAL == pytest.approx(gallons)
    assert found.water_l == 0.0


@pytest.mark.parametrize("parts", [64.0, 128.0, 256.0])
def test_the_chart_pours_128_over_n_ounces_to_each_gallon_of_water(parts: float) -> None:
    found = taken(Work.CLEAN, "neutral_cleaner", 10_000.0, dilution_parts=parts)
    ounces_per_gallon = found.litres / found.water_l * 128
    assert ounces_per_gallon == pytest.approx(128 / parts)


def test_use_cost_by_n_plus_one_is_what_the_mix_costs() -> None:
    # 12.30 a gallon at 1:256 is 0.048 a gallon of mix; 4.00 at 1:10 is 0.36
    for price, parts, cost in ((12.30, 256.0, 0.048), (4.00, 10.0, 0.36)):
        found = taken(Work.CLEAN, "neutral_cleaner", 5_000.0, dilution_parts=parts)
        assert price * found.litres / found.mix_l == pytest.approx(cost, abs=0.004)


def test_part_in_parts_is_one_part_of_water_weaker_than_it_looks() -> None:
    found = taken(
        Work.CLEAN,
        "neutral_cleaner",
        5_000.0,
        dilution_parts=64.0,
        dilution=Dilution.PART_IN_PARTS,
    )
    assert found.water_l / found.litres == pytest.approx(63)
    assert found.mixed == "1:64, part in parts"
