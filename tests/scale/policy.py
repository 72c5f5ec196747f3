"""What the policies cost beside an optimum and beside a calendar: `python -m tests.scale.policy`.

Floors are burnished every night and decided for once a week, four years after two by a calendar.
Prints what it finds and, as the last line, one JSON object.
"""

import argparse
import json
import sys
from time import perf_counter
from typing import Any

import numpy as np

from floorcare.ground.trade.promise import Policy
from tests.scale.departing import DEPARTING, World
from tests.scale.policy_deciders import ByWear
from tests.scale.policy_figures import (
    Outcome,
    at_look,
    best_calendar,
    by_class,
    calendar_at,
    calendar_by_class_at,
    outcome,
    rung_costs,
)
from tests.scale.policy_floors import (
    CLASSES,
    FINE,
    PLAIN,
    RECOAT,
    REPOLISH,
    Floats,
    Life,
    Lived,
    a_life,
    live,
)
from tests.scale.policy_programme import (
    Programme,
    Size,
    a_grid,
    left_behind,
    programmed,
    solved,
)

PRICES = (6.0, 10.0, 14.0, 18.0, 25.0, 40.0, 80.0, 200.0, 600.0)
"""Of a broken week, in the currency of the costs."""
SIZES: tuple[Size, ...] = ((6, 17, 25), (7, 25, 37), (8, 33, 49))
SCALES = np.geomspace(0.08, 3.0, 14)
MORE_COATS = (-1, 0, 2)
"""The calendar is tuned in these too, not in its scale alone."""
CONFIDENCES = (0.75, 0.90)
COATED = (RECOAT, REPOLISH)
FINELY = (FINE, RECOAT, REPOLISH)


class Optimum:
    """The programme's cost at any look, class by class, on floors that follow the law."""

    def __init__(self, life: Life, offered: tuple[int, ...], size: Size) -> None:
        self.life, self.cost = life, rung_costs(offered)
        self.warm = best_calendar(rung_costs(COATED))
        grids = [a_grid(traffic, size, 17) for traffic in range(4)]
        self.sets: list[list[Programme]] = []
        start: list[Floats | None] = [None] * 4
        for price in PRICES:
            found = [solved(g, self.cost, price, v) for g, v in zip(grids, start, strict=True)]
            start = [programme.value for programme in found]
            self.sets.append(found)
        self.tried = [self._tried(found) for found in self.sets]

    def _tried(self, found: list[Programme]) -> Outcome:
        lived = live(self.life, self.warm, lambda night: programmed(found, night))
        return outcome(self.life, lived, self.cost, self.left(found, lived))

    def left(self, found: list[Programme], lived: Lived) -> Floats:
        """(Z,) what the last state will cost more than the first."""
        more = np.zeros(self.life.zones)
        for traffic, programme in enumerate(found):
            mine = np.flatnonzero(self.life.traffic == traffic)
            more[mine] = left_behind(programme, lived.last, mine)
            more[mine] -= left_behind(programme, lived.first, mine)
        return more

    def judged(self, lived: Lived) -> Outcome:
        """A policy's outcome, its end valued by the programme nearest to it in look."""
        rough = outcome(self.life, lived, self.cost)
        nearest = [
            self.sets[int(np.argmin([abs(t.look[c] - rough.look[c]) for t in self.tried]))][c]
            for c in range(4)
        ]
        return outcome(self.life, lived, self.cost, self.left(nearest, lived))

    def over(self, found: Outcome) -> tuple[float, Floats]:
        """Cost over the optimum's at equal look: of the fleet, and (4,) by class."""
        least = np.array([
            at_look(found.look[c], np.array([t.look[c] for t in self.tried]),
                    np.array([t.cost[c] for t in self.tried]))
            for c in range(4)
        ])  # fmt: skip
        return found.whole_cost / float(least.mean()), found.cost / np.maximum(least, 1e-9)

    def brackets(self) -> list[str]:
        """The average cost a year with its bracket, by class, at every price."""
        return [
            f"price {price:g}: "
            + ", ".join(
                f"{name} {52 * p.low:.1f}-{52 * p.high:.1f}"
                for name, p in zip(CLASSES, found, strict=True)
            )
            for price, found in zip(PRICES, self.sets, strict=True)
        ]


