"""Looks are prepared from days: windows, first days, the eve, several treatments a day."""

from dataclasses import replace

import numpy as np
import pytest

from floorcare.ground.trade.surface import Effect
from floorcare.ground.wear import looking
from floorcare.ground.wear.history import Looks
from floorcare.ground.wear.looking import Days, look_at
from floorcare.ground.wear.model import FloorState, rates_from
from tests.ground.wear.fleets import BURNISH, LAW, RECOAT, REPOLISH

PASSES = np.array([[1.0, 2.0, 4.0, 8.0, 16.0, 32.0]])
NO = np.zeros((1, 6), dtype=bool)
RATES = rates_from(LAW, np.zeros((1, 1)), np.zeros((1, 1)))
WORN = FloorState(haze=np.array([[0.5]]), film=np.array([[0.4]]), scratch=np.array([[0.2]]))


def on(*days: int) -> np.ndarray:
    done = NO.copy()
    done[0, list(days)] = True
    return done


def days_of(*work: tuple[Effect, np.ndarray], start: int = 0, ageing: float = 0.0) -> Days:
    return Days(thousand_passes=PASSES, treatments=work, start_day=np.array([start]), ageing=ageing)


def look(days: Days, *moments: tuple[int, bool]) -> Looks:
    day, after = np.array(moments).T
    return look_at(days, np.zeros(len(moments), dtype=np.int64), day, after.astype(np.bool_))


def test_a_look_before_treatment_has_a_window_that_ends_a_treatment_earlier() -> None:
    found = look(days_of((BURNISH, on(1, 3))), (3, False), (3, True), (4, False))
    # newest first: since the last burnish, the stretch before that, …
    assert found.haze_exposure.T.tolist() == [[12.0, 3.0, 0.0], [0.0, 12.0, 3.0], [16.0, 12.0, 3.0]]
    assert found.haze_kept.T.tolist() == [[0.3, 1.0, 1.0], [0.3, 0.3, 1.0], [0.3, 0.3, 1.0]]
    assert found.from_opening.all()


def test_ageing_counts_every_day_lived() -> None:
    found = look(days_of((BURNISH, on(1)), ageing=0.1), (0, False), (4, True))
    assert found.haze_exposure[:, 0] == pytest.approx([1.1, 0.0])
    assert found.haze_exposure[:, 1] == pytest.approx([28.3, 3.2])
    assert found.coat_exposure == pytest.approx([1.1, 31.5])


def test_nothing_before_the_first_day_is_lived() -> None:
    late = look(days_of((BURNISH, on(0, 1, 4)), (RECOAT, on(1)), start=2), (3, False), (4, True))
    assert late.haze_exposure.T.tolist() == [[12.0, 0.0], [0.0, 28.0]]
    assert late.epoch.tolist() == [-1, -1]
    assert late.coat_exposure.tolist() == [12.0, 28.0]
    assert late.days.tolist() == [2.0, 1.0]


def test_a_look_on_the_eve_sees_the_opening() -> None:
    for start, eve in ((0, -1), (2, 1)):
        days = days_of((REPOLISH, on(0, 1)), (BURNISH, on(1, 3)), start=start, ageing=0.1)
        found = look(days, (eve, True), (5, True))
        state = found.state(WORN, RATES, LAW)
        assert state.haze[0, 0] == 0.5
        assert state.film[0, 0] == 0.4
        assert state.scratch[0, 0] == 0.2
        way = found.transit(LAW)
        assert (way.drift_var[0], way.shock_var[0], found.jump_var[0]) == (0.0, 0.0, 0.0)
        assert found.days[1] == 6 - start


def test_the_eve_of_one_zone_is_not_the_last_day_of_the_zone_before() -> None:
    days = Days(
        thousand_passes=np.repeat(PASSES, 2, axis=0),
        treatments=((RECOAT, np.ones((2, 6), dtype=bool)),),
        start_day=np.zeros(2, dtype=np.int64),
        ageing=0.1,
    )
    looks = look_at(days, np.array([0, 1]), np.array([5, -1]), np.array([True, True]))
    state = looks.state(
        WORN.rows((slice(None), np.array([0, 0]))), RATES.rows((slice(None), np.array([0, 0]))), LAW
    )
    assert state.film[0].tolist() == [1.0, 0.4]
    assert state.haze[0].tolist() == [0.0, 0.5]


