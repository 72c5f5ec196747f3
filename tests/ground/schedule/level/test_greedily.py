import random

import pytest

from floorcare.ground.schedule.level.greedily import improved, level_greedily
from floorcare.ground.schedule.level.overload import Movable, by_code, overload
from tests.builders import DAY, TODAY
from tests.ground.schedule.levelled import a_room, a_visit, drawn, optimum


@pytest.mark.parametrize("seed", range(60))
def test_it_lies_between_the_optimum_and_the_start_and_its_bound_below_both(seed: int) -> None:
    visits, room = drawn(seed)
    found = level_greedily(visits, room)
    least = optimum(visits, room)[0]
    assert found.bound_minutes <= least <= found.over_minutes <= found.over_before
    assert all(on in v.nights for v, on in zip(visits, found.nights, strict=True))
    nights = {(v.site, on) for v, on in zip(visits, found.nights, strict=True)}
    assert len(nights) == len(visits)


def test_over_many_small_cases_it_stays_within_a_tenth_of_the_optimum() -> None:
    cases = [drawn(seed) for seed in range(100, 180)]
    greedy = sum(level_greedily(visits, room).over_minutes for visits, room in cases)
    least = sum(optimum(visits, room)[0] for visits, room in cases)
    assert least <= greedy <= 1.1 * least


def test_the_move_that_costs_least_for_what_it_frees_is_made_first() -> None:
    near = a_visit("A", 100, 0, 1)
    far = a_visit("B", 100, 0, 5)
    found = level_greedily([far, near], a_room(100, 100, 0, 0, 0, 100))
    assert found.nights == (TODAY, TODAY + DAY)


def test_another_visit_makes_room_where_no_single_move_helps() -> None:
    stuck = a_visit("A", 300, 0, 1)
    between = a_visit("B", 300, 1, 2)
    chosen = improved([stuck, between], a_room(0, 300, 300))
    assert chosen == [TODAY + DAY, TODAY + 2 * DAY]


def test_a_visit_that_need_not_be_away_goes_home() -> None:
    visit = a_visit("A", 100, 0, 1, 2, home=1)
    assert improved([visit], a_room(100, 100, 100), [TODAY + 2 * DAY]) == [TODAY + DAY]


def many(visits: int) -> tuple[list[Movable], dict]:
    chance = random.Random(3)
    found = []
    for number in range(visits):
        first = chance.randrange(40)
        window = range(first, first + chance.randint(1, 8))
        found.append(a_visit(f"V{number:04}", chance.randint(60, 400), *window))
    return by_code(found), a_room(*[visits * 5] * 48)


def test_many_visits_are_levelled_and_every_one_has_a_night_of_its_own() -> None:
    visits, room = many(600)
    found = level_greedily(visits, room)
    assert found.over_minutes < found.over_before
    assert found.bound_minutes <= found.over_minutes
    assert overload(visits, found.nights, room) == found.over_minutes
    assert level_greedily(visits, room) == found
