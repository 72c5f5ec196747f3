"""What the estimate reads: the zones of one surface as equal-length columns."""

from dataclasses import dataclass, field
from enum import IntEnum
from typing import Any

import numpy as np

from floorcare.ground.trade.surface import Effect
from floorcare.ground.wear.model import Flags, Floats, Whole


class OpeningCode(IntEnum):
    """What is known of a zone's floor on the first day of its life in the columns."""

    FRESH = 0
    DATED = 1
    ABOUT = 2
    UNKNOWN = 3


READING_COLUMNS = (
    "reading_zone",
    "reading_day",
    "reading_ln",
    "reading_stations",
    "reading_after_burnish",
)
"""The columns with one row a reading."""
MAY_BE_EMPTY = ("extra_sd", "is_grade")
"""Those that have one row a reading, or none where nothing of the kind is said of any."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class WearColumns:
    """Z zones of one surface over D days, day 0 a date the caller keeps, day D − 1 today.

    Within a day: exposure, readings before burnish, treatments in the order given, readings after.

    thousand_passes : (Z, D), weighted passes a day in thousands, ageing not included.
    treatments : (effect, (Z, D) done) in the order they are applied within a day, mildest last.
    reading_zone, reading_day : (R,), indices into the axes above; day −1 is the eve of day 0.
    reading_ln : (R,), ln of the gloss of a reading round.
    reading_stations : (R,), station values behind it, >= 1.
    reading_after_burnish : (R,), read after that day's treatments.
    counted : (Z,), footfall from a counter; False where it was taken from a level.
    opening : (Z,), an `OpeningCode` code. FRESH and DATED are fresh at the start of `start_day`.
    opening_about_days : (Z,), with ABOUT: sd in days of the date the floor was fresh.
    extra_sd : (R,), error besides that of reading, of values read otherwise (sd, ln gloss).
    is_grade : (R,), not gloss but the edge of an appearance grade: no round, no level.
        Both may be empty: no reading is such; `more_sd` and `graded` always have (R,).
    start_day : (Z,), first day of the zone's own life; before it nothing happens to it. A reading
        after the work of the day before sees the floor as it opens.
    """

    thousand_passes: Floats
    treatments: tuple[tuple[Effect, Flags], ...]
    reading_zone: Whole
    reading_day: Whole
    reading_ln: Floats
    reading_stations: Whole
    reading_after_burnish: Flags
    counted: Flags
    opening: Whole
    opening_about_days: Floats
    start_day: Whole
    extra_sd: Floats = field(default_factory=lambda: np.zeros(0))
    is_grade: Flags = field(default_factory=lambda: np.zeros(0, dtype=np.bool_))

    def __post_init__(self) -> None:
        if self.thousand_passes.ndim != 2 or self.days < 1:
            raise ValueError(f"passes of shape {self.thousand_passes.shape}: allowed (zones, days)")
        if not np.all(np.isfinite(self.thousand_passes)) or np.any(self.thousand_passes < 0):
            raise ValueError("passes must be finite and not negative on every day")
        for _, done in self.treatments:
            if done.shape != self.thousand_passes.shape:
                raise ValueError(f"treatment of shape {done.shape}: allowed that of the passes")
        self._check_zone_columns()
        self._check_readings()

    def _check_zone_columns(self) -> None:
        for name in ("counted", "opening", "opening_about_days", "start_day"):
            if getattr(self, name).shape != (self.zones,):
                raise ValueError(f"{name} must have one value for each of {self.zones} zones")
        if np.any(self.start_day < 0) or np.any(self.start_day >= self.days):
            raise ValueError(f"start days must lie from 0 to {self.days - 1}")
        if not np.all(np.isin(self.opening, list(OpeningCode))):
            raise ValueError(
                f"opening must be one of {', '.join(str(int(o)) for o in OpeningCode)}"
            )
        if not np.all(self.opening_about_days >= 0):
            raise ValueError("opening_about_days must not be negative")

    def _check_readings(self) -> None:
        count = self.reading_ln.shape
        for name in (*READING_COLUMNS, *MAY_BE_EMPTY):
            left_out = name in MAY_BE_EMPTY and getattr(self, name).size == 0
            if getattr(self, name).shape != count and not left_out:
                raise ValueError(f"{name} must be as long as reading_ln")
        if not np.all((self.extra_sd >= 0) & (self.extra_sd < np.inf)):
            raise ValueError("extra_sd must be finite and not negative")
        if not np.all(np.isfinite(self.reading_ln)):
            raise ValueError("a reading has no finite ln value; judge the rounds before")
        if np.any(self.reading_zone < 0) or np.any(self.reading_zone >= self.zones):
            raise ValueError(f"a reading belongs to no zone: allowed 0 to {self.zones - 1}")
        if np.any(self.reading_day < -1) or np.any(self.reading_day >= self.days):
            raise ValueError(f"a reading lies outside days 0 to {self.days - 1} and their eve, -1")
        if np.any(self.reading_stations < 1):
            raise ValueError("a reading needs at least one station")

    @property
    def zones(self) -> int:
        """How many zones."""
        return int(self.thousand_passes.shape[0])

    @property
    def days(self) -> int:
        """How many days of history, today included."""
        return int(self.thousand_passes.shape[1])

    @property
    def more_sd(self) -> Floats:
        """(R,) error besides that of reading, sd of ln gloss."""
        none = np.zeros(self.reading_ln.shape)
        return self.extra_sd if self.extra_sd.size else none

    @property
    def graded(self) -> Flags:
        """(R,) not gloss but the edge of an appearance grade."""
        none = np.zeros(self.reading_ln.shape, dtype=np.bool_)
        return self.is_grade if self.is_grade.size else none

    def of_readings(self, index: Flags | Whole) -> dict[str, Any]:
        """The columns of some readings, by name.

        Assumption: none.
        """
        given = (name for name in MAY_BE_EMPTY if getattr(self, name).size)
        return {name: getattr(self, name)[index] for name in (*READING_COLUMNS, *given)}

    @property
    def usable(self) -> Flags:
        """(R,) readings taken during the zone's own life, or after the work of its eve."""
        first = self.start_day[self.reading_zone] - self.reading_after_burnish
        return self.reading_day >= first

    def rows(self, zones: Whole) -> "WearColumns":
        """Some of the zones, in the order given, with their readings.

        Assumption: no zone is named twice.
        """
        place = np.full(self.zones, -1, dtype=np.int64)
        place[zones] = np.arange(zones.size)
        own = place[self.reading_zone] >= 0
        return WearColumns(
            thousand_passes=self.thousand_passes[zones],
            treatments=tuple((effect, done[zones]) for effect, done in self.treatments),
            **self.of_readings(own) | {"reading_zone": place[self.reading_zone[own]]},
            counted=self.counted[zones],
            opening=self.opening[zones],
            opening_about_days=self.opening_about_days[zones],
            start_day=self.start_day[zones],
        )

    @property
    def opening_unsure(self) -> bool:
        """Whether any zone opens otherwise than fresh."""
        return bool(np.any(self.opening >= OpeningCode.ABOUT))
