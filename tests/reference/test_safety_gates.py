"""Gates of safe work: pH of slurry and cleaners, carbon monoxide, silica, a floor that failed.

Regulations were read in excerpts and copies of single sections, not whole.
"""

from dataclasses import replace

import pytest

from floorcare.ground.rules.slip import slip_guard
from floorcare.ground.trade.treatment import Work
from floorcare.ground.units.carbon_monoxide import (
    AirVerdict,
    carbon_monoxide_verdict,
    shift_mean_ppm,
)
from floorcare.ground.units.ph import cleaner_allowed, slurry_is_hazardous
from floorcare.ground.work.cautions import cautions_for
from floorcare.store.surfaces import load_cautions, load_surfaces
from tests.builders import DAY, TODAY, a_book, slip_read

SURFACES = load_surfaces()


# Source: 40 CFR 261.22(a)(1), D002: aqueous and pH 2 and less, or 12.5 and more. Grinding slurry
# reads 11 to 13, fresh about 13: scottprocesstechnology.com (CSDA, IGGA, Caltrans).
@pytest.mark.parametrize(
    ("ph", "hazardous"), [(10, False), (12.4, False), (12.5, True), (13, True), (2, True)]
)
def test_slurry_is_hazardous_from_12_5(ph: float, hazardous: bool) -> None:
    assert slurry_is_hazardous(ph) == hazardous


# Source: terrazzoexperts.com (terrazzo trade body's text): cleaners of pH 7 to 10, never acid on
# concrete; cleanlink.com 38027.
@pytest.mark.parametrize("code", ["polished_concrete", "terrazzo", "natural_stone"])
def test_neutral_is_allowed_and_acid_is_not_on_concrete_terrazzo_and_stone(code: str) -> None:
    (limit,) = [p.limit for p in SURFACES[code].prohibitions if p.kind == "product pH below"]
    assert cleaner_allowed(7.0, float(limit))
    assert cleaner_allowed(10.0, float(limit))
    assert not cleaner_allowed(6.9, float(limit))
    assert not cleaner_allowed(2.5, float(limit))


# Source: OSHA 50 ppm over 8 h (text quoted by allsafehomeinspect); NIOSH 35 ppm over a shift and
# 200 ppm ceiling, stacks.cdc.gov/view/cdc/19324. One trade page prints 35/200 as OSHA's.
@pytest.mark.parametrize(
    ("mean_ppm", "verdict"),
    [
        (35, AirVerdict.CLEAR),
        (36, AirVerdict.WARNS),
        (50, AirVerdict.WARNS),
        (51, AirVerdict.FAILS),
    ],
)
def test_carbon_monoxide_warns_above_35_and_fails_above_50(
    mean_ppm: float, verdict: AirVerdict
) -> None:
    assert carbon_monoxide_verdict(shift_mean_ppm([(480, mean_ppm)])) is verdict


# Source: Appl. Occup. Environ. Hyg. 1998, 10.1080/1047322X.1998.10389151: propane burnishers, 13
# events, mean of the shift and peak before controls 125 and 235 ppm, with them 5 and 20 ppm.
def test_propane_burnishers_fail_without_controls_and_are_clear_with_them() -> None:
    assert carbon_monoxide_verdict(125, peak_ppm=235) is AirVerdict.FAILS
    assert carbon_monoxide_verdict(5, peak_ppm=20) is AirVerdict.CLEAR


# Source: 29 CFR 1926.1153 Table 1 (xiii), walk-behind milling machines and floor grinders: water
# feed or dust collector with a 99 % filter; indoors HEPA-vacuum loose dust between passes (entry
# quoted by Premier Flooring Retailer, Q3 2017, page 31).
@pytest.mark.parametrize("work", [Work.REPOLISH, Work.FULL_RESTORATION])
def test_dry_grinding_indoors_is_cautioned_to_vacuum_between_passes(work: Work) -> None:
    concrete = SURFACES["polished_concrete"]
    codes = cautions_for([(concrete, concrete.methods[work])], people=2)
    assert codes[0] == "silica"
    printed = load_cautions()["silica"]
    assert "HEPA-vacuum between passes" in printed
    assert "99 % filter" in printed
    assert "water feed" in printed


def test_burnishing_with_pads_is_not_called_grinding() -> None:
    concrete = SURFACES["polished_concrete"]
    assert "silica" not in cautions_for([(concrete, concrete.methods[Work.BURNISH])], people=2)


# Source: 29 CFR 1910.22(d)(2), self-law.org copy: a hazard is corrected before the surface is used
# again, or guarded until it is. Limit of a level floor: ANSI A326.3-2021, 0.42.
def test_a_floor_that_failed_is_guarded_until_a_retest_passes() -> None:
    failed = slip_read(TODAY - 9 * DAY, 0.41)
    book = a_book(readings=(failed,))
    assert slip_guard(book, TODAY) is not None
    again = replace(book, readings=(failed, slip_read(TODAY - 2 * DAY, 0.41)))
    assert slip_guard(again, TODAY) is not None
    passed = replace(book, readings=(failed, slip_read(TODAY - 2 * DAY, 0.42)))
    assert slip_guard(passed, TODAY) is None
