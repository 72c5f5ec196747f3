from dataclasses import replace

import numpy as np
import pytest

from floorcare.ground.rules.floor import Course, Floor
from floorcare.ground.rules.ladder import (
    LIFE_LOOK_DAYS,
    Choice,
    break_days,
    choose_rung,
    held_days,
    renewed_hold,
    repolish_life,
    top_rung,
)
from floorcare.ground.rules.wear_dues import wear_rungs
from floorcare.ground.trade.treatment import Work
from floorcare.ground.wear.model import FloorState, Rates, expose, ln_gloss, treat
from tests.builders import a_course, a_floor, polished, without_noise

RUNGS = wear_rungs(polished())
WORKS = [rung.work for rung in RUNGS]


def break_by_hand(floor: Floor, course: Course, draw: int, start: int, look: int) -> int:
    """One zone's one draw followed day by day with the wear model alone."""
    state = FloorState(
        haze=floor.state.haze[0, draw],
        film=floor.state.film[0, draw],
        scratch=floor.state.scratch[0, draw],
    )
    rates = Rates(
        haze=floor.rates.haze[0, draw],
        film=floor.rates.film[0, draw],
        scratch=floor.rates.scratch[0, draw],
    )
    shock, kept = float(floor.shock[0, draw]), float(course.seen_haze_kept[0])
    for ahead in range(1, look):
        day = start + ahead
        state = expose(state, rates, course.law, course.thousand_passes[0, day])
        shock += course.shocks[draw, day]
        seen = FloorState(haze=state.haze * kept, film=state.film, scratch=state.scratch)
        gloss = floor.level[0, draw] + course.drift[draw, day] + shock * kept
        if gloss + ln_gloss(seen, course.law) < course.promise_ln[0]:
            return ahead
        for _, effect, mask in course.treatments:
            if mask[0, day]:
                state, shock = treat(state, effect), shock * effect.haze_kept
    return look


def worn_floor(scratch: float, film: float = 0.0, haze: float = 0.2, **more: float) -> Floor:
    floor = a_floor(**more)  # type: ignore[arg-type]
    ones = np.ones(floor.level.shape)
    state = FloorState(haze=haze * ones, film=film * ones, scratch=scratch * ones)
    return replace(floor, state=state)


def chosen(
    floor: Floor,
    course: Course,
    *,
    allowed: list[bool] | None = None,
    until_next: float = 7.0,
    escape_share: float = 0.25,
    life: float | None = None,
    last_resort: bool = True,
) -> Choice:
    n = floor.zone.size
    return choose_rung(
        floor,
        course,
        0,
        rungs=RUNGS,
        allowed=np.array([allowed or [True, True, True, True, False]] * n),
        confidence=np.full(n, 0.75),
        until_next=np.full(n, until_next),
        life=repolish_life(floor, course, RUNGS[3]) if life is None else np.full(n, life),
        escape_share=escape_share,
        last_resort=np.full(n, last_resort),
    )


def test_within_a_fortnight_breaks_are_those_of_each_draw_followed_by_hand() -> None:
    course = a_course([[3.0] * 30], [46.5], treatments={Work.BURNISH: [[4, 9, 13]]})
    floor = worn_floor(0.21)
    found = break_days(floor, course, 2, np.array([14.0]))
    by_hand = [break_by_hand(floor, course, draw, 2, 14) for draw in range(32)]
    assert found[0].tolist() == by_hand
    assert len(set(by_hand)) > 3


def test_beyond_a_fortnight_a_break_is_found_at_the_end_of_its_week() -> None:
    course = without_noise(a_course([[3.0] * 120], [46.0]))
    floor = worn_floor(0.16, film=0.3, haze=0.0)
    found = break_days(floor, course, 0, np.array([100.0]))[0]
    by_hand = np.array([break_by_hand(floor, course, draw, 0, 100) for draw in range(32)])
    late = (by_hand > 14) & (by_hand < 93)
    assert late.sum() >= 8
    assert ((found - by_hand)[late] >= 0).all()
    assert ((found - by_hand)[late] < 7).all()


def test_what_is_held_is_the_day_by_which_no_more_than_the_allowed_share_has_broken() -> None:
    broken = np.array([[9.0, 1.0, 5.0, 7.0], [3.0, 3.0, 3.0, 3.0]])
    assert held_days(broken, np.array([0.75, 0.75])).tolist() == [5.0, 3.0]
    assert held_days(broken, np.array([0.99, 0.5])).tolist() == [1.0, 3.0]
    assert held_days(broken, np.array([0.5, 0.5])).tolist() == [7.0, 3.0]


def test_a_re_polish_s_life_is_that_of_a_fresh_floor_and_ends_where_the_look_ends() -> None:
    course = without_noise(a_course([[2.0] * 364], [48.0]))
    worn_out, fresh = worn_floor(0.6), a_floor()
    life = repolish_life(worn_out, course, RUNGS[3])
    assert life == pytest.approx(repolish_life(fresh, course, RUNGS[3]))
    assert 100 < life[0] < LIFE_LOOK_DAYS
    # what lies on the floor as haze and shock is polished out
    dulled = replace(fresh, shock=fresh.shock - 0.3)
    assert repolish_life(dulled, course, RUNGS[3]) == pytest.approx(life)
    unworn = a_course([[0.0] * 364], [20.0])
    assert repolish_life(fresh, unworn, RUNGS[3]) == pytest.approx([LIFE_LOOK_DAYS])


