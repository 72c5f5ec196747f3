"""Taking apart and putting together: never worse, the same again, no idle calls."""

from floorcare.ground.crews.routes.check import broken
from floorcare.ground.crews.routes.problem import RouteProblem, answer_of
from floorcare.ground.crews.routes.remake import remade, without_idle_calls
from floorcare.ground.crews.routes.timing import timed
from tests.ground.crews.routes.problems import a_request, a_tour, drawn_problem, legs_on_a_line


def test_from_nothing_it_comes_to_an_answer_that_breaks_nothing_and_is_the_same_again():
    for seed in range(12):
        problem = drawn_problem(seed)
        nothing = answer_of(problem, ())
        better = remade(problem, nothing, rounds=200, seed=1)
        assert broken(problem, better) == ()
        assert better.cost <= nothing.cost
        assert better == remade(problem, nothing, rounds=200, seed=1)


def test_it_ends_when_it_is_told_to():
    problem = drawn_problem(3)
    asked = []

    def ends(cost: int) -> bool:
        asked.append(cost)
        return len(asked) == 5

    remade(problem, answer_of(problem, ()), rounds=1_000, seed=1, ends=ends)
    assert len(asked) == 5


def test_calls_that_empty_a_load_for_nothing_are_left_out():
    problem = RouteProblem(
        legs=legs_on_a_line(0, 5, 3),
        requests=(a_request(1, load=(1,)),),
        tours=(a_tour(start=2, end=2, capacity=(3,), calls_at=0),),
    )
    run = timed(problem, 0, [(None, 0), (0, 0)])
    assert run is not None
    bare = without_idle_calls(problem, answer_of(problem, [run]))
    assert [call.request for call in bare.runs[0].calls] == [0]
    needed = RouteProblem(
        legs=problem.legs,
        requests=problem.requests,
        tours=(a_tour(start=2, end=2, capacity=(3,), load=(3,), calls_at=0),),
    )
    again = timed(needed, 0, [(None, 0), (0, 0)])
    assert again is not None
    kept = without_idle_calls(needed, answer_of(needed, [again]))
    assert [call.request for call in kept.runs[0].calls] == [None, 0]
