"""What a regression may know of a floor on a day: passes since each kind of treatment, and more.

Nothing here follows the floor's state; these are the columns a good analyst would type into a
spreadsheet before trying a model of wear.
"""

from dataclasses import dataclass

import numpy as np

from floorcare.ground.trade.surface import Effect, WearLaw
from floorcare.ground.wear.columns import OpeningCode, WearColumns
from floorcare.ground.wear.forecast import Plan
from floorcare.ground.wear.model import Flags, Floats, Whole

RECENT_DAYS = 30
"""Recent traffic is the mean of so many days. Assumption."""
KINDS = 3
"""Treatments by how deep they go: 0 burnishes, 1 lays protector, 2 takes off scratches."""
OWN = 4
"""The first so many covariates get a slope of each zone's own: one, haze, film, scratching."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Course:
    """Exposure and treatments of Z zones over history and plan, D + H days.

    passed : (Z, D + H), thousand passes since the zone's start at the end of each day, ageing in.
    last : (KINDS, Z, D + H), last day up to this one treated at least so deeply, -1 for none.
    busy : (Z,), ln of the mean exposure a day up to today.
    unknown : (Z,), taken over in a state nobody knows.
    """

    passed: Floats
    last: Whole
    busy: Floats
    unknown: Flags


def depth_of(effect: Effect) -> int:
    """How deep a treatment goes: 0 burnishes, 1 touches the protector, 2 the scratches.

    Source: `Effect`, what it changes.
    """
    if effect.scratch_to is not None or effect.scratch_kept < 1.0:
        return 2
    return 1 if effect.film_to is not None or effect.film_kept < 1.0 else 0


def course_of(columns: WearColumns, law: WearLaw, passes_ahead: Floats, plan: Plan) -> Course:
    """History and plan as one row of days a zone.

    Parameters
    ----------
    passes_ahead : (Z, H), thousand passes a day, ageing not included; column 0 is tomorrow.
    plan : treatments to come, (effect, (Z, H)).

    Raises
    ------
    ValueError : the plan does not have the zones and days of the passes ahead.

    Assumption: a deeper treatment is also a milder one.
    """
    if passes_ahead.ndim != 2 or passes_ahead.shape[0] != columns.zones:
        raise ValueError(f"passes ahead of shape {passes_ahead.shape}: allowed (zones, days)")
    if any(done.shape != passes_ahead.shape for _, done in plan):
        raise ValueError("the plan must have the zones and days of the passes ahead")
    days, ahead = columns.days, passes_ahead.shape[1]
    lived = np.arange(days + ahead)[None, :] >= columns.start_day[:, None]
    exposure = np.concatenate([columns.thousand_passes, passes_ahead], axis=1) + law.ageing
    passed = np.cumsum(np.where(lived, exposure, 0.0), axis=1, dtype=np.float64)
    done = np.zeros((KINDS, columns.zones, days + ahead), dtype=np.bool_)
    for effect, mask in columns.treatments:
        if not effect.treats:
            continue
        done[: depth_of(effect) + 1, :, :days] |= mask & lived[:, :days]
    for effect, mask in plan:
        done[: depth_of(effect) + 1, :, days:] |= mask
    last = np.where(done, np.arange(days + ahead), -1)
    np.maximum.accumulate(last, axis=2, out=last)
    age = np.maximum(days - columns.start_day, 1)
    return Course(
        passed=passed,
        last=last,
        busy=np.log(passed[:, days - 1] / age + 1e-6),
        unknown=columns.opening == OpeningCode.UNKNOWN,
    )


def covariates(course: Course, law: WearLaw, zone: Whole, day: Whole, after: Flags) -> Floats:
    """The covariates (N, P) of N looks at a floor, the first `OWN` of them with zone slopes.

    Parameters
    ----------
    zone, day, after : (N,), where, on which day of the course, and after that day's treatments.

    Assumption: haze and film fade at the surface file's rates, the regression finds how much.
    """
    upto = np.where(after, day, day - 1)
    now = course.passed[zone, day]
    burnished = _last(course.last[0], zone, upto)
    since = [now - _passed(course, zone, _last(kind, zone, upto)) for kind in course.last]
    earlier = _last(course.last[0], zone, burnished - 1)
    between = _passed(course, zone, burnished) - _passed(course, zone, earlier)
    recent = now - _passed(course, zone, day - RECENT_DAYS)
    busy = course.busy[zone]
    haze = -np.expm1(-law.haze_rate * since[0])
    film = -np.expm1(-law.film_rate * since[1])
    scratch = law.scratch_rate * since[2]
    before = -np.expm1(-law.haze_rate * between) * (burnished >= 0)
    never = course.unknown[zone] & (_last(course.last[2], zone, upto) < 0)
    read_after = after & (burnished == day)
    columns = (
        *(np.ones(day.shape), haze, film, scratch),
        *(before, -np.expm1(-3.0 * law.film_rate * since[1]), scratch**2),
        *(haze * busy, film * busy, scratch * busy),
        *(busy, np.log(recent / RECENT_DAYS + 1e-6), np.log1p(since[0])),
        *(read_after, read_after * busy, never, never * scratch),
    )
    return np.stack([np.asarray(column, dtype=np.float64) for column in columns], axis=1)


def _last(kind: Whole, zone: Whole, day: Whole) -> Whole:
    """Last day up to `day` with a treatment, -1 for none."""
    found: Whole = np.where(day >= 0, kind[zone, np.maximum(day, 0)], -1)
    return found


def _passed(course: Course, zone: Whole, day: Whole) -> Floats:
    found: Floats = np.where(day >= 0, course.passed[zone, np.maximum(day, 0)], 0.0)
    return found
