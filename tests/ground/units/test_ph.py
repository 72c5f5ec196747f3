import pytest

from floorcare.ground.units.ph import CORROSIVE_FROM_PH, cleaner_allowed, slurry_is_hazardous
from floorcare.store.surfaces import load_cautions, load_surfaces


def test_slurry_is_hazardous_at_both_ends_of_the_scale_limits_included() -> None:
    assert [slurry_is_hazardous(ph) for ph in (0, 2.0, 2.1, 7, 12.49, 12.5, 14)] == [
        True, True, False, False, False, True, True,
    ]  # fmt: skip


def test_the_caution_on_slurry_prints_the_limit_the_gate_goes_by() -> None:
    assert f"from {CORROSIVE_FROM_PH:g} it is hazardous waste" in load_cautions()["slurry"]


def test_a_cleaner_is_allowed_at_its_floor_s_limit_and_above() -> None:
    assert [cleaner_allowed(ph, 7.0) for ph in (6.99, 7.0, 13.0)] == [False, True, True]


@pytest.mark.parametrize("code", ["polished_concrete", "terrazzo", "natural_stone"])
def test_every_product_of_a_shipped_surface_passes_the_surface_s_own_gate(code: str) -> None:
    surface = load_surfaces()[code]
    (limit,) = [p.limit for p in surface.prohibitions if p.kind == "product pH below"]
    named = [m.ph for m in surface.materials.values() if m.ph is not None]
    assert named
    assert all(cleaner_allowed(ph, float(limit)) for ph in named)


@pytest.mark.parametrize("ph", [-0.1, 14.1, 125, float("nan")])
def test_a_ph_off_the_scale_is_refused(ph: float) -> None:
    for asked in (lambda: slurry_is_hazardous(ph), lambda: cleaner_allowed(ph, 7.0)):
        with pytest.raises(ValueError, match="allowed 0 to 14"):
            asked()
    with pytest.raises(ValueError, match="allowed 0 to 14"):
        cleaner_allowed(7.0, ph)
