"""What a floor is made of, and the seasons that grind it."""

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True, kw_only=True)
class FloorMakeUp:
    """A zone's floor from one day on.

    grit : finest grit it was polished to.
    exposure_class : aggregate exposure A (cement fines), B (fine) or C (coarse).
    densifier, protector : product names as known, "" unknown.
    joints_m, edges_m : lengths of joints and of hand-worked edges.
    obstruction_share : share of the area set densely with obstacles, 0..1.
    moisture : what is known of moisture, as typed.
    """

    from_on: date
    grit: int | None = None
    exposure_class: str = ""
    densifier: str = ""
    protector: str = ""
    joints_m: float | None = None
    edges_m: float | None = None
    obstruction_share: float = 0.0
    moisture: str = ""

    def __post_init__(self) -> None:
        if self.exposure_class not in ("", "A", "B", "C"):
            raise ValueError(f"exposure class {self.exposure_class!r}: allowed A, B, C")
        if not 0 <= self.obstruction_share <= 1:
            raise ValueError(f"obstruction share {self.obstruction_share:g}: allowed 0 to 1")
        for length in (self.joints_m, self.edges_m):
            if length is not None and length < 0:
                raise ValueError(f"length {length:g} m: allowed 0 or more")
        if self.grit is not None and not 16 <= self.grit <= 20000:
            raise ValueError(f"grit {self.grit}: allowed 16 to 20,000")


@dataclass(frozen=True, slots=True, kw_only=True)
class Season:
    """Grit or salt carried in every year from one day of the year to another.

    from_month, from_day, to_month, to_day : both included; may run over the new year.
    factor : how many times the traffic wears in that time, 1..10.
    """

    name: str
    from_month: int
    from_day: int
    to_month: int
    to_day: int
    factor: float

    def __post_init__(self) -> None:
        for month, day in ((self.from_month, self.from_day), (self.to_month, self.to_day)):
            date(2024, month, day)  # a leap year: 29 February is a day; ValueError says which
        if not 1 <= self.factor <= 10:
            raise ValueError(f"season factor {self.factor:g}: allowed 1 to 10")

    def covers(self, day: date) -> bool:
        """Whether the day falls into the season."""
        here = (day.month, day.day)
        first, last = (self.from_month, self.from_day), (self.to_month, self.to_day)
        return first <= here <= last if first <= last else here >= first or here <= last
