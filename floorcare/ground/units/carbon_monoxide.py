"""Carbon monoxide beside fuel machines: whether people may breathe this air for a shift."""

from collections.abc import Sequence
from enum import StrEnum

OSHA_LIMIT_PPM = 50.0
"""Eight-hour mean above which a shift breaks the rule. Source: 29 CFR 1910.1000 Table Z-1."""
NIOSH_LIMIT_PPM = 35.0
NIOSH_CEILING_PPM = 200.0
"""Mean of a shift and never-exceeded peak that NIOSH recommends. Source: stacks.cdc.gov 19324."""
SHIFT_MINUTES = 480
AIR_HIGHEST_PPM = 1_000_000.0


class AirVerdict(StrEnum):
    """What a reading of the air means: clear, a warning, or out of the zone."""

    CLEAR = "clear"
    WARNS = "warns"
    FAILS = "fails"


def shift_mean_ppm(stretches: Sequence[tuple[float, float]]) -> float:
    """Carbon monoxide over eight hours, from stretches of a shift; the rest of it counts as clean.

    Parameters
    ----------
    stretches : (minutes, ppm) pairs, minutes above 0; a longer shift is still set against 8 h.

    >>> shift_mean_ppm([(120, 100.0), (360, 20.0)])
    40.0

    Raises
    ------
    ValueError : minutes or ppm that cannot be.

    Source: time-weighted mean over eight hours, the measure of 29 CFR 1910.1000 Table Z-1.
    """
    for minutes, ppm in stretches:
        if not minutes > 0:
            raise ValueError(f"a stretch of {minutes:g} minutes: allowed above 0")
        _check(ppm)
    return sum(minutes * ppm for minutes, ppm in stretches) / SHIFT_MINUTES


def carbon_monoxide_verdict(mean_ppm: float, *, peak_ppm: float = 0.0) -> AirVerdict:
    """Whether the air of a shift was fit to breathe.

    Parameters
    ----------
    mean_ppm : over eight hours.
    peak_ppm : the highest single reading, 0 where none was kept.

    >>> [str(carbon_monoxide_verdict(ppm)) for ppm in (35, 36, 50, 51)]
    ['clear', 'warns', 'warns', 'fails']

    Raises
    ------
    ValueError : a ppm that cannot be.

    Source: OSHA 50 ppm over 8 h, 29 CFR 1910.1000 Table Z-1 (above it fails); NIOSH 35 ppm over a
    shift and 200 ppm at any time, stacks.cdc.gov/view/cdc/19324 (above either warns).
    """
    _check(mean_ppm)
    _check(peak_ppm)
    if mean_ppm > OSHA_LIMIT_PPM:
        return AirVerdict.FAILS
    if mean_ppm > NIOSH_LIMIT_PPM or peak_ppm > NIOSH_CEILING_PPM:
        return AirVerdict.WARNS
    return AirVerdict.CLEAR


def _check(ppm: float) -> None:
    if not 0.0 <= ppm <= AIR_HIGHEST_PPM:
        raise ValueError(f"{ppm:g} ppm: allowed 0 to 1,000,000")
