"""The search: the best of small problems, the same again, never a broken limit."""

from itertools import permutations, product

import pytest

from floorcare.ground.crews.routes.check import broken
from floorcare.ground.crews.routes.problem import Option, RouteProblem, answer_of, cost_of
from floorcare.ground.crews.routes.solve import solve
from floorcare.ground.crews.routes.timing import timed
from tests.ground.crews.routes.problems import (
    a_request,
    a_run,
    a_tour,
    an_answer,
    drawn_problem,
    legs_on_a_line,
)


def cheapest(problem: RouteProblem) -> int:
    """The least cost of all answers, by trying every one."""
    best = None
    size = len(problem.requests)
    choices = [
        [None, *product(range(len(problem.tours)), range(len(r.options)))] for r in problem.requests
    ]
    for chosen in product(*choices):
        runs = []
        for tour in range(len(problem.tours)):
            mine = [
                (at, chosen[at][1]) for at in range(size) if chosen[at] and chosen[at][0] == tour
            ]
            if not mine:
                continue
            timings = (timed(problem, tour, order) for order in permutations(mine))
            able = [run for run in timings if run is not None]
            if not able:
                break
            runs.append(min(able, key=lambda run: cost_of(problem, an_answer(problem, run))))
        else:
            cost = answer_of(problem, runs).cost
            best = cost if best is None else min(best, cost)
    assert best is not None
    return best


@pytest.mark.parametrize("seed", range(60))
def test_small_problems_are_solved_to_their_least_cost(seed):
    problem = drawn_problem(seed)
    answer = solve(problem, iterations=300, seed=1)
    assert broken(problem, answer) == ()
    assert answer.cost == cheapest(problem)


def test_the_same_steps_and_seed_give_the_same_answer():
    problem = drawn_problem(7)
    assert solve(problem, iterations=80, seed=3) == solve(problem, iterations=80, seed=3)


def test_what_ended_the_search_is_told():
    problem = drawn_problem(3)
    assert solve(problem, iterations=20, seed=1).stopped_by == "iterations"
    quick = solve(problem, iterations=10**6, seed=1, no_improvement=10)
    assert quick.stopped_by == "no improvement"
    assert solve(problem, iterations=10**9, seed=1, seconds=0.05).stopped_by == "time"


def test_what_must_be_served_and_cannot_be_is_left_unserved_and_the_rest_is_kept():
    never = a_request(1, Option(early=0, late=1, ticks=10), required=True)
    problem = RouteProblem(
        legs=legs_on_a_line(0, 5, 9), requests=(never, a_request(2)), tours=(a_tour(),)
    )
    answer = solve(problem, iterations=50, seed=1)
    assert answer.unserved == (0,)
    assert [line for line in broken(problem, answer) if "must be served" not in line] == []


def test_an_answer_is_never_worse_than_the_one_it_began_with():
    problem = drawn_problem(11)
    good = solve(problem, iterations=400, seed=1)
    again = solve(problem, iterations=1, seed=5, start=good)
    assert again.cost <= good.cost


def test_without_tours_or_requests_nothing_is_searched():
    nothing = RouteProblem(legs=legs_on_a_line(0), requests=(), tours=(a_tour(),))
    assert solve(nothing, iterations=5, seed=1).runs == ()
    alone = RouteProblem(legs=legs_on_a_line(0, 5), requests=(a_request(1),), tours=())
    answer = solve(alone, iterations=5, seed=1)
    assert (answer.unserved, answer.cost) == ((0,), 1_000)


def test_a_call_at_the_base_is_found_where_only_it_serves_everything():
    heavy = tuple(a_request(place, load=(2,)) for place in (1, 2))
    problem = RouteProblem(
        legs=legs_on_a_line(0, 5, 9),
        requests=heavy,
        tours=(a_tour(capacity=(3,), load=(3,), calls_at=0, most_calls=2),),
    )
    answer = solve(problem, iterations=300, seed=1)
    assert broken(problem, answer) == ()
    assert answer.unserved == ()
    assert any(call.request is None for run in answer.runs for call in run.calls)


def test_no_run_is_made_of_nothing():
    problem = drawn_problem(5)
    answer = solve(problem, iterations=50, seed=1)
    assert all(run.calls for run in answer.runs)
    assert a_run((0, 0, 5)).calls[0].request == 0
