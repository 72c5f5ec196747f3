"""Several problems at once have the answers they have alone."""

from floorcare.ground.crews.routes.side_by_side import Search, solve_all
from floorcare.ground.crews.routes.solve import solve
from tests.ground.crews.routes.problems import drawn_problem

HOW = Search(iterations=60, seed=2)


def test_two_processes_answer_as_one():
    asked = [(drawn_problem(seed), HOW) for seed in (1, 2, 3)]
    alone = solve_all(asked, workers=1)
    assert solve_all(asked, workers=2) == alone
    assert alone[0] == solve(asked[0][0], iterations=60, seed=2)
