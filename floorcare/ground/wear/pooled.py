"""What a fleet of one surface teaches: pooled rates a class, how noisy it is, how honest its bands.

A class is a traffic level together with the source of its footfall, counted or not.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field, fields, replace
from datetime import date

import numpy as np

from floorcare.ground.trade.surface import WearLaw
from floorcare.ground.trade.traffic import TrafficLevel
from floorcare.ground.wear.model import Flags, Floats, Whole
from floorcare.ground.wear.prior import Prior, prior_from

LEVELS = tuple(TrafficLevel)
CLASSES = 2 * len(LEVELS)
"""Class c is traffic level c // 2, its footfall counted where c is odd."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Noise:
    """The errors and walks of a surface's law as a fleet shows them, all ln gloss.

    first_reading_sd, instrument_sd, station_sd : of readings.
    drift_sd, shock_sd : of the walks, per √day.
    day_sd : of what a single day does to the gloss.
    """

    first_reading_sd: float
    instrument_sd: float
    station_sd: float
    drift_sd: float
    shock_sd: float
    day_sd: float

    @classmethod
    def of(cls, law: WearLaw) -> "Noise":
        """The law's own figures.

        Assumption: as the surface file says, until a fleet is pooled.
        """
        return cls(**{name: getattr(law, name) for name in cls.__slots__})


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Pooled:
    """What the zones of one surface have in common, one row a class, C = 8.

    zones : (C,), zones with readings behind the class.
    mean_haze, mean_rest, sd_haze, sd_rest, correlation : (C,), of the ln factors (u_h, u_r).
    hidden : (C,), recent readings that were hidden and forecast.
    inside : (C,), share of them inside the 90 % band as the model gave it; NaN for none.
    band_scale : (C,), factor that makes today's bands honest in that class.
    noise : of the surface.
    """

    zones: Whole
    mean_haze: Floats
    mean_rest: Floats
    sd_haze: Floats
    sd_rest: Floats
    correlation: Floats
    hidden: Whole
    inside: Floats
    band_scale: Floats
    noise: Noise

    def __post_init__(self) -> None:
        for column in fields(self):
            if column.name != "noise" and getattr(self, column.name).shape != (CLASSES,):
                raise ValueError(f"{column.name} must have one value for each of {CLASSES} classes")

    def law(self, law: WearLaw) -> WearLaw:
        """The surface's law with the fleet's own noise.

        Assumption: noise is the same in all classes of a surface.
        """
        return replace(law, **{name: getattr(self.noise, name) for name in Noise.__slots__})

    def prior(self, zone_class: Whole) -> Prior:
        """The prior of each zone (Z,), from its class.

        Assumption: zones of one class wear alike but for their own normal spread.
        """
        return Prior(
            mean_haze=self.mean_haze,
            mean_rest=self.mean_rest,
            sd_haze=self.sd_haze,
            sd_rest=self.sd_rest,
            correlation=self.correlation,
        ).of(zone_class)


@dataclass(frozen=True, slots=True, kw_only=True)
class PriorVersion:
    """Pooled values as they stood on a day, by surface code; a plan reads the latest, and only
    learning makes one.

    number : 1, 2, … in the order they were made.
    learned_on : last day of the readings behind it.
    """

    number: int
    learned_on: date
    surfaces: dict[str, Pooled] = field(hash=False)


def class_of(levels: Sequence[TrafficLevel], counted: Flags) -> Whole:
    """(Z,), the class of each zone.

    Assumption: the traffic level in force today.
    """
    place = np.array([LEVELS.index(level) for level in levels], dtype=np.int64)
    return class_places(place, counted)


def class_places(level: Whole, counted: Flags) -> Whole:
    """(Z,), the class of each zone, its traffic level given as a place in `LEVELS`.

    Assumption: as `class_of`.
    """
    places: Whole = 2 * level + counted
    return places


def pooled_as(law: WearLaw) -> Pooled:
    """What is believed before any fleet was pooled: the surface's own figures in every class.

    Assumption: the law's.
    """
    start = prior_from(law, np.arange(CLASSES) % 2 == 1)
    none = np.zeros(CLASSES, dtype=np.int64)
    return Pooled(
        zones=none,
        **{name: getattr(start, name) for name in Prior.__slots__},
        hidden=none,
        inside=np.full(CLASSES, np.nan),
        band_scale=np.ones(CLASSES),
        noise=Noise.of(law),
    )
