"""The published traffic classes of a whole building, kept apart from a zone's traffic level.

A trade page sorts buildings by the people who come through in a day. Our own levels sort the
busiest lane of one zone and have other limits, so that the two are never called the same.
"""

from enum import StrEnum

CLASS_FROM: tuple[tuple[int, str, str], ...] = (
    (1500, "high", "several times a day"),
    (500, "medium", "daily"),
    (100, "low", "weekly"),
)
"""(people a day from which on, class, how often floors are cared for), highest first.

Source: cleanlink.com, Floor Care Tips Based On Traffic Conditions, 16540: low 100-500 weekly,
medium 500-1,500 daily, high 1,500 and more several times a day. The page puts 500 in two classes;
that a limit belongs to the class above it is ours (Assumption).
"""


class Cleanlink16540(StrEnum):
    """Classes of the page; "below" is a building with fewer people than it speaks of."""

    BELOW = "below"
    LOW = "low"
    MEDIUM = "medium"
    HIGH = "high"


def cleanlink_16540_class(people_per_day: float) -> Cleanlink16540:
    """The published class of a building.

    Parameters
    ----------
    people_per_day : through the whole building, not through one zone; 0 or more.

    >>> [str(cleanlink_16540_class(n)) for n in (100, 499, 500, 1499, 1500)]
    ['low', 'low', 'medium', 'medium', 'high']

    Raises
    ------
    ValueError : below 0.

    Source: cleanlink.com 16540; the closed lower limit is an Assumption, see `CLASS_FROM`.
    """
    if not people_per_day >= 0:
        raise ValueError(f"{people_per_day:g} people a day: allowed 0 or more")
    name = next((name for start, name, _ in CLASS_FROM if people_per_day >= start), "below")
    return Cleanlink16540(name)


def cleanlink_16540_care(people_per_day: float) -> str:
    """How often the page has a building's floors cared for, "" below its classes.

    >>> cleanlink_16540_care(800)
    'daily'

    Raises
    ------
    ValueError : below 0.

    Source: cleanlink.com 16540.
    """
    cleanlink_16540_class(people_per_day)
    return next((care for start, _, care in CLASS_FROM if people_per_day >= start), "")
