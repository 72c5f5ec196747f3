from dataclasses import replace

import pytest

from floorcare.ground.trade.treatment import Work
from floorcare.ground.units.dilution import Dilution
from floorcare.ground.work.quantities import (
    machines_used,
    quantities,
    recovered_l,
    tool_uses,
    tools_used,
)
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


def test_a_solution_names_its_water_and_what_its_dilution_means() -> None:
    (cleaner,) = quantities(CONCRETE, CONCRETE.methods[Work.CLEAN], 1000.0)
    # 600 ft²/gal is 14.725 m²/L of mix; 1,000 m² take 67.9 L, 74.7 L with the waste
    assert cleaner.mix_l == pytest.approx(74.70, abs=0.01)
    assert cleaner.litres == pytest.approx(74.70 / 129, abs=1e-3)
    assert cleaner.mixed == "1:128, parts to parts"
    (protector,) = [
        q
        for q in quantities(CONCRETE, CONCRETE.methods[Work.RECOAT], 1000.0)
        if q.material == "protector"
    ]
    assert (protector.water_l, protector.mixed) == (0.0, "")


def test_a_part_in_parts_has_one_part_of_water_less() -> None:
    material = CONCRETE.materials["deep_cleaner"]
    steps = CONCRETE.methods[Work.DEEP_SCRUB]

    def mixed(convention: Dilution) -> float:
        changed = replace(material, dilution_parts=10.0, dilution=convention)
        surface = replace(CONCRETE, materials={**CONCRETE.materials, "deep_cleaner": changed})
        (found,) = quantities(surface, steps, 100.0)
        return found.water_l / found.litres

    assert mixed(Dilution.PARTS_TO_PARTS) == pytest.approx(10)
    assert mixed(Dilution.PART_IN_PARTS) == pytest.approx(9)


def test_tools_count_each_pass_and_a_set_a_piece_for_each_head() -> None:
    uses = {u.tool: u for u in tool_uses(CONCRETE, CONCRETE.methods[Work.REPOLISH], 100.0)}
    assert (uses["resin_800"].worked_m2, uses["resin_800"].heads) == (200.0, 3)
    assert (uses["edge_diamonds"].worked_m2, uses["edge_diamonds"].heads) == (0.0, 1)
    assert uses["resin_800"].share is None
    tools = {**CONCRETE.tools, "resin_800": replace(CONCRETE.tools["resin_800"], life_m2=400.0)}
    known = tool_uses(replace(CONCRETE, tools=tools), CONCRETE.methods[Work.REPOLISH], 100.0)
    assert {u.tool: u.share for u in known}["resin_800"] == 0.5


def test_solutions_and_rinse_water_come_back_and_coats_stay() -> None:
    deep = CONCRETE.methods[Work.DEEP_SCRUB]
    (cleaner,) = quantities(CONCRETE, deep, 100.0)
    # two passes of rinsing at 0.07 L/m²
    assert recovered_l(CONCRETE, deep, 100.0) == pytest.approx(cleaner.mix_l + 14.0)
    recoat = CONCRETE.methods[Work.RECOAT]
    wash = quantities(CONCRETE, recoat, 100.0)[0]
    assert recovered_l(CONCRETE, recoat, 100.0) == pytest.approx(wash.mix_l)
    assert recovered_l(CONCRETE, recoat, None) == 0.0


def test_wet_grinding_gives_back_the_water_of_its_feed() -> None:
    terrazzo = load_surfaces()["terrazzo"]
    rung = terrazzo.methods[Work.REPOLISH]
    ground = sum(s.passes for s in rung.steps if s.machine == "wet_grinder")
    assert recovered_l(terrazzo, rung, 10.0) > 10.0 * ground
