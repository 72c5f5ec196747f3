import pytest

from floorcare.ground.schedule.level.overload_model import (
    least_overload,
    overload_model,
    whole_above,
)
from tests.ground.schedule.levelled import a_room, a_visit, drawn, optimum


def test_every_visit_has_a_column_for_each_night_and_every_night_one_for_its_overload() -> None:
    visits = [a_visit("A", 60, 0, 1), a_visit("B", 60, 1)]
    model = overload_model(visits, a_room(100, 100))
    assert [v for v, _ in model.columns] == [0, 0, 1]
    assert model.over.tolist() == [0, 0, 0, 1, 1]
    assert model.whole.tolist() == [1, 1, 1, 0, 0]


@pytest.mark.parametrize("seed", range(30))
def test_the_relaxation_never_says_more_than_the_optimum(seed: int) -> None:
    visits, room = drawn(seed)
    assert least_overload(visits, room) <= optimum(visits, room)[0]


def test_the_relaxation_sees_what_a_week_lacks_as_a_whole() -> None:
    visits = [a_visit(code, 300, 0, 1) for code in ("A", "B", "C")]
    assert least_overload(visits, a_room(300, 400)) == 200


def test_two_that_stand_on_one_night_already_do_not_make_it_insoluble() -> None:
    visits = [a_visit(code, 300, 0, site="S") for code in ("A", "B")]
    assert least_overload(visits, a_room(500)) == 100


def test_nothing_to_level_lacks_nothing() -> None:
    assert least_overload([], {}) == 0


def test_a_bound_is_raised_to_whole_minutes() -> None:
    assert [whole_above(each) for each in (-3.0, 0.0, 12.00001, 12.4)] == [0, 0, 12, 13]
