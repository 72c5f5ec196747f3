"""The policy `cheapest`: of the rungs that keep the promise, the one that costs least a day held.

A rung that holds short is dear however little it costs, and a coat on a floor worn through only
puts off the re-polish. What putting off a day is worth is the zone's own *cost a day*: that of the
best cycle from one renewal of its floor to the next. A chain of mild rungs is worth its cost while
it costs less than that for each day it holds; once none is, the floor is renewed.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product

import numpy as np

from floorcare.findings import Finding
from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.cost import treatment_cost
from floorcare.ground.rules.floor import (
    Course,
    Floor,
)
from floorcare.ground.rules.ladder import (
    LIFE_LOOK_DAYS,
    break_days,
    held_days,
    looked_on,
    renewed,
    top_rung,
)
from floorcare.ground.trade.surface import Rung, Surface
from floorcare.ground.wear.model import Flags, Floats, Whole

CYCLE_LOOK_DAYS = 8 * 364
"""A cycle from renewal to renewal is followed for so long. Assumption."""
CYCLE_WORKS = 12
"""Mild rungs between two renewals, at most, where a cycle is reckoned. Assumption."""
CYCLE_DRAWS, CHAIN_DRAWS = 8, 32
"""Sampled floors a cycle and a chain are followed on. Assumption: more change no choice."""
CHAIN_WORKS = 2
"""Mild rungs looked ahead before the floor is renewed. Assumption."""
NO_WORKS = (-1,) * CYCLE_WORKS


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CheapestChoice:
    """The rung taken for each of n zones.

    rung : (n,), index into the rungs, -1 where none may be taken.
    hold_days : (n, rungs), days each rung is expected to hold; NaN where it may not be taken.
    cost_a_day : (n, rungs), its cost over those days.
    """

    rung: Whole
    hold_days: Floats
    cost_a_day: Floats


def rung_costs(cases: Sequence[ZoneCase], surface: Surface, rungs: Sequence[Rung]) -> Floats:
    """(Z, R) what each rung costs in each zone.

    Source: see `cost.treatment_cost`.
    """
    found = np.empty((len(cases), len(rungs)))
    for z, case in enumerate(cases):
        span = case.book.zone.span_about(case.today)
        for r, rung in enumerate(rungs):
            found[z, r] = treatment_cost(case.costs, surface, rung, span.area_m2)
    return found


def refused_cheapest(cases: Sequence[ZoneCase]) -> tuple[Finding, ...]:
    """Promise lines that ask for `cheapest` under a fee per visit; they are planned `gentlest`.

    Source: design rule; visits left out would cut our own invoice.
    """
    lines: dict[str, list[str]] = {}
    for case in cases:
        if case.cheapest_refused and case.appearance is not None:
            lines.setdefault(case.appearance.contract, []).append("/".join(case.key))
    return tuple(
        Finding(
            problem=f"contract {contract} pays per visit, so the policy cheapest of its appearance "
            f"{'line' if len(zones) == 1 else 'lines'} for {', '.join(sorted(zones))} is refused: "
            "visits left out would cut the invoice; planned gentlest",
            value="cheapest",
            allowed="gentlest or as agreed, or a fee by result",
            mend="agree a fee by result, or change the policy of the promise",
            weight="asks",
        )
        for contract, zones in sorted(lines.items())
    )


def cycle_cost(
    floor: Floor, course: Course, rungs: tuple[Rung, ...], cost: Floats, usable: Flags
) -> Floats:
    """What keeping the promise costs a day over the best cycle from renewal to renewal, (n,).

    Parameters
    ----------
    floor : n floors today; their rates and levels count, their state is renewed.
    cost, usable : (n, rungs).

    Source: renewal-reward, cost of a cycle over its length. Assumption: between renewals the same
    one or two mild rungs alternate; each is laid when the promise breaks.
    """
    top = top_rung(rungs)
    few_floor, few_course = _fewer_draws(floor, course, CYCLE_DRAWS)
    patterns = _patterns(top)
    fits = np.array([usable[:, list(pattern)].all(axis=1) for pattern in patterns])
    which, rows = np.nonzero(fits)
    works = np.array([(p * CYCLE_WORKS)[:CYCLE_WORKS] or NO_WORKS for p in patterns])[which]
    start = renewed(few_floor, few_course, rungs[top]).rows(rows)
    breaks = _chain_breaks(start, few_course, -1, works, rungs, CYCLE_LOOK_DAYS)
    laid = np.where(
        works >= 0, np.take_along_axis(cost[rows], np.maximum(works, 0), axis=1), np.inf
    )
    spent = np.cumsum(np.column_stack([cost[rows, top], laid]), axis=1)
    a_day = (spent / np.maximum(breaks, 1.0)).min(axis=1)
    best = np.full(floor.zone.size, np.inf)
    np.minimum.at(best, rows, a_day)
    return best


def _patterns(top: int) -> list[tuple[int, ...]]:
    """What may be laid between two renewals, in turn."""
    mild = range(top)
    return [(), *((r,) for r in mild), *((a, b) for a, b in product(mild, mild) if a != b)]


def choose_cheapest(
    floor: Floor,
    course: Course,
    day: int,
    *,
    rungs: tuple[Rung, ...],
    cost: Floats,
    cycle: Floats,
    allowed: Flags,
    confidence: Floats,
    until_next: Floats,
    life: Floats,
    last_resort: Flags,
) -> CheapestChoice:
    """The rung to take tonight at least expected cost a day held, for each of n zones.

    Parameters
    ----------
    floor, day : n floors at the end of the day, before the rung; rungs from mild to aggressive.
    cost, allowed : (n, rungs); confidence : (n,), q; life : (n,), expected days of a renewal.
    cycle : (n,), cost a day of the best cycle, see `cycle_cost`.
    until_next : (n,), days to the next opportunity, which every rung must bridge at q.
    last_resort : (n,), whether the last allowed rung may be taken though it does not hold.

    Source: one-step improvement of "renew now", looked `CHAIN_WORKS` rungs ahead.
    """
    n, top = floor.zone.size, top_rung(rungs)
    offered = allowed.copy()
    offered[:, top + 1 :] = False
    keeps = offered & _bridges(floor, course, day, rungs, offered, confidence, until_next)
    keeps[:, top] = offered[:, top] & last_resort
    hold = np.full((n, len(rungs)), np.nan)
    hold[:, top] = np.where(keeps[:, top], life, np.nan)
    worth = np.full((n, len(rungs)), np.inf)
    worth[keeps[:, top], top] = 0.0  # a renewal begins a cycle, whose days are worth its cost
    for chain, rows, breaks in _chains_lived(floor, course, day, rungs, keeps, offered):
        first, hold[rows, chain[0]] = chain[0], breaks[:, 0]
        spent = cost[rows][:, list(chain)].sum(axis=1) - cycle[rows] * breaks[:, len(chain) - 1]
        worth[rows, first] = np.minimum(worth[rows, first], spent)
    rung = np.where(np.isfinite(worth).any(axis=1), np.argmin(worth, axis=1), -1)
    # where nothing keeps the promise, the last allowed rung is taken for want of better
    last = np.where(offered.any(axis=1), top - np.argmax(offered[:, top::-1], axis=1), -1)
    rung = np.where((rung < 0) & last_resort, last, rung)
    return CheapestChoice(rung=rung, hold_days=hold, cost_a_day=cost / np.maximum(hold, 1.0))


def _chains_lived(
    floor: Floor, course: Course, day: int, rungs: tuple[Rung, ...], keeps: Flags, offered: Flags
) -> Iterator[tuple[tuple[int, ...], Whole, Floats]]:
    """Each chain of mild rungs: it, the rows that may be laid it, and their expected breaks."""
    mild = range(top_rung(rungs))
    chains = [c for length in range(1, CHAIN_WORKS + 1) for c in product(mild, repeat=length)]
    may = [keeps[:, c[0]] & offered[:, list(c)].all(axis=1) for c in chains]
    which, rows = np.nonzero(np.array(may).reshape(len(chains), -1))
    if not rows.size:
        return
    few_floor, few_course = _fewer_draws(floor, course, CHAIN_DRAWS)
    laid = few_floor.rows(rows)
    first = np.array([c[0] for c in chains])[which]
    for r in np.unique(first):
        laid = laid.treated(rungs[r].effect, first == r)
    works = np.array([(*c[1:], *NO_WORKS)[: CHAIN_WORKS - 1] for c in chains])[which]
    breaks = _chain_breaks(laid, few_course, day, works, rungs, LIFE_LOOK_DAYS)
    for at in np.unique(which):
        yield chains[at], rows[which == at], breaks[which == at]


def _bridges(
    floor: Floor,
    course: Course,
    day: int,
    rungs: tuple[Rung, ...],
    offered: Flags,
    confidence: Floats,
    until_next: Floats,
) -> Flags:
    """(n, rungs), which of them keep the promise to the next opportunity at q."""
    found = np.zeros(offered.shape, dtype=bool)
    for r in np.flatnonzero(offered.any(axis=0)):
        rows = np.flatnonzero(offered[:, r])
        laid = floor.rows(rows).treated(rungs[r].effect)
        broken = break_days(laid, course, day, until_next[rows] + 1.0)
        found[rows, r] = held_days(broken, confidence[rows]) - 1.0 >= until_next[rows]
    return found


def _chain_breaks(
    floor: Floor, course: Course, day: int, works: Whole, rungs: tuple[Rung, ...], look: int
) -> Floats:
    """(n, 1 + W) expected days to each break; at each a rung of `works` (n, W) is laid.

    A row ends with the break after its last work, -1 where it has no more. Each draw goes its own
    way: by day at first, then by week, `look` days at most.
    """
    n, draws = floor.level.shape
    breaks = np.full((n, 1 + works.shape[1], draws), float(look))
    following = np.column_stack([works, np.full(n, -1)])
    place = np.zeros((n, draws), dtype=np.int64)
    alive = np.ones((n, draws), dtype=bool)
    ahead = 0
    while ahead < look and alive.any():
        floor, kept, ahead = looked_on(floor, course, day, ahead)
        now = alive & ~kept
        row, draw = np.nonzero(now)
        if not row.size:
            continue
        breaks[row, place[now], draw] = ahead
        laid = following[row, place[now]]
        for r in np.unique(laid[laid >= 0]):
            where = np.zeros_like(now)
            where[row[laid == r], draw[laid == r]] = True
            floor = floor.treated_where(rungs[r].effect, where)
        alive[row, draw] = laid >= 0
        place[now] += 1
    mean: Floats = breaks.mean(axis=2)
    return mean


def _fewer_draws(floor: Floor, course: Course, count: int) -> tuple[Floor, Course]:
    """The same floors and noise on every so many-th draw."""
    step = max(1, floor.level.shape[1] // count)
    some = slice(None, None, step)
    columns = (slice(None), some)
    state = replace(
        floor.state,
        haze=floor.state.haze[columns],
        film=floor.state.film[columns],
        scratch=floor.state.scratch[columns],
    )
    rates = replace(
        floor.rates,
        haze=floor.rates.haze[columns],
        film=floor.rates.film[columns],
        scratch=floor.rates.scratch[columns],
    )
    few = Floor(
        zone=floor.zone,
        state=state,
        rates=rates,
        level=floor.level[columns],
        shock=floor.shock[columns],
    )
    return few, replace(course, drift=course.drift[some], shocks=course.shocks[some])
