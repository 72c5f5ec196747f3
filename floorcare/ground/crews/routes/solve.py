"""The search for good tours, by PyVRP: the problem put in its words, its answer put in ours."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from floorcare.ground.crews.routes.insert import with_insertions
from floorcare.ground.crews.routes.problem import Answer, RouteProblem, TourRun, answer_of
from floorcare.ground.crews.routes.remake import remade, without_idle_calls
from floorcare.ground.crews.routes.timing import Step, timed

if TYPE_CHECKING:
    from floorcare.ground.crews.routes.model import Translated


SEARCHED = 0.1
"""Share of the time the search has where loads can be emptied; the rest goes to taking the answer
apart and putting it together again. Assumption, tried on published tours."""


def solve(
    problem: RouteProblem,
    *,
    iterations: int,
    seed: int,
    seconds: float | None = None,
    no_improvement: int | None = None,
    start: Answer | None = None,
) -> Answer:
    """Tours of low cost that break no limit.

    The same iterations and seed give the same answer; a cap of seconds that fires does not, and
    the answer says so. What is required and finds no place is left unserved.

    Parameters
    ----------
    iterations : steps of the search at most.
    no_improvement : steps without a better answer after which it ends, None for no such end.
    seconds : time after which it ends, None for no cap.
    start : an answer to begin with.
    """
    if not problem.tours or not problem.requests:
        return answer_of(problem, (), stopped_by="iterations")
    calls = any(tour.calls_at is not None for tour in problem.tours)
    if start is None and calls:
        # the search moves calls that empty a load, and seldom thinks of one before the first stop
        start = with_insertions(problem, answer_of(problem, ()))
    stop = _Stop(iterations, no_improvement, seconds and seconds * (SEARCHED if calls else 1.0))
    answer = with_insertions(problem, _searched(problem, start, stop, seed))
    if calls:
        answer = _again(problem, answer, iterations=iterations, seed=seed, seconds=seconds)
    if start is not None and _worse(problem, answer, start):
        kept = answer_of(
            problem, start.runs, iterations=answer.iterations, stopped_by=answer.stopped_by
        )
        return with_insertions(problem, kept)
    return answer


def _searched(problem: RouteProblem, start: Answer | None, stop: "_Stop", seed: int) -> Answer:
    """What the library's search finds, with what breaks a limit taken out."""
    from warnings import catch_warnings, simplefilter

    from pyvrp import Solution
    from pyvrp import solve as search
    from pyvrp.exceptions import PenaltyBoundWarning

    from floorcare.ground.crews.routes.model import translated

    model = translated(problem)
    first = Solution(model.spoken, model.routes_of(start)) if start is not None else None
    with catch_warnings():
        # a limit much dearer to break than to keep is what a week with held visits is made of
        simplefilter("ignore", PenaltyBoundWarning)
        found = search(
            model.spoken,
            stop,
            seed=seed,
            collect_stats=False,
            display=False,
            initial_solution=first,
        )
    return answer_of(
        problem,
        _mended(problem, model, found.best),
        iterations=found.num_iterations,
        stopped_by=stop.fired or "iterations",
    )


def _again(
    problem: RouteProblem, answer: Answer, *, iterations: int, seed: int, seconds: float | None
) -> Answer:
    """The answer taken apart and put together again for the rest of the time."""
    stop = _Stop(iterations, None, seconds and seconds * (1.0 - SEARCHED))
    better = remade(
        problem, without_idle_calls(problem, answer), rounds=iterations, seed=seed, ends=stop
    )
    fired = answer.stopped_by if stop.fired in ("", "iterations") else stop.fired
    return replace(better, stopped_by=fired)


class _Stop:
    """The library's own ends, one after the other; `fired` says which came first."""

    def __init__(self, iterations: int, no_improvement: int | None, seconds: float | None) -> None:
        from pyvrp.stop import MaxIterations, MaxRuntime, NoImprovement

        self._ends: list[tuple[str, Callable[[int], bool]]] = [
            ("iterations", MaxIterations(iterations))
        ]
        if no_improvement is not None:
            self._ends.append(("no improvement", NoImprovement(no_improvement)))
        if seconds is not None:
            self._ends.append(("time", MaxRuntime(seconds)))
        self.fired = ""

    def __call__(self, best_cost: int) -> bool:
        for name, end in self._ends:
            if end(best_cost):
                self.fired = name
                return True
        return False


def _mended(problem: RouteProblem, model: "Translated", best: Any) -> tuple[TourRun, ...]:
    """The best answer's runs; where one breaks a limit its calls go, least worth first."""
    runs = []
    served: set[int] = set()
    left = [list(tours) for tours in model.tours]
    for route in best.routes():
        tour = left[route.vehicle_type()].pop(0)
        steps = [s for s in model.steps_of(route) if s[0] is None or s[0] not in served]
        run = _run_of(problem, tour, steps)
        if run is not None:
            runs.append(run)
            served |= {call.request for call in run.calls if call.request is not None}
    return tuple(sorted(runs, key=lambda run: run.tour))


def _run_of(problem: RouteProblem, tour: int, steps: Sequence[Step]) -> TourRun | None:
    left = list(steps)
    while any(request is not None for request, _ in left):
        run = timed(problem, tour, left)
        if run is not None:
            return run
        served = sorted((s for s in left if s[0] is not None), key=lambda s: _worth(problem, s))
        # the least that mends it alone goes; where none does, the least of all
        alone = (s for s in served if timed(problem, tour, _without(left, s)) is not None)
        left = _without(left, next(alone, served[0]))
    return None


def _without(steps: Sequence[Step], step: Step) -> list[Step]:
    return [one for one in steps if one != step]


def _worth(problem: RouteProblem, step: Step) -> tuple[bool, int, int]:
    request, option = step
    if request is None:
        return True, 0, -1
    asked = problem.requests[request]
    return asked.required, asked.options[option].worth, request


def _worse(problem: RouteProblem, answer: Answer, start: Answer) -> bool:
    """Whether the answer serves fewer of what is required than its start, or costs more."""

    def missed(one: Answer) -> int:
        return sum(problem.requests[at].required for at in one.unserved)

    return (missed(answer), answer.cost) > (missed(start), start.cost)
