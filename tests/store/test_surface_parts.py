from dataclasses import replace
from typing import Any

import pytest

from floorcare.ground.trade.surface import Effect, Rung
from floorcare.ground.trade.treatment import Work
from floorcare.ground.units.dilution import Dilution
from floorcare.store.surface_parts import (
    read_law,
    read_machine,
    read_material,
    read_rung,
    read_step,
    read_tool,
)
from floorcare.store.surface_sheet import Sheet


def figure(value: float, unit: str = "") -> dict[str, Any]:
    return {"value": value, "source": "a page"} | ({"unit": unit} if unit else {})


def material(**more: Any) -> tuple[Any, list[str]]:
    sheet = Sheet("test.toml")
    table = {"name": "cleaner", "coverage": figure(10, "m2/L"), "waste_share": figure(0.1), **more}
    found = read_material(sheet, "cleaner", table)
    return found, [f.column for f in sheet.findings]


def test_a_product_that_is_diluted_covers_as_much_more_by_the_convention_named() -> None:
    parts_to_parts, findings = material(dilution=figure(9, "parts to parts"))
    assert findings == []
    assert parts_to_parts.coverage_m2_per_l == pytest.approx(100.0)
    assert parts_to_parts.name == "cleaner, 1 part to 9 of water"
    part_in_parts, _ = material(dilution=figure(10, "part in parts"))
    assert (parts_to_parts.dilution_parts, parts_to_parts.dilution) == (9, Dilution.PARTS_TO_PARTS)
    assert (part_in_parts.dilution_parts, part_in_parts.dilution) == (10, Dilution.PART_IN_PARTS)
    as_it_was = {"dilution_parts": 9.0, "dilution": Dilution.PARTS_TO_PARTS}
    assert replace(part_in_parts, **as_it_was) == parts_to_parts


def test_a_dilution_without_its_convention_is_found() -> None:
    assert material(dilution=figure(9))[1] == ["materials.cleaner.dilution"]


def test_a_product_keeps_the_source_of_its_coverage() -> None:
    found, _ = material(from_sheet=True)
    assert (found.source, found.from_sheet, found.ph) == ("a page", True, None)


def test_a_machines_width_in_inches_becomes_metres() -> None:
    sheet = Sheet("test.toml")
    machine = read_machine(sheet, "m", {"name": "m", "width": figure(20, "in"), "loud": True})
    assert (machine.width_m, machine.loud, machine.dust) == (pytest.approx(0.508), True, False)
    assert sheet.findings == []


def test_the_life_of_a_tool_is_unknown_until_it_is_named() -> None:
    sheet = Sheet("test.toml")
    assert read_tool(sheet, "pad", {"name": "pad"}).life_m2 is None
    assert read_tool(sheet, "pad", {"name": "pad", "life": figure(900, "m2")}).life_m2 == 900.0
    assert sheet.findings == []


def test_a_step_with_a_product_lays_one_coat_unless_it_says_more() -> None:
    sheet = Sheet("test.toml")
    step = {"name": "Lay", "rate": figure(100, "m2/h"), "product": "protector"}
    assert read_step(sheet, "lay", step).coats == 1
    assert read_step(sheet, "lay", {**step, "coats": figure(2)}).coats == 2
    assert sheet.findings == []


def test_a_step_that_takes_no_time_is_found() -> None:
    sheet = Sheet("test.toml")
    read_step(sheet, "lay", {"name": "Lay"})
    assert [f.column for f in sheet.findings] == ["steps.lay"]


def test_every_figure_of_the_wear_law_is_asked_for() -> None:
    sheet = Sheet("test.toml")
    read_law(sheet, {})
    assert len(sheet.findings) == 18


def test_a_level_that_may_move_and_a_day_s_own_effect_are_nought_where_left_out() -> None:
    sheet = Sheet("test.toml")
    steps = {"lay": read_step(sheet, "lay", {"name": "Lay", "minutes_fixed": figure(1)})}
    names = ("worthwhile_hold_days", "forward_days", "min_age_days", "after_densify_hours")
    table = {**{name: figure(1) for name in names}, "steps": ["lay"], "source": "a page"}

    def rung(**effect: Any) -> Rung:
        return read_rung(sheet, Work.RECOAT, {**table, "effect": effect}, steps, ())

    assert rung().effect.level_sd == 0.0
    assert rung(level_sd=figure(0.03)).effect == Effect(level_sd=0.03)
    assert read_law(Sheet("test.toml"), {}).day_sd == 0.0
    assert read_law(Sheet("test.toml"), {"day_sd": figure(0.02)}).day_sd == 0.02
    assert [f.column for f in sheet.findings] == []
    rung(level_sd=figure(2.0))
    assert [f.column for f in sheet.findings] == ["treatments.recoat.effect.level_sd"]
