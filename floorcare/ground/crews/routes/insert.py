"""One request more on tours that are made: where it costs least, and what."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from floorcare.ground.crews.routes.problem import Answer, RouteProblem, TourRun, cost_of, run_cost
from floorcare.ground.crews.routes.timing import Step, timed


@dataclass(frozen=True, slots=True, kw_only=True)
class Insertion:
    """A request put on a tour, everything else in its order.

    cost : by how much the answer's cost rises; below 0 where it is worth more than it takes.
    """

    run: TourRun
    cost: int


def cheapest_insertion(problem: RouteProblem, answer: Answer, request: int) -> Insertion | None:
    """The cheapest way to put an unserved request on a tour, None where none takes it.

    Where a tour may empty its load, a call for that just before the request is tried as well.

    Source: every option at every place of every tour, arithmetic.
    """
    runs = {run.tour: run for run in answer.runs}
    best: Insertion | None = None
    for tour in range(len(problem.tours)):
        found = insertion_on(problem, tour, runs.get(tour), request)
        if found is not None and (best is None or found.cost < best.cost):
            best = found
    return best


def insertion_on(
    problem: RouteProblem, tour: int, run: TourRun | None, request: int
) -> Insertion | None:
    """The cheapest way to put a request on one tour, None where it does not take it.

    Source: every option at every place, arithmetic.
    """
    before = run_cost(problem, run) if run is not None else 0
    best: Insertion | None = None
    for steps in _ways(problem, tour, steps_of(run), request):
        longer = timed(problem, tour, steps)
        if longer is None:
            continue
        cost = run_cost(problem, longer) - before
        if best is None or cost < best.cost:
            best = Insertion(run=longer, cost=cost)
    return best


def _ways(
    problem: RouteProblem, tour_at: int, steps: list[Step], request: int
) -> Iterator[list[Step]]:
    """The tour's calls with the request at every place, in every way the tour may serve it."""
    tour = problem.tours[tour_at]
    calls = sum(step[0] is None for step in steps)
    may_call = tour.calls_at is not None and calls < tour.most_calls
    for option_at, option in enumerate(problem.requests[request].options):
        if not option.allows(tour_at):
            continue
        for at in range(len(steps) + 1):
            yield [*steps[:at], (request, option_at), *steps[at:]]
            if may_call:
                yield [*steps[:at], (None, 0), (request, option_at), *steps[at:]]


def with_insertions(problem: RouteProblem, answer: Answer) -> Answer:
    """The answer with every unserved request put where it costs least, while that pays.

    The one worth most comes first, of equal ones the one that must begin soonest.
    """

    def order(at: int) -> tuple[int, int]:
        options = problem.requests[at].options
        return -max(o.worth for o in options), min(o.late for o in options)

    left = sorted(answer.unserved, key=order)
    for request in left:
        found = cheapest_insertion(problem, answer, request)
        if found is not None and (found.cost < 0 or problem.requests[request].required):
            answer = with_run(answer, found.run)
            answer = replace(answer, cost=cost_of(problem, answer))
    return answer


def with_run(answer: Answer, run: TourRun) -> Answer:
    """The answer with one tour's run in place of what it had; the cost is not reckoned anew."""
    runs = {one.tour: one for one in answer.runs}
    runs[run.tour] = run
    served = {call.request for call in run.calls}
    return replace(
        answer,
        runs=tuple(runs[tour] for tour in sorted(runs)),
        unserved=tuple(at for at in answer.unserved if at not in served),
    )


def steps_of(run: TourRun | None) -> list[Step]:
    """The calls of a run in order; none of a tour that does not go out."""
    return [] if run is None else [(call.request, call.option) for call in run.calls]
