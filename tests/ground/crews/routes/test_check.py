"""The checker finds every limit an answer breaks."""

from dataclasses import replace

import pytest

from floorcare.ground.crews.routes.check import broken
from floorcare.ground.crews.routes.problem import Answer, Option, RouteProblem, answer_of
from tests.ground.crews.routes.problems import (
    a_request,
    a_run,
    a_tour,
    an_answer,
    legs_on_a_line,
)

ONLY_A = frozenset({0})
PROBLEM = RouteProblem(
    legs=legs_on_a_line(0, 5, 9),
    requests=(
        a_request(1, Option(early=5, late=60, ticks=10, worth=100), load=(2,)),
        a_request(
            2, Option(early=0, late=60, ticks=10, worth=100, tours=frozenset({0})), load=(1,)
        ),
    ),
    tours=(
        a_tour("A", early=0, late=60, latest_start=0, longest=50, capacity=(3,), calls_at=0),
        a_tour("B", capacity=(3,)),
    ),
)
GOOD = a_run((0, 0, 5), (1, 0, 19), leaves=0, back=38)


def problems(*runs, problem=PROBLEM) -> str:
    answer = an_answer(problem, *runs)
    return "; ".join(broken(problem, replace(answer, cost=answer_of(problem, runs).cost)))


def test_a_good_answer_breaks_nothing():
    assert problems(GOOD) == ""


@pytest.mark.parametrize(
    ("run", "said"),
    [
        (replace(GOOD, leaves=-1), "leaves at -1, before 0"),
        (replace(GOOD, leaves=1), "leaves at 1, after 0"),
        (replace(GOOD, back=61), "is back at 61, after 60"),
        (replace(GOOD, back=55), "is out for 55, allowed 50 and 0 over"),
        (replace(GOOD, back=37), "cannot be back by 37"),
        (a_run((0, 0, 4), (1, 0, 19), back=38), "starts R1 at 4, allowed 5 to 60"),
        (a_run((0, 0, 5), (1, 0, 18), back=38), "cannot be at place 2 by 18"),
        (a_run((1, 0, 9), tour=1, back=28), "may not serve R2"),
        (a_run((0, 0, 5), (None, 0, 20), (None, 0, 20), back=38), "empties its load 2 times"),
    ],
)
def test_each_limit_that_is_broken_is_named(run, said):
    assert said in problems(run)


def test_a_load_beyond_what_it_carries_is_found():
    tight = replace(PROBLEM, tours=(replace(PROBLEM.tours[0], capacity=(2,)), PROBLEM.tours[1]))
    assert "carries 3 of load 0, allowed 2" in problems(GOOD, problem=tight)


def test_requests_twice_never_or_unknown_are_found():
    assert "request R1 is served or named as unserved 2 times" in problems(
        GOOD, a_run((0, 0, 5), tour=1, back=20)
    )
    nobody = Answer(runs=(), unserved=(), cost=200)
    assert "request R2 is served or named as unserved 0 times" in "; ".join(broken(PROBLEM, nobody))
    strange = Answer(runs=(), unserved=(0, 1, 7), cost=200)
    assert broken(PROBLEM, strange) == ("there is no request 7",)
    must = replace(
        PROBLEM, requests=(replace(PROBLEM.requests[0], required=True), PROBLEM.requests[1])
    )
    left = Answer(runs=(), unserved=(0, 1), cost=200)
    assert "must be served and is not" in "; ".join(broken(must, left))


def test_tours_twice_or_unknown_and_a_false_cost_are_found():
    assert "tour A goes out 2 times" in problems(GOOD, replace(GOOD, calls=()))
    assert broken(PROBLEM, an_answer(PROBLEM, replace(GOOD, tour=9))) == ("there is no tour 9",)
    assert "is said to cost 1" in "; ".join(broken(PROBLEM, an_answer(PROBLEM, GOOD, cost=1)))


def test_a_tour_that_may_not_empty_its_load_is_found():
    run = a_run((None, 0, 0), (0, 0, 5), tour=1, back=20)
    assert "tour B: empties its load and may not" in broken(PROBLEM, an_answer(PROBLEM, run))


def test_an_option_that_is_not_there_is_found():
    assert "there is no option 3 of request R1" in "; ".join(
        broken(PROBLEM, an_answer(PROBLEM, a_run((0, 3, 5), back=20)))
    )
