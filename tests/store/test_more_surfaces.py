"""Terrazzo, natural stone and coated resilient floor: data alone, and good enough to plan with."""

import re
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from floorcare.findings import Finding
from floorcare.ground.rules.limits import limits_of
from floorcare.ground.rules.reasons import rejected_rungs
from floorcare.ground.rules.wear_dues import wear_rungs
from floorcare.ground.trade.book import TreatmentDone
from floorcare.ground.trade.reading import SurfaceState
from floorcare.ground.trade.surface import NO_EFFECT, Surface
from floorcare.ground.trade.traffic import TrafficLevel
from floorcare.ground.trade.treatment import Work
from floorcare.ground.wear.model import FloorState, expose, ln_gloss, rates_from, treat
from floorcare.ground.work.minutes import line_minutes
from floorcare.store.surfaces import SURFACES_FOLDER, load_surfaces, surface_from_text
from tests.builders import DAY, TODAY, a_book
from tests.store.worn_zones import BURNISH_NIGHTS, a_zone_of, dues, gaps, plan, recoats

NEW = ("terrazzo", "natural_stone", "coated_resilient")
TEXTS = {code: (SURFACES_FOLDER / f"{code}.toml").read_text("utf-8") for code in NEW}
SURFACES = load_surfaces()
TERRAZZO, STONE, COATED = (SURFACES[code] for code in NEW)


def read(text: str, code: str = "own") -> Surface:
    surface, found = surface_from_text(text, code)
    assert found == ()
    assert surface is not None
    return surface


def planted(code: str, old: str, new: str) -> tuple[Finding, ...]:
    assert old in TEXTS[code]
    surface, found = surface_from_text(TEXTS[code].replace(old, new, 1), code)
    assert surface is None
    return found


# ---------------------------------------------------------------- what the files say


@pytest.mark.parametrize("code", NEW)
def test_each_is_read_without_a_finding(code: str) -> None:
    assert read(TEXTS[code], code) == SURFACES[code]


def test_each_climbs_its_own_ladder() -> None:
    mild = (Work.CLEAN, Work.BURNISH)
    hard = (Work.REPOLISH, Work.FULL_RESTORATION)
    assert TERRAZZO.ladder == (*mild, Work.RECOAT, *hard)
    assert STONE.ladder == (*mild, Work.FINE_BURNISH, *hard)
    assert COATED.ladder == (*mild, Work.DEEP_SCRUB, Work.RECOAT, Work.STRIP)


@pytest.mark.parametrize("code", NEW)
def test_each_has_a_treatment_that_restores_slip_and_one_that_answers_a_call(code: str) -> None:
    methods = SURFACES[code].methods
    assert any(rung.restores_slip for rung in methods.values())
    assert Work.SPOT_REPAIR in methods


DIAMOND = 'name = "1,500-grit diamond burnishing pad"'
DIAMONDS = 'name = "diamond-coated pads, 3,000 grit"'
ACID = "ph = { value = 2.5,"


@pytest.mark.parametrize(
    ("code", "old", "new", "place"),
    [
        ("terrazzo", "ph = { value = 7.0,", "ph = { value = 6.9,", "materials.neutral_cleaner.ph"),
        ("terrazzo", "ph = { value = 10.0,", ACID, "materials.sealer_remover.ph"),
        ("terrazzo", 'name = "white pad"', DIAMOND, "tools.white_pad"),
        ("terrazzo", 'name = "red pad"', DIAMONDS, "tools.red_pad"),
        ("terrazzo", 'name = "blue pad"', 'name = "black pad"', "tools.blue_pad"),
        ("natural_stone", "ph = { value = 7.5,", ACID, "materials.polishing_compound.ph"),
        ("natural_stone", 'name = "red pad"', 'name = "brown pad"', "tools.red_pad"),
        ("coated_resilient", 'name = "tan pad"', DIAMOND, "tools.tan_pad"),
        ("coated_resilient", 'name = "tan pad"', DIAMONDS, "tools.tan_pad"),
        ("coated_resilient", 'name = "tan pad"', 'name = "800-grit diamonds"', "tools.tan_pad"),
        ("coated_resilient", 'name = "wet vacuum"', 'name = "dust grinder"', "machines.wet_vacuum"),
        ("coated_resilient", 'name = "wet vacuum"', 'name = "planetary polisher"',
         "machines.wet_vacuum"),
    ],
)  # fmt: skip
def test_what_is_forbidden_is_refused_at_its_place(
    code: str, old: str, new: str, place: str
) -> None:
    found = planted(code, old, new)
    assert {f.column for f in found} == {place}
    assert all(f.problem.startswith("forbidden on this surface") for f in found)


