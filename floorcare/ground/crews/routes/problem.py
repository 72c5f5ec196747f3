"""What is to be routed: places, requests with alternatives in time, tours; all in whole ticks."""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

Whole = NDArray[np.int64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Legs:
    """What it costs and takes from each place to each other; both (P, P), whole, 0 or more."""

    distance: Whole
    ticks: Whole

    def __post_init__(self) -> None:
        if self.distance.ndim != 2 or self.distance.shape[0] != self.distance.shape[1]:
            raise ValueError(f"distances of shape {self.distance.shape}: allowed (P, P)")
        if self.ticks.shape != self.distance.shape:
            raise ValueError(f"ticks of shape {self.ticks.shape}: allowed {self.distance.shape}")
        if (self.distance < 0).any() or (self.ticks < 0).any():
            raise ValueError("a leg below 0: allowed 0 or more")

    @property
    def places(self) -> int:
        """How many places there are."""
        return len(self.distance)


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """One way of serving a request.

    early, late : earliest and latest start of the service.
    ticks : how long it takes.
    worth : cost units won by choosing it.
    tours : indices of the tours that may; None for all.
    """

    early: int
    late: int
    ticks: int
    worth: int = 0
    tours: frozenset[int] | None = None

    def __post_init__(self) -> None:
        if self.early > self.late:
            raise ValueError(f"start from {self.early} to {self.late}: allowed early ≤ late")
        if self.ticks < 0 or self.worth < 0:
            raise ValueError("service and worth: allowed 0 or more")

    def allows(self, tour: int) -> bool:
        """Whether a tour may serve the request in this way."""
        return self.tours is None or tour in self.tours


@dataclass(frozen=True, slots=True, kw_only=True)
class Request:
    """Something to be done at a place, in one of several ways, at most once.

    required : it must be served.
    load : what the tour takes up with it, in each dimension of load.
    dislikes : (tour, cost) added where that tour serves it.
    """

    key: str
    place: int
    options: tuple[Option, ...]
    required: bool = False
    load: tuple[int, ...] = ()
    dislikes: tuple[tuple[int, int], ...] = ()

    def dislike(self, tour: int) -> int:
        """What it costs on top that this tour serves it."""
        return sum(cost for at, cost in self.dislikes if at == tour)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tour:
    """One crew out once.

    start, end : places.
    early, late : it leaves no sooner and is back by then.
    latest_start : it has left by then, None for no such limit.
    longest : ticks from leaving to being back, None for no limit; `overtime` more are allowed at
        `overtime_cost` each.
    fixed_cost, tick_cost, distance_cost : once where it goes out, per tick out, per unit of the
        legs' distance.
    capacity, load : most it may carry in each dimension, and what it carries at the start.
    calls_at : a place at which it may empty its load, `most_calls` times; None where it may not.
    """

    key: str
    start: int
    end: int
    early: int
    late: int
    latest_start: int | None = None
    longest: int | None = None
    overtime: int = 0
    overtime_cost: int = 0
    fixed_cost: int = 0
    tick_cost: int = 0
    distance_cost: int = 1
    capacity: tuple[int, ...] = ()
    load: tuple[int, ...] = ()
    calls_at: int | None = None
    most_calls: int = 1

    def __post_init__(self) -> None:
        if self.early > self.late:
            raise ValueError(f"tour {self.key} from {self.early} to {self.late}: early ≤ late")
        if self.latest_start is not None and self.latest_start < self.early:
            raise ValueError(f"tour {self.key} must have left before it may")
        if len(self.load) not in (0, len(self.capacity)):
            raise ValueError(f"tour {self.key}: load and capacity of different length")


@dataclass(frozen=True, slots=True, kw_only=True)
class RouteProblem:
    """Requests to be put on tours at least cost.

    The cost of an answer is what its tours cost, the dislikes of their requests, and for each
    request the worth it could have had at most less that of the option chosen.
    """

    legs: Legs
    requests: tuple[Request, ...]
    tours: tuple[Tour, ...]

    def __post_init__(self) -> None:
        places = self.legs.places
        named = [r.place for r in self.requests]
        for tour in self.tours:
            named += [tour.start, tour.end, *([] if tour.calls_at is None else [tour.calls_at])]
        if any(not 0 <= place < places for place in named):
            raise ValueError(f"a place that has no legs: allowed 0 to {places - 1}")
        if any(not request.options for request in self.requests):
            raise ValueError("a request without a way of serving it")
        loads = {len(r.load) for r in self.requests if r.load}
        loads |= {len(t.capacity) for t in self.tours if t.capacity}
        if len(loads) > 1:
            raise ValueError("loads of different numbers of dimensions")


@dataclass(frozen=True, slots=True, kw_only=True)
class Called:
    """A request served: by which of its options, from when; or, request None, a call that empties
    the load."""

    request: int | None
    option: int
    starts: int


@dataclass(frozen=True, slots=True, kw_only=True)
class TourRun:
    """A tour that goes out, its calls in order of time."""

    tour: int
    leaves: int
    back: int
    calls: tuple[Called, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """Which tour serves what when.

    runs : of the tours that go out, in their order.
    unserved : indices of requests.
    stopped_by : what ended the search: "iterations", "no improvement" or "time".
    """

    runs: tuple[TourRun, ...]
    unserved: tuple[int, ...]
    cost: int
    iterations: int = 0
    stopped_by: str = ""


def cost_of(problem: RouteProblem, answer: Answer) -> int:
    """The cost of an answer.

    Source: the sum in `RouteProblem`'s words.
    """
    best = sum(max(option.worth for option in r.options) for r in problem.requests)
    return best + sum(run_cost(problem, run) for run in answer.runs)


def run_cost(problem: RouteProblem, run: TourRun) -> int:
    """What a run costs less what its requests are worth; below 0 where it pays.

    Source: the sum in `RouteProblem`'s words.
    """
    tour = problem.tours[run.tour]
    out = run.back - run.leaves
    total = tour.fixed_cost + tour.tick_cost * out
    if tour.distance_cost:
        total += tour.distance_cost * distance_of(problem, run)
    if tour.longest is not None:
        total += tour.overtime_cost * max(0, out - tour.longest)
    for call in run.calls:
        if call.request is not None:
            request = problem.requests[call.request]
            total += request.dislike(run.tour) - request.options[call.option].worth
    return total


def answer_of(
    problem: RouteProblem, runs: Iterable[TourRun], *, iterations: int = 0, stopped_by: str = ""
) -> Answer:
    """The answer of these runs, with what they leave unserved and what they cost.

    Source: `cost_of`.
    """
    listed = tuple(sorted(runs, key=lambda run: run.tour))
    served = {call.request for run in listed for call in run.calls}
    unserved = tuple(at for at in range(len(problem.requests)) if at not in served)
    bare = Answer(runs=listed, unserved=unserved, cost=0)
    return Answer(
        runs=listed,
        unserved=unserved,
        cost=cost_of(problem, bare),
        iterations=iterations,
        stopped_by=stopped_by,
    )


def distance_of(problem: RouteProblem, run: TourRun) -> int:
    """Distance of a run, out and back, in the legs' units."""
    tour = problem.tours[run.tour]
    places = [tour.start, *(place_of(problem, tour, call) for call in run.calls), tour.end]
    legs = problem.legs.distance
    return int(sum(legs[one, then] for one, then in pairwise(places)))


def place_of(problem: RouteProblem, tour: Tour, call: Called) -> int:
    """Where a call of a tour is."""
    if call.request is not None:
        return problem.requests[call.request].place
    if tour.calls_at is None:
        raise ValueError(f"tour {tour.key} empties its load nowhere")
    return tour.calls_at
