"""An invented reading round for the approved sheets."""

from datetime import date

from floorcare.ground.trade.zone import Station
from floorcare.services.choose_rounds import RoundSheet, RoundSite, RoundZone


def round_zone(
    zone: str, name: str, *stations: Station, age: int | None = 40, reason: str = "next oldest"
) -> RoundZone:
    read_on = None if age is None else date.fromordinal(date(2026, 3, 2).toordinal() - age)
    return RoundZone(
        zone=zone,
        zone_name=name,
        area_name="Hall B",
        stations=stations or (Station(code=""),) * 5,
        geometry_deg=60,
        reason=reason,
        last_read_on=read_on,
        age_days=age,
        planned_on=None,
    )


ROUND = RoundSheet(
    branch="Riverside",
    branch_code="RIVER",
    on=date(2026, 2, 26),
    by=date(2026, 3, 2),
    budget_minutes=60,
    minutes=38,
    zone_minutes=7,
    site_minutes=5,
    sites=(
        RoundSite(
            site="CLINIC",
            site_name="Linden Clinic",
            address="4 Linden Row",
            access_note="Ring at the north gate",
            minutes=12,
            zones=(round_zone("CLINIC/WARD", "Ward lane", age=None, reason="first reading"),),
        ),
        RoundSite(
            site="MARKET",
            site_name="Market Hall East",
            address="",
            access_note="",
            minutes=26,
            zones=(
                round_zone(
                    "MARKET/DOOR",
                    "Hall B, door",
                    Station(code="P1", note="by the <door>"),
                    Station(code="P2"),
                    age=133,
                    reason="unread for too long",
                ),
                round_zone("MARKET/EDGE", "edge", Station(code="P1")),
                round_zone("MARKET/LANE", "lane", Station(code="=P1", note="by the stair")),
            ),
        ),
    ),
    left=(round_zone("MARKET/STAGE", "stage", age=12),),
    read_anyway=(),
    unpromised=2,
    units="metric",
)
