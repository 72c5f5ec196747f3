"""Several problems solved at once, each in a process of its own; the answers are those of one."""

from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from multiprocessing import get_context

from floorcare.ground.crews.routes.problem import Answer, RouteProblem
from floorcare.ground.crews.routes.solve import solve


@dataclass(frozen=True, slots=True, kw_only=True)
class Search:
    """How long is searched and from where.

    iterations, no_improvement, seconds, seed, start : as `solve` takes them.
    """

    iterations: int
    seed: int
    no_improvement: int | None = None
    seconds: float | None = None
    start: Answer | None = None


def solve_all(
    problems: Sequence[tuple[RouteProblem, Search]], *, workers: int
) -> tuple[Answer, ...]:
    """The answers to several problems, in their order.

    Parameters
    ----------
    workers : how many are solved at once; 1 solves them here, one after the other.
    """
    if workers <= 1 or len(problems) <= 1:
        return tuple(_solved(one) for one in problems)
    # spawned, not forked: a fork of a process with threads may hang
    context = get_context("spawn")
    with ProcessPoolExecutor(min(workers, len(problems)), mp_context=context) as pool:
        return tuple(pool.map(_solved, problems))


def _solved(one: tuple[RouteProblem, Search]) -> Answer:
    problem, how = one
    return solve(
        problem,
        iterations=how.iterations,
        seed=how.seed,
        no_improvement=how.no_improvement,
        seconds=how.seconds,
        start=how.start,
    )
