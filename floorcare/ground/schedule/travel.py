"""Travel between branch and site, without a network."""

from math import asin, ceil, cos, radians, sin, sqrt

from floorcare.ground.trade.site import Branch, Site

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
    if (
        start.latitude is None
        or start.longitude is None
        or end.latitude is None
        or end.longitude is None
    ):
        return UNKNOWN_MINUTES
    km = great_circle_km(start.latitude, start.longitude, end.latitude, end.longitude)
    return ceil(km * ROAD_FACTOR / SPEED_KM_PER_HOUR * 60)
