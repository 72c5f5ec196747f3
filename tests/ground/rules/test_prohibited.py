from dataclasses import replace

import pytest

from floorcare.ground.rules.prohibited import (
    forbidden_product,
    forbidden_thing,
    machine_problem,
    names,
    unfit_methods,
)
from floorcare.ground.trade.equipment import OwnedMachine
from floorcare.ground.trade.surface import Machine, Surface, Tool
from floorcare.ground.trade.treatment import Work
from floorcare.store.surfaces import load_surfaces
from tests.builders import polished

SURFACES = load_surfaces()


@pytest.mark.parametrize("surface", SURFACES.values(), ids=lambda s: s.code)
def test_every_method_we_ship_may_be_planned(surface: Surface) -> None:
    assert unfit_methods(surface) == {}


def test_words_are_found_whatever_joins_them() -> None:
    assert names("brown pad", "brown_pad 17-in pad")
    assert names("Cylinder", "scrubber, cylinder-brush")
    assert not names("brown pad", "brown pads")
    assert not names("diamond pad", "diamond brush")


@pytest.mark.parametrize(
    ("kind", "text", "forbidden"),
    [
        ("tool", "brown pad", True),
        ("tool", "black_pad", True),
        ("tool", "white pad", False),
        ("tool", "cylinder brush, soft", True),
        ("machine", "cylinder scrubber", True),
        ("machine", "disc scrubber", False),
    ],
)
def test_pads_brushes_and_machines_concrete_forbids(kind: str, text: str, forbidden: bool) -> None:
    assert (forbidden_thing(polished(), kind, text) is not None) is forbidden


def test_terrazzo_forbids_diamond_pads_and_concrete_does_not() -> None:
    assert forbidden_thing(SURFACES["terrazzo"], "tool", "diamond pad") is not None
    assert forbidden_thing(polished(), "tool", "diamond pad") is None


@pytest.mark.parametrize(("ph", "forbidden"), [(6.9, True), (7.0, False), (12.0, False)])
def test_acid_is_forbidden_on_concrete(ph: float, forbidden: bool) -> None:
    product = replace(polished().materials["neutral_cleaner"], ph=ph)
    assert (forbidden_product(polished(), product) is not None) is forbidden


def test_a_product_whose_ph_is_not_named_is_not_judged() -> None:
    product = replace(polished().materials["neutral_cleaner"], ph=None)
    assert forbidden_product(polished(), product) is None


def test_a_method_with_a_forbidden_pad_names_surface_pad_and_why() -> None:
    tools = {**polished().tools, "red_pad": Tool(code="red_pad", name="brown pad")}
    found = unfit_methods(replace(polished(), tools=tools))
    assert set(found) == {Work.RECOAT, Work.REPOLISH}
    finding = found[Work.RECOAT]
    assert finding.problem == (
        "recoat of polished concrete is not planned: its method uses tool red_pad brown pad, and "
        "brown pads strip dry and cut the polish (cleanlink.com 23046)"
    )
    assert (finding.file, finding.column) == ("polished_concrete.toml", "treatments.recoat")
    assert finding.weight == "asks"


def test_a_method_with_acid_or_a_forbidden_machine_is_unfit() -> None:
    acid = replace(polished().materials["deep_cleaner"], ph=3.0)
    sour = replace(polished(), materials={**polished().materials, "deep_cleaner": acid})
    assert set(unfit_methods(sour)) == {Work.DEEP_SCRUB}
    assert "pH 3" in unfit_methods(sour)[Work.DEEP_SCRUB].value
    assert unfit_methods(sour)[Work.DEEP_SCRUB].allowed == "pH 7 or above"
    rotary = Machine(code="rotary", name="cylinder machine")
    brushed = replace(polished(), machines={**polished().machines, "rotary": rotary})
    assert set(unfit_methods(brushed)) == {Work.STRIP}


def test_a_rung_without_a_method_is_named_and_the_others_are_climbed() -> None:
    methods = {w: r for w, r in polished().methods.items() if w is not Work.FINE_BURNISH}
    found = unfit_methods(replace(polished(), methods=methods))
    assert set(found) == {Work.FINE_BURNISH}
    assert "the ladder names fine burnish, and no method" in found[Work.FINE_BURNISH].problem


def test_a_method_out_of_order_is_named() -> None:
    recoat = polished().methods[Work.RECOAT]
    hasty = replace(
        recoat,
        steps=tuple(replace(s, wait_minutes=0) if s.wet else s for s in recoat.steps),
    )
    methods = {**polished().methods, Work.RECOAT: hasty}
    found = unfit_methods(replace(polished(), methods=methods))
    assert set(found) == {Work.RECOAT}
    assert found[Work.RECOAT].column == "treatments.recoat.steps"


def test_a_machine_of_ours_is_judged_by_its_own_name() -> None:
    disc = OwnedMachine(code="S1", kind="scrubber", name="Scrubber 1")
    assert machine_problem(polished(), disc) == ""
    cylinder = replace(disc, name="Scrubber 2, cylinder brushes")
    assert machine_problem(polished(), cylinder) == (
        "Scrubber 2, cylinder brushes may not go on polished concrete: cylinder-brush scrubbers "
        "are too abrasive for polished concrete (iecis.com)"
    )