def test_more_footfall_shortens_a_re_polish_s_life() -> None:
    course = without_noise(a_course([[1.0] * 364, [2.0] * 364], [48.0, 48.0]))
    light, heavy = repolish_life(a_floor(2), course, RUNGS[3])
    assert heavy < 0.7 * light


@pytest.mark.parametrize(
    ("scratch", "haze", "work"),
    [
        (0.02, 0.9, Work.BURNISH),  # only dull: burnishing holds its three days and the week
        (0.275, 0.2, Work.FINE_BURNISH),
        (0.290, 0.2, Work.RECOAT),
        (0.50, 0.2, Work.REPOLISH),
    ],
)
def test_the_mildest_rung_that_keeps_its_worthwhile_hold_is_taken(
    scratch: float, haze: float, work: Work
) -> None:
    course = a_course([[2.0] * 364], [45.0])
    floor = worn_floor(scratch, haze=haze, rate_sd=0.1)
    found = chosen(floor, course, escape_share=0.0)
    taken = int(found.rung[0])
    assert RUNGS[taken].work is work
    for milder in range(taken):
        wanted = max(RUNGS[milder].worthwhile_hold_days, 7)
        trial = floor.treated(RUNGS[milder].effect)
        by_hand = sorted(break_by_hand(trial, course, draw, 0, wanted + 1) for draw in range(32))
        # with q = 0.75 the ninth break of 32 draws is one too many
        assert by_hand[8] - 1 < wanted
        assert found.hold_days[0, milder] < wanted


def test_every_rung_must_bridge_the_time_to_the_next_opportunity() -> None:
    course = a_course([[2.0] * 364], [45.0])
    floor = worn_floor(0.275, rate_sd=0.1)
    near = chosen(floor, course, until_next=7.0, escape_share=0.0)
    far = chosen(floor, course, until_next=30.0, escape_share=0.0)
    assert far.rung[0] > near.rung[0]


def test_a_coat_that_would_not_live_a_quarter_of_a_re_polish_gives_way_to_it() -> None:
    course = a_course([[2.0] * 364], [45.0])
    floor = worn_floor(0.290, rate_sd=0.1)
    trial = floor.treated(RUNGS[2].effect)
    coat = float(break_days(trial, course, 0, np.array([1000.0])).mean())
    found = chosen(floor, course, life=coat / 0.20)
    assert WORKS[found.rung[0]] is Work.REPOLISH
    assert found.escaped[0]
    found = chosen(floor, course, life=coat / 0.30)
    assert WORKS[found.rung[0]] is Work.RECOAT
    assert not found.escaped[0]


def test_what_is_not_allowed_is_not_taken_and_the_last_allowed_is_taken_for_want_of_better() -> (
    None
):
    course = a_course([[2.0] * 364], [45.0])
    floor = worn_floor(0.70)
    found = chosen(floor, course, allowed=[True, False, True, False, False])
    assert WORKS[found.rung[0]] is Work.RECOAT
    assert np.isnan(found.hold_days[0, 1])
    none = chosen(floor, course, allowed=[False] * 5)
    assert none.rung[0] == -1


def test_without_a_last_resort_only_a_rung_that_holds_is_taken() -> None:
    course = a_course([[2.0] * 364], [45.0])
    worn_out = chosen(worn_floor(0.70), course, last_resort=False)
    assert worn_out.rung[0] == -1
    mild = chosen(worn_floor(0.02, haze=0.9), course, last_resort=False)
    assert WORKS[mild.rung[0]] is Work.BURNISH


def test_the_top_rung_is_the_re_polish_else_the_last() -> None:
    assert WORKS[top_rung(RUNGS)] is Work.REPOLISH
    assert top_rung(RUNGS[:3]) == 2


def test_a_renewed_floor_holds_as_long_as_its_own_sampled_breaks_say() -> None:
    course = a_course([[4.0] * 364], [50.0])
    held = renewed_hold(a_floor(), course, RUNGS, np.array([0.75]))
    surer = renewed_hold(a_floor(), course, RUNGS, np.array([0.95]))
    assert 1 <= surer[0] <= held[0] < RUNGS[3].worthwhile_hold_days
    reachable = renewed_hold(a_floor(), a_course([[0.2] * 364], [30.0]), RUNGS, np.array([0.75]))
    assert reachable[0] == RUNGS[3].worthwhile_hold_days


def test_a_zone_s_choice_does_not_depend_on_the_zones_beside_it() -> None:
    course = a_course([[2.0] * 364] * 3, [45.0] * 3)
    scratch = np.array([[0.275], [0.29], [0.5]]) * np.ones((3, 32))
    start = a_floor(3)
    floor = replace(start, state=replace(start.state, scratch=scratch))
    together = chosen(floor, course)
    for z in range(3):
        alone = chosen(floor.rows(np.array([z])), course)
        assert alone.rung[0] == together.rung[z]
        assert alone.escaped[0] == together.escaped[z]
