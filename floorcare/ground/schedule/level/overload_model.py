"""Levelling as a mixed-integer programme: a 0/1 column for each visit and night it may take.

Minimise the minutes above the nights' room. A row for each visit says it takes one night, one for
each night holds its load against its room and overload, one for each site and night that two of
its visits might take lets it be taken once.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from math import ceil
from typing import Any

import numpy as np
from numpy.typing import NDArray

from floorcare.ground.schedule.level.overload import Movable, Room, displacement

WHOLE = 1e-4
"""A bound this little above a whole minute is that minute. Assumption."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OverloadModel:
    """The rows and columns of one levelling; the last columns are the nights' overload.

    columns : (visit, night) of each 0/1 column.
    over, cost : objective of overload minutes, and of displacement; one a column.
    rows : matrix, lower and upper ends.
    """

    columns: tuple[tuple[int, date], ...]
    over: NDArray[np.float64]
    cost: NDArray[np.float64]
    rows: tuple[Any, NDArray[np.float64], NDArray[np.float64]]

    @property
    def whole(self) -> NDArray[np.int64]:
        """1 for each column that takes whole numbers alone; it then lies between 0 and 1."""
        return np.where(self.over == 0, 1, 0)

    @property
    def upper(self) -> NDArray[np.float64]:
        """The greatest value of each column."""
        return np.where(self.over > 0, np.inf, 1.0)


def overload_model(visits: Sequence[Movable], room: Room) -> OverloadModel:
    """The programme of some visits, columns in the order of visits, then nights."""
    from scipy.sparse import coo_array

    columns = tuple((v, on) for v, visit in enumerate(visits) for on in visit.nights)
    nights = sorted({on for _, on in columns})
    at = {on: len(visits) + n for n, on in enumerate(nights)}
    entries = [(v, c, 1.0) for c, (v, _) in enumerate(columns)]
    entries += [(at[on], c, float(visits[v].load)) for c, (v, on) in enumerate(columns)]
    entries += [(at[on], len(columns) + n, -1.0) for n, on in enumerate(nights)]
    lower, upper = [1.0] * len(visits), [1.0] * len(visits)
    lower += [-np.inf] * len(nights)
    upper += [float(room.get(on, 0)) for on in nights]
    once: dict[tuple[str, date], list[int]] = {}
    for c, (v, on) in enumerate(columns):
        once.setdefault((visits[v].site, on), []).append(c)
    for key in sorted(key for key, sharing in once.items() if len(sharing) > 1):
        entries += [(len(lower), c, 1.0) for c in once[key]]
        lower.append(-np.inf)
        # two that stand on one night already may stay there
        homes = sum(1 for c in once[key] if visits[columns[c][0]].home == key[1])
        upper.append(float(max(1, homes)))
    shape = (len(lower), len(columns) + len(nights))
    row, column, value = zip(*entries, strict=True)
    matrix = coo_array((value, (row, column)), shape=shape).tocsc()
    none = [0.0] * len(nights)
    costs = [float(displacement(visits[v], on, len(visits))) for v, on in columns]
    return OverloadModel(
        columns=columns,
        over=np.array([0.0] * len(columns) + [1.0] * len(nights)),
        cost=np.array(costs + none),
        rows=(matrix, np.array(lower), np.array(upper)),
    )


def least_overload(visits: Sequence[Movable], room: Room) -> int:
    """Crew-minutes above the nights' room that no choice of nights can avoid.

    Source: the linear relaxation, in which a visit may be shared out over its nights.
    """
    if not visits:
        return 0
    from scipy.optimize import Bounds, LinearConstraint, milp

    model = overload_model(visits, room)
    found = milp(
        model.over,
        bounds=Bounds(0.0, model.upper),
        constraints=LinearConstraint(*model.rows),
    )
    return 0 if found.fun is None else whole_above(float(found.fun))


def whole_above(bound: float) -> int:
    """The least whole minutes a bound allows."""
    return max(0, ceil(bound - WHOLE))
