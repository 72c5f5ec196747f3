"""The problem in PyVRP's words: alike tours share a type, forbidden pairs a matrix of their own."""

from dataclasses import replace

from floorcare.ground.crews.routes.model import translated
from floorcare.ground.crews.routes.problem import Option, RouteProblem, answer_of
from floorcare.ground.crews.routes.timing import timed
from tests.ground.crews.routes.problems import a_request, a_tour, legs_on_a_line

LEGS = legs_on_a_line(0, 5, 9)


def test_tours_alike_in_all_but_their_name_are_one_type():
    tours = (a_tour("A"), a_tour("B"), a_tour("C", late=80))
    model = translated(RouteProblem(legs=LEGS, requests=(a_request(1),), tours=tours))
    assert model.tours == [[0, 1], [2]]


def test_a_pair_that_is_forbidden_takes_longer_than_any_tour():
    only_a = a_request(1, Option(early=0, late=90, ticks=10, worth=5, tours=frozenset({0})))
    problem = RouteProblem(legs=LEGS, requests=(only_a,), tours=(a_tour("A"), a_tour("B")))
    data = translated(problem).spoken
    assert data.num_profiles == 2
    way = data.client(0).location
    assert int(data.duration_matrix(0)[0, way]) == 5
    assert int(data.duration_matrix(1)[0, way]) > 100


def test_what_is_disliked_is_so_much_further():
    problem = RouteProblem(
        legs=LEGS,
        requests=(a_request(1, dislikes=((1, 7),)),),
        tours=(a_tour("A"), a_tour("B", distance_cost=2)),
    )
    data = translated(problem).spoken
    way = data.client(0).location
    assert [int(data.distance_matrix(p)[0, way]) for p in range(2)] == [5, 9]


def test_alternatives_are_clients_of_one_group():
    options = (
        Option(early=0, late=9, ticks=1, worth=3),
        Option(early=20, late=40, ticks=1, worth=2),
    )
    model = translated(
        RouteProblem(legs=LEGS, requests=(a_request(1, *options),), tours=(a_tour(),))
    )
    assert model.clients == [(0, 0), (0, 1)]
    assert model.spoken.num_groups == 1
    assert [model.spoken.client(n).prize for n in range(2)] == [3, 2]


def test_an_answer_goes_there_and_back():
    heavy = (a_request(1, load=(2,)), a_request(2, load=(2,)))
    tour = a_tour(capacity=(3,), load=(0,), calls_at=0)
    problem = RouteProblem(legs=LEGS, requests=heavy, tours=(tour, replace(tour, key="U")))
    run = timed(problem, 1, [(0, 0), (None, 0), (1, 0)])
    assert run is not None
    model = translated(problem)
    (route,) = model.routes_of(answer_of(problem, [run]))
    assert model.steps_of(route) == [(0, 0), (None, 0), (1, 0)]
