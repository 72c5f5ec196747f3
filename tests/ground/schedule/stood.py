"""Visits that stand at the builders' site, and what a night of theirs is checked against."""

from dataclasses import replace
from datetime import date

from floorcare.ground.schedule.night_checks import NightGround, night_ground
from floorcare.ground.trade.book import SiteBook
from floorcare.ground.trade.equipment import OwnedMachine
from floorcare.ground.trade.site import Branch
from floorcare.ground.trade.visit import Due, Visit
from tests.builders import DAY, TODAY, a_branch, a_due, a_line, a_site_book, polished

NIGHT = TODAY + 15 * DAY
"""A Tuesday, a fortnight and a day ahead."""


def due_about(target: date = NIGHT, **more: object) -> Due:
    """A recoat of the lane, due within a week of its target."""
    window = {"earliest": target - 7 * DAY, "latest": target + 7 * DAY, "area_m2": 400.0}
    return a_due(target=target, **{**window, **more})  # type: ignore[arg-type]


def a_visit(*dues: Due, night: date = NIGHT, uuid: str = "v1", **more: object) -> Visit:
    """A visit of three hours at NORTH from 22:00."""
    lines = tuple(a_line(due) for due in dues or (due_about(),))
    own = {"starts_minute": 1320, "minutes": 180, "people": 2, **more}
    return Visit(uuid=uuid, site="NORTH", night=night, lines=lines, **own)  # type: ignore[arg-type]


def the_ground(
    *visits: Visit,
    book: SiteBook | None = None,
    branch: Branch | None = None,
    on: date = NIGHT,
    machines: tuple[OwnedMachine, ...] = (),
    beside: tuple[SiteBook, ...] = (),
    surfaces: str = "polished_concrete",
) -> NightGround:
    """What a night at NORTH is checked against, without our own rounds."""
    own = book or a_site_book()
    quiet = tuple(replace(zone, routines=()) for zone in own.zones)
    return night_ground(
        branch or a_branch(),
        (replace(own, zones=quiet), *beside),
        visits,
        {surfaces: polished()},
        on=on,
        today=TODAY,
        machines=machines,
    )
