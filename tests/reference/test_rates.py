"""Time and rate arithmetic against figures printed by others.

Excerpts of the pages were read, not the handbooks behind them.
"""

import pytest

from floorcare.ground.units.area import ft2_from_m2, m2_per_l_from_ft2_per_gal, m_from_inch
from floorcare.ground.units.rates import (
    ft2_per_hour,
    hours_for,
    minutes_per_1000_ft2,
    obstructed_rate,
    practical_m2_per_hour,
    rates_disagree,
    theoretical_ft2_per_hour,
)

M_PER_MIN_PER_MPH = 1609.344 / 60


# Source: Hackensack Meridian Health, "Having the right equipment for the job", minutes for
# 1,000 ft² beside ft²/h (upright vacuums 14 and 28 in, backpack, dust mop 36 in; the damp mop's
# rate is derived); 22.2 and 29.6 min: cleanlink.com 54860 (prints 2,700 and 2,025).
# Tolerance: half a ft²/h.
@pytest.mark.parametrize(
    ("minutes", "printed"),
    [
        (21, 2_857),
        (7.5, 8_000),
        (8, 7_500),
        (4.8, 12_500),
        (14.4, 4_167),
        (22.2, 2_703),
        (29.6, 2_027),
    ],
)
def test_minutes_for_1000_square_feet_give_the_printed_rate(minutes: float, printed: int) -> None:
    assert round(ft2_per_hour(minutes)) == printed
    assert minutes_per_1000_ft2(printed) == pytest.approx(minutes, rel=3e-4)


# Source: the same two pages; "30 s" beside 200,000 and 3.8 min beside 18,000 ft²/h are misprints,
# 22.2 min beside 2,700, 29.6 beside 2,025 and 4.3 beside 14,025 are rounding.
def test_misprinted_pairs_are_flagged_and_rounded_ones_are_not() -> None:
    assert rates_disagree(ft2_per_hour(0.5), 200_000)
    assert rates_disagree(ft2_per_hour(3.8), 18_000)
    assert not rates_disagree(ft2_per_hour(22.2), 2_700)
    assert not rates_disagree(ft2_per_hour(29.6), 2_025)
    assert not rates_disagree(ft2_per_hour(4.3), 14_025)


# Source: nationalproclean.com/id144.html, 214,000 ft² at 3,600 ft²/h.
def test_area_over_rate_gives_the_printed_hours() -> None:
    assert round(hours_for(214_000, 3_600), 2) == 59.44


# Source: rate rule with mph and inches, 440 × mph × inches (5,280 over 12), recomputed.
def test_a_20_inch_machine_at_2_5_mph_passes_over_22000_square_feet() -> None:
    assert theoretical_ft2_per_hour(2.5, 20) == 22_000


# Source: the same rule with a tenth of overlap and 65 % efficiency gives 12,870 ft²/h, recomputed;
# here reached through metres, so the factors of NIST SP 811 are checked too.
def test_overlap_and_efficiency_bring_it_to_12870() -> None:
    rate = practical_m2_per_hour(
        width_m=m_from_inch(20),
        step_over_share=0.9,
        speed_m_per_min=2.5 * M_PER_MIN_PER_MPH,
        efficiency=0.65,
    )
    assert ft2_from_m2(rate) == pytest.approx(12_870, rel=1e-12)


# Source: cleaning time handbook value quoted by cleanlink.com 28924, 17-in scrubber "more than
# 12,700 ft²/h": a practical rate, 0.68 of the bare 440 × 2.5 × 17.
def test_the_handbook_rate_of_a_17_inch_scrubber_includes_efficiency() -> None:
    bare = theoretical_ft2_per_hour(2.5, 17)
    assert 12_700 / bare == pytest.approx(0.68, abs=0.005)


# Source: cleanlink.com 54860, 17-in 175 rpm buffer 2,700 ft²/h clear, 2,025 obstructed.
def test_an_obstructed_floor_is_buffed_at_the_printed_rate() -> None:
    assert obstructed_rate(2_700, 1.0) == 2_025


# Source: a maker's densifier sheet (maker withheld) prints 200-400 ft²/gal as 4.9-9.8 m²/L.
def test_densifier_coverage_converts_as_its_sheet_prints_it() -> None:
    assert round(m2_per_l_from_ft2_per_gal(200), 1) == 4.9
    assert round(m2_per_l_from_ft2_per_gal(400), 1) == 9.8