@pytest.mark.parametrize("code", NEW)
@pytest.mark.parametrize(
    ("old", "new", "place"),
    [
        ("ladder =", "rungs = 3\nladder =", "rungs"),
        ("haze_rate = {", 'half_life = "x"\nhaze_rate = {', "law.half_life"),
        ('name = "Burnish"', 'name = "Burnish"\nspeed = "x"', "steps.burnish.speed"),
    ],
)
def test_an_unknown_key_is_a_finding(code: str, old: str, new: str, place: str) -> None:
    assert [(f.column, f.problem) for f in planted(code, old, new)] == [
        (place, "this key means nothing here")
    ]


def test_every_product_for_terrazzo_lies_between_ph_7_and_10() -> None:
    # Source: terrazzoexperts.com, text of the terrazzo trade body: neutral cleaners, pH 7-10
    assert all(m.ph is not None and 7.0 <= m.ph <= 10.0 for m in TERRAZZO.materials.values())


def test_terrazzo_gets_two_coats_of_sealer_whenever_it_is_coated() -> None:
    # Source: terrazzo supplier's care page, maker withheld: two coats at least
    for work in (Work.RECOAT, Work.STRIP, Work.REPOLISH, Work.FULL_RESTORATION):
        steps = TERRAZZO.methods[work].steps
        assert sum(step.coats for step in steps if step.product == "sealer") == 2


def test_a_second_stripping_pass_halves_the_pace() -> None:
    # Source: ISSA 447 quoted by icanatex.com 1150: 750 ft2/h, 375 where a second pass is needed
    line = next(row for row in TEXTS["coated_resilient"].splitlines() if "value = 750" in row)
    twice = read(
        TEXTS["coated_resilient"].replace(
            line, f'{line}\npasses = {{ value = 2, source = "ISSA 447" }}'
        )
    )
    once, double = (
        next(step for step in surface.methods[Work.STRIP].steps if step.tool == "black_pad")
        for surface in (COATED, twice)
    )
    alone = [
        line_minutes(replace(COATED.methods[Work.STRIP], steps=(step,)), 750 * 0.09290304)
        for step in (once, double)
    ]
    assert [line.clock_minutes for line in alone] == [60, 120]


# ---------------------------------------------------------------- how they wear


def days_to_loss(
    surface: Surface, a_day: float, share: float = 0.20, *, burnished: bool = False
) -> int:
    """Days until a fresh floor has lost the share of its gloss, by the surface's law alone.

    burnished : twice a week, and seen after a burnish; else only cleaned, and seen so.
    """
    effect = surface.methods[Work.BURNISH].effect if burnished else NO_EFFECT
    floor = FloorState.fresh((1,), surface.law)
    rates = rates_from(surface.law, np.zeros(1), np.zeros(1))
    limit = ln_gloss(floor, surface.law)[0] + np.log(1.0 - share)
    for day in range(1, 3651):
        floor = expose(floor, rates, surface.law, a_day / 1000.0)
        if ln_gloss(replace(floor, haze=floor.haze * effect.haze_kept), surface.law)[0] < limit:
            return day
        if day % 7 in BURNISH_NIGHTS:
            floor = treat(floor, effect)
    return 3651


def test_marble_asks_for_its_polish_after_thirty_to_forty_five_thousand_passes() -> None:
    # Source: stone-care how-to, maker withheld: 10,000-20,000 people a day about every three
    # days, 2,000-3,000 every 10 to 15 days; 30,000 to 45,000 passages lie in both
    assert 2 <= days_to_loss(STONE, 12_000) <= 4
    assert 12 <= days_to_loss(STONE, 2_500) <= 18


@pytest.mark.parametrize("code", NEW)
def test_no_floor_loses_15_percent_in_448_passes(code: str) -> None:
    # the trade's tale of 42 % of a finish gone after 1,500 people comes to 15 % after 448
    assert days_to_loss(SURFACES[code], 448, share=0.15) > 7


def granite() -> Surface:
    """The stone's file with its rates times 15/55, as its note tells."""
    text = TEXTS["natural_stone"]
    for rate in ("haze_rate", "film_rate", "scratch_rate"):
        text = re.sub(
            rf"^({rate} = {{ value = )([\d.]+)",
            lambda found: f"{found[1]}{float(found[2]) * 15 / 55:.6f}",
            text,
            flags=re.MULTILINE,
        )
    return read(text, "granite")


