from dataclasses import replace
from datetime import date

from floorcare.ground.trade.reading import SurfaceState
from floorcare.ground.wear.books.last_rounds import beside_last
from tests.store.sample import gloss

OLD = (gloss(date(2026, 1, 5), 44.0), gloss(date(2026, 2, 5), 42.0))


def test_a_round_stands_beside_the_last_of_its_kind():
    (found,) = beside_last("NORTH/LANE", OLD, (gloss(date(2026, 3, 5), 41.0),))
    assert (found.zone, found.now.value) == ("NORTH/LANE", 41.0)
    assert found.last is not None
    assert (found.last.on, found.last.value) == (date(2026, 2, 5), 42.0)


def test_another_state_or_angle_has_no_last():
    new = gloss(date(2026, 3, 5), 41.0)
    for other in (replace(new, state=SurfaceState.WET), replace(new, geometry_deg=20)):
        (found,) = beside_last("NORTH/LANE", OLD, (other,))
        assert found.last is None


def test_new_rounds_follow_each_other():
    new = (gloss(date(2026, 4, 5), 40.0), gloss(date(2026, 3, 5), 41.0))
    first, second = beside_last("NORTH/LANE", OLD, new)
    assert (first.now.value, second.now.value) == (41.0, 40.0)
    assert second.last == first.now


def test_a_round_of_the_same_day_is_no_last():
    (found,) = beside_last("NORTH/LANE", OLD[1:], (gloss(date(2026, 2, 5), 43.0, station="P2"),))
    assert found.last is None


def test_an_older_round_is_not_held_against_later_ones():
    (found,) = beside_last("NORTH/LANE", OLD, (gloss(date(2026, 1, 20), 43.0),))
    assert found.last is not None
    assert found.last.on == date(2026, 1, 5)
