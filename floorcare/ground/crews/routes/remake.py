"""Part of an answer taken apart and put together again, over and over, while it gets better."""

import random
from collections.abc import Callable, Iterable
from dataclasses import replace
from math import exp

from floorcare.ground.crews.routes.insert import Insertion, insertion_on, steps_of
from floorcare.ground.crews.routes.problem import (
    Answer,
    RouteProblem,
    TourRun,
    answer_of,
    run_cost,
)
from floorcare.ground.crews.routes.timing import Step, timed

LEAST_OUT, MOST_OUT = 3, 12
"""So many requests are taken out at a time. Assumption, tried on published tours."""
WARM, COLD = 0.01, 0.0003
"""Share of an answer's drive by which a worse one is still taken, at the start and at the end.
Assumption, tried on published tours."""
CYCLE = 3_000
"""Rounds from warm to cold. Assumption, tried on published tours."""
MOST_KEPT = 200_000
"""Insertions remembered; past that all are forgotten. Assumption, for the memory."""


def remade(
    problem: RouteProblem,
    answer: Answer,
    *,
    rounds: int,
    seed: int,
    ends: Callable[[int], bool] | None = None,
) -> Answer:
    """The best answer found by taking requests near one another out and putting them back.

    Calls that empty a load come and go with what needs them. Same rounds and seed, same answer.

    Parameters
    ----------
    rounds : how often it is taken apart at most.
    ends : asked before each round with the best cost; True ends it.

    Source: ruin and recreate, Schrimpf et al. 2000 (J. Comput. Phys. 159); citation from memory.
    """
    work = _Bench(problem, answer, random.Random(seed))
    for done in range(rounds):
        if ends is not None and ends(work.best_cost):
            break
        # the number of rounds may not be known: it cools down over and over, from the best
        cooled = (done % CYCLE) / CYCLE
        if not cooled:
            work.begin_anew()
        work.round(WARM * (COLD / WARM) ** cooled)
    return answer_of(
        problem,
        work.best.values(),
        iterations=answer.iterations,
        stopped_by=answer.stopped_by,
    )


class _Bench:
    """The answer in the making: runs by tour, what is out, and insertions tried before."""

    def __init__(self, problem: RouteProblem, answer: Answer, drawn: random.Random) -> None:
        self.problem, self.drawn = problem, drawn
        self.runs = {run.tour: run for run in answer.runs}
        self.out = list(answer.unserved)
        self.cost = sum(run_cost(problem, run) for run in answer.runs)
        self.best, self.best_cost = dict(self.runs), self.cost
        self._known: dict[tuple[int, tuple[Step, ...], int], Insertion | None] = {}
        self._near = [self._nearest(at) for at in range(len(problem.requests))]

    def begin_anew(self) -> None:
        """Go on from the best so far."""
        self.runs, self.cost = dict(self.best), self.best_cost
        served = {call.request for run in self.runs.values() for call in run.calls}
        self.out = [at for at in range(len(self.problem.requests)) if at not in served]

    def round(self, warmth: float) -> None:
        """Take some out, put them back, and keep that where it is good enough."""
        runs, out, cost = dict(self.runs), list(self.out), self.cost
        self._take_out()
        self._put_back()
        gain = cost - self.cost
        if self.cost < self.best_cost:
            self.best, self.best_cost = dict(self.runs), self.cost
        drive = max(1.0, sum(run.back - run.leaves for run in runs.values()))
        if gain < 0 and self.drawn.random() > exp(gain / (warmth * drive)):
            self.runs, self.out, self.cost = runs, out, cost

    def _nearest(self, at: int) -> list[int]:
        """The other requests, those first that are near in place and time."""
        problem = self.problem
        mine = problem.requests[at]

        def apart(other: int) -> int:
            one = problem.requests[other]
            drive = int(problem.legs.ticks[mine.place, one.place])
            when = abs(mine.options[0].early - one.options[0].early)
            return drive + when // 4

        others = (one for one in range(len(problem.requests)) if one != at)
        return sorted(others, key=lambda one: (apart(one), one))

    def _take_out(self) -> None:
        number = self.drawn.randint(LEAST_OUT, MOST_OUT)
        first = self.drawn.randrange(len(self.problem.requests))
        chosen = {first, *self.out[:2]}
        for other in self._near[first]:
            if len(chosen) > number:
                break
            if self.drawn.random() < 0.8:
                chosen.add(other)
        for tour, run in list(self.runs.items()):
            if any(call.request in chosen for call in run.calls):
                self._shorten(tour, run, chosen)

    def _shorten(self, tour: int, run: TourRun, chosen: Iterable[int]) -> None:
        gone = set(chosen)
        steps = [step for step in steps_of(run) if step[0] is None or step[0] not in gone]
        self.out += [c.request for c in run.calls if c.request is not None and c.request in gone]
        self.cost -= run_cost(self.problem, run)
        shorter = self._run(tour, steps)
        if shorter is None:
            del self.runs[tour]
        else:
            self.runs[tour] = shorter
            self.cost += run_cost(self.problem, shorter)

    def _run(self, tour: int, steps: list[Step]) -> TourRun | None:
        """The run of what is left, without the call at the base where it needs none any more."""
        if all(step[0] is None for step in steps):
            return None
        able = [timed(self.problem, tour, steps)]
        bare = [step for step in steps if step[0] is not None]
        if len(bare) < len(steps):
            able.append(timed(self.problem, tour, bare))
        runs = [run for run in able if run is not None]
        return min(runs, key=lambda run: run_cost(self.problem, run), default=None)

    def _put_back(self) -> None:
        requests = self.problem.requests
        order = self.drawn.randrange(3)
        if order == 0:
            self.drawn.shuffle(self.out)
        elif order == 1:
            self.out.sort(key=lambda at: (requests[at].options[0].late, at))
        else:
            self.out.sort(key=lambda at: (len(requests[at].options[0].tours or ()), at))
        left = []
        for request in self.out:
            found = self._cheapest(request)
            if found is None or (found.cost >= 0 and not requests[request].required):
                left.append(request)
                continue
            self.runs[found.run.tour] = found.run
            self.cost += found.cost
        self.out = left

    def _cheapest(self, request: int) -> Insertion | None:
        best: Insertion | None = None
        for tour in range(len(self.problem.tours)):
            run = self.runs.get(tour)
            key = (tour, tuple(steps_of(run)), request)
            if key not in self._known:
                if len(self._known) > MOST_KEPT:
                    self._known.clear()
                self._known[key] = insertion_on(self.problem, tour, run, request)
            found = self._known[key]
            # now and then the best is passed over, so that not every round ends alike
            if found is not None and (best is None or found.cost < best.cost):
                if best is not None and self.drawn.random() < 0.02:
                    continue
                best = found
        return best


def without_idle_calls(problem: RouteProblem, answer: Answer) -> Answer:
    """The answer without calls that empty a load for nothing."""
    runs = []
    for run in answer.runs:
        bare = [step for step in steps_of(run) if step[0] is not None]
        shorter = timed(problem, run.tour, bare) if len(bare) < len(run.calls) else None
        cheaper = shorter is not None and run_cost(problem, shorter) <= run_cost(problem, run)
        runs.append(shorter if shorter is not None and cheaper else run)
    told = answer_of(problem, runs)
    return replace(told, iterations=answer.iterations, stopped_by=answer.stopped_by)