def main(arguments: list[str]) -> None:
    """Run the study and print it."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seed", type=int, default=101)
    parser.add_argument("--each", type=int, default=12, help="floors of each class of traffic")
    parser.add_argument("--fine", action="store_true", help="offer fine burnishes with state known")
    given = parser.parse_args(arguments)
    started = perf_counter()
    answer: dict[str, object] = {"seed": given.seed, "zones": 4 * given.each}
    life = a_life(PLAIN, each=given.each, seed=given.seed, rounds_a_quarter=3.0)
    best = _refined(life, COATED, answer)
    _against_optimum(best, life, COATED, answer)
    if given.fine:
        finer = Optimum(life, FINELY, SIZES[-1])
        answer["with_fine_burnish"] = _known(finer, life, FINELY)
    for name, rounds in (("monthly", 3.0), ("two a quarter", 2.0)):
        answer[name] = _against_calendar(DEPARTING, given.each, given.seed, rounds)
    answer |= _in_short(answer)
    answer["seconds"] = round(perf_counter() - started)
    print(json.dumps(answer))


def _in_short(answer: dict[str, Any]) -> dict[str, object]:
    """The figures of `cheapest` that are asked for, by confidence."""
    monthly, known = answer["monthly"], answer["state_known"]
    over = monthly["over_calendar"]
    seldom = answer["two a quarter"]["over_calendar"]
    found: dict[str, object] = {
        "over_calendar": {q: of["one_scale"] for q, of in over.items()},
        "over_calendar_by_class": {q: of["by_class"] for q, of in over.items()},
        "over_calendar_scale_by_class": {q: of["scale_by_class"] for q, of in over.items()},
        "over_calendar_two_a_quarter": {q: of["one_scale"] for q, of in seldom.items()},
        "days_in_promise": {q: of["days_in_promise"] for q, of in over.items()},
        "promise_gap_by_class": {
            q: monthly["promise_gap_by_class"][f"{Policy.CHEAPEST} {q}"] for q in over
        },
        "promise_gap_by_class_known": {
            q: {name: round(v - float(q), 3) for name, v in of["cheapest_look_by_class"].items()}
            for q, of in known.items()
        },
    }
    return found


def _refined(life: Life, offered: tuple[int, ...], answer: dict[str, object]) -> Optimum:
    """The optimum on the finest grid, and what the last refinement changed."""
    coarse, fine = (Optimum(life, offered, size) for size in SIZES[-2:])
    for line in fine.brackets():
        print(line, flush=True)
    looks = (0.95, 0.97, 0.99)
    change = np.array([
        [
            at_look(look, *_curve(fine, c)) / max(at_look(look, *_curve(coarse, c)), 1e-9) - 1.0
            for look in looks
        ]
        for c in range(4)
    ])  # fmt: skip
    answer["grid"] = list(SIZES[-1])
    answer["last_refinement_by_class"] = by_class(np.abs(change).mean(axis=1))
    whole = [
        sum(at_look(look, *_curve(o, c)) for c in range(4))
        for o in (coarse, fine)
        for look in looks
    ]
    steps = [abs(b / a - 1.0) for a, b in zip(whole[:3], whole[3:], strict=True)]
    answer["last_refinement"] = round(max(steps), 4)
    print(f"last refinement of the grid: {steps}", flush=True)
    return fine


def _curve(best: Optimum, traffic: int) -> tuple[Floats, Floats]:
    return (
        np.array([t.look[traffic] for t in best.tried]),
        np.array([t.cost[traffic] for t in best.tried]),
    )


def _against_optimum(
    best: Optimum, life: Life, offered: tuple[int, ...], answer: dict[str, object]
) -> None:
    answer["state_known"] = known = _known(best, life, offered)
    answer["state_estimated"] = estimated = _known(best, life, offered, known=False)
    for key in ("cheapest_over_optimum", "gentlest_over_optimum"):
        answer[key] = known["0.75"][key]
        answer[f"{key}_by_class"] = known["0.75"][f"{key}_by_class"]
        answer[f"{key}_estimated"] = estimated["0.75"][key]


def _known(
    best: Optimum, life: Life, offered: tuple[int, ...], *, known: bool = True
) -> dict[str, dict[str, object]]:
    """Both policies at each confidence over the optimum, state known or estimated."""
    answer: dict[str, dict[str, object]] = {}
    for q in CONFIDENCES:
        here: dict[str, object] = {}
        for policy in (Policy.CHEAPEST, Policy.GENTLEST):
            begun = perf_counter()
            decide = ByWear(
                policy=policy, confidence=q, offered=offered, cost=best.cost, known=known
            )
            found = best.judged(live(life, best.warm, decide))
            ratio, classes = best.over(found)
            here[f"{policy}_over_optimum"] = round(ratio, 3)
            here[f"{policy}_over_optimum_by_class"] = by_class(classes)
            here[f"{policy}_look_by_class"] = by_class(found.look)
            here[f"{policy}_cost_by_class"] = by_class(found.cost)
            how = "known" if known else "estimated"
            print(
                f"{policy} at {q}, state {how}: {ratio:.3f} x the optimum, "
                f"by class {by_class(classes)}, look {by_class(found.look)} "
                f"({perf_counter() - begun:.0f} s)",
                flush=True,
            )
        answer[str(q)] = here
    return answer


def _against_calendar(world: World, each: int, seed: int, rounds: float) -> dict[str, object]:
    """Both policies on floors that depart from the law, over calendars tuned in hindsight."""
    life = a_life(world, each=each, seed=seed + 1, rounds_a_quarter=rounds)
    cost = rung_costs(COATED)
    warm = best_calendar(cost)
    tried = [
        outcome(life, live(life, warm, warm.with_coats(more).scaled(np.full(4, scale))), cost)
        for more in MORE_COATS
        for scale in SCALES
    ]
    answer: dict[str, object] = {}
    gaps: dict[str, object] = {}
    for policy in (Policy.CHEAPEST, Policy.GENTLEST):
        over: dict[str, object] = {}
        for q in CONFIDENCES:
            decide = ByWear(policy=policy, confidence=q, offered=COATED, cost=cost, known=False)
            found = outcome(life, live(life, warm, decide), cost)
            one = found.whole_cost / calendar_at(found.whole_look, tried)
            each_class = found.whole_cost / calendar_by_class_at(found.whole_look, tried)
            alone = [
                found.cost[c]
                / max(
                    at_look(
                        found.look[c],
                        np.array([t.look[c] for t in tried]),
                        np.array([t.cost[c] for t in tried]),
                    ),
                    1e-9,
                )
                for c in range(4)
            ]
            over[str(q)] = {
                "one_scale": round(one, 3),
                "scale_by_class": round(each_class, 3),
                "by_class": by_class(np.array(alone)),
                "look": round(found.whole_look, 3),
                "calendar_best_look": round(max(t.whole_look for t in tried), 3),
                "days_in_promise": round(float(found.in_promise.mean()), 4),
                "cost": round(found.whole_cost, 1),
            }
            gaps[f"{policy} {q}"] = by_class(found.look - q)
            print(f"{policy} at {q}, {rounds:g} rounds a quarter: {over[str(q)]}", flush=True)
        answer["over_calendar" if policy is Policy.CHEAPEST else "gentlest_over_calendar"] = over
    answer["promise_gap_by_class"] = gaps
    return answer


if __name__ == "__main__":
    main(sys.argv[1:])