def test_stone_like_granite_wears_slower_than_stone_like_marble() -> None:
    # Source: NBS RP612 (Kessler 1933): granite 44-66, marble 7-42; wear about 1/Ha, 15/55 = 0.27
    hard = granite()
    for rate in ("haze_rate", "scratch_rate"):
        assert getattr(hard.law, rate) == pytest.approx(0.27 * getattr(STONE.law, rate), rel=0.02)
    assert days_to_loss(hard, 2_500) > 3 * days_to_loss(STONE, 2_500)
    as_it_lies = {"state": SurfaceState.AFTER_CLEANING, "burnished": False}
    soft_plan = plan(STONE, a_zone_of(STONE, **as_it_lies))
    hard_plan = plan(hard, a_zone_of(hard, **as_it_lies))
    polished = [
        sum(due.work is Work.FINE_BURNISH for due in dues(p)) for p in (soft_plan, hard_plan)
    ]
    assert polished[0] > 2 * polished[1]


# ---------------------------------------------------------------- how they plan


@pytest.mark.parametrize("traffic", [TrafficLevel.MODERATE, TrafficLevel.HEAVY])
@pytest.mark.parametrize("code", NEW)
def test_a_zone_of_each_plans_from_end_to_end(code: str, traffic: TrafficLevel) -> None:
    surface = SURFACES[code]
    decision = plan(surface, a_zone_of(surface, traffic))
    assert decision.unplaced == ()
    assert decision.findings == ()
    median = decision.outlooks[0].median_days
    assert median is not None
    assert median > 0
    for due in dues(decision):
        assert due.work in {rung.work for rung in wear_rungs(surface)}
        assert due.minutes > 0
        assert due.reason.inside
        assert due.reason.customer
    if code != "natural_stone" or traffic is TrafficLevel.HEAVY:
        assert dues(decision)


def test_a_busy_terrazzo_lane_is_resealed_when_its_sheen_goes_or_a_little_before() -> None:
    # Source: terrazzo supplier's care page, maker withheld: a sealer's sheen lasts 45-60 days
    assert 45 <= days_to_loss(TERRAZZO, 2_000, burnished=True) <= 60
    decision = plan(TERRAZZO, a_zone_of(TERRAZZO))
    coats = [due.target for due in dues(decision) if due.work is Work.RECOAT]
    polished = [due.target for due in dues(decision) if due.work is Work.REPOLISH]
    between = [
        (later - sooner).days
        for sooner, later in pairwise(coats)
        if not any(sooner <= day < later for day in polished)  # a re-polish brings its own coat
    ]
    assert len(between) > 5
    assert all(21 <= days <= 70 for days in between)


def test_a_finish_lasts_two_to_three_months_in_lanes_and_four_to_six_in_quieter_places() -> None:
    # Source: floortrendsmag 93910: lanes every 2-3 months; concreteveneers.com: every 4-6 months
    assert 60 <= days_to_loss(COATED, 2_000, burnished=True) <= 92
    assert 120 <= days_to_loss(COATED, 1_000, burnished=True) <= 183
    heavy = gaps(plan(COATED, a_zone_of(COATED)), Work.RECOAT)
    assert len(heavy) >= 4
    assert all(42 <= days <= 92 for days in heavy)


def test_a_finish_that_wears_slowly_is_recoated_by_the_calendar_after_six_months() -> None:
    decision = plan(COATED, a_zone_of(COATED, TrafficLevel.LIGHT))
    assert {due.reason.rule for due in dues(decision)} == {"calendar cap"}
    assert gaps(decision, Work.RECOAT) == [pytest.approx(183, abs=35)]


def test_marble_that_is_not_burnished_is_polished_about_every_two_weeks() -> None:
    # Source: stone-care how-to, maker withheld: every 10-15 days at 2,000-3,000 people a day
    book = a_zone_of(STONE, state=SurfaceState.AFTER_CLEANING, burnished=False)
    between = gaps(plan(STONE, book), Work.FINE_BURNISH)
    assert 10 <= np.mean(between) <= 21


def test_a_finish_whose_coats_are_used_up_is_stripped_and_the_count_starts_anew() -> None:
    book = a_zone_of(COATED, begun=TODAY - 430 * DAY, done=recoats(6, 65, 40))
    decision = plan(COATED, book)
    works = [due.work for due in dues(decision) if due.work in (Work.STRIP, Work.RECOAT)]
    assert works[0] is Work.STRIP
    assert works.count(Work.STRIP) == 1
    assert works.count(Work.RECOAT) >= 4
    strip = dues(decision)[0]
    assert ("recoat", "not allowed yet, or its coats are used up") in strip.reason.rejected


