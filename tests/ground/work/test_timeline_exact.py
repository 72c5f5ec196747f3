import random
from itertools import pairwise, permutations, product
from math import ceil

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from floorcare.ground.trade.treatment import Work
from floorcare.ground.work.timeline import listed
from floorcare.ground.work.timeline_exact import reopened, shorter
from floorcare.ground.work.timeline_steps import Leg, Placed, Placing, ZoneLegs


def leg(clock: int, wait: int = 0, *, people: int = 1, machine: str = "") -> Leg:
    return Leg(Work.RECOAT, "step", clock, people, wait, machine, not machine)


def zones_of(*chains: tuple[Leg, ...]) -> tuple[ZoneLegs, ...]:
    return tuple(ZoneLegs(str(nth), chain) for nth, chain in enumerate(chains))


def least_of_all_orders(zones: tuple[ZoneLegs, ...], people: int) -> int:
    """The shortest visit over every order of steps and every number of hands, minute by minute."""
    slots = [nth for nth, zone in enumerate(zones) for _ in zone.legs]
    horizon = sum(leg.clock * leg.people + leg.wait for zone in zones for leg in zone.legs) + 1
    ways = [[_hands(leg, people) for leg in zone.legs] for zone in zones]
    best = horizon
    for hands in product(*(product(*of) for of in ways)):
        for order in set(permutations(slots)):
            best = min(best, _in_this_order(zones, people, hands, order, horizon))
    return best


def _hands(leg: Leg, people: int) -> range:
    need = min(leg.people, people)
    return range(need, people + 1) if leg.shared else range(need, need + 1)


def _in_this_order(zones, people, hands, order, horizon) -> int:
    used = [0] * horizon
    machines: list[set[str]] = [set() for _ in range(horizon)]
    nth, ready = [0] * len(zones), [0] * len(zones)
    for zone in order:
        step, many = zones[zone].legs[nth[zone]], hands[zone][nth[zone]]
        minutes = ceil(step.clock * step.people / many)
        at = ready[zone]
        while any(
            used[m] + many > people or step.machine in machines[m] for m in range(at, at + minutes)
        ):
            at += 1
        for m in range(at, at + minutes):
            used[m] += many
            machines[m] |= {step.machine} - {""}
        nth[zone] += 1
        ready[zone] = at + minutes + step.wait
    return max(ready)


def a_case(chance: random.Random) -> tuple[tuple[ZoneLegs, ...], int]:
    shape = chance.choice([(2, 2), (3, 2), (2, 1, 2), (1, 2, 1), (2, 3)])
    chains = [
        tuple(
            leg(
                chance.randint(1, 9),
                chance.choice([0, 0, 3, 8]),
                people=chance.choice([1, 1, 1, 2]),
                machine=chance.choice(["", "", "scrubber", "burnisher"]),
            )
            for _ in range(steps)
        )
        for steps in shape
    ]
    return zones_of(*chains), chance.choice([1, 2, 2, 3])


def test_of_every_order_and_number_of_hands_none_is_shorter_than_the_exact_visit():
    chance = random.Random(20260302)
    found_shorter = 0
    for _ in range(120):
        zones, people = a_case(chance)
        in_hand = reopened(zones, listed(zones, people))
        found = shorter(zones, people, in_hand)
        assert found.proved
        exact = reopened(zones, found.placing) if found.placing else in_hand
        assert found.bound <= exact <= in_hand
        assert (found.placing is None) == (exact == in_hand)
        assert exact == least_of_all_orders(zones, people)
        found_shorter += found.placing is not None
    assert found_shorter > 10


LEGS = st.builds(
    leg,
    st.integers(0, 90),
    st.sampled_from([0, 0, 10, 30, 60]),
    people=st.integers(1, 3),
    machine=st.sampled_from(["", "", "scrubber", "burnisher", "planetary_polisher"]),
)
CHAINS = st.lists(LEGS, min_size=1, max_size=4).map(tuple)
VISITS = st.lists(CHAINS, min_size=1, max_size=4).map(lambda chains: zones_of(*chains))


def check(zones: tuple[ZoneLegs, ...], placing: Placing, people: int) -> None:
    """No person and no machine twice, every wait and sequence kept, nobody short of hands."""
    steps: list[tuple[Leg, Placed]] = []
    for zone, placed in zip(zones, placing, strict=True):
        pairs = list(zip(zone.legs, placed, strict=True))
        steps += pairs
        for (before, at), (_, then) in pairwise(pairs):
            assert then.starts >= at.ends + before.wait
    for one, at in steps:
        assert at.ends - at.starts == one.minutes(at.hands)
        assert at.hands >= min(one.people, people)
        assert one.shared or at.hands == min(one.people, people)
        now = [(o, p) for o, p in steps if p.starts <= at.starts < p.ends]
        machines = [o.machine for o, _ in now if o.machine]
        assert sum(p.hands for _, p in now) <= people
        assert len(machines) == len(set(machines))
    assert min(at.starts for _, at in steps) == 0


@given(VISITS, st.integers(1, 4))
@settings(max_examples=150, deadline=None)
def test_people_machines_waits_and_sequence_are_kept_and_the_list_is_never_shorter(zones, people):
    in_hand = listed(zones, people)
    check(zones, in_hand, people)
    found = shorter(zones, people, reopened(zones, in_hand), most_steps=16, most_nodes=400)
    assert found == shorter(zones, people, reopened(zones, in_hand), most_steps=16, most_nodes=400)
    assert found.nodes <= 401
    if found.placing is not None:
        check(zones, found.placing, people)
        assert found.bound <= reopened(zones, found.placing) < reopened(zones, in_hand)


def test_somebody_waits_a_little_where_starting_at_once_would_hold_up_a_longer_zone():
    # at minute 10 only the long mop is ready; the coat of the other zone is ready at 12
    zones = zones_of((leg(10, 2), leg(10, 60)), (leg(50),))
    found = shorter(zones, 1, 999)
    assert found.placing is not None
    assert found.placing[0][1] == Placed(12, 22, 1)
    assert reopened(zones, found.placing) == 82
    assert reopened(zones, listed(zones, 1)) == 130


def test_a_list_schedule_that_reaches_the_bound_is_left_alone_without_a_search():
    zones = zones_of((leg(30),), (leg(20),))
    found = shorter(zones, 1, 50)
    assert (found.placing, found.bound, found.nodes, found.proved) == (None, 50, 0, True)


def test_where_nothing_is_shorter_the_search_says_so():
    zones = zones_of((leg(10, 5), leg(10)), (leg(9, 9), leg(3)))
    least = least_of_all_orders(zones, 1)
    found = shorter(zones, 1, least)
    assert (found.placing, found.proved) == (None, True)


def test_many_steps_or_a_search_cut_off_keep_what_is_in_hand():
    zones = zones_of((leg(10, 2), leg(10, 60)), (leg(50),))
    assert shorter(zones, 1, 130, most_steps=2).nodes == 0
    cut = shorter(zones, 1, 130, most_nodes=1)
    assert (cut.placing, cut.proved) == (None, False)


@pytest.mark.parametrize("zones", [(), zones_of((leg(10, 5), leg(5)))])
def test_one_zone_or_none_has_nothing_to_search_for(zones):
    assert shorter(zones, 2, 100).nodes == 0
    assert shorter(zones, 2, 100).proved


def test_a_visit_without_zones_is_over_at_once():
    assert reopened((), ()) == 0
