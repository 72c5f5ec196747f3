"""Readings: one typed observation at one station (or of the whole zone) at one moment."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum


class Measure(StrEnum):
    """What was read. The value is the word in files and on screen."""

    GLOSS = "gloss"
    DOI = "DOI"
    HAZE = "haze"
    ROUGHNESS = "roughness"
    GRADE = "grade"
    SLIP = "slip"


class SurfaceState(StrEnum):
    """The state the floor was in when it was read."""

    AFTER_CLEANING = "after cleaning"
    AFTER_BURNISH = "after burnish"
    WET = "wet"


MEASURE_RANGE: dict[Measure, tuple[float, float]] = {
    Measure.GLOSS: (0.0, 200.0),
    Measure.DOI: (0.0, 100.0),
    Measure.HAZE: (0.0, 500.0),
    Measure.ROUGHNESS: (0.0, 100.0),
    Measure.GRADE: (1.0, 5.0),
    Measure.SLIP: (0.0, 150.0),
}
"""What a typed value may be at all; outside it a digit or a decimal point went astray."""

GLOSS_GEOMETRIES = (20, 60, 85)


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One value.

    zone, station : codes; station "" is a value of the zone as a whole.
    taken_on, taken_minute : the site's own date and minute of day (0..1439).
    measure, geometry_deg : geometry is 20, 60 or 85 for gloss, 0 otherwise.
    method : slip only, e.g. "wet DCOF", "pendulum PTV".
    value : GU, %, µm, grade 1..5 or the slip method's own number.
    state : the floor's state.
    instrument, reader, witness : who read with what.
    """

    zone: str
    station: str
    taken_on: date
    taken_minute: int
    measure: Measure
    value: float
    state: SurfaceState
    geometry_deg: int = 0
    method: str = ""
    instrument: str = ""
    reader: str = ""
    witness: str = ""

    def __post_init__(self) -> None:
        low, high = MEASURE_RANGE[self.measure]
        if not low <= self.value <= high:
            raise ValueError(f"{self.measure} {self.value:g}: allowed {low:g} to {high:g}")
        if self.measure is Measure.GLOSS and self.geometry_deg not in GLOSS_GEOMETRIES:
            raise ValueError(f"gloss geometry {self.geometry_deg}°: allowed 20, 60, 85")
        if not 0 <= self.taken_minute < 1440:
            raise ValueError(f"minute of day {self.taken_minute}: allowed 0 to 1439")


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundValue:
    """The readings of one zone, day, measure, geometry and state taken together.

    value : trimmed mean from five values up, plain mean below (see ground/units/gloss.py).
    stations : how many values stand behind it.
    instrument : the one most of its values name, "" where they name none.
    more_sd : error besides that of reading, of a value that was read otherwise and turned into
        this one (sd, ln gloss).
    """

    zone: str
    on: date
    measure: Measure
    geometry_deg: int
    state: SurfaceState
    value: float
    stations: int
    instrument: str = ""
    more_sd: float = 0.0
