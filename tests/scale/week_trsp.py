"""Technicians with skills, tools and spare parts (Pillac, Gueret, Medaglia 2013).

A technician starts and ends at home, needs all skills of a request, and its tools and parts unless
he has called at the base earlier, which gives every tool and any number of parts. The cost is the
total working time with departure free, reckoned in doubles by the published rules, not the model's.

In the model a tool or part is a dimension of load: a request takes up what it needs, a technician
starts with what he lacks taken up already, and the call at the base empties it.
"""

import argparse
import csv
from ast import literal_eval
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil, dist, floor
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
)
from floorcare.ground.crews.routes.solve import solve
from tests.scale.week import Outcome, folder_of, search_of

SCALE = 100
"""Ticks and cost units a unit of the instance."""
AMPLE = 1_000
"""More of a part than all requests need together."""
SLACK = 1e-6


@dataclass(frozen=True, slots=True)
class Node:
    """A line of an instance: the base, a technician or a request."""

    x: float
    y: float
    early: float
    late: float
    service: float
    skills: frozenset[int]
    tools: frozenset[int]
    parts: tuple[int, ...]


def outcomes(args: argparse.Namespace) -> Iterator[Outcome]:
    """Every instance in the folder, solved and checked by the published rules."""
    folder = folder_of(args.data, "trsp_crew25", "best_known.csv")
    best = best_known(folder)
    for path in sorted(folder.glob("*.txt")):
        name = path.stem.split("_")[0]
        if name in best and name.startswith(args.only):
            yield outcome(path, best[name], args)


def outcome(path: Path, reference: float, args: argparse.Namespace) -> Outcome:
    """One instance, solved and checked."""
    crew, nodes = read(path)
    problem = as_problem(crew, nodes)
    answer = solve(problem, **search_of(args))
    found = list(broken(problem, answer))
    found += [f"{problem.requests[at].key} is not served" for at in answer.unserved]
    routes = routes_of(crew, problem, answer)
    cost = 0.0
    for technician, stops in routes.items():
        found += list(breaches(nodes, technician, stops))
        cost += working_time(nodes, technician, stops)
    return Outcome(
        name=path.stem.split("_")[0],
        cost=cost,
        reference=reference,
        violations=tuple(found),
        iterations=answer.iterations,
    )


def best_known(folder: Path) -> dict[str, float]:
    """Published total working time by instance."""
    with (folder / "best_known.csv").open(encoding="utf-8", newline="") as lines:
        return {
            row["instance"].split("_")[0]: float(row["published_total_working_time"])
            for row in csv.DictReader(lines)
        }


def read(path: Path) -> tuple[int, list[Node]]:
    """How many technicians, and every node: base, technicians, requests."""
    lines = path.read_text(encoding="utf-8").splitlines()
    counts = (line.split() for line in lines if "[" not in line)
    crew = next(int(cells[0]) for cells in counts if len(cells) == 4 and cells[0].isdigit())
    nodes = []
    for line in lines:
        if "[" not in line or not line.split()[0].isdigit():
            continue
        numbers, *lists = line.split("[")
        x, y, early, late, service = (float(cell) for cell in numbers.split()[1:6])
        skills, tools, parts = (literal_eval("[" + cell.strip()) for cell in lists)
        nodes.append(
            Node(x, y, early, late, service, frozenset(skills), frozenset(tools), tuple(parts))
        )
    return crew, nodes