def test_several_treatments_of_one_day_are_taken_in_their_order() -> None:
    thin = Effect(haze_kept=0.5, film_kept=0.5, scratch_kept=0.5)
    for first, then, film in ((RECOAT, thin, 0.5), (thin, RECOAT, 1.0)):
        found = look(days_of((first, on(2)), (then, on(2))), (2, True))
        state = found.state(WORN, RATES, LAW)
        assert state.film[0, 0] == pytest.approx(film)
        assert state.haze[0, 0] == 0.0
        assert found.coats.exposure.tolist() == [7.0]


def test_a_treatment_that_takes_all_haze_ends_the_window() -> None:
    found = look(days_of((RECOAT, on(3)), (BURNISH, on(1, 3, 4))), (5, False))
    assert found.haze_exposure[:, 0].tolist() == [32.0, 16.0]
    assert found.haze_kept[:, 0].tolist() == [0.3, 0.0]
    assert not found.from_opening[0]


def test_haze_is_forgotten_once_burnishes_left_less_than_the_limit_of_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    days = days_of((BURNISH, on(0, 1, 2, 3, 4)))
    assert look(days, (5, False)).haze_exposure.shape[0] == 6
    monkeypatch.setattr(looking, "HAZE_FORGOTTEN", 0.1)
    found = look(days, (5, False))
    assert found.haze_exposure[:, 0].tolist() == [32.0, 16.0]
    assert not found.from_opening[0]


def test_treatments_that_may_move_the_level_add_their_variance_once() -> None:
    days = days_of(
        (replace(REPOLISH, level_sd=0.03), on(2)), (replace(RECOAT, level_sd=0.01), on(2, 4))
    )
    found = look(days, (2, False), (2, True), (3, True), (5, False))
    assert found.jump_var == pytest.approx([0.0, 0.001, 0.0, 0.0001])
    held = replace(days, start_day=np.array([3]))
    assert look(held, (5, False)).jump_var == pytest.approx([0.0001])


def test_a_floor_never_treated_is_one_long_window() -> None:
    found = look(days_of(), (5, True))
    assert found.haze_exposure.tolist() == [[63.0]]
    assert (found.epoch[0], found.coat_exposure[0], found.coats.exposure.size) == (-1, 63.0, 0)
    way = found.transit(LAW)
    assert way.shock_var[0] == pytest.approx(6 * LAW.shock_sd**2)
    assert way.shock_kept[0] == 1.0


def test_what_lies_behind_a_look_does_not_depend_on_other_zones() -> None:
    """To the last bit: one zone burnished daily, one buffed lightly, apart and together."""
    buff = Effect(haze_kept=0.8)
    burnt, buffed = np.zeros((2, 2, 200), dtype=bool)
    burnt[0], buffed[1] = True, True
    days = Days(
        thousand_passes=np.ones((2, 200)),
        treatments=((BURNISH, burnt), (buff, buffed)),
        start_day=np.zeros(2, dtype=np.int64),
        ageing=0.1,
    )
    day, after = np.array([90, 199]), np.array([False, True])
    together = look_at(days, np.repeat([0, 1], 2), np.tile(day, 2), np.tile(after, 2))
    for zone in (0, 1):
        own = replace(
            days,
            thousand_passes=days.thousand_passes[[zone]],
            treatments=((BURNISH, burnt[[zone]]), (buff, buffed[[zone]])),
            start_day=days.start_day[[zone]],
        )
        alone = look_at(own, np.zeros(2, dtype=np.int64), day, after)
        for part in ("days", "jump_var", "shock_kept", "shock_days", "coat_exposure"):
            here = getattr(together, part)[2 * zone : 2 * zone + 2]
            assert getattr(alone, part).tolist() == here.tolist()


def test_no_look_at_all_is_no_trouble() -> None:
    nothing = np.zeros(0, dtype=np.int64)
    found = look_at(days_of((BURNISH, on(1))), nothing, nothing, nothing > 0)
    assert found.haze(WORN.haze, RATES.haze).shape == (1, 0)
