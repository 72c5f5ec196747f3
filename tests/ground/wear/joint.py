"""A zone's readings as one joint normal law, its covariance written out without recursion."""

from dataclasses import dataclass

import numpy as np

from floorcare.ground.wear.history import Transit
from floorcare.ground.wear.model import Floats


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Joint:
    """One zone's n readings and its two walks today.

    among : (n, n), covariance of what the readings see of level and shock, errors not counted.
    with_today : (n, 2), covariance of each with level and shock today; today : (2, 2).
    """

    among: Floats
    with_today: Floats
    today: Floats


def joint_of(level_var: float, to_readings: Transit, to_today: Transit) -> Joint:
    """The joint law of one zone's readings, given the ways (n,) to them and (1,) to today."""
    drift = np.r_[to_readings.drift_var, to_today.drift_var]
    kept = np.r_[to_readings.shock_kept, to_today.shock_kept]
    shock = np.r_[to_readings.shock_var, to_today.shock_var]
    count = drift.size
    level = level_var + np.cumsum(drift)
    shock_var = np.zeros(count)
    for place in range(count):
        before = shock_var[place - 1] if place else 0.0
        shock_var[place] = before * kept[place] ** 2 + shock[place]
    among = np.empty((2, count, count))
    for i in range(count):
        for j in range(count):
            early, late = min(i, j), max(i, j)
            among[0, i, j] = level[early]
            among[1, i, j] = shock_var[early] * np.prod(kept[early + 1 : late + 1])
    n = count - 1
    return Joint(
        among=among[:, :n, :n].sum(axis=0),
        with_today=among[:, :n, n].T,
        today=np.diag(among[:, n, n]),
    )
