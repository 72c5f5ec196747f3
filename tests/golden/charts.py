"""Two invented zones drawn by hand: one measured, one nobody has read."""

from dataclasses import replace
from datetime import date, timedelta
from math import exp

from floorcare.ground.schedule.course import (
    CourseBand,
    CourseReading,
    CourseRhythm,
    CourseTick,
    ZoneCourse,
)
from floorcare.ground.trade.reading import SurfaceState
from floorcare.ground.trade.treatment import Work
from floorcare.services.sheets import ZoneChart
from tests.golden.sheets import CONDITION, MONDAY

DAY = timedelta(days=1)
RECOATED, TO_RECOAT = -160, 44
"""Days from today of a recoat done and of one planned."""


def fallen(day: int) -> float:
    """An invented gloss in GU so many days from today."""
    since = min(day - on for on in (RECOATED - 300, RECOATED, TO_RECOAT) if on <= day)
    return 44.0 + 10.0 * exp(-since / 120) - 0.004 * day


def read(day: int, off: float = 0.0, **more: object) -> CourseReading:
    """A round so many days from today, read so far off the invented gloss."""
    own = {"state": SurfaceState.AFTER_BURNISH, "stations": 5, "gross": False, **more}
    return CourseReading(
        on=MONDAY + day * DAY,
        gloss_gu=fallen(day) + off,
        **own,  # type: ignore[arg-type]
    )


def band(level: float, half_gu: float) -> CourseBand:
    """A band that widens as the root of time."""
    wide = [half_gu * (0.4 + 0.6 * (day / 182) ** 0.5) for day in range(183)]
    return CourseBand(
        level=level,
        low_gu=tuple(fallen(day) - half for day, half in enumerate(wide)),
        high_gu=tuple(fallen(day) + half for day, half in enumerate(wide)),
    )


MEASURED = ZoneChart(
    row=next(row for row in CONDITION.rows if row.zone == "MARKET/LANE-1"),
    course=ZoneCourse(
        site="MARKET",
        zone="LANE-1",
        today=MONDAY,
        first_on=MONDAY - 364 * DAY,
        last_on=MONDAY + 182 * DAY,
        past_from=MONDAY - 364 * DAY,
        past_gu=tuple(fallen(day) for day in range(-364, 1)),
        median_gu=tuple(fallen(day) for day in range(183)),
        bands=(band(0.5, 1.5), band(0.8, 2.9), band(0.9, 3.7)),
        readings=(
            read(-350, 0.6),
            read(-290, -0.9),
            read(-230, -3.1, state=SurfaceState.AFTER_CLEANING),
            read(-170, 0.4),
            read(-110, -7.5, gross=True),
            read(-60, 0.8),
            read(-20, -0.5),
        ),
        ticks=(
            CourseTick(on=MONDAY - 340 * DAY, work=Work.REPOLISH, planned=False, about=True),
            CourseTick(on=MONDAY + RECOATED * DAY, work=Work.RECOAT, planned=False),
            CourseTick(
                on=MONDAY + (TO_RECOAT - 2) * DAY, work=Work.RECOAT, planned=True, completes=False
            ),
            CourseTick(on=MONDAY + TO_RECOAT * DAY, work=Work.RECOAT, planned=True),
        ),
        rhythms=(
            CourseRhythm(work=Work.BURNISH, every_days=3.5, from_on=date(2024, 1, 1), to_on=None),
        ),
        state=SurfaceState.AFTER_BURNISH,
        promise_gu=45.2,
        reference_gu=56.5,
        promised_from=date(2025, 6, 1),
        promised_to=date(2026, 7, 31),
    ),
)
ASSUMED = ZoneChart(
    row=next(row for row in CONDITION.rows if row.zone == "MUSEUM/FOYER"),
    course=replace(
        MEASURED.course,
        site="MUSEUM",
        zone="FOYER",
        past_from=MONDAY,
        past_gu=(),
        median_gu=(),
        bands=(),
        readings=(),
        ticks=tuple(
            CourseTick(on=MONDAY + day * DAY, work=Work.BURNISH, planned=day > 0)
            for day in (-180, -90, 2, 95)
        ),
        rhythms=(),
        state=SurfaceState.AFTER_CLEANING,
        promise_gu=None,
        reference_gu=None,
        promised_from=None,
        promised_to=None,
    ),
)
