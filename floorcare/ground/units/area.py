"""Area, length and volume between US customary and metric, by exact factors.

The ground works in m², m and L; feet, inches and gallons exist only at the edge.
Source: NIST SP 811 (2008), appendix B: the foot, the inch and the US gallon are exact multiples.
"""

M_PER_FT = 0.3048
M_PER_INCH = 0.0254
M2_PER_FT2 = 0.09290304
L_PER_US_GAL = 3.785411784
L_PER_US_OZ = L_PER_US_GAL / 128


def m2_from_ft2(area_ft2: float) -> float:
    """Area in m² from ft².

    >>> round(m2_from_ft2(10_000), 4)
    929.0304

    Source: NIST SP 811, 1 ft² = 0.092 903 04 m².
    """
    return area_ft2 * M2_PER_FT2


def ft2_from_m2(area_m2: float) -> float:
    """Area in ft² from m².

    Source: NIST SP 811, 1 ft² = 0.092 903 04 m².
    """
    return area_m2 / M2_PER_FT2


def m_from_ft(length_ft: float) -> float:
    """Length in m from feet.

    Source: NIST SP 811, 1 ft = 0.3048 m.
    """
    return length_ft * M_PER_FT


def ft_from_m(length_m: float) -> float:
    """Length in feet from m.

    Source: NIST SP 811, 1 ft = 0.3048 m.
    """
    return length_m / M_PER_FT


def m_from_inch(length_inch: float) -> float:
    """Length in m from inches, as machine widths are named.

    Source: NIST SP 811, 1 in = 0.0254 m.
    """
    return length_inch * M_PER_INCH


def inch_from_m(length_m: float) -> float:
    """Length in inches from m.

    Source: NIST SP 811, 1 in = 0.0254 m.
    """
    return length_m / M_PER_INCH


def l_from_us_gal(volume_gal: float) -> float:
    """Volume in L from US gallons.

    Source: NIST SP 811, 1 US gal = 3.785 411 784 L.
    """
    return volume_gal * L_PER_US_GAL


def us_gal_from_l(volume_l: float) -> float:
    """Volume in US gallons from L.

    Source: NIST SP 811, 1 US gal = 3.785 411 784 L.
    """
    return volume_l / L_PER_US_GAL


def m2_per_l_from_ft2_per_gal(coverage_ft2_per_gal: float) -> float:
    """Coverage of a product in m²/L from ft²/US gal.

    >>> round(m2_per_l_from_ft2_per_gal(350), 2)
    8.59

    Source: NIST SP 811, factors of ft² and US gal.
    """
    return coverage_ft2_per_gal * M2_PER_FT2 / L_PER_US_GAL


def ft2_per_gal_from_m2_per_l(coverage_m2_per_l: float) -> float:
    """Coverage of a product in ft²/US gal from m²/L.

    Source: NIST SP 811, factors of ft² and US gal.
    """
    return coverage_m2_per_l * L_PER_US_GAL / M2_PER_FT2
