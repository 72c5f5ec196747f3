"""What a planner would believe of floors as they live on: sampled floors, corrected by readings.

Each future of each zone has its own few sampled floors. They are carried from one opportunity to
the next under the routine, as the walk of the horizon carries its draws, and when the floor is
read they are drawn towards the reading as far as it outweighs them.
"""

from dataclasses import dataclass, replace

import numpy as np

from floorcare.ground.rules.floor import Course, Floor, keeps_promise, routinely_treated, worn
from floorcare.ground.wear.draws import Draws, walk_noise
from floorcare.ground.wear.model import Floats, FloorState, Rates, Whole, ln_gloss


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Belief:
    """The sampled floors of every future, rows zone by zone and future by future.

    floor : (Z × K) rows of M floors; `floor.zone` is the row of the course.
    course : the zones' course with M walks of its own.
    """

    floor: Floor
    course: Course


def belief_of(draws: Draws, course: Course, futures: int, first: int) -> Belief:
    """The belief today, the same in every future of a zone.

    Parameters
    ----------
    draws : more than `first` draws a zone; those from `first` on are the sampled floors, so that
        no future is one of them.
    futures : K.

    Raises
    ------
    ValueError : no draw is left.
    """
    count = draws.count - first
    if count < 1:
        raise ValueError(f"{draws.count} draws, {first} of them futures: none is left to believe")

    def own(column: Floats) -> Floats:
        return np.repeat(column[:, first:], futures, axis=0)

    drift, shocks = walk_noise(count, course.days, course.law)
    rates, state = draws.rates, draws.state
    return Belief(
        floor=Floor(
            zone=np.repeat(np.arange(draws.level.shape[0]), futures),
            state=FloorState(
                haze=own(state.haze), film=own(state.film), scratch=own(state.scratch)
            ),
            rates=Rates(haze=own(rates.haze), film=own(rates.film), scratch=own(rates.scratch)),
            level=own(draws.level),
            shock=own(draws.shock),
        ),
        course=replace(course, drift=drift, shocks=shocks),
    )


def carried(floor: Floor, course: Course, day: int, until: Whole) -> tuple[Floor, Floats]:
    """Floors carried on under the routine, and the share that kept the promise on the way.

    Parameters
    ----------
    floor : n rows at the end of `day`.
    until : (n,), the day each row is carried to.

    Returns
    -------
    The rows at the end of their day, and (n,) the share that never broke the promise.
    """
    alive = np.ones(floor.level.shape, dtype=bool)
    for ahead in range(day + 1, int(until.max(initial=day)) + 1):
        on = np.flatnonzero(until >= ahead)
        part = worn(floor if on.size == until.size else floor.rows(on), course, ahead)
        alive[on] &= keeps_promise(part, course, ahead)
        part = routinely_treated(part, course, ahead)
        if on.size == until.size:
            floor = part
        else:
            floor = floor.rows(np.arange(until.size))
            floor.put(on, part)
    share: Floats = alive.mean(axis=1)
    return floor, share


def corrected(floor: Floor, course: Course, day: int, reading_ln: Floats, error_sd: float) -> Floor:
    """Floors after a reading of the floor as it lies: rates, level, shock and state move with it.

    Parameters
    ----------
    reading_ln : (n,), ln of the gloss read at the end of `day`, before the night's work.
    error_sd : sd of a reading, ln gloss.

    Source: ensemble square-root filter (Whitaker & Hamill 2002, Monthly Weather Review 130:1913).
    """
    if floor.level.shape[1] < 2:
        return floor  # one floor has no spread a reading could narrow
    drift = course.drift[:, min(day, course.days - 1)]
    # the level with all its drift up to now: that is what a reading tells of
    level = floor.level + drift
    shown = level + floor.shock + ln_gloss(floor.state, course.law)
    middle = shown.mean(axis=1, keepdims=True)
    off = shown - middle
    spread = (off**2).sum(axis=1, keepdims=True) / (off.shape[1] - 1)
    total = spread + error_sd**2
    narrowing = 1.0 / (1.0 + np.sqrt(error_sd**2 / total))
    moved = (reading_ln[:, None] - middle - narrowing * off) / total / (off.shape[1] - 1)

    def drawn(column: Floats) -> Floats:
        found: Floats = column + (column * off).sum(axis=1, keepdims=True) * moved
        return found

    haze, film = np.log(floor.rates.haze), np.log(np.maximum(floor.rates.film, 1e-12))
    scratch = np.log(floor.rates.scratch)
    return Floor(
        zone=floor.zone,
        state=FloorState.possible(
            drawn(floor.state.haze), drawn(floor.state.film), drawn(floor.state.scratch)
        ),
        rates=Rates(
            haze=np.exp(drawn(haze)),
            # a surface without a film has no rate of it, and gets none
            film=np.where(floor.rates.film > 0, np.exp(drawn(film)), 0.0),
            scratch=np.exp(drawn(scratch)),
        ),
        level=drawn(level) - drift,
        shock=drawn(floor.shock),
    )
