"""Production rates: time and area, walking speed and width, practical rates.

One rate is stored, every other figure is derived from it: published time tables print minutes and
rates side by side that do not agree. A rate that already includes efficiency (a practical one)
is never multiplied by efficiency again.
"""

FT2_PER_HOUR_PER_MPH_INCH = 440.0
"""5,280 ft a mile over 12 inches a foot."""
RATES_TOLERANCE_SHARE = 0.02
OBSTRUCTED_FACTOR = 0.75


def ft2_per_hour(minutes_per_1000_ft2: float) -> float:
    """Rate in ft²/h from minutes for 1,000 ft².

    >>> round(ft2_per_hour(4.8))
    12500

    Raises
    ------
    ValueError : not above 0.

    Source: 60,000 over minutes, arithmetic; as hospital time tables use it.
    """
    _above_zero(minutes_per_1000_ft2=minutes_per_1000_ft2)
    return 60_000.0 / minutes_per_1000_ft2


def minutes_per_1000_ft2(rate_ft2_per_hour: float) -> float:
    """Minutes for 1,000 ft² from a rate in ft²/h.

    Raises
    ------
    ValueError : not above 0.

    Source: 60,000 over the rate, arithmetic.
    """
    _above_zero(rate_ft2_per_hour=rate_ft2_per_hour)
    return 60_000.0 / rate_ft2_per_hour


def theoretical_ft2_per_hour(speed_mph: float, width_inch: float) -> float:
    """Rate in ft²/h of a machine that never stops, turns or overlaps.

    >>> theoretical_ft2_per_hour(2.5, 20)
    22000.0

    Source: 440 × mph × inches (5,280 over 12), arithmetic.
    """
    return FT2_PER_HOUR_PER_MPH_INCH * speed_mph * width_inch


def practical_m2_per_hour(
    *,
    width_m: float,
    step_over_share: float,
    speed_m_per_min: float,
    efficiency: float,
    passes: int = 1,
) -> float:
    """Rate in m²/h at which a machine finishes a floor.

    Parameters
    ----------
    width_m : working width of the machine, m.
    step_over_share : fresh width of each lane as a share of the width, above 0 to 1; 0.9 is an
        overlap of a tenth, 0.25 steps over a quarter as polishing does.
    speed_m_per_min : walking speed while working, m/min.
    efficiency : share of the time the machine works, above 0 to 1.
    passes : how often the whole floor is gone over, 1 or more.

    Raises
    ------
    ValueError : a figure outside its range.

    Source: width × speed × (1 − overlap) × efficiency, arithmetic of the trade's rate rule;
    quarter-width step-over is common practice, no source.
    """
    _above_zero(width_m=width_m, speed_m_per_min=speed_m_per_min)
    _share(step_over_share=step_over_share, efficiency=efficiency)
    if passes < 1:
        raise ValueError(f"passes {passes}: allowed 1 or more")
    return width_m * step_over_share * speed_m_per_min * 60.0 * efficiency / passes


def obstructed_rate(
    clear_rate: float, obstruction_share: float, *, factor: float = OBSTRUCTED_FACTOR
) -> float:
    """The rate on a floor part of which is obstructed, in the unit of the clear rate.

    Parameters
    ----------
    clear_rate : rate on clear floor, area an hour.
    obstruction_share : share of the area among obstacles, 0 to 1.
    factor : rate among obstacles as a share of the clear rate, above 0 to 1.

    >>> obstructed_rate(2700, 1.0)
    2025.0

    Raises
    ------
    ValueError : a figure outside its range.

    Source: buffer 2,700 clear and 2,025 ft²/h obstructed (cleanlink.com 54860), a factor of 0.75;
    Assumption: the times of the clear and the obstructed part add up.
    """
    _above_zero(clear_rate=clear_rate)
    _share(factor=factor)
    if not 0.0 <= obstruction_share <= 1.0:
        raise ValueError(f"obstruction share {obstruction_share:g}: allowed 0 to 1")
    return clear_rate / ((1.0 - obstruction_share) + obstruction_share / factor)


def hours_for(area: float, rate_per_hour: float) -> float:
    """Hours one machine takes for an area, both in the same unit of area.

    >>> round(hours_for(214_000, 3_600), 2)
    59.44

    Raises
    ------
    ValueError : a rate not above 0 or an area below 0.

    Source: area over rate, arithmetic.
    """
    _above_zero(rate_per_hour=rate_per_hour)
    if not area >= 0.0:
        raise ValueError(f"area {area:g}: allowed 0 or more")
    return area / rate_per_hour


def rates_disagree(one_rate: float, other_rate: float) -> bool:
    """Whether two figures for the same rate differ by more than 2 % of the larger.

    >>> rates_disagree(ft2_per_hour(0.5), 200_000), rates_disagree(ft2_per_hour(22.2), 2_700)
    (True, False)

    Assumption: 2 % tells rounding from a misprint.
    """
    larger = max(abs(one_rate), abs(other_rate))
    return abs(one_rate - other_rate) > RATES_TOLERANCE_SHARE * larger


def _above_zero(**figures: float) -> None:
    for name, figure in figures.items():
        if not figure > 0.0:
            raise ValueError(f"{name} {figure:g}: allowed above 0")


def _share(**figures: float) -> None:
    for name, figure in figures.items():
        if not 0.0 < figure <= 1.0:
            raise ValueError(f"{name} {figure:g}: allowed above 0 to 1")