def as_problem(crew: int, nodes: Sequence[Node]) -> RouteProblem:
    """The instance in ticks, everything rounded to the safe side."""
    at = np.array([(node.x, node.y) for node in nodes])
    apart = np.sqrt(((at[:, None] - at[None]) ** 2).sum(axis=-1))
    ticks = np.ceil(SCALE * apart - 1e-9).astype(np.int64)
    requests = nodes[crew + 1 :]
    tools = sorted(set().union(*(node.tools for node in requests)))
    parts = range(max(len(node.parts) for node in requests))
    wanted = sum(floor(SCALE * (node.late + node.service)) for node in nodes[:1])
    return RouteProblem(
        legs=Legs(distance=np.zeros_like(ticks), ticks=ticks),
        requests=tuple(
            Request(
                key=f"request {place}",
                place=place,
                load=(
                    *(int(tool in node.tools) for tool in tools),
                    *(node.parts[part] for part in parts),
                ),
                options=(
                    Option(
                        early=ceil(SCALE * node.early),
                        late=floor(SCALE * node.late),
                        ticks=ceil(SCALE * node.service),
                        worth=wanted,
                        tours=frozenset(
                            t for t in range(crew) if node.skills <= nodes[1 + t].skills
                        ),
                    ),
                ),
            )
            for place, node in enumerate(requests, start=crew + 1)
        ),
        tours=tuple(
            Tour(
                key=f"technician {place}",
                start=place,
                end=place,
                early=ceil(SCALE * nodes[place].early),
                late=floor(SCALE * nodes[place].late),
                tick_cost=1,
                distance_cost=0,
                capacity=(AMPLE,) * (len(tools) + len(parts)),
                load=(
                    *(0 if tool in nodes[place].tools else AMPLE for tool in tools),
                    *(AMPLE - (nodes[place].parts or (0,) * len(parts))[part] for part in parts),
                ),
                calls_at=0,
            )
            for place in range(1, crew + 1)
        ),
    )


def routes_of(crew: int, problem: RouteProblem, answer: Answer) -> dict[int, list[int]]:
    """Nodes of each technician in order, 0 for the base."""
    return {
        run.tour + 1: [
            0 if call.request is None else problem.requests[call.request].place
            for call in run.calls
        ]
        for run in answer.runs
    }


def breaches(nodes: Sequence[Node], technician: int, stops: Sequence[int]) -> Iterator[str]:
    """Every published rule a technician's route breaks."""
    me = nodes[technician]
    tools, parts = set(me.tools), list(me.parts or (0,) * 9)
    at_base = False
    now, here = me.early, me
    for stop in stops:
        node = nodes[stop]
        now += dist((here.x, here.y), (node.x, node.y))
        if stop == 0:
            at_base = True
        else:
            now = max(now, node.early)
            if now > node.late + SLACK:
                yield f"technician {technician} comes to {stop} at {now:.3f}, after {node.late}"
            if not node.skills <= me.skills:
                yield f"technician {technician} lacks a skill for {stop}"
            if not at_base and not node.tools <= tools:
                yield f"technician {technician} lacks a tool for {stop}"
            for part, number in enumerate(node.parts):
                parts[part] -= number
                if not at_base and parts[part] < 0:
                    yield f"technician {technician} lacks part {part} for {stop}"
            now += node.service
        here = node
    now += dist((here.x, here.y), (me.x, me.y))
    if now > me.late + SLACK:
        yield f"technician {technician} is home at {now:.3f}, after {me.late}"
    if sum(stop == 0 for stop in stops) > 1:
        yield f"technician {technician} calls at the base twice"


def working_time(nodes: Sequence[Node], technician: int, stops: Sequence[int]) -> float:
    """The shortest time from leaving home to being back, departure free."""
    me = nodes[technician]
    # forward: earliest arrival; and the slack by which the departure may be put off
    now, waited, slack = me.early, 0.0, float("inf")
    here = me
    for stop in stops:
        node = nodes[stop]
        now += dist((here.x, here.y), (node.x, node.y))
        if stop:
            waits = max(0.0, node.early - now)
            now += waits
            waited += waits
            slack = min(slack, node.late - now + waited)
            now += node.service
        here = node
    now += dist((here.x, here.y), (me.x, me.y))
    slack = min(slack, me.late - now + waited)
    return now - me.early - min(waited, slack)
