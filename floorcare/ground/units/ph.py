"""pH: which cleaners a floor bears, and which slurry is hazardous waste."""

PH_LOWEST, PH_HIGHEST = 0.0, 14.0
CORROSIVE_UP_TO_PH = 2.0
CORROSIVE_FROM_PH = 12.5
"""Source: 40 CFR 261.22(a)(1), waste number D002; both limits belong to what is hazardous."""


def slurry_is_hazardous(ph: float) -> bool:
    """Whether slurry of this pH is corrosive waste and may not go the ordinary way.

    Parameters
    ----------
    ph : of the settled layer, 0 to 14; the water above it can read lower.

    >>> slurry_is_hazardous(12.4), slurry_is_hazardous(12.5)
    (False, True)

    Raises
    ------
    ValueError : outside 0 to 14.

    Source: 40 CFR 261.22(a)(1): 2 and less, or 12.5 and more.
    """
    _check(ph)
    return ph <= CORROSIVE_UP_TO_PH or ph >= CORROSIVE_FROM_PH


def cleaner_allowed(ph: float, least_ph: float) -> bool:
    """Whether a product of this pH may be laid on a surface that bears none below `least_ph`.

    Parameters
    ----------
    ph : as on the product's sheet, 0 to 14.
    least_ph : the limit of the surface's prohibition "product pH below".

    >>> cleaner_allowed(7.0, 7.0), cleaner_allowed(6.9, 7.0)
    (True, False)

    Raises
    ------
    ValueError : either outside 0 to 14.

    Source: the prohibition's own, as a surface file names it; terrazzoexperts.com for terrazzo:
    pH 7 to 10, never acid on concrete.
    """
    _check(ph)
    _check(least_ph)
    return ph >= least_ph


def _check(ph: float) -> None:
    if not PH_LOWEST <= ph <= PH_HIGHEST:
        raise ValueError(f"pH {ph:g}: allowed 0 to 14")
