"""Gloss and image clarity: which geometry fits, the mean of a round, the appearance class."""

import math
from collections.abc import Sequence

GEOMETRIES_DEG = (20, 60, 85)
HIGH_GLOSS_GU = 70.0
LOW_GLOSS_GU = 10.0
TRIM_FROM = 5
DOI_CLASS_FROM = (0.0, 10.0, 40.0, 70.0)
VISIBLE_LOSS_GU = 15.0
"""Loss at 60° that anybody sees. Source: Spain, Proyecto Colocación, sheet 4.4.1."""


def geometry_for(gloss60_gu: float) -> int:
    """The geometry (degrees) a floor should be read at, from its gloss at 60°.

    >>> geometry_for(71), geometry_for(70), geometry_for(10), geometry_for(9.9)
    (20, 60, 60, 85)

    Source: ASTM D523 abstract; both limits strict.
    """
    if gloss60_gu > HIGH_GLOSS_GU:
        return 20
    if gloss60_gu < LOW_GLOSS_GU:
        return 85
    return 60


def range_warning(gloss_gu: float, geometry_deg: int) -> str:
    """Why this reading lies where its geometry tells floors badly apart, or "".

    Parameters
    ----------
    gloss_gu : the reading, 0 to 200 GU.
    geometry_deg : 20, 60 or 85, from the upright.

    Raises
    ------
    ValueError : another geometry.

    Source: ASTM D523 abstract; the curve at 60° flattens outside 10 to 70 GU.
    """
    if geometry_deg not in GEOMETRIES_DEG:
        hint = "; 30° to the floor is 60° from the upright" if geometry_deg == 30 else ""
        raise ValueError(f"gloss geometry {geometry_deg}°: allowed 20, 60, 85{hint}")
    if geometry_deg != 60:
        return ""
    better = geometry_for(gloss_gu)
    if better == 60:
        return ""
    side = "above 70" if better == 20 else "below 10"
    return f"{gloss_gu:g} GU is {side} GU, where 60° tells little: read this floor at {better}°."


def loss_is_visible(own_gu: float, gloss_gu: float) -> bool:
    """Whether a floor has lost so much gloss at 60° that anybody sees it.

    Parameters
    ----------
    own_gu : what the same floor read at first; two floors are never compared with each other.
    gloss_gu : what it reads now.

    >>> loss_is_visible(58.0, 43.0), loss_is_visible(58.0, 43.1)
    (True, False)

    Source: 15 GU, "clear visual perception", Spain, Proyecto Colocación, sheet 4.4.1 (ISO 2813,
    60°, tile pavements); that 15 itself counts is ours (Assumption).
    """
    # 57.3 less 42.3 is a hair below 15 in binary
    return round(own_gu - gloss_gu, 6) >= VISIBLE_LOSS_GU


def trimmed_mean(values: Sequence[float]) -> float:
    """The mean of a round of readings: from five values up without the highest and the lowest.

    >>> trimmed_mean([52, 48, 50, 71, 47])
    50.0

    Raises
    ------
    ValueError : no values.

    Source: Concrete Decor 13(6), 2013, "Gloss readings help you finish floors that shine";
    from five values up is our own choice (Assumption).
    """
    if not values:
        raise ValueError("a mean needs at least one reading")
    kept = sorted(values)
    if len(kept) >= TRIM_FROM:
        kept = kept[1:-1]
    return math.fsum(kept) / len(kept)


def doi_class(doi_pct: float) -> int:
    """The appearance class of an image clarity: 1 flat, 2 satin, 3 polished, 4 highly polished.

    Parameters
    ----------
    doi_pct : distinctness of image, 0 to 100 %.

    >>> [doi_class(doi) for doi in (9, 39, 40, 70)]
    [1, 2, 3, 4]

    Raises
    ------
    ValueError : outside 0 to 100.

    Source: Concrete Polishing Council appearance chart (0-9, 10-39, 40-69, 70-100; ASTM D5767),
    its whole-number gaps closed downwards.
    """
    if not 0.0 <= doi_pct <= 100.0:
        raise ValueError(f"image clarity {doi_pct:g} %: allowed 0 to 100")
    return sum(doi_pct >= limit for limit in DOI_CLASS_FROM)
