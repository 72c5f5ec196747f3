"""The course of a zone's gloss as records: what was read, estimated, planned and promised."""

from dataclasses import dataclass
from datetime import date

from floorcare.ground.trade.reading import SurfaceState
from floorcare.ground.trade.treatment import Work


@dataclass(frozen=True, slots=True, kw_only=True)
class CourseReading:
    """A reading round as a course shows it; `gross` where the zone's others contradict it."""

    on: date
    gloss_gu: float
    state: SurfaceState
    stations: int
    gross: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class CourseTick:
    """A treatment on its night.

    completes : the whole zone is treated with it; False for a part that others follow.
    about : the date of a past one is not known for certain.
    """

    on: date
    work: Work
    planned: bool
    completes: bool = True
    about: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class CourseRhythm:
    """A routine that runs by itself, so many days apart."""

    work: Work
    every_days: float
    from_on: date
    to_on: date | None


@dataclass(frozen=True, slots=True, kw_only=True)
class CourseBand:
    """A share of the futures, from today on, a day each."""

    level: float
    low_gu: tuple[float, ...]
    high_gu: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ZoneCourse:
    """One zone's gloss from a year ago to half a year ahead.

    first_on, last_on : the days shown.
    past_from, past_gu : estimated gloss a day each, the last of them today; empty without readings.
    median_gu, bands : from today on, a day each; empty without readings.
    ticks : treatments done and planned, rising by date; routines are not among them.
    rhythms : routines that run by themselves and change the floor's wear, hardest first.
    state : the state of the floor the gloss is shown in.
    promise_gu, reference_gu : None where no look is promised; promised_from and _to are the term.
    """

    site: str
    zone: str
    today: date
    first_on: date
    last_on: date
    past_from: date
    past_gu: tuple[float, ...]
    median_gu: tuple[float, ...]
    bands: tuple[CourseBand, ...]
    readings: tuple[CourseReading, ...]
    ticks: tuple[CourseTick, ...]
    rhythms: tuple[CourseRhythm, ...]
    state: SurfaceState
    promise_gu: float | None = None
    reference_gu: float | None = None
    promised_from: date | None = None
    promised_to: date | None = None
