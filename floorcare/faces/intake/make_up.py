"""What floors are made of, and the seasons that grind them, out of their rows."""

from collections.abc import Iterator
from typing import Any

from floorcare.faces.intake.columns import MAKE_UP, SEASONS
from floorcare.faces.intake.gathering import Gathering
from floorcare.faces.intake.lines import Line
from floorcare.ground.trade.make_up import FloorMakeUp, Season


def take_seasons(lines: Iterator[Line], so_far: Gathering) -> None:
    """Seasons, onto their sites."""
    seen: dict[Any, int] = {}
    for line in lines:
        cells, site = line.cells, so_far.site_of(SEASONS, line)
        if site is None or not line.fits:
            continue
        key = (site.code, cells["name"])
        if so_far.first_of(SEASONS, line, seen, key, "name", "the season"):
            (from_month, from_day), (to_month, to_day) = cells["from"], cells["to"]
            site.seasons.append(
                Season(
                    name=cells["name"],
                    from_month=from_month,
                    from_day=from_day,
                    to_month=to_month,
                    to_day=to_day,
                    factor=cells["factor"],
                )
            )


def take_make_ups(lines: Iterator[Line], so_far: Gathering) -> None:
    """Make-ups, onto their zones."""
    seen: dict[Any, int] = {}
    for line in lines:
        cells, zone = line.cells, so_far.zone_of(MAKE_UP, line)
        if zone is None or not line.fits:
            continue
        key = (cells["site"], zone.code, cells["from_on"])
        if so_far.first_of(MAKE_UP, line, seen, key, "from_on", "the zone's make-up"):
            zone.make_ups.append(
                FloorMakeUp(
                    from_on=cells["from_on"],
                    grit=cells["grit"],
                    exposure_class=cells["exposure_class"],
                    densifier=cells["densifier"],
                    protector=cells["protector"],
                    joints_m=cells["joints_m"],
                    edges_m=cells["edges_m"],
                    obstruction_share=cells["obstruction_share"],
                    moisture=cells["moisture"],
                )
            )
