"""What may be asked of the routes, and what an answer costs."""

import numpy as np
import pytest

from floorcare.ground.crews.routes.problem import (
    Legs,
    Option,
    RouteProblem,
    answer_of,
    cost_of,
    distance_of,
    place_of,
)
from tests.ground.crews.routes.problems import (
    a_request,
    a_run,
    a_tour,
    an_answer,
    legs_on_a_line,
)


def test_legs_of_another_shape_or_below_zero_are_refused():
    square = np.zeros((2, 2), dtype=np.int64)
    with pytest.raises(ValueError, match=r"distances of shape \(2, 3\)"):
        Legs(distance=np.zeros((2, 3), dtype=np.int64), ticks=square)
    with pytest.raises(ValueError, match="ticks of shape"):
        Legs(distance=square, ticks=np.zeros((3, 3), dtype=np.int64))
    with pytest.raises(ValueError, match="below 0"):
        Legs(distance=square - 1, ticks=square)


def test_an_option_upside_down_or_of_negative_worth_is_refused():
    with pytest.raises(ValueError, match="early ≤ late"):
        Option(early=5, late=4, ticks=1)
    with pytest.raises(ValueError, match="allowed 0 or more"):
        Option(early=0, late=4, ticks=1, worth=-1)


def test_a_tour_upside_down_or_loaded_in_other_dimensions_is_refused():
    with pytest.raises(ValueError, match="early ≤ late"):
        a_tour(early=5, late=4)
    with pytest.raises(ValueError, match="before it may"):
        a_tour(early=5, latest_start=4)
    with pytest.raises(ValueError, match="different length"):
        a_tour(capacity=(1, 1), load=(1,))


def test_places_without_legs_requests_without_options_and_mixed_loads_are_refused():
    legs = legs_on_a_line(0, 5)
    with pytest.raises(ValueError, match="no legs"):
        RouteProblem(legs=legs, requests=(a_request(2),), tours=(a_tour(),))
    with pytest.raises(ValueError, match="different numbers"):
        RouteProblem(
            legs=legs, requests=(a_request(1, load=(1,)),), tours=(a_tour(capacity=(1, 2)),)
        )


def test_the_cost_is_drive_time_overtime_dislikes_and_what_is_not_won():
    problem = RouteProblem(
        legs=legs_on_a_line(0, 5, 9),
        requests=(
            a_request(1, Option(early=0, late=90, ticks=10, worth=70), dislikes=((0, 4),)),
            a_request(2, Option(early=0, late=90, ticks=10, worth=50)),
            a_request(
                2,
                Option(early=0, late=90, ticks=10, worth=50),
                Option(early=0, late=90, ticks=10, worth=30),
            ),
        ),
        tours=(a_tour(fixed_cost=100, tick_cost=2, distance_cost=3, longest=20, overtime_cost=7),),
    )
    run = a_run((0, 0, 5), (2, 1, 19), leaves=0, back=38)
    answer = an_answer(problem, run)
    assert distance_of(problem, run) == 18
    # out, 38 ticks at 2, 18 units at 3, 18 ticks over at 7, the dislike, 50 lost, 20 less won
    assert cost_of(problem, answer) == 100 + 76 + 54 + 126 + 4 + 50 + 20
    made = answer_of(problem, [run], iterations=3, stopped_by="iterations")
    assert (made.cost, made.unserved, made.iterations) == (430, (1,), 3)


def test_a_tour_that_may_not_empties_its_load_nowhere():
    problem = RouteProblem(legs=legs_on_a_line(0, 5), requests=(a_request(1),), tours=(a_tour(),))
    call = a_run((None, 0, 5)).calls[0]
    with pytest.raises(ValueError, match="empties its load nowhere"):
        place_of(problem, problem.tours[0], call)
