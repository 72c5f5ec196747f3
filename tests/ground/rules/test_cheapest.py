from dataclasses import replace

import numpy as np
import pytest

from floorcare.ground.rules.cheapest import (
    CheapestChoice,
    choose_cheapest,
    cycle_cost,
    refused_cheapest,
    rung_costs,
)
from floorcare.ground.rules.cost import STANDARD_COSTS, BranchCosts, treatment_cost
from floorcare.ground.rules.floor import Course, Floor
from floorcare.ground.rules.ladder import break_days, renewed, repolish_life
from floorcare.ground.rules.walk import walk
from floorcare.ground.rules.wear_dues import wear_rungs
from floorcare.ground.trade.promise import Policy
from floorcare.ground.trade.treatment import Work
from tests.builders import (
    a_book,
    a_case,
    a_course,
    a_floor,
    look_promised,
    polished,
    the_terms,
    without_noise,
)

RUNGS = wear_rungs(polished())
BURNISH, FINE, RECOAT, REPOLISH, RESTORE = range(5)
COST = np.array([[38.0, 43.0, 82.0, 340.0, 900.0]])
LADDER = [False, True, True, True, False]


def worn_floor(scratch: float, *, zones: int = 1, film: float = 0.0) -> Floor:
    floor = a_floor(zones, rate_sd=0.05)
    ones = np.ones(floor.level.shape)
    state = replace(floor.state, haze=0.1 * ones, film=film * ones, scratch=scratch * ones)
    return replace(floor, state=state)


def steady(passes: float = 2.0, zones: int = 1, promise_gu: float = 45.0) -> Course:
    every_night = [list(range(364))] * zones
    return a_course(
        [[passes] * 364] * zones, [promise_gu] * zones, treatments={Work.BURNISH: every_night}
    )


def chosen(
    floor: Floor,
    course: Course,
    *,
    allowed: list[bool] | None = None,
    cost: np.ndarray = COST,
    cycle: float | None = None,
    last_resort: bool = True,
    until_next: float = 7.0,
) -> CheapestChoice:
    n = floor.zone.size
    may = np.array([allowed or LADDER] * n)
    costs = np.repeat(cost, n, axis=0)
    a_day = np.full(n, cycle) if cycle else cycle_cost(floor, course, RUNGS, costs, may)
    return choose_cheapest(
        floor,
        course,
        0,
        rungs=RUNGS,
        cost=costs,
        cycle=a_day,
        allowed=may,
        confidence=np.full(n, 0.75),
        until_next=np.full(n, until_next),
        life=repolish_life(floor, course, RUNGS[REPOLISH]),
        last_resort=np.full(n, last_resort),
    )


def test_a_coat_is_taken_while_its_days_cost_less_than_those_of_the_cycle() -> None:
    course, floor = steady(), worn_floor(0.25)
    coated = break_days(floor.treated(RUNGS[RECOAT].effect), course, 0, np.array([1092.0])).mean()
    only_coats = [False, False, True, True, False]
    a_day = 82.0 / coated
    assert chosen(floor, course, allowed=only_coats, cycle=1.1 * a_day).rung[0] == RECOAT
    assert chosen(floor, course, allowed=only_coats, cycle=0.9 * a_day).rung[0] == REPOLISH


def test_days_held_and_their_cost_are_those_of_the_sampled_breaks() -> None:
    course, floor = without_noise(steady()), worn_floor(0.25)
    found = chosen(floor, course)
    for rung in (FINE, RECOAT):
        laid = floor.treated(RUNGS[rung].effect)
        held = break_days(laid, course, 0, np.array([1092.0])).mean()
        assert found.hold_days[0, rung] == pytest.approx(held)
        assert found.cost_a_day[0, rung] == pytest.approx(COST[0, rung] / held)
    assert np.isnan(found.hold_days[0, [BURNISH, RESTORE]]).all()
    life = repolish_life(floor, course, RUNGS[REPOLISH])
    assert found.hold_days[0, REPOLISH] == pytest.approx(life[0])


def test_a_dearer_coat_gives_way() -> None:
    course, floor = steady(), worn_floor(0.25)
    only_coats = [False, False, True, True, False]
    cheap, dear = COST.copy(), COST.copy()
    cheap[0, RECOAT], dear[0, RECOAT] = 20.0, 900.0
    assert chosen(floor, course, allowed=only_coats, cost=cheap).rung[0] == RECOAT
    assert chosen(floor, course, allowed=only_coats, cost=dear).rung[0] == REPOLISH


def test_what_would_not_last_until_the_next_opportunity_is_not_taken() -> None:
    course, floor = steady(), worn_floor(0.42)
    found = chosen(floor, course)
    assert np.isnan(found.hold_days[0, FINE])
    assert found.rung[0] == REPOLISH


