"""One request more on tours that are made: where it costs least."""

from dataclasses import replace

from floorcare.ground.crews.routes.check import broken
from floorcare.ground.crews.routes.insert import cheapest_insertion, with_insertions, with_run
from floorcare.ground.crews.routes.problem import Option, RouteProblem, answer_of
from floorcare.ground.crews.routes.timing import timed
from tests.ground.crews.routes.problems import a_request, a_tour, legs_on_a_line

PROBLEM = RouteProblem(
    legs=legs_on_a_line(0, 4, 8, 9),
    requests=(
        a_request(2),
        a_request(1),
        a_request(3, Option(early=0, late=90, ticks=10, worth=1)),
    ),
    tours=(a_tour("A", fixed_cost=50), a_tour("B", fixed_cost=50)),
)


def with_the_first():
    run = timed(PROBLEM, 0, [(0, 0)])
    assert run is not None
    return answer_of(PROBLEM, [run])


def test_it_goes_where_no_drive_is_added():
    found = cheapest_insertion(PROBLEM, with_the_first(), 1)
    assert found is not None
    assert found.run.tour == 0
    assert {call.request for call in found.run.calls} == {0, 1}
    assert found.cost == -1_000, "on the way, so that only its worth tells"


def test_none_is_found_where_no_tour_takes_it():
    never = a_request(1, Option(early=0, late=1, ticks=10, worth=9))
    problem = replace(PROBLEM, requests=(PROBLEM.requests[0], never))
    assert cheapest_insertion(problem, with_the_first(), 1) is None


def test_only_what_pays_is_put_in():
    answer = with_insertions(PROBLEM, with_the_first())
    assert answer.unserved == (2,), "two units of drive for a worth of one"
    assert broken(PROBLEM, answer) == ()


def test_a_run_takes_the_place_of_the_tours_own():
    answer = with_the_first()
    longer = timed(PROBLEM, 0, [(0, 0), (1, 0)])
    assert longer is not None
    changed = with_run(answer, longer)
    assert (len(changed.runs), changed.unserved) == (1, (2,))
