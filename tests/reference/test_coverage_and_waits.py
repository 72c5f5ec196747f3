"""Coverage, coats, waits and polishing pace, as the trade states them.

Source, unless a check says otherwise: common practice of polished-concrete upkeep, no published
page: densifier 350 ft²/gal kept wet 20-30 min; protector 4,000 ft²/gal per thin coat, 15-30 min
dry; two coats after polishing, one on upkeep; a quarter of the width stepped over.
Conversion: NIST SP 811, 1 ft² = 0.09290304 m², 1 US gal = 3.785411784 L.
"""

import pytest

from floorcare.ground.trade.surface import Step
from floorcare.ground.trade.treatment import Work
from floorcare.ground.units.rates import practical_m2_per_hour
from floorcare.ground.work.minutes import line_minutes
from floorcare.ground.work.quantities import quantities
from floorcare.store.surfaces import load_surfaces

CONCRETE = load_surfaces()["polished_concrete"]
M2_PER_FT2 = 0.09290304
L_PER_GAL = 3.785411784


def steps_with(product: str, work: Work) -> list[Step]:
    return [step for step in CONCRETE.methods[work].steps if step.product == product]


@pytest.mark.parametrize(
    ("product", "work", "ft2_per_gal", "coats"),
    [
        ("densifier", Work.DENSIFY, 350, 1),
        ("protector", Work.RECOAT, 4000, 1),  # one coat on upkeep
        ("protector", Work.REPOLISH, 4000, 2),  # two after polishing
        ("protector", Work.FULL_RESTORATION, 4000, 2),
    ],
)
def test_the_product_laid_is_area_over_coverage_times_coats(
    product: str, work: Work, ft2_per_gal: float, coats: int
) -> None:
    area_ft2 = 7_000.0
    (found,) = [
        quantity
        for quantity in quantities(CONCRETE, CONCRETE.methods[work], area_ft2 * M2_PER_FT2)
        if quantity.material == product
    ]
    waste = 1.0 + CONCRETE.materials[product].waste_share
    assert found.coats == coats
    assert found.litres / L_PER_GAL == pytest.approx(area_ft2 / ft2_per_gal * coats * waste)


def test_densifier_on_7000_square_feet_takes_20_gallons_before_waste() -> None:
    densifier = CONCRETE.materials["densifier"]
    assert 7_000 * M2_PER_FT2 / densifier.coverage_m2_per_l / L_PER_GAL == pytest.approx(20.0)


def test_the_densifiers_coverage_lies_inside_the_published_range() -> None:
    # A maker's data sheet (maker withheld): 200-400 ft²/gal, 4.9-9.8 m²/L, flat finished concrete.
    assert 4.9 <= CONCRETE.materials["densifier"].coverage_m2_per_l <= 9.8


@pytest.mark.parametrize("work", [Work.DENSIFY, Work.FULL_RESTORATION, Work.SPOT_REPAIR])
def test_densifier_is_kept_wet_20_to_30_minutes(work: Work) -> None:
    (step,) = steps_with("densifier", work)
    assert 20 <= step.wait_minutes <= 30


@pytest.mark.parametrize(
    "work", [Work.RECOAT, Work.REPOLISH, Work.FULL_RESTORATION, Work.SPOT_REPAIR]
)
def test_every_coat_of_protector_dries_15_to_30_minutes(work: Work) -> None:
    for step in steps_with("protector", work):
        assert step.coats == 1
        assert 15 <= step.wait_minutes <= 30