def test_without_a_last_resort_only_a_rung_that_holds_is_taken() -> None:
    course = steady()
    assert chosen(worn_floor(0.9), course, last_resort=False).rung[0] == -1
    assert chosen(worn_floor(0.25), course, last_resort=False, cycle=1e-9).rung[0] in (FINE, RECOAT)
    worst = chosen(worn_floor(0.9), course, allowed=[False, True, True, False, False])
    assert worst.rung[0] == RECOAT  # the last allowed, for want of better
    assert chosen(worn_floor(0.9), course, allowed=[False] * 5).rung[0] == -1


def test_the_cycle_of_renewals_alone_costs_a_renewal_over_its_life() -> None:
    course, floor = without_noise(steady()), a_floor(rate_sd=0.05)
    alone = np.array([[False, False, False, True, False]])
    start = renewed(floor, course, RUNGS[REPOLISH])
    life = break_days(start, course, -1, np.array([2912.0])).mean()
    assert cycle_cost(floor, course, RUNGS, COST, alone)[0] == pytest.approx(340.0 / life, rel=0.02)


def test_coats_between_renewals_make_a_cycle_cheaper_or_leave_it() -> None:
    course, floor = steady(), a_floor(rate_sd=0.05)
    alone = np.array([[False, False, False, True, False]])
    coats = np.array([[False, False, True, True, False]])
    cheap, dear = COST.copy(), COST.copy()
    cheap[0, RECOAT], dear[0, RECOAT] = 30.0, 5000.0
    found = [cycle_cost(floor, course, RUNGS, cheap, usable)[0] for usable in (alone, coats)]
    assert found[1] < 0.95 * found[0]
    assert cycle_cost(floor, course, RUNGS, dear, coats)[0] == pytest.approx(found[0])


def test_a_zone_s_choice_does_not_depend_on_the_zones_beside_it() -> None:
    course = steady(zones=3)
    scratch = np.array([[0.20], [0.27], [0.40]]) * np.ones((3, 32))
    start = worn_floor(0.2, zones=3)
    floor = replace(start, state=replace(start.state, scratch=scratch))
    together = chosen(floor, course)
    for z in range(3):
        alone = chosen(floor.rows(np.array([z])), course)
        assert alone.rung[0] == together.rung[z]
        assert alone.cost_a_day[0] == pytest.approx(together.cost_a_day[z], nan_ok=True)


def test_on_the_walk_only_zones_of_the_policy_are_chosen_at_least_cost() -> None:
    days = 540
    course = a_course([[4.0] * days] * 2, [50.0] * 2, treatments={Work.BURNISH: [range(days)] * 2})
    rungs_allowed = np.where(LADDER, 0, 10**6) * np.ones((2, 1), dtype=np.int64)
    terms = the_terms(
        course,
        allowed_from=rungs_allowed,
        cheapest=np.array([False, True]),
        cost=np.repeat(COST, 2, axis=0),
    )
    steps = walk(a_floor(2), course, terms)
    mild, cheap = ([s for s in steps if s.zone == z] for z in (0, 1))
    assert {s.rule for s in mild} <= {"promise", "escape"}
    assert {s.rule for s in cheap} == {"cost"}
    assert mild[0].day == cheap[0].day  # the last safe night is the same
    assert all(np.isnan(s.cycle_cost_a_day) and s.cost_a_day == () for s in mild)
    assert all(s.cycle_cost_a_day > 0 and len(s.cost_a_day) == 5 for s in cheap)

    def spent(taken: list[int]) -> float:
        return float(COST[0, taken].sum())

    assert spent([s.rung for s in cheap]) < spent([s.rung for s in mild])


def test_what_rungs_cost_in_a_zone_is_reckoned_from_its_area_and_branch() -> None:
    case = a_case(a_book())
    found = rung_costs([case], polished(), RUNGS)
    area = case.book.zone.span_about(case.today).area_m2
    assert found[0].tolist() == [treatment_cost(STANDARD_COSTS, polished(), r, area) for r in RUNGS]


def test_cheapest_is_refused_where_the_fee_is_per_visit_and_the_lines_are_named() -> None:
    look = look_promised(policy=Policy.CHEAPEST)
    paid = BranchCosts(paid_by_visit=frozenset({(look.contract, "")}))
    asks = a_case(a_book("LANE", promises=(look,)))
    refused = [
        replace(a_case(a_book(code, promises=(look,))), costs=paid) for code in ("LANE", "EDGE")
    ]
    assert asks.cheapest
    assert not asks.cheapest_refused
    assert refused_cheapest([asks]) == ()
    (finding,) = refused_cheapest([asks, *refused])
    assert all(case.cheapest_refused and case.by_wear and not case.cheapest for case in refused)
    assert finding.weight == "asks"
    for named in (look.contract, "NORTH/EDGE", "NORTH/LANE", "gentlest"):
        assert named in finding.problem
