from dataclasses import replace

from floorcare.ground.trade.treatment import Work
from floorcare.ground.work.cautions import CAUTIONS, cautions_for
from floorcare.store.surfaces import load_cautions, load_surfaces

CONCRETE = load_surfaces()["polished_concrete"]


def codes(*works: Work, people: int = 2) -> tuple[str, ...]:
    return cautions_for([(CONCRETE, CONCRETE.methods[work]) for work in works], people=people)


def test_every_caution_has_its_text_in_the_same_order() -> None:
    assert tuple(load_cautions()) == CAUTIONS


def test_the_closing_line_ends_every_list_even_of_a_visit_that_only_reads() -> None:
    assert codes() == ("codes_first",)
    assert codes(Work.REPOLISH, Work.CLEAN)[-1] == "codes_first"


def test_grinding_warns_of_silica_with_the_vacuum_between_passes() -> None:
    assert codes(Work.REPOLISH)[0] == "silica"
    assert "HEPA-vacuum between passes" in load_cautions()["silica"]


def test_cleaning_warns_of_the_wet_floor_and_not_of_silica() -> None:
    assert codes(Work.CLEAN) == ("wet_floor", "chemicals", "current", "codes_first")


def test_several_lines_print_each_caution_once_in_the_order_of_print() -> None:
    found = codes(Work.CLEAN, Work.BURNISH, Work.RECOAT)
    assert found == ("wet_floor", "chemicals", "current", "noise", "codes_first")
    assert found == codes(Work.RECOAT, Work.CLEAN, Work.BURNISH)


def test_a_fuel_machine_warns_of_carbon_monoxide_though_the_method_forgot_it() -> None:
    burnish = CONCRETE.methods[Work.BURNISH]
    steps = tuple(
        replace(step, machine="propane_burnisher" if step.machine == "burnisher" else step.machine)
        for step in burnish.steps
    )
    assert "carbon_monoxide" in cautions_for([(CONCRETE, replace(burnish, steps=steps))], people=2)
    assert "carbon_monoxide" not in codes(Work.BURNISH)


def test_a_method_that_names_nothing_still_gets_what_its_steps_show() -> None:
    silent = replace(CONCRETE.methods[Work.REPOLISH], cautions=())
    found = cautions_for([(CONCRETE, silent)], people=2)
    assert found == ("silica", "wet_floor", "chemicals", "noise", "codes_first")


def test_one_person_alone_is_told_so() -> None:
    assert "lone_work" in codes(Work.CLEAN, people=1)
    assert "lone_work" not in codes(Work.CLEAN, people=2)


def test_a_surfaces_own_caution_is_printed_before_the_closing_line() -> None:
    own = replace(CONCRETE.methods[Work.CLEAN], cautions=("radon",))
    assert cautions_for([(CONCRETE, own)], people=2)[-2:] == ("radon", "codes_first")


def test_a_slip_test_wets_the_floor() -> None:
    assert cautions_for((), people=2, tests_slip=True) == ("wet_floor", "codes_first")


def test_work_nobody_wrote_a_method_for_names_every_hazard() -> None:
    assert cautions_for((), people=2, unwritten=True) == tuple(
        code for code in CAUTIONS if code != "lone_work"
    )
