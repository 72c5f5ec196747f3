import pytest

from floorcare.ground.schedule.level.exactly import level_exactly
from floorcare.ground.schedule.level.overload import cost
from tests.builders import DAY, TODAY
from tests.ground.schedule.levelled import a_room, a_visit, drawn, optimum


@pytest.mark.parametrize("seed", range(60))
def test_on_small_cases_it_is_the_optimum_of_every_choice_tried(seed: int) -> None:
    visits, room = drawn(seed)
    found = level_exactly(visits, room)
    assert (found.over_minutes, cost(visits, found.nights)) == optimum(visits, room)
    assert found.proven
    assert found.bound_minutes == found.over_minutes
    assert all(on in v.nights for v, on in zip(visits, found.nights, strict=True))


def test_one_visit_makes_room_for_another_that_cannot_move() -> None:
    fixed, free = a_visit("A", 300, 0), a_visit("B", 300, 0, 1)
    found = level_exactly([fixed, free], a_room(400, 400))
    assert found.nights == (TODAY, TODAY + DAY)
    assert (found.over_before, found.over_minutes, found.moved_days) == (200, 0, 1)


def test_no_displacement_is_ever_saved_by_a_minute_above_capacity() -> None:
    far = a_visit("A", 101, 0, 60)
    near = a_visit("B", 100, 0)
    found = level_exactly([far, near], {TODAY: 200, TODAY + 60 * DAY: 400})
    assert found.nights == (TODAY + 60 * DAY, TODAY)


def test_of_two_nights_equally_far_from_home_the_earlier_is_taken() -> None:
    found = level_exactly([a_visit("A", 300, 0, 1, 2, home=1)], a_room(400, 0, 400))
    assert found.nights == (TODAY,)


def test_home_is_kept_where_nothing_is_gained_by_leaving_it() -> None:
    visits = [a_visit("A", 300, 0, 1, home=1), a_visit("B", 500, 0, 2)]
    found = level_exactly(visits, a_room(0, 400, 0))
    assert found.nights == (TODAY + DAY, TODAY)
    assert found.over_minutes == found.bound_minutes == 500


def test_a_search_cut_short_still_gives_nights_and_a_bound_that_holds() -> None:
    visits, room = drawn(7, visits=8)
    found = level_exactly(visits, room, nodes=1)
    assert found.bound_minutes <= optimum(visits, room)[0] <= found.over_minutes
