"""Hours of a fixed order: back as soon as can be, out for the least time, or not at all."""

from floorcare.ground.crews.routes.problem import Option, RouteProblem
from floorcare.ground.crews.routes.timing import timed
from tests.ground.crews.routes.problems import a_request, a_tour, legs_on_a_line

LEGS = legs_on_a_line(0, 5, 9)


def problem(*requests, **tour):
    return RouteProblem(legs=LEGS, requests=requests, tours=(a_tour(**tour),))


def test_a_tour_leaves_as_late_as_it_can_and_is_back_as_soon():
    late = a_request(1, Option(early=40, late=60, ticks=10, worth=1))
    run = timed(problem(late), 0, [(0, 0)])
    assert run is not None
    assert (run.leaves, run.calls[0].starts, run.back) == (35, 40, 55)


def test_where_it_must_leave_by_an_hour_it_waits_on_the_way():
    late = a_request(1, Option(early=40, late=60, ticks=10, worth=1))
    run = timed(problem(late, latest_start=0), 0, [(0, 0)])
    assert run is not None
    assert (run.leaves, run.calls[0].starts, run.back) == (0, 40, 55)


def test_a_window_that_closes_a_tour_that_ends_and_a_night_too_long_are_refused():
    early = a_request(1, Option(early=0, late=4, ticks=10, worth=1))
    assert timed(problem(early), 0, [(0, 0)]) is None
    assert timed(problem(a_request(1), late=19), 0, [(0, 0)]) is None
    assert timed(problem(a_request(1), longest=19), 0, [(0, 0)]) is None
    assert timed(problem(a_request(1), longest=19, overtime=1), 0, [(0, 0)]) is not None


def test_a_tour_that_may_not_serve_an_option_is_refused():
    other = a_request(1, Option(early=0, late=90, ticks=10, tours=frozenset({1})))
    assert timed(problem(other), 0, [(0, 0)]) is None


def test_what_it_carries_is_emptied_by_a_call_at_the_base_and_only_so_often():
    heavy = (a_request(1, load=(2,)), a_request(2, load=(2,)))
    full = problem(*heavy, capacity=(3,), load=(0,), calls_at=0)
    assert timed(full, 0, [(0, 0), (1, 0)]) is None
    assert timed(full, 0, [(0, 0), (None, 0), (1, 0)]) is not None
    assert timed(full, 0, [(None, 0), (0, 0), (None, 0), (1, 0)]) is None
    assert timed(problem(*heavy, capacity=(3,)), 0, [(0, 0), (None, 0), (1, 0)]) is None
