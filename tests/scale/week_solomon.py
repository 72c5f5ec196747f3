"""Tours with time windows (Solomon 1987) through the week's own model.

Convention: least distance, every leg cut to one decimal; beside the best known of the folder.
"""

import argparse
import csv
from collections.abc import Iterator
from pathlib import Path

import numpy as np

from floorcare.ground.crews.routes.check import broken
from floorcare.ground.crews.routes.problem import Legs, Option, Request, RouteProblem, Tour
from floorcare.ground.crews.routes.solve import solve
from tests.scale.week import Outcome, folder_of, search_of

TENTHS = 10


def outcomes(args: argparse.Namespace) -> Iterator[Outcome]:
    """Every instance of 100 customers in the folder, solved and checked."""
    folder = folder_of(args.data, "solomon", "best_known.csv")
    best = best_known(folder)
    for path in sorted((folder / "solomon_100").glob("*.txt")):
        name = path.stem.split(".")[0]
        if (name, 100) not in best or not name.startswith(args.only):
            continue
        yield outcome(path, best[name, 100], args)


def outcome(path: Path, reference: float, args: argparse.Namespace) -> Outcome:
    """One instance, solved and checked."""
    problem = read(path)
    answer = solve(problem, **search_of(args))
    return Outcome(
        name=path.stem,
        cost=answer.cost / TENTHS,
        reference=reference,
        violations=broken(problem, answer),
        iterations=answer.iterations,
    )


def best_known(folder: Path) -> dict[tuple[str, int], float]:
    """Least distances known, by instance and number of customers."""
    with (folder / "best_known.csv").open(encoding="utf-8", newline="") as lines:
        return {
            (row["instance"], int(row["n"])): float(row["reference_upper_bound"])
            for row in csv.DictReader(lines)
            if row["reference_upper_bound"]
        }


def read(path: Path) -> RouteProblem:
    """An instance as a route problem in tenths."""
    rows = [line.split() for line in path.read_text(encoding="utf-8").splitlines()]
    pairs = (row for row in rows if len(row) == 2 and row[0].isdigit())
    vehicles, capacity = (int(cell) for cell in next(pairs))
    nodes = [[float(cell) for cell in row] for row in rows if len(row) == 7 and row[0].isdigit()]
    at = np.array([node[1:3] for node in nodes])
    apart = np.sqrt(((at[:, None] - at[None]) ** 2).sum(axis=-1))
    legs = np.floor(TENTHS * apart + 1e-9).astype(np.int64)
    requests = tuple(
        Request(
            key=f"{node[0]:.0f}",
            place=place,
            required=True,
            load=(int(node[3]),),
            options=(
                Option(
                    early=round(node[4] * TENTHS),
                    late=round(node[5] * TENTHS),
                    ticks=round(node[6] * TENTHS),
                ),
            ),
        )
        for place, node in enumerate(nodes)
        if place
    )
    last = round(nodes[0][5] * TENTHS)
    tours = tuple(
        Tour(key=str(n), start=0, end=0, early=0, late=last, capacity=(capacity,))
        for n in range(vehicles)
    )
    return RouteProblem(legs=Legs(distance=legs, ticks=legs), requests=requests, tours=tours)
