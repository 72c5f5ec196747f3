"""Dilution 1:N, whose two readings differ by one part; the convention is always named.

Source: two chemical suppliers' dilution charts (makers withheld) reckon use cost by N + 1 and
active content by N in one case and by N + 1 in another.
"""

from enum import StrEnum

OZ_PER_GAL = 128.0
PPM_PER_PERCENT = 10_000.0


class Dilution(StrEnum):
    """What 1:N means."""

    PARTS_TO_PARTS = "parts to parts"  # one part of product to N parts of water: N + 1 of mix
    PART_IN_PARTS = "part in parts"  # one part of product in N parts of mix


def product_share(parts: float, convention: Dilution) -> float:
    """Product as a share of the mix at 1:`parts`.

    Parameters
    ----------
    parts : N of 1:N, 1 or more.
    convention : what 1:N means.

    >>> product_share(9, Dilution.PARTS_TO_PARTS), product_share(10, Dilution.PART_IN_PARTS)
    (0.1, 0.1)

    Raises
    ------
    ValueError : parts below 1.

    Source: arithmetic; both conventions stand in suppliers' dilution charts (makers withheld).
    """
    if not parts >= 1.0:
        raise ValueError(f"dilution 1:{parts:g}: allowed 1:1 or weaker")
    return 1.0 / (parts + 1.0 if convention is Dilution.PARTS_TO_PARTS else parts)


def oz_per_gal_of_water(parts: float) -> float:
    """US ounces of product poured to each US gallon of water at 1:`parts`, parts to parts.

    >>> oz_per_gal_of_water(64)
    2.0

    Raises
    ------
    ValueError : parts below 1.

    Source: 128 oz a gallon over N, as suppliers' dilution charts (makers withheld) print it.
    """
    product_share(parts, Dilution.PARTS_TO_PARTS)
    return OZ_PER_GAL / parts


def product_l(mix_l: float, parts: float, convention: Dilution) -> float:
    """Litres of product in so many litres of mix.

    Raises
    ------
    ValueError : parts below 1 or a mix below 0.

    Source: arithmetic.
    """
    if not mix_l >= 0.0:
        raise ValueError(f"mix {mix_l:g} L: allowed 0 or more")
    return mix_l * product_share(parts, convention)


def use_cost(price: float, parts: float, convention: Dilution = Dilution.PARTS_TO_PARTS) -> float:
    """Cost of a volume of mix where the same volume of product costs `price`.

    >>> round(use_cost(12.30, 256), 4)
    0.0479

    Raises
    ------
    ValueError : parts below 1.

    Source: price over (N + 1), suppliers' dilution charts (makers withheld).
    """
    return price * product_share(parts, convention)


def active_ppm(active_pct: float, parts: float, convention: Dilution) -> float:
    """Active content of the mix in ppm.

    Parameters
    ----------
    active_pct : active content of the product, 0 to 100 %.
    parts, convention : the dilution.

    >>> round(active_ppm(4.5, 64, Dilution.PARTS_TO_PARTS))
    692

    Raises
    ------
    ValueError : a percentage outside 0 to 100 or parts below 1.

    Source: suppliers' dilution charts (makers withheld); they use both conventions.
    """
    if not 0.0 <= active_pct <= 100.0:
        raise ValueError(f"active content {active_pct:g} %: allowed 0 to 100")
    return active_pct * PPM_PER_PERCENT * product_share(parts, convention)
