from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest

from floorcare.ground.rules.floor import (
    Course,
    Floor,
    keeps_promise,
    routinely_treated,
    worn,
)
from floorcare.ground.rules.walk import NEVER, RungTaken, WalkTerms, walk
from floorcare.ground.rules.wear_dues import wear_rungs
from floorcare.ground.trade.surface import NO_EFFECT
from floorcare.ground.trade.treatment import Work
from floorcare.ground.wear.model import FloorState, Rates, expose, ln_gloss, treat
from tests.builders import a_course, a_floor, polished, the_terms, without_noise

RUNGS = wear_rungs(polished())
WORKS = [rung.work for rung in RUNGS]
BURNISH, FINE, RECOAT, REPOLISH, RESTORE = range(5)


def kept_by_day(floor: Floor, course: Course) -> np.ndarray:
    """Share of draws that have kept the promise up to each day, with the wear model alone."""
    kept = float(course.seen_haze_kept[0])
    still = np.zeros((floor.level.shape[1], course.days), dtype=bool)
    for draw in range(floor.level.shape[1]):
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
        shock, alive = 0.0, True
        for day in range(course.days):
            state = expose(state, rates, course.law, course.thousand_passes[0, day])
            shock += course.shocks[draw, day]
            seen = FloorState(haze=state.haze * kept, film=state.film, scratch=state.scratch)
            gloss = floor.level[0, draw] + course.drift[draw, day] + shock * kept
            alive &= bool(gloss + ln_gloss(seen, course.law) >= course.promise_ln[0])
            still[draw, day] = alive
            for _, effect, mask in course.treatments:
                if mask[0, day]:
                    state, shock = treat(state, effect), shock * effect.haze_kept
    return still.mean(axis=0)


def kept_between(floor: Floor, course: Course, steps: Sequence[RungTaken]) -> list[float]:
    """Share of draws that kept the promise from each step to the night of the next."""
    by_day = {step.day: step for step in steps}
    alive, shares = np.ones(floor.level.shape, dtype=bool), []
    for day in range(course.days):
        floor = worn(floor, course, day)
        alive &= keeps_promise(floor, course, day)
        floor = routinely_treated(floor, course, day)
        if day in by_day:
            shares.append(float(alive.mean()))
            floor, alive = floor.treated(RUNGS[by_day[day].rung].effect), np.ones_like(alive)
    return shares


def burnished_course(promise_gu: float, *, days: int = 200, every: int = 3) -> Course:
    on = list(range(1, days, every))
    return a_course([[2.5] * days], [promise_gu], treatments={Work.BURNISH: [on]})


def only(*works: int) -> np.ndarray:
    """Terms by which only some rungs are ever allowed."""
    return np.array([[0 if r in works else NEVER for r in range(len(RUNGS))]])


def test_nothing_is_due_while_the_promise_holds() -> None:
    course = burnished_course(30.0)
    assert kept_by_day(a_floor(), course)[-1] == 1.0
    assert walk(a_floor(), course, the_terms(course)) == ()


@pytest.mark.parametrize("confidence", [0.6, 0.75, 0.9])
@pytest.mark.parametrize(("every", "first"), [(1, 0), (7, 3), (30, 10)])
def test_the_night_found_is_the_last_with_no_break_before_it_at_the_wanted_confidence(
    confidence: float, every: int, first: int
) -> None:
    course = burnished_course(52.5)
    terms = the_terms(course, every=every, first=first, confidence=np.array([confidence]))
    steps = walk(a_floor(), course, terms)
    kept = kept_by_day(a_floor(), course)
    nights = list(range(first, course.days, every))
    latest = max(night for night in nights if kept[night] >= confidence)
    assert kept[nights[nights.index(latest) + 1]] < confidence
    assert 20 < latest < 180
    assert steps[0].day == latest
    assert steps[0].rule == "promise"
    assert steps[0].kept_probability == pytest.approx(kept[nights[nights.index(latest) + 1]])


def test_replayed_with_its_steps_laid_the_whole_walk_keeps_the_promise() -> None:
    course = burnished_course(50.0, days=360)
    terms = the_terms(course)
    steps = walk(a_floor(), course, terms)
    shares = kept_between(a_floor(), course, steps)
    assert len(steps) == len(shares) >= 3
    assert min(shares) >= 0.75


def test_without_work_the_same_replay_breaks_it() -> None:
    course = burnished_course(50.0, days=360)
    assert kept_by_day(a_floor(), course)[-1] < 0.3


def test_a_floor_that_breaks_its_promise_already_is_due_on_the_first_night_there_is() -> None:
    course = burnished_course(59.0)
    steps = walk(a_floor(), course, the_terms(course, first=5))
    assert steps[0].day == 5


