import pytest

from floorcare.ground.units.carbon_monoxide import (
    NIOSH_CEILING_PPM,
    OSHA_LIMIT_PPM,
    AirVerdict,
    carbon_monoxide_verdict,
    shift_mean_ppm,
)
from floorcare.store.surfaces import load_cautions


def test_the_limits_themselves_still_pass_and_what_is_above_them_does_not() -> None:
    verdicts = [carbon_monoxide_verdict(ppm) for ppm in (0, 35, 35.1, 50, 50.1)]
    assert verdicts == [
        AirVerdict.CLEAR,
        AirVerdict.CLEAR,
        AirVerdict.WARNS,
        AirVerdict.WARNS,
        AirVerdict.FAILS,
    ]


def test_a_peak_above_the_ceiling_warns_though_the_mean_is_low() -> None:
    assert carbon_monoxide_verdict(10, peak_ppm=NIOSH_CEILING_PPM) is AirVerdict.CLEAR
    assert carbon_monoxide_verdict(10, peak_ppm=201) is AirVerdict.WARNS
    assert carbon_monoxide_verdict(60, peak_ppm=201) is AirVerdict.FAILS


def test_the_mean_is_over_eight_hours_whatever_was_measured() -> None:
    assert shift_mean_ppm([]) == 0
    assert shift_mean_ppm([(60, 80.0)]) == 10
    assert shift_mean_ppm([(480, 36.0)]) == 36
    assert shift_mean_ppm([(600, 48.0)]) == 60, "ten hours harm more than eight"


def test_the_caution_prints_the_limit_the_gate_goes_by() -> None:
    assert f"stop at {OSHA_LIMIT_PPM:g} ppm" in load_cautions()["carbon_monoxide"]


@pytest.mark.parametrize("ppm", [-1.0, 1_000_001.0, float("nan")])
def test_air_that_cannot_be_is_refused(ppm: float) -> None:
    with pytest.raises(ValueError, match="ppm: allowed 0 to"):
        carbon_monoxide_verdict(ppm)
    with pytest.raises(ValueError, match="ppm: allowed 0 to"):
        carbon_monoxide_verdict(10, peak_ppm=ppm)
    with pytest.raises(ValueError, match="ppm: allowed 0 to"):
        shift_mean_ppm([(10, ppm)])


@pytest.mark.parametrize("minutes", [0.0, -5.0, float("nan")])
def test_a_stretch_of_no_minutes_is_refused(minutes: float) -> None:
    with pytest.raises(ValueError, match="allowed above 0"):
        shift_mean_ppm([(minutes, 10.0)])
