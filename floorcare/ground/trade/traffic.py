"""Traffic: persons through a zone's busiest lane a day, counted or taken from a level.

Assumption: the limits and the footfall taken for each level, to be learned away by counts.
"""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum


class TrafficLevel(StrEnum):
    """Four levels of footfall a day, light to extreme."""

    LIGHT = "light"
    MODERATE = "moderate"
    HEAVY = "heavy"
    EXTREME = "extreme"


FOOTFALL_OF_LEVEL: dict[TrafficLevel, float] = {
    TrafficLevel.LIGHT: 120.0,
    TrafficLevel.MODERATE: 500.0,
    TrafficLevel.HEAVY: 2000.0,
    TrafficLevel.EXTREME: 6000.0,
}
"""Footfall a day taken where nothing was counted. Assumption."""

LEVEL_LIMITS: tuple[tuple[float, TrafficLevel], ...] = (
    (250.0, TrafficLevel.LIGHT),
    (1000.0, TrafficLevel.MODERATE),
    (4000.0, TrafficLevel.HEAVY),
    (20000.0, TrafficLevel.EXTREME),
)
"""Upper limits, each limit belonging to the level above it. Assumption."""

PASS_WEIGHT: dict[str, float] = {
    "foot": 1.0,
    "trolley": 2.0,
    "pallet truck": 5.0,
    "lift truck": 20.0,
}
"""Passes on foot that one pass of each kind wears like. Assumption."""


def level_of(footfall_per_day: float) -> TrafficLevel:
    """The traffic level of a footfall.

    >>> level_of(249), level_of(250)
    (<TrafficLevel.LIGHT: 'light'>, <TrafficLevel.MODERATE: 'moderate'>)
    """
    for limit, level in LEVEL_LIMITS:
        if footfall_per_day < limit:
            return level
    return TrafficLevel.EXTREME


@dataclass(frozen=True, slots=True, kw_only=True)
class TrafficRow:
    """Traffic of one kind over some days: `per_day` passes, counted or taken from a level."""

    kind: str
    per_day: float
    counted: bool
    from_on: date
    to_on: date | None = None

    def __post_init__(self) -> None:
        if self.kind not in PASS_WEIGHT:
            raise ValueError(f"kind of traffic {self.kind!r}: allowed {', '.join(PASS_WEIGHT)}")
        if not 0 <= self.per_day <= 1_000_000:
            raise ValueError(f"{self.per_day} passes a day: allowed 0 to 1,000,000")
        if self.to_on is not None and self.to_on < self.from_on:
            raise ValueError(f"ends {self.to_on} before it starts {self.from_on}")
