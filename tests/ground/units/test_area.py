import math

import pytest

from floorcare.ground.units.area import (
    L_PER_US_OZ,
    ft2_from_m2,
    ft2_per_gal_from_m2_per_l,
    ft_from_m,
    inch_from_m,
    l_from_us_gal,
    m2_from_ft2,
    m2_per_l_from_ft2_per_gal,
    m_from_ft,
    m_from_inch,
    us_gal_from_l,
)


@pytest.mark.parametrize(
    ("to_metric", "to_us"),
    [
        (m2_from_ft2, ft2_from_m2),
        (m_from_ft, ft_from_m),
        (m_from_inch, inch_from_m),
        (l_from_us_gal, us_gal_from_l),
        (m2_per_l_from_ft2_per_gal, ft2_per_gal_from_m2_per_l),
    ],
)
def test_there_and_back_again_changes_nothing(to_metric, to_us) -> None:
    for figure in (0.0, 0.1, 1.0, 350.0, 214_000.0):
        assert math.isclose(to_us(to_metric(figure)), figure, rel_tol=1e-14)


def test_square_feet_are_square_feet() -> None:
    assert math.isclose(m2_from_ft2(1), m_from_ft(1) ** 2, rel_tol=1e-14)
    assert math.isclose(m_from_inch(12), m_from_ft(1), rel_tol=1e-14)


def test_a_gallon_is_231_cubic_inches_and_128_ounces() -> None:
    assert math.isclose(l_from_us_gal(1), 231 * (m_from_inch(1) * 10) ** 3, rel_tol=1e-12)
    assert math.isclose(l_from_us_gal(1), 128 * L_PER_US_OZ, rel_tol=1e-14)
