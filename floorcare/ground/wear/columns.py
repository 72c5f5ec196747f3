"""What the estimate reads: the zones of one surface as equal-length columns."""

from dataclasses import dataclass
from enum import IntEnum

import numpy as np

from floorcare.ground.trade.surface import Effect
from floorcare.ground.wear.model import Flags, Floats, Whole


class OpeningCode(IntEnum):
    """What is known of a zone's floor on the first day of its life in the columns."""

    FRESH = 0
    DATED = 1
    ABOUT = 2
    UNKNOWN = 3


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class WearColumns:
    """Z zones of one surface over D days, day 0 a date the caller keeps, day D − 1 today.

    Within a day: exposure, readings before burnish, treatments in the order given, readings after.

    thousand_passes : (Z, D), weighted passes a day in thousands, ageing not included.
    treatments : (effect, (Z, D) done) in the order they are applied within a day, mildest last.
    reading_zone, reading_day : (R,), indices into the axes above.
    reading_ln : (R,), ln of the gloss of a reading round.
    reading_stations : (R,), station values behind it, >= 1.
    reading_after_burnish : (R,), read after that day's treatments.
    counted : (Z,), footfall from a counter; False where it was taken from a level.
    opening : (Z,), an `OpeningCode` code. FRESH and DATED are fresh at the start of `start_day`.
    opening_about_days : (Z,), with ABOUT: sd in days of the date the floor was fresh.
    start_day : (Z,), first day of the zone's own life; before it nothing happens to it.
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
        for name in ("reading_zone", "reading_day", "reading_stations", "reading_after_burnish"):
            if getattr(self, name).shape != count:
                raise ValueError(f"{name} must be as long as reading_ln")
        if not np.all(np.isfinite(self.reading_ln)):
            raise ValueError("a reading has no finite ln value; judge the rounds before")
        if np.any(self.reading_zone < 0) or np.any(self.reading_zone >= self.zones):
            raise ValueError(f"a reading belongs to no zone: allowed 0 to {self.zones - 1}")
        if np.any(self.reading_day < 0) or np.any(self.reading_day >= self.days):
            raise ValueError(f"a reading lies outside days 0 to {self.days - 1}")
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
    def usable(self) -> Flags:
        """(R,) readings taken during the zone's own life."""
        return self.reading_day >= self.start_day[self.reading_zone]