def test_where_no_night_is_open_nothing_can_be_decided() -> None:
    course = burnished_course(59.0)
    terms = the_terms(course, opportunity=np.zeros((1, course.days), dtype=bool))
    assert walk(a_floor(), course, terms) == ()


def test_what_stands_counts_and_starts_the_promise_anew() -> None:
    course = burnished_course(53.0)
    first = walk(a_floor(), course, the_terms(course))[0].day
    recoat = np.zeros((1, course.days), dtype=bool)
    recoat[0, first - 7] = True
    standing = (Work.RECOAT, polished().methods[Work.RECOAT].effect, recoat)
    laid = replace(course, treatments=(standing, *course.treatments))
    assert walk(a_floor(), laid, the_terms(laid))[0].day > first + 30


def test_a_guarded_zone_gets_no_treatment_for_its_gloss() -> None:
    course = burnished_course(59.0)
    terms = the_terms(course, allowed_from=only(), cap_day=np.full((1, 5), 20))
    assert walk(a_floor(), course, terms) == ()


def test_no_rung_is_taken_before_the_day_it_is_allowed_from() -> None:
    course = burnished_course(59.0)
    terms = the_terms(course, allowed_from=np.full((1, 5), 40))
    days = [step.day for step in walk(a_floor(), course, terms)]
    assert days[0] == 42  # the first weekly night from day 40 on
    assert min(days) >= 40


def test_full_restoration_is_never_the_forecast_s_choice() -> None:
    course = burnished_course(59.9)
    taken = {step.rung for step in walk(a_floor(), course, the_terms(course))}
    assert RESTORE not in taken
    terms = the_terms(course, allowed_from=only(RESTORE))
    assert walk(a_floor(), course, terms) == ()


def test_beyond_the_limit_no_further_coat_is_laid() -> None:
    course = burnished_course(50.0, days=700)
    free = the_terms(course, allowed_from=only(RECOAT, REPOLISH), escape_share=0.0)
    works = [step.rung for step in walk(a_floor(), course, free)]
    assert works.index(REPOLISH) >= 2
    used_up = replace(free, coats=np.array([free.coat_limit]))
    assert walk(a_floor(), course, used_up)[0].rung == REPOLISH
    one_left = replace(free, coats=np.array([free.coat_limit - 1]))
    assert [step.rung for step in walk(a_floor(), course, one_left)][:2] == [RECOAT, REPOLISH]


def test_a_re_polish_gives_the_coats_back() -> None:
    course = burnished_course(50.0, days=900)
    terms = the_terms(course, allowed_from=only(RECOAT, REPOLISH), escape_share=0.0, coat_limit=1)
    works = [step.rung for step in walk(a_floor(), course, terms)]
    assert works[:4] == [RECOAT, REPOLISH, RECOAT, REPOLISH]


def test_a_strip_that_is_laid_gives_the_coats_back_though_it_is_no_rung() -> None:
    course = burnished_course(50.0)
    strip = np.zeros((1, course.days), dtype=bool)
    strip[0, 1] = True
    # of its effect only the counting is looked at here
    laid = replace(course, treatments=((Work.STRIP, NO_EFFECT, strip), *course.treatments))
    own = {"allowed_from": only(RECOAT, REPOLISH), "escape_share": 0.0, "coat_limit": 1}
    used_up = {**own, "coats": np.array([1])}
    assert walk(a_floor(), course, the_terms(course, **used_up))[0].rung == REPOLISH
    assert walk(a_floor(), laid, the_terms(laid, **used_up))[0].rung == RECOAT


def test_a_coat_that_stands_counts_towards_the_limit() -> None:
    course = burnished_course(50.0)
    recoat = np.zeros((1, course.days), dtype=bool)
    recoat[0, 10] = True
    standing = (Work.RECOAT, polished().methods[Work.RECOAT].effect, recoat)
    laid = replace(course, treatments=(standing, *course.treatments))
    own = {"allowed_from": only(RECOAT, REPOLISH), "escape_share": 0.0}
    assert walk(a_floor(), laid, the_terms(laid, coat_limit=2, **own))[0].rung == RECOAT
    assert walk(a_floor(), laid, the_terms(laid, coat_limit=1, **own))[0].rung == REPOLISH


def test_the_calendar_cap_asks_on_the_last_night_before_it_and_again_after_its_length() -> None:
    course = burnished_course(20.0, days=400)
    cap_day, cap_days = np.full((1, 5), NEVER), np.full(5, NEVER)
    cap_day[0, RECOAT], cap_days[RECOAT] = 100, 120
    steps = walk(a_floor(), course, the_terms(course, cap_day=cap_day, cap_days=cap_days))
    assert {(s.rung, s.rule) for s in steps} == {(RECOAT, "cap")}
    assert [s.day for s in steps] == [98, 217, 336]  # weekly nights; 98 + 120 = 218


