"""Travel between branch and site, without a network: typed drives first, then the map."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from math import asin, ceil, cos, radians, sin, sqrt
from typing import Self

from floorcare.ground.trade.site import Branch, Site, TravelLeg

EARTH_RADIUS_KM = 6371.0088
"""Mean radius. Source: IUGG, R1 of the GRS 80 ellipsoid."""
ROAD_FACTOR = 1.3
"""Road length over great circle. Assumption."""
SPEED_KM_PER_HOUR = 45.0
"""Mean speed of a loaded van at night. Assumption."""
UNKNOWN_MINUTES = 30
"""One way, where branch or site has no coordinates. Assumption."""


def great_circle_km(lat_a: float, lon_a: float, lat_b: float, lon_b: float) -> float:
    """Distance between two points in degrees, by the haversine formula.

    >>> round(great_circle_km(0.0, 0.0, 0.0, 90.0))
    10008

    Source: haversine formula on a sphere of the mean radius.
    """
    phi_a, phi_b = radians(lat_a), radians(lat_b)
    half = (
        sin((phi_b - phi_a) / 2) ** 2
        + cos(phi_a) * cos(phi_b) * sin(radians(lon_b - lon_a) / 2) ** 2
    )
    return 2 * EARTH_RADIUS_KM * asin(min(1.0, sqrt(half)))


def travel_minutes(start: Branch | Site, end: Branch | Site) -> int:
    """Minutes one way between a branch and a site, or two sites, rounded up.

    Assumption: road factor and speed above.
    """
    km = _road_km(start, end)
    return UNKNOWN_MINUTES if km is None else ceil(km / SPEED_KM_PER_HOUR * 60)


@dataclass(frozen=True, slots=True, kw_only=True)
class Travel:
    """The drives of one branch: those somebody typed, and the map for the rest.

    legs : the typed drives by where they leave and reach, codes of sites and "" for the branch.
    """

    legs: Mapping[tuple[str, str], TravelLeg] = field(default_factory=dict)

    @classmethod
    def of(cls, branch_code: str, legs: Iterable[TravelLeg]) -> Self:
        """The drives of a branch out of everybody's typed ones."""
        own = {(one.leaves, one.reaches): one for one in legs if one.branch == branch_code}
        return cls(legs=own)

    def minutes(self, start: Branch | Site, end: Branch | Site) -> int:
        """Minutes one way, whole and rounded up; 0 from a place to itself.

        Assumption: a drive typed one way only takes as long the other way.
        """
        leaves, reaches = _place(start), _place(end)
        if leaves == reaches:
            return 0
        leg = self._leg(leaves, reaches)
        return travel_minutes(start, end) if leg is None else leg.minutes

    def km(self, start: Branch | Site, end: Branch | Site) -> float | None:
        """Kilometres of road one way, None where nobody typed them and the map lacks a place.

        Assumption: a drive typed in minutes only is as long as a van gets in them.
        """
        leaves, reaches = _place(start), _place(end)
        if leaves == reaches:
            return 0.0
        leg = self._leg(leaves, reaches)
        if leg is None:
            return _road_km(start, end)
        return leg.minutes / 60 * SPEED_KM_PER_HOUR if leg.km is None else leg.km

    def typed_km(self, start: Branch | Site, end: Branch | Site) -> float | None:
        """Kilometres somebody typed for the drive, None where nobody did."""
        leg = self._leg(_place(start), _place(end))
        return None if leg is None else leg.km

    def _leg(self, leaves: str, reaches: str) -> TravelLeg | None:
        there = self.legs.get((leaves, reaches))
        return there or self.legs.get((reaches, leaves))


BY_MAP = Travel()
"""Nothing typed: every drive is reckoned from the map."""


def _place(of: Branch | Site) -> str:
    return "" if isinstance(of, Branch) else of.code


def _road_km(start: Branch | Site, end: Branch | Site) -> float | None:
    if (
        start.latitude is None
        or start.longitude is None
        or end.latitude is None
        or end.longitude is None
    ):
        return None
    km = great_circle_km(start.latitude, start.longitude, end.latitude, end.longitude)
    return km * ROAD_FACTOR
