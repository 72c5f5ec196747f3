"""Periodic tours (Cordeau, Gendreau, Laporte 1997) with days fixed to the supplied solution.

Each day's tours are searched anew; the cost is the Euclidean distance in doubles.
"""

import argparse
import csv
from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import dist
from pathlib import Path

import numpy as np

from floorcare.ground.crews.routes.check import broken
from floorcare.ground.crews.routes.problem import (
    Answer,
    Legs,
    Option,
    Request,
    RouteProblem,
    Tour,
    place_of,
)
from floorcare.ground.crews.routes.solve import solve
from tests.scale.week import Outcome, folder_of, search_of

SCALE = 1_000
"""Ticks and cost units a unit of the instance."""


def outcomes(args: argparse.Namespace) -> Iterator[Outcome]:
    """Every instance that has a supplied solution, day by day, solved and checked."""
    folder = folder_of(args.data, "pvrp", "solutions")
    with (folder / "best_known.csv").open(encoding="utf-8", newline="") as lines:
        best = {row["instance"]: float(row["best_known_cost"]) for row in csv.DictReader(lines)}
    for path in sorted(folder.glob("*.txt")):
        solution = folder / "solutions" / f"{path.stem}.res"
        if path.stem in best and solution.exists() and path.stem.startswith(args.only):
            yield _outcome(path, solution, best[path.stem], args)


def _outcome(path: Path, solution: Path, reference: float, args: argparse.Namespace) -> Outcome:
    vehicles, limits, nodes = _read(path)
    days = _days(solution)
    cost, steps = 0.0, 0
    found: list[str] = []
    for day, customers in sorted(days.items()):
        problem = _problem(vehicles, limits[day - 1], nodes, customers)
        answer = solve(problem, **search_of(args, share=1 / len(days)))
        found += [f"day {day}: {line}" for line in broken(problem, answer)]
        cost += _length(problem, answer, nodes, customers)
        steps += answer.iterations
    return Outcome(
        name=path.stem, cost=cost, reference=reference, violations=tuple(found), iterations=steps
    )


def _read(path: Path) -> tuple[int, list[tuple[float, float]], dict[int, list[float]]]:
    rows = [line.split() for line in path.read_text(encoding="utf-8").splitlines() if line.strip()]
    vehicles, _, days = (int(cell) for cell in rows[0][1:4])
    limits = [(float(row[0]), float(row[1])) for row in rows[1 : 1 + days]]
    nodes = {int(row[0]): [float(cell) for cell in row[1:5]] for row in rows[1 + days :]}
    return vehicles, limits, nodes


def _days(solution: Path) -> dict[int, list[int]]:
    """Customers of each day in the supplied solution."""
    days: defaultdict[int, list[int]] = defaultdict(list)
    for line in solution.read_text(encoding="utf-8").splitlines()[1:]:
        cells = line.split()
        if len(cells) > 5:
            days[int(cells[0])] += [int(cell) for cell in cells[4:] if cell != "0"]
    return days


def _problem(
    vehicles: int,
    limits: tuple[float, float],
    nodes: dict[int, list[float]],
    customers: Sequence[int],
) -> RouteProblem:
    places = [nodes[0], *(nodes[c] for c in customers)]
    at = np.array([place[:2] for place in places])
    apart = np.sqrt(((at[:, None] - at[None]) ** 2).sum(axis=-1))
    # rounded up, so that what keeps the limit here keeps it in the instance too
    legs = np.ceil(SCALE * apart - 1e-9).astype(np.int64)
    longest, load = limits
    horizon = int(legs.max()) * (len(places) + 1) + round(SCALE * sum(place[2] for place in places))
    requests = tuple(
        Request(
            key=str(customer),
            place=place,
            required=True,
            load=(round(nodes[customer][3]),),
            options=(Option(early=0, late=horizon, ticks=round(SCALE * nodes[customer][2])),),
        )
        for place, customer in enumerate(customers, start=1)
    )
    tours = tuple(
        Tour(
            key=str(n),
            start=0,
            end=0,
            early=0,
            late=horizon,
            longest=int(SCALE * longest) if longest else None,
            capacity=(round(load) if load else 10**6,),
        )
        for n in range(vehicles)
    )
    return RouteProblem(legs=Legs(distance=legs, ticks=legs), requests=requests, tours=tours)


def _length(
    problem: RouteProblem,
    answer: Answer,
    nodes: dict[int, list[float]],
    customers: Sequence[int],
) -> float:
    """The Euclidean length of the tours, in doubles."""
    spots = [nodes[0], *(nodes[c] for c in customers)]
    total = 0.0
    for run in answer.runs:
        tour = problem.tours[run.tour]
        places = [0, *(place_of(problem, tour, call) for call in run.calls), 0]
        total += sum(dist(spots[one][:2], spots[then][:2]) for one, then in pairwise(places))
    return total