def test_a_sealer_whose_coats_are_used_up_is_polished_off() -> None:
    book = a_zone_of(TERRAZZO, begun=TODAY - 650 * DAY, done=recoats(12, 50, 40))
    works = [due.work for due in dues(plan(TERRAZZO, book))]
    assert works[0] is Work.REPOLISH
    assert works.count(Work.REPOLISH) == 1
    assert Work.RECOAT in works


def test_a_recoats_cap_runs_from_a_strip_that_ends_in_new_coats() -> None:
    stripped = (*recoats(1, 0, 200), TreatmentDone(work=Work.STRIP, done_on=TODAY - 20 * DAY))
    for surface in (COATED, TERRAZZO):
        limit = limits_of(a_book(done=stripped), surface, [Work.RECOAT], TODAY)[0]
        cap = surface.methods[Work.RECOAT].cap_days
        assert cap is not None
        assert limit.last_on == TODAY - 20 * DAY
        assert limit.cap_on == limit.last_on + cap * DAY
    # a strip of polished concrete leaves it bare
    bare = limits_of(a_book(done=stripped), SURFACES["polished_concrete"], [Work.RECOAT], TODAY)[0]
    assert bare.last_on == TODAY - 200 * DAY


def test_a_recoat_that_lives_too_short_is_measured_against_the_surfaces_own_last_rung() -> None:
    rungs = wear_rungs(COATED)
    told = rejected_rungs(rungs, 3, (2.0, 5.0, 16.0, float("nan")), True, 7)
    assert told[2] == ("recoat", "would hold 16 days, less than a quarter of a strip's life")


# ---------------------------------------------------------------- a fifth surface

FIFTH = """
name = "end-grain wood block"
ladder = ["clean", "burnish", "recoat"]
coat_limit = <20>
escape_share = <0.25>
[law]
haze_rate = <0.03>
film_rate = <0.004>
scratch_rate = <0.0005>
ageing = <0.1>
haze_loss = <0.3>
film_scratch_share = <0.5>
finish_floor = <0.4>
film_gloss = <0.4>
rate_sd_counted = <0.35>
rate_sd_assumed = <0.55>
rate_correlation = <0.5>
first_reading_sd = <0.1>
drift_sd = <0.002>
shock_sd = <0.006>
instrument_sd = <0.02>
station_sd = <0.05>
gross_share = <0.04>
gross_factor = <6>
[materials]
hard_oil = { name = "hard oil", coverage = <25 m2/L>, waste_share = <0.1>, ph = <7> }
[machines]
rotary = { name = "floor machine" }
[tools]
pad = { name = "white pad" }
[steps]
sweep = { name = "Sweep", rate = <1000 m2/h> }
buff = { name = "Buff", machine = "rotary", tool = "pad", rate = <250 m2/h> }
oil = { name = "Oil", product = "hard_oil", rate = <100 m2/h>, wait_minutes = <120>, wet = true }
[treatments.clean]
steps = ["sweep"]
PLAIN
worthwhile_hold_days = <0>
[treatments.burnish]
steps = ["sweep", "buff"]
PLAIN
worthwhile_hold_days = <3>
effect = { haze_kept = <0.4> }
[treatments.recoat]
steps = ["sweep", "oil", "buff"]
PLAIN
worthwhile_hold_days = <30>
effect = { haze_kept = <0>, film_to = <1>, scratch_kept = <0.2> }
needs = ["wet"]
resets_reading = true
""".replace(
    "PLAIN",
    'source = "Assumption"\nforward_days = <7>\nmin_age_days = <0>\nafter_densify_hours = <0>',
)


def figures_written_out(text: str) -> str:
    """Each <figure unit> as the files write it, beside its source."""

    def figure(found: re.Match[str]) -> str:
        value, _, unit = found[1].partition(" ")
        named = f' unit = "{unit}",' if unit else ""
        return f'{{ value = {value},{named} source = "Assumption" }}'

    return re.sub(r"<([^>]+)>", figure, text)


def test_a_fifth_surface_written_here_plans_too() -> None:
    wood = read(figures_written_out(FIFTH), "end_grain")
    decision = plan(wood, a_zone_of(wood))
    assert decision.unplaced == ()
    works = [due.work for due in dues(decision)]
    assert Work.RECOAT in works
    assert set(works) <= {Work.BURNISH, Work.RECOAT}
    assert all(30 <= days <= 200 for days in gaps(decision, Work.RECOAT))
