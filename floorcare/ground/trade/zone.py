"""Zones: the unit of wear and decision, with values that hold from one day to another."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from floorcare.ground.trade.traffic import TrafficLevel


class Opening(StrEnum):
    """What is known of the floor when its care began."""

    FRESH = "fresh"
    DATED = "dates known"
    ABOUT = "dates about"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True, kw_only=True)
class ZoneSpan:
    """The zone's values over some days.

    surface : code of the surface file.
    area_m2 : None where nobody has measured it yet; then minutes must be typed.
    traffic : the level taken where nothing is counted.
    place : where slip limits ask: "level", "ramp", "wet-plus", "outdoor".
    """

    from_on: date
    surface: str
    area_m2: float | None
    traffic: TrafficLevel
    place: str = "level"
    to_on: date | None = None

    def __post_init__(self) -> None:
        if self.area_m2 is not None and not 0.1 <= self.area_m2 <= 1_000_000:
            raise ValueError(f"area {self.area_m2:g} m²: allowed 0.1 to 1,000,000")
        if self.to_on is not None and self.to_on < self.from_on:
            raise ValueError(f"ends {self.to_on} before it starts {self.from_on}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Station:
    """A marked point in a zone where readings are taken."""

    code: str
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Zone:
    """Part of an area with one surface and one exposure.

    exposure : the zone's own name for it, e.g. "lane", "edge", "entrance".
    opening, polished_on, about_days : what is known of the floor at the start of care.
    poured_on : date of the pour, for minimum ages.
    parents : zones it was split or merged from.
    """

    code: str
    area: str
    name: str
    spans: tuple[ZoneSpan, ...]
    exposure: str = ""
    opening: Opening = Opening.UNKNOWN
    polished_on: date | None = None
    about_days: int = 0
    poured_on: date | None = None
    parents: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if not self.spans:
            raise ValueError(f"zone {self.code} has no values for any day")

    @property
    def starts_on(self) -> date:
        """First day of care."""
        return self.spans[0].from_on

    @property
    def ends_on(self) -> date | None:
        """Last day of care, None while it goes on."""
        return self.spans[-1].to_on

    def span_on(self, day: date) -> ZoneSpan | None:
        """The values of that day, None outside the zone's care."""
        for span in self.spans:
            if span.from_on <= day and (span.to_on is None or day <= span.to_on):
                return span
        return None

    def span_about(self, day: date) -> ZoneSpan:
        """The values of that day, outside the zone's care its last ones."""
        return self.span_on(day) or self.spans[-1]


def spoken_name(area: str, zone: str) -> str:
    """How a zone is spoken of: the area's name first, unless the zone's already begins with it.

    >>> spoken_name("Hall B", "north lane"), spoken_name("Hall B", "Hall B, north lane")
    ('Hall B, north lane', 'Hall B, north lane')
    """
    if not area or zone.casefold().startswith(area.casefold()):
        return zone
    return f"{area}, {zone}"
