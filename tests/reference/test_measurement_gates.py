"""Gates of measuring: geometry, mean of a round, appearance class, visible loss, slip, dilution.

Excerpts and pages that quote the standards were read, not the standards themselves.
"""

from datetime import date

import pytest

from floorcare.ground.trade.reading import Measure, Reading, SurfaceState
from floorcare.ground.units.dilution import (
    Dilution,
    active_ppm,
    oz_per_gal_of_water,
    product_share,
    use_cost,
)
from floorcare.ground.units.gloss import (
    doi_class,
    geometry_for,
    loss_is_visible,
    range_warning,
    trimmed_mean,
)
from floorcare.ground.units.slip import ptv_band, slip_method_problem, slip_verdict
from floorcare.ground.wear.books.judged import judge_rounds
from floorcare.store.surfaces import load_surfaces


# Source: ASTM D523 abstract: 20° when 60° gloss is above 70 GU, 85° when it is below 10 GU.
@pytest.mark.parametrize(("gloss60_gu", "fits"), [(71, 20), (70, 60), (10, 60), (9.9, 85)])
def test_geometry_follows_gloss_at_60_degrees(gloss60_gu: float, fits: int) -> None:
    assert geometry_for(gloss60_gu) == fits
    assert (range_warning(gloss60_gu, 60) == "") == (fits == 60)


# Source: Concrete Decor 13(6), 2013: drop the highest and the lowest, average the rest;
# recomputed, the plain mean would be 53.6.
def test_a_round_of_five_drops_its_highest_and_lowest() -> None:
    assert trimmed_mean([52, 48, 50, 71, 47]) == 50.0


# Source: Concrete Polishing Council appearance chart (dcpolish.com), 0-9, 10-39, 40-69, 70-100.
@pytest.mark.parametrize(
    ("doi_pct", "grade"), [(0, 1), (9, 1), (10, 2), (39, 2), (40, 3), (69, 3), (70, 4), (100, 4)]
)
def test_image_clarity_falls_into_the_chart_s_class(doi_pct: float, grade: int) -> None:
    assert doi_class(doi_pct) == grade


# Source: Spain, Proyecto Colocación, sheet 4.4.1 (scribd.com/document/372713992): a loss of 15 GU
# is clear visual perception, ISO 2813 at 60°. From the floor's own first reading only:
# concretedecor.net, Gloss testing: think it over before you commit.
@pytest.mark.parametrize(
    ("now_gu", "visible"), [(46, False), (45.1, False), (45, True), (30, True)]
)
def test_a_floor_of_60_has_visibly_lost_at_45(now_gu: float, visible: bool) -> None:
    assert loss_is_visible(60, now_gu) == visible


# Source: a dealer's page (maker withheld): a protector lifts gloss by around 15 points. Such a rise
# belongs to the coat; without one it is a question, and never wear that ran backwards.
@pytest.mark.parametrize(("coated", "asked"), [(True, 0), (False, 1)])
def test_a_rise_of_15_is_explained_by_a_recoat_and_by_nothing_else(
    coated: bool, asked: int
) -> None:
    rounds = tuple(
        Reading(
            zone="LANE",
            station=f"P{station}",
            taken_on=on,
            taken_minute=1320,
            measure=Measure.GLOSS,
            geometry_deg=60,
            value=value,
            state=SurfaceState.AFTER_CLEANING,
        )
        for on, value in ((date(2026, 3, 2), 40.0), (date(2026, 4, 2), 55.0))
        for station in range(5)
    )
    done = {"LANE": (date(2026, 3, 20),)} if coated else {}
    found = judge_rounds(rounds, load_surfaces()["polished_concrete"].law, done)
    assert len(found.findings) == asked
    assert len(found.believed) == 2
    assert not loss_is_visible(40, 55)


# Source: pendulum-slip-testing.co.uk/guides/hse-ptv-bands.html: wet PTV 0-24 high, 25-35 moderate,
# 36 and more low slip potential.
@pytest.mark.parametrize(
    ("ptv", "band"), [(24, "high"), (25, "moderate"), (35, "moderate"), (36, "low")]
)
def test_pendulum_values_fall_into_their_bands(ptv: float, band: str) -> None:
    assert ptv_band(ptv) == band
    assert slip_verdict("pendulum PTV", "level", ptv).passes == (band == "low")


# Source: ANSI A326.3-2021 as quoted (interior wet 0.42, wet plus 0.50, exterior wet 0.55);
# ramps 0.45: NFSI B101.3 as quoted in CoatingsPro, July 2018.
@pytest.mark.parametrize(
    ("place", "limit"), [("level", 0.42), ("ramp", 0.45), ("wet-plus", 0.50), ("outdoor", 0.55)]
)
def test_wet_friction_passes_at_the_limit_of_its_place_and_not_below(
    place: str, limit: float
) -> None:
    assert slip_verdict("wet DCOF", place, limit).passes
    below = slip_verdict("wet DCOF", place, round(limit - 0.01, 2))
    assert not below.passes
    assert below.limit == limit


def test_what_passes_on_the_level_fails_on_a_ramp_and_where_it_is_often_wet() -> None:
    assert slip_verdict("wet DCOF", "level", 0.42).passes
    assert not slip_verdict("wet DCOF", "ramp", 0.42).passes
    assert not slip_verdict("wet DCOF", "wet-plus", 0.42).passes


# Source: withdrawn in February 2014 (walkway auditing deck, vdocuments).
def test_the_withdrawn_friction_method_is_refused() -> None:
    assert "withdrawn in February 2014" in slip_method_problem("ASTM C1028", "level")


# Source: suppliers' dilution charts (makers withheld), oz/gal = 128 / N.
def test_ounces_to_the_gallon() -> None:
    assert round(oz_per_gal_of_water(85), 1) == 1.5
    assert oz_per_gal_of_water(64) == 2.0


# Source: the same charts, use cost = price / (N + 1); tolerance one unit of the last printed digit.
@pytest.mark.parametrize(
    ("price", "parts", "printed", "digits"),
    [(12.30, 256, 0.0479, 4), (4.00, 10, 0.364, 3), (13.40, 128, 0.1039, 4)],
)
def test_use_cost_counts_product_and_water(
    price: float, parts: float, printed: float, digits: int
) -> None:
    assert round(use_cost(price, parts), digits) == printed


# Source: the same charts, active content of a 4.5 % product; they use both conventions.
@pytest.mark.parametrize(
    ("parts", "convention", "printed"),
    [
        (256, Dilution.PART_IN_PARTS, 176),
        (128, Dilution.PART_IN_PARTS, 352),
        (64, Dilution.PARTS_TO_PARTS, 692),
    ],
)
def test_active_content_follows_the_named_convention(
    parts: float, convention: Dilution, printed: int
) -> None:
    assert round(active_ppm(4.5, parts, convention)) == printed
    other = next(c for c in Dilution if c is not convention)
    assert round(active_ppm(4.5, parts, other)) != printed


# Source: the same charts print 4.00 at 1:10 as 0.36 (over 11); the other reading gives 0.40.
def test_the_two_conventions_differ_by_one_part() -> None:
    assert round(use_cost(4.00, 10, Dilution.PARTS_TO_PARTS), 2) == 0.36
    assert round(use_cost(4.00, 10, Dilution.PART_IN_PARTS), 2) == 0.40
    for parts in (1, 10, 64, 256):
        one = product_share(parts, Dilution.PARTS_TO_PARTS)
        assert one == product_share(parts + 1, Dilution.PART_IN_PARTS)