@pytest.mark.parametrize(("step_from", "speed_m_per_min"), [("metal", 4.5), ("resin", 12.0)])
def test_the_polishers_rates_are_those_of_a_quarter_width_step_over(
    step_from: str, speed_m_per_min: float
) -> None:
    # Width × step-over × speed × efficiency; 36 in, a quarter, 0.75; within 3 % by rounding.
    rate = practical_m2_per_hour(
        width_m=CONCRETE.machines["planetary_polisher"].width_m,
        step_over_share=0.25,
        speed_m_per_min=speed_m_per_min,
        efficiency=0.75,
    )
    assert rate == pytest.approx(36 * 0.0254 * 0.25 * speed_m_per_min * 60 * 0.75)
    for step in CONCRETE.methods[Work.FULL_RESTORATION].steps:
        if step.tool.startswith(step_from):
            assert step.rate_m2_per_hour == pytest.approx(rate, rel=0.03)


def test_polishing_takes_two_to_four_passes_and_cutting_two_to_six() -> None:
    for work in (Work.REPOLISH, Work.FULL_RESTORATION):
        for step in CONCRETE.methods[work].steps:
            if step.tool.startswith("resin"):
                assert 2 <= step.passes <= 4
            if step.tool.startswith("metal"):
                assert 2 <= step.passes <= 6


def test_polishing_through_all_grits_goes_at_the_pace_of_stone_re_polishing() -> None:
    # Stone-care how-to (maker withheld): 200-250 ft²/h a person.
    polishing_hours = sum(
        step.passes / step.rate_m2_per_hour
        for step in CONCRETE.methods[Work.REPOLISH].steps
        if step.machine == "planetary_polisher"
    )
    assert 200 <= 1 / polishing_hours / M2_PER_FT2 <= 250


def test_the_metal_phase_takes_about_seven_tenths_of_the_polishing_time() -> None:
    # Equipment dealer's page (maker withheld): metal-bond about 70 %, polishing 30 %.
    hours = {"metal": 0.0, "resin": 0.0}
    for step in CONCRETE.methods[Work.FULL_RESTORATION].steps:
        for kind in hours:
            if step.tool.startswith(kind):
                hours[kind] += step.passes / step.rate_m2_per_hour
    assert hours["metal"] / sum(hours.values()) == pytest.approx(0.70, abs=0.05)


def test_burnishing_10000_square_feet_takes_43_minutes() -> None:
    # cleanlink.com 54860: 20-in 2,500 rpm burnisher, obstructed, 14,025 ft²/h, 4.3 min a 1,000 ft².
    (step,) = [s for s in CONCRETE.methods[Work.BURNISH].steps if s.machine == "burnisher"]
    assert 60.0 / (step.rate_m2_per_hour / M2_PER_FT2 / 1_000) == pytest.approx(4.3, abs=0.05)


def test_scrubbing_and_mopping_go_at_their_published_rates() -> None:
    # ISSA 612 quoted by cleanlink.com 28924: 17-in scrubber 12,700 ft²/h.
    # Hackensack Meridian Health list: 36-in dust mop 4.80 min per 1,000 ft².
    mop, scrub = CONCRETE.methods[Work.CLEAN].steps
    assert scrub.rate_m2_per_hour / M2_PER_FT2 == pytest.approx(12_700)
    assert 60_000 / (mop.rate_m2_per_hour / M2_PER_FT2) == pytest.approx(4.80)


def test_stripping_1000_square_feet_takes_two_people_80_minutes_of_machine_time() -> None:
    # ISSA 447 quoted by icanatex.com 1150: about 750 ft²/h with 17-in rotary and wet vacuum.
    (step,) = [s for s in CONCRETE.methods[Work.STRIP].steps if s.machine == "rotary"]
    assert 1_000 / (step.rate_m2_per_hour / M2_PER_FT2) * 60 == pytest.approx(80.0)
    assert step.people == 2


def test_a_recoat_of_150_square_metres_by_hand() -> None:
    # Mop 7.8, scrub 7.6, coat 23.6, burnish 6.9, mop 7.8 min, each rounded up: 8+8+24+7+8 = 55.
    # Waits inside: 30 min dry before the coat, 30 min after it.
    found = line_minutes(CONCRETE.methods[Work.RECOAT], 150.0)
    assert (found.minutes, found.clock_minutes) == (55, 55 + 60)
