from dataclasses import replace

from floorcare.ground.trade.surface import NO_EFFECT, Effect
from floorcare.ground.trade.treatment import Work
from tests.builders import polished


def test_a_treatment_of_the_ladder_has_its_place_and_any_other_none() -> None:
    surface = polished()
    assert surface.rung_index(Work.CLEAN) == 0
    assert surface.rung_index(Work.BURNISH) < surface.rung_index(Work.RECOAT)
    assert surface.rung_index(Work.RECOAT) < surface.rung_index(Work.REPOLISH)
    assert surface.rung_index(Work.DEEP_SCRUB) == -1
    assert surface.rung_index(Work.READING_ROUND) == -1


def test_a_treatment_the_surface_does_not_know_has_no_rung() -> None:
    surface = polished()
    assert surface.rung(Work.DEEP_SCRUB) is surface.methods[Work.DEEP_SCRUB]
    without = replace(surface, methods={Work.CLEAN: surface.methods[Work.CLEAN]})
    assert without.rung(Work.RECOAT) is None


def test_an_effect_does_nothing_until_told() -> None:
    assert Effect() == NO_EFFECT
    assert Effect(haze_kept=0.3) != NO_EFFECT


def test_an_effect_that_only_moves_the_level_treats_nothing() -> None:
    assert not NO_EFFECT.treats
    assert not Effect(level_sd=0.03).treats
    assert Effect(haze_kept=0.3).treats
    assert Effect(film_to=0.0, level_sd=0.01).treats
