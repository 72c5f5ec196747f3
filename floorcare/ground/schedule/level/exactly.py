"""Levelling by the solver HiGHS: least overload first, then least displacement from home."""

from collections.abc import Sequence
from datetime import date

import numpy as np
from numpy.typing import NDArray

from floorcare.ground.schedule.level.greedily import improved
from floorcare.ground.schedule.level.overload import (
    Levelled,
    Movable,
    Room,
    cost,
    overload,
    result,
)
from floorcare.ground.schedule.level.overload_model import (
    OverloadModel,
    least_overload,
    overload_model,
    whole_above,
)

MOST_NODES = 20
"""The solver looks at so many nodes at most for each goal; no clock stops it. Assumption."""
MOST_COLUMNS = 400
"""Displacement is only proven least up to so many visit-nights. Assumption."""


def level_exactly(visits: Sequence[Movable], room: Room, *, nodes: int = MOST_NODES) -> Levelled:
    """Nights for the visits with the least overload, and among those the least displacement.

    Parameters
    ----------
    visits : in the order of their codes.
    nodes : of the search; where it ends there, the best choice found is taken and `proven` is no.

    Source: HiGHS by way of scipy, one thread, no clock; the same columns give the same answer.
    """
    model = overload_model(visits, room)
    chosen = improved(visits, room)
    least = least_overload(visits, room)
    if overload(visits, chosen, room) > least:
        found, bound, _ = _solved(model, model.over, nodes)
        least = max(least, whole_above(bound))
        if found is not None:
            again = improved(visits, room, _nights(model, found, visits))
            chosen = min(chosen, again, key=lambda nights: _key(visits, nights, room))
    proven = False
    if overload(visits, chosen, room) == least and len(model.columns) <= MOST_COLUMNS:
        found, _, proven = _solved(model, model.cost, nodes, most_over=least)
        if found is not None:
            again = _nights(model, found, visits)
            chosen = min(chosen, again, key=lambda nights: _key(visits, nights, room))
    return result(visits, chosen, room, bound=least, proven=proven)


def _key(
    visits: Sequence[Movable], nights: Sequence[date], room: Room
) -> tuple[int, int, list[date]]:
    return overload(visits, nights, room), cost(visits, nights), list(nights)


def _solved(
    model: OverloadModel,
    goal: NDArray[np.float64],
    nodes: int,
    *,
    most_over: int | None = None,
) -> tuple[NDArray[np.float64] | None, float, bool]:
    """The best columns found, the bound, and whether they are proven best."""
    from scipy.optimize import Bounds, LinearConstraint, milp

    rows = [LinearConstraint(*model.rows)]
    if most_over is not None:
        rows.append(LinearConstraint(model.over[None, :], ub=most_over + 0.5))
    found = milp(
        goal,
        integrality=model.whole,
        bounds=Bounds(0.0, model.upper),
        constraints=rows,
        options={"node_limit": nodes, "mip_rel_gap": 0.0},
    )
    bound = found.mip_dual_bound
    return found.x, float(bound) if bound is not None else 0.0, found.status == 0


def _nights(
    model: OverloadModel, found: NDArray[np.float64], visits: Sequence[Movable]
) -> list[date]:
    chosen = [visit.home for visit in visits]
    for (v, on), taken in zip(model.columns, found, strict=False):
        if taken > 0.5:
            chosen[v] = on
    return chosen