def test_a_floor_already_below_its_promise_is_the_ladder_s_business_not_the_calendar_s() -> None:
    course = burnished_course(58.0)
    cap_day = np.full((1, 5), NEVER)
    cap_day[0, BURNISH] = 0
    first = walk(a_floor(), course, the_terms(course, cap_day=cap_day, first=14))[0]
    assert (first.day, first.rule) == (14, "promise")
    assert first.rung > BURNISH


def test_a_harder_rung_restarts_the_caps_of_every_milder_one() -> None:
    course = burnished_course(20.0, days=300)
    cap_day, cap_days = np.full((1, 5), NEVER), np.full(5, NEVER)
    cap_day[0, BURNISH], cap_days[BURNISH] = 60, 90
    cap_day[0, REPOLISH], cap_days[REPOLISH] = 50, 1000
    steps = walk(a_floor(), course, the_terms(course, cap_day=cap_day, cap_days=cap_days))
    assert [(s.day, s.rung) for s in steps] == [(49, 3), (133, 0), (217, 0)]


def test_evidence_is_answered_on_the_first_night_and_once() -> None:
    course = burnished_course(20.0)
    steps = walk(a_floor(), course, the_terms(course, first=4, forced=np.array([RECOAT])))
    assert [(s.day, s.rung, s.rule) for s in steps] == [(4, RECOAT, "evidence")]
    guarded = the_terms(course, forced=np.array([RECOAT]), allowed_from=only())
    assert walk(a_floor(), course, guarded) == ()


def test_the_escape_is_said_where_it_was_taken() -> None:
    course = burnished_course(50.0, days=500)
    never = the_terms(course, allowed_from=only(RECOAT, REPOLISH), escape_share=0.0)
    always = the_terms(course, allowed_from=only(RECOAT, REPOLISH), escape_share=0.9)
    assert {s.rule for s in walk(a_floor(), course, never)} == {"promise"}
    first = walk(a_floor(), course, always)[0]
    assert (first.rung, first.rule) == (REPOLISH, "escape")
    assert np.isfinite(first.hold_days[RECOAT])


def three_zones() -> tuple[Floor, Course, WalkTerms]:
    days = 240
    burnish = [list(range(1, days, 3)), list(range(2, days, 4)), []]
    course = a_course(
        [[2.5] * days, [0.6] * days, [5.0] * days],
        [50.0, 54.0, 46.0],
        treatments={Work.BURNISH: burnish},
    )
    terms = the_terms(course)
    terms.opportunity[1] = np.arange(days) % 7 == 4
    return a_floor(3), course, terms


def test_a_zone_s_steps_do_not_depend_on_the_zones_beside_it() -> None:
    floor, course, terms = three_zones()
    together = walk(floor, course, terms)
    assert {step.zone for step in together} == {0, 1, 2}
    for z in range(3):
        row = np.array([z])
        alone = walk(
            replace(floor.rows(row), zone=np.array([0])),
            replace(
                course,
                thousand_passes=course.thousand_passes[row],
                treatments=tuple((w, e, mask[row]) for w, e, mask in course.treatments),
                promise_ln=course.promise_ln[row],
                seen_haze_kept=course.seen_haze_kept[row],
            ),
            replace(
                terms,
                **{
                    name: getattr(terms, name)[row]
                    for name in ("opportunity", "confidence", "allowed_from", "cap_day", "forced")
                },
                coats=terms.coats[row],
            ),
        )
        mine = [(s.day, s.rung, s.rule) for s in together if s.zone == z]
        assert [(s.day, s.rung, s.rule) for s in alone] == mine


def test_the_floors_given_are_left_as_they_were_and_two_walks_agree() -> None:
    floor, course, terms = three_zones()
    haze = floor.state.haze.copy()
    first = walk(floor, course, terms)
    assert np.array_equal(floor.state.haze, haze)
    assert (terms.coats == 0).all()
    assert [(s.zone, s.day, s.rung) for s in walk(floor, course, terms)] == [
        (s.zone, s.day, s.rung) for s in first
    ]
    assert [(s.day, s.zone) for s in first] == sorted((s.day, s.zone) for s in first)


def test_rows_that_are_not_the_course_s_are_refused() -> None:
    floor, course, terms = three_zones()
    with pytest.raises(ValueError, match="one floor for each zone"):
        walk(floor.rows(np.array([2, 1, 0])), course, terms)


def test_without_noise_and_spread_the_walk_follows_the_one_floor_there_is() -> None:
    course = without_noise(a_course([[2.0] * 200], [50.0]))
    floor = a_floor(rate_sd=0.0)
    kept = kept_by_day(floor, course)
    breaks = int(np.argmin(kept))
    assert set(kept.tolist()) == {0.0, 1.0}
    assert walk(floor, course, the_terms(course, every=1))[0].day == breaks - 1
