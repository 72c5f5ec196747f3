"""Policies set beside one another at equal look.

Look is the share of weeks without a break. A programme is swept over the price of a break, a
calendar over its scale; the cost of either at a given look lies on the lower convex hull of what
was found, as mixing two of them would have it.
"""

from dataclasses import dataclass

import numpy as np

from floorcare.ground.rules.cost import STANDARD_COSTS, treatment_cost
from tests.scale.departing import FOOTFALL
from tests.scale.policy_deciders import LAID, SURFACE, Calendar
from tests.scale.policy_floors import (
    AGEING,
    AREA_M2,
    CLASSES,
    FILM_GLOSS,
    FINE,
    FINISH,
    LOSS,
    RATES,
    RECOAT,
    REPOLISH,
    SHARED,
    WEEKS,
    Floats,
    Life,
    Lived,
)

MOST_COATS = 6
LONGEST_DAYS = 6000

Figures = dict[str, float]


def rung_costs(offered: tuple[int, ...]) -> Floats:
    """(3,) what the rungs cost on a floor of the study, inf where not offered."""
    return np.array([
        treatment_cost(STANDARD_COSTS, SURFACE, SURFACE.methods[LAID[rung]], AREA_M2)
        if rung in offered
        else np.inf
        for rung in (FINE, RECOAT, REPOLISH)
    ])  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Outcome:
    """A policy's cost a floor and year, look and days in promise, by class (4,)."""

    cost: Floats
    look: Floats
    in_promise: Floats

    @property
    def whole_cost(self) -> float:
        """Of all classes, equally many floors of each."""
        return float(self.cost.mean())

    @property
    def whole_look(self) -> float:
        """Of all classes."""
        return float(self.look.mean())


def outcome(life: Life, lived: Lived, cost: Floats, left: Floats | None = None) -> Outcome:
    """What a policy came to; `left` (Z,) what its last state costs more than its first."""
    spent = (lived.works * np.where(np.isfinite(cost), cost, 0.0)[:, None]).sum(axis=0)
    if left is not None:
        spent = spent + left
    of = [life.traffic == traffic for traffic in range(len(CLASSES))]
    return Outcome(
        cost=np.array([spent[mine].mean() for mine in of]) / (WEEKS / 52.0),
        look=np.array([1.0 - lived.broken[mine].mean() for mine in of]),
        in_promise=np.array([lived.in_promise[mine].mean() for mine in of]),
    )


def at_look(look: float, looks: Floats, costs: Floats) -> float:
    """The least cost at a look, on the lower convex hull of what was found."""
    order = np.lexsort((costs, looks))
    hull: list[tuple[float, float]] = []
    for point in zip(looks[order].tolist(), costs[order].tolist(), strict=True):
        while hull and hull[-1][1] >= point[1]:
            hull.pop()  # better look for less
        while len(hull) > 1 and _above(hull[-2], hull[-1], point):
            hull.pop()
        hull.append(point)
    return float(np.interp(look, [p[0] for p in hull], [p[1] for p in hull]))


def _above(
    first: tuple[float, float], middle: tuple[float, float], last: tuple[float, float]
) -> bool:
    return (middle[1] - first[1]) * (last[0] - first[0]) >= (last[1] - first[1]) * (
        middle[0] - first[0]
    )


def best_calendar(cost: Floats) -> Calendar:
    """For each class the cheapest cycle of its average floor: the most favourable calendar.

    The average floor has the class's traffic and the law's rates, and neither haze nor chance.
    """
    days, coats = np.zeros(4), np.zeros(4, dtype=np.int64)
    for traffic in range(4):
        least = np.inf
        for count in range(MOST_COATS + 1):
            length = _cycle_days(traffic, count)
            a_day = (cost[REPOLISH] + count * cost[RECOAT]) / length
            if a_day < least:
                least, days[traffic], coats[traffic] = a_day, length, count
    return Calendar(repolish_days=days, coats=coats)


def _cycle_days(traffic: int, coats: int) -> float:
    """Days from re-polish to re-polish with so many coats between, each laid at a break."""
    x = FOOTFALL[traffic] / 1000.0 + AGEING
    limit = np.log(1.0 - LOSS[traffic]) + np.log(FINISH + (1.0 - FINISH) * np.exp(-0.03))
    scratch, total = 0.03, 0.0
    for _ in range(coats + 1):
        exposure = x * np.arange(1, LONGEST_DAYS)
        film = np.exp(-RATES[1] * exposure)
        worn = scratch + RATES[2] * exposure - SHARED * RATES[2] / RATES[1] * (1.0 - film)
        ln = np.log(FINISH + (1.0 - FINISH) * np.exp(-worn)) + FILM_GLOSS * (film - 1.0)
        held = int(np.argmax(ln < limit)) if (ln < limit).any() else LONGEST_DAYS - 2
        total += held
        scratch = float(worn[max(held - 1, 0)])
    return max(total, 7.0)


def calendar_at(look: float, tried: list[Outcome]) -> float:
    """Cost of the calendar whose one scale gives this look of the whole fleet."""
    looks = np.array([found.whole_look for found in tried])
    return at_look(look, looks, np.array([found.whole_cost for found in tried]))


def calendar_by_class_at(look: float, tried: list[Outcome]) -> float:
    """Cost of calendars with a scale for each class, at this look of the whole fleet."""
    costs = np.array([found.cost for found in tried])
    looks = np.array([found.look for found in tried])
    found = []
    for price in np.geomspace(1.0, 1e6, 60):
        best = np.argmin(costs - price * looks, axis=0)
        chosen = best, np.arange(4)
        found.append((looks[chosen].mean(), costs[chosen].mean()))
    pairs = np.array(found)
    return at_look(look, pairs[:, 0], pairs[:, 1])


def by_class(values: Floats) -> Figures:
    """Rounded figures under their class."""
    return {name: round(float(v), 3) for name, v in zip(CLASSES, values, strict=True)}
