"""Minutes: how long a treatment of a zone takes, from typed minutes or from the method's rates."""

from dataclasses import dataclass
from math import ceil
from types import MappingProxyType
from typing import Literal

from floorcare.ground.trade.surface import Rung, Step
from floorcare.ground.trade.treatment import Work
from floorcare.ground.units.rates import obstructed_rate

ARRIVE_MINUTES = 20
"""From arrival to the first step: unload, walk in, set barriers. Assumption."""
PACK_MINUTES = 10
"""From the last reopening to leaving: barriers, machines, rubbish. Assumption."""
SETUP_MINUTES = ARRIVE_MINUTES + PACK_MINUTES
"""Clock minutes of a visit outside its zones, once a visit. Assumption."""
ASSUMED_MINUTES = 60
"""Person-minutes of a line whose area nobody has measured and nobody typed. Assumption."""
READING_MINUTES_SITE = 5
"""Minutes a reading round takes at a site besides its zones. Common practice, no source."""
PLAIN_MINUTES = MappingProxyType(
    {Work.READING_ROUND: 7, Work.SLIP_TEST: 15, Work.WALK: 20, Work.CALL: 60}
)
"""Person-minutes a zone of work that is no treatment. A reading round takes 6-8 minutes a zone
(common practice, no source); the others are an Assumption."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LineMinutes:
    """How long a line takes.

    minutes : person-minutes, whole, rounded up.
    clock_minutes : from the first step to the last in that zone alone, waits between steps
        included, with as many people as each step asks for.
    source : "typed", "rate", or "assumed" where the area is not known.
    """

    minutes: int
    clock_minutes: int
    source: Literal["typed", "rate", "assumed"]


def step_minutes(step: Step, area_m2: float, *, obstruction_share: float = 0.0) -> int:
    """Clock minutes of one step over a zone, with the people it asks for, rounded up.

    Parameters
    ----------
    step : its rate already includes efficiency and is never multiplied by it again.
    area_m2 : area to be treated, m².
    obstruction_share : share of the area set more densely with obstacles than the rate
        reckons with, 0 to 1.

    Raises
    ------
    ValueError : an area below 0 or a share outside 0 to 1.

    Source: area over rate times passes, arithmetic; the pace among obstacles is
    `units.rates.obstructed_rate`'s.
    """
    if not area_m2 >= 0:
        raise ValueError(f"area {area_m2:g} m²: allowed 0 or more")
    minutes = step.minutes_fixed
    if step.rate_m2_per_hour > 0:
        pace = obstructed_rate(step.rate_m2_per_hour, obstruction_share)
        minutes += area_m2 / pace * 60.0 * step.passes
    return _up(minutes)


def line_minutes(
    rung: Rung,
    area_m2: float | None,
    *,
    obstruction_share: float = 0.0,
    typed_minutes: int | None = None,
) -> LineMinutes:
    """How long a treatment of a zone takes; set-up of the visit is not in it.

    Parameters
    ----------
    area_m2 : area to be treated, None where nobody has measured it.
    obstruction_share : see `step_minutes`.
    typed_minutes : person-minutes typed for this work here; they outrank the rates.

    Raises
    ------
    ValueError : typed minutes below 1, an area below 0, a share outside 0 to 1.

    Assumption: a line without area and without typed minutes takes `ASSUMED_MINUTES`; typing
    minutes or the area replaces it.
    """
    if typed_minutes is not None:
        if typed_minutes < 1:
            raise ValueError(f"{typed_minutes} typed minutes: allowed 1 or more")
        return LineMinutes(minutes=typed_minutes, clock_minutes=typed_minutes, source="typed")
    if area_m2 is None:
        return LineMinutes(minutes=ASSUMED_MINUTES, clock_minutes=ASSUMED_MINUTES, source="assumed")
    clocks = [step_minutes(s, area_m2, obstruction_share=obstruction_share) for s in rung.steps]
    waits = sum(step.wait_minutes for step in rung.steps[:-1])
    return LineMinutes(
        minutes=sum(clock * step.people for clock, step in zip(clocks, rung.steps, strict=True)),
        clock_minutes=sum(clocks) + waits,
        source="rate",
    )


def _up(minutes: float) -> int:
    # A hair above a whole minute is rounding of the arithmetic, not another minute of work.
    return ceil(round(minutes, 6))
