from dataclasses import replace

import pytest

from floorcare.ground.rules.sequence import film_products, spaced, step_problem
from floorcare.ground.trade.surface import Rung, Surface
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Due
from floorcare.store.surfaces import load_surfaces
from tests.builders import DAY, TODAY, a_case, a_due, polished

SURFACES = load_surfaces()


def due(work: Work, days: int, slack: int = 0) -> Due:
    on = TODAY + days * DAY
    return a_due(work, earliest=on - slack * DAY, target=on, latest=on + slack * DAY)


def windows(*dues: Due) -> list[tuple[int, int, int]]:
    found = spaced(a_case(), dues)
    assert [d.work for d in found] == [d.work for d in dues]
    return [tuple((day - TODAY).days for day in (d.earliest, d.target, d.latest)) for d in found]  # type: ignore[misc]


def test_a_burnish_wanted_with_the_densifier_comes_the_night_after() -> None:
    assert windows(due(Work.DENSIFY, 10), due(Work.BURNISH, 10)) == [(10, 10, 10), (11, 11, 11)]
    assert windows(due(Work.DENSIFY, 10, 3), due(Work.BURNISH, 12, 5)) == [
        (7, 10, 13),
        (14, 14, 17),
    ]


def test_what_is_wanted_before_it_is_over_before_it() -> None:
    assert windows(due(Work.DENSIFY, 10, 3), due(Work.BURNISH, 8, 4)) == [(9, 10, 13), (4, 8, 8)]
    assert windows(due(Work.DENSIFY, 10), due(Work.BURNISH, 2, 3)) == [(10, 10, 10), (-1, 2, 5)]


def test_what_need_not_wait_and_what_lies_far_off_stays() -> None:
    assert windows(due(Work.DENSIFY, 10), due(Work.CLEAN, 10)) == [(10, 10, 10), (10, 10, 10)]
    assert windows(due(Work.DENSIFY, 10), due(Work.READING_ROUND, 10)) == [
        (10, 10, 10),
        (10, 10, 10),
    ]
    assert windows(due(Work.DENSIFY, 10), due(Work.BURNISH, 40)) == [(10, 10, 10), (40, 40, 40)]
    assert windows(due(Work.BURNISH, 10), due(Work.RECOAT, 10)) == [(10, 10, 10), (10, 10, 10)]


@pytest.mark.parametrize("surface", SURFACES.values(), ids=lambda s: s.code)
def test_every_method_we_ship_has_its_steps_in_order(surface: Surface) -> None:
    assert {work: step_problem(surface, rung) for work, rung in surface.methods.items()} == (
        dict.fromkeys(surface.methods, "")
    )


def test_the_film_is_what_a_recoat_lays_by_hand() -> None:
    assert film_products(SURFACES["polished_concrete"]) == {"protector"}
    assert film_products(SURFACES["terrazzo"]) == {"sealer"}
    assert film_products(SURFACES["natural_stone"]) == {"impregnator"}
    assert film_products(SURFACES["coated_resilient"]) == {"finish"}
    recoatless = {w: r for w, r in polished().methods.items() if w is not Work.RECOAT}
    assert film_products(replace(polished(), methods=recoatless)) == frozenset()


def reordered(*order: int) -> Rung:
    rung = polished().methods[Work.REPOLISH]
    return replace(rung, steps=tuple(rung.steps[n] for n in order))


def test_polish_after_protector_and_protector_on_a_wet_floor_are_found() -> None:
    steps = polished().methods[Work.REPOLISH].steps
    coat = next(n for n, step in enumerate(steps) if step.product == "protector")
    polish = next(n for n, step in enumerate(steps) if step.machine == "planetary_polisher")
    assert step_problem(polished(), reordered(polish, coat)) == ""
    assert "makes dust after the protector" in step_problem(polished(), reordered(coat, polish))
    recoat = polished().methods[Work.RECOAT]
    hasty = tuple(replace(step, wait_minutes=0) if step.wet else step for step in recoat.steps)
    assert "before the floor of" in step_problem(polished(), replace(recoat, steps=hasty))
