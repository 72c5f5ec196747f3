from floorcare.ground.schedule.level.overload import (
    apart,
    by_code,
    cost,
    displacement,
    overload,
    result,
)
from tests.builders import DAY, TODAY
from tests.ground.schedule.levelled import a_room, a_visit


def test_overload_is_what_lies_above_each_night_s_room() -> None:
    visits = [a_visit("A", 300, 0), a_visit("B", 300, 0), a_visit("C", 50, 1)]
    chosen = [visit.home for visit in visits]
    assert overload(visits, chosen, a_room(500, 40)) == 100 + 10


def test_a_night_nobody_gave_room_has_none() -> None:
    assert overload([a_visit("A", 300, 3)], [TODAY + 3 * DAY], {}) == 300


def test_later_costs_a_little_more_than_earlier_and_never_as_much_as_a_day() -> None:
    visit = a_visit("A", 60, 1, 2, 3, 4, home=2)
    earlier, later = (displacement(visit, TODAY + n * DAY, 100) for n in (1, 3))
    assert displacement(visit, visit.home, 100) == 0
    assert earlier < later
    assert 100 * (later - earlier) < displacement(visit, TODAY + 4 * DAY, 100) - later


def test_visits_that_share_no_night_are_levelled_apart() -> None:
    a, b = a_visit("A", 60, 0, 1), a_visit("B", 60, 1, 2)
    c, d = a_visit("C", 60, 5), a_visit("D", 60, 4, 5)
    assert apart([a, b, c, d]) == ((a, b), (c, d))
    joined = a_visit("E", 60, 2, 4)
    assert apart([a, b, c, d, joined]) == ((a, b, c, d, joined),)


def test_visits_are_put_in_one_order_whatever_order_they_came_in() -> None:
    visits = [a_visit(code, 60, 0) for code in ("C", "A", "B")]
    assert by_code(visits) == by_code(visits[::-1])


def test_the_account_tells_before_after_and_days_moved() -> None:
    visits = [a_visit("A", 300, 0, 1, 2), a_visit("B", 300, 0)]
    chosen = [TODAY + 2 * DAY, TODAY]
    found = result(visits, chosen, a_room(300, 0, 200), bound=100)
    assert (found.over_before, found.over_minutes, found.moved_days) == (300, 100, 2)
    assert cost(visits, chosen) == displacement(visits[0], chosen[0], 2)
    assert not found.proven
