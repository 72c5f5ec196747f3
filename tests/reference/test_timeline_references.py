"""The exact visit beside published scheduling problems and a general-purpose solver.

A zone is a job, a machine step an operation; with a person for every zone people never bind.
"""

import random
from math import ceil

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp

from floorcare.ground.trade.treatment import Work
from floorcare.ground.work.timeline import listed
from floorcare.ground.work.timeline_exact import reopened, shorter
from floorcare.ground.work.timeline_steps import Leg, ZoneLegs

FT06 = (
    ((2, 1), (0, 3), (1, 6), (3, 7), (5, 3), (4, 6)),
    ((1, 8), (2, 5), (4, 10), (5, 10), (0, 10), (3, 4)),
    ((2, 5), (3, 4), (5, 8), (0, 9), (1, 1), (4, 7)),
    ((1, 5), (0, 5), (2, 5), (3, 3), (4, 8), (5, 9)),
    ((2, 9), (1, 3), (4, 5), (5, 4), (0, 3), (3, 1)),
    ((1, 3), (3, 3), (5, 9), (0, 10), (4, 4), (2, 1)),
)


def shop(*chains: tuple[tuple[int, int], ...]) -> tuple[ZoneLegs, ...]:
    return tuple(
        ZoneLegs(
            str(nth), tuple(Leg(Work.CLEAN, "", p, 1, 0, f"machine {m}", False) for m, p in chain)
        )
        for nth, chain in enumerate(chains)
    )


def exact(zones: tuple[ZoneLegs, ...], people: int, most_nodes: int = 200_000) -> int:
    in_hand = listed(zones, people)
    found = shorter(zones, people, reopened(zones, in_hand), most_steps=99, most_nodes=most_nodes)
    assert found.proved
    return reopened(zones, found.placing or in_hand)


def test_the_job_shop_of_the_or_tools_guide_takes_eleven():
    # Source: developers.google.com/optimization/scheduling/job_shop, "Example Problem": three
    # jobs, three machines; a schedule of 12 is shown first, the optimal one has length 11 (the
    # data looked up, the 11 from memory of the same page; milp below agrees).
    zones = shop(((0, 3), (1, 2), (2, 2)), ((0, 2), (2, 1), (1, 4)), ((1, 4), (2, 3)))
    assert exact(zones, 3) == 11
    assert by_milp(zones, 3, 13) == 11


def test_the_six_by_six_job_shop_takes_fifty_five():
    # Source: Fisher and Thompson 1963, instance ft06, optimum 55; instance and value from memory.
    zones = shop(*FT06)
    assert exact(zones, 6) == 55


@pytest.mark.parametrize("seed", range(6))
def test_two_machines_one_after_the_other_take_what_johnsons_rule_gives(seed):
    # Source: S. M. Johnson 1954, "Optimal two- and three-stage production schedules with setup
    # times included", Naval Research Logistics Quarterly 1: those quicker on the first machine
    # first, rising by it; the others after them, falling by the second. The rule from memory.
    chance = random.Random(seed)
    chains = [(chance.randint(1, 20), chance.randint(1, 20)) for _ in range(5)]
    first = sorted(c for c in chains if c[0] <= c[1])
    rest = sorted((c for c in chains if c[0] > c[1]), key=lambda c: -c[1])
    one = two = 0
    for a, b in first + rest:
        one += a
        two = max(two, one) + b
    assert exact(shop(*(((0, a), (1, b)) for a, b in chains)), 5) == two


def by_milp(zones: tuple[ZoneLegs, ...], people: int, horizon: int) -> int:
    """The least makespan by a time-indexed integer programme, solved by HiGHS.

    A column says that a step begins at a minute with so many hands; the last column is the
    minute at which the last zone reopens.
    """
    columns: list[tuple[int, int, int, int, int]] = []
    for z, zone in enumerate(zones):
        for n, leg in enumerate(zone.legs):
            need = min(leg.people, people)
            for hands in range(need, (people if leg.shared else need) + 1):
                minutes = ceil(leg.clock * leg.people / hands)
                columns += [(z, n, hands, minutes, t) for t in range(horizon - minutes + 1)]
    width = len(columns) + 1
    rows: list[tuple[np.ndarray, float, float]] = []

    def row(pick, low: float, high: float, makespan: float = 0.0) -> None:
        values = np.array([*(float(pick(*column)) for column in columns), makespan])
        rows.append((values, low, high))

    for z, zone in enumerate(zones):
        for n, leg in enumerate(zone.legs):
            row(lambda y, m, h, d, t, z=z, n=n: (y, m) == (z, n), 1, 1)
            over = lambda y, m, h, d, t, z=z, n=n: (t + d) * ((y, m) == (z, n))  # noqa: E731
            if n + 1 < len(zone.legs):
                row(
                    lambda y, m, h, d, t, z=z, n=n, over=over: (
                        t * ((y, m) == (z, n + 1)) - over(y, m, h, d, t)
                    ),
                    leg.wait,
                    np.inf,
                )
            else:
                row(lambda *c, over=over: -over(*c), leg.wait, np.inf, 1.0)
    machines = {leg.machine for zone in zones for leg in zone.legs} - {""}
    for at in range(horizon):
        row(lambda y, m, h, d, t, at=at: h * (t <= at < t + d), 0, people)
        for machine in machines:
            row(
                lambda y, m, h, d, t, at=at, machine=machine: (
                    t <= at < t + d and zones[y].legs[m].machine == machine
                ),
                0,
                1,
            )
    cost = np.zeros(width)
    cost[-1] = 1.0
    upper = np.ones(width)
    upper[-1] = np.inf
    integral = np.ones(width)
    integral[-1] = 0
    solved = milp(
        cost,
        constraints=LinearConstraint(
            np.array([values for values, _, _ in rows]),
            [low for _, low, _ in rows],
            [high for _, _, high in rows],
        ),
        bounds=Bounds(np.zeros(width), upper),
        integrality=integral,
    )
    assert solved.success
    return round(solved.fun)


@pytest.mark.parametrize("seed", range(8))
def test_an_integer_programme_finds_the_same_length(seed):
    # Source: scipy.optimize.milp (HiGHS) on the time-indexed formulation of Pritsker, Watters and
    # Wolfe 1969 with one column more for each number of hands; formulation from memory.
    chance = random.Random(100 + seed)
    zones = tuple(
        ZoneLegs(
            str(z),
            tuple(
                Leg(
                    Work.CLEAN,
                    "",
                    chance.randint(1, 7),
                    chance.choice([1, 1, 2]),
                    chance.choice([0, 0, 4]),
                    machine := chance.choice(["", "", "scrubber", "burnisher"]),
                    not machine,
                )
                for _ in range(chance.choice([1, 2, 2, 3]))
            ),
        )
        for z in range(3)
    )
    people = chance.choice([1, 2, 2, 3])
    horizon = reopened(zones, listed(zones, people)) + 1
    assert exact(zones, people) == by_milp(zones, people, horizon)
