"""Machines shared in a branch: which crew-night has which of them, settled before the routes."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from floorcare.ground.crews.machines import (
    kinds_checked,
    machines_here,
    serves_there,
    stands_on,
)
from floorcare.ground.crews.roster import Nights
from floorcare.ground.crews.week import BranchWeek, CrewNight
from floorcare.ground.crews.wishes import Wish
from floorcare.ground.crews.worth import MOVED_CREW, MOVED_NIGHT, worth_of
from floorcare.ground.trade.equipment import OwnedMachine

Key = tuple[str, date]
Held = Mapping[Key, tuple[str, ...]]
"""Codes of the machines each crew-night has with it."""

STOP_MINUTES = 15
"""Drive reckoned for a stop while machines are shared out, where the branch is further. Assumption;
routes are found after it."""
MOST_NODES = 400
"""Nodes of the search that shares machines out; past them the best found so far is taken.
Assumption: it keeps a week's answer the same on every machine."""
NEAR_ENOUGH = 0.01
"""It may end that close to what could be had at most. Assumption."""


@dataclass(frozen=True, slots=True)
class _Use:
    """A machine that a wish could use on a crew-night."""

    machine: str
    night: Key
    kind: str


def holders(week: BranchWeek, wishes: Sequence[Wish], nights: Nights) -> Held:
    """Which machines each crew-night has, so that most can be done with them.

    A machine goes with one crew of all whose shifts overlap. Which visits then go where is left to
    the routes; here each is only counted against the minutes of a night.

    Source: a generalised assignment with shared machines as a mixed-integer programme, HiGHS.
    """
    entered = kinds_checked(week)
    asking = [w for w in wishes if any(kind.code in entered for kind in w.kinds)]
    if not asking:
        return {}
    owned = machines_here(week)
    uses = {id(wish): _uses(week, wish, nights, owned, entered) for wish in asking}
    tours = sorted({use.night for found in uses.values() for use in found})
    carried = sorted({(use.machine, use.night) for found in uses.values() for use in found})
    if not carried:
        return {}
    taken = _shared_out(week, asking, wishes, uses, nights, entered, carried)
    taken = _filled_up(taken, asking, uses, nights, carried)
    return {night: tuple(sorted(m for m, at in taken if at == night)) for night in tours}


def machines_for_wish(
    week: BranchWeek, wish: Wish, night: CrewNight, held: Held, *, fuel: bool
) -> tuple[str, ...] | None:
    """The machines a crew takes to a visit out of those it has, None where a kind is lacking.

    Parameters
    ----------
    fuel : whether the site lets a fuel machine run in that stretch.
    """
    entered = kinds_checked(week)
    mine = set(held.get((night.crew, night.on), ()))
    owned = [m for m in machines_here(week) if m.code in mine]
    found = []
    for kind in wish.kinds:
        if kind.code not in entered:
            continue
        fitting = [
            m
            for m in owned
            if m.kind == kind.code and serves_there(week, wish.visit.site, night, m, fuel=fuel)
        ]
        if not fitting:
            return None
        # what stands on the site is there already
        fitting.sort(key=lambda m: (not stands_on(m, wish.visit.site, night.on), m.code))
        found.append(fitting[0].code)
    return tuple(found)


def _uses(
    week: BranchWeek,
    wish: Wish,
    nights: Nights,
    owned: Sequence[OwnedMachine],
    entered: frozenset[str],
) -> list[_Use]:
    kinds = {kind.code for kind in wish.kinds} & entered
    found = []
    for key in sorted(wish.crews):
        fuel = any(c.access.fuel for c in wish.chances if key in c.crews)
        found += [
            _Use(machine.code, key, machine.kind)
            for machine in owned
            if machine.kind in kinds
            and serves_there(week, wish.visit.site, nights[key], machine, fuel=fuel)
        ]
    return found


def _shared_out(
    week: BranchWeek,
    asking: Sequence[Wish],
    wishes: Sequence[Wish],
    uses: Mapping[int, list[_Use]],
    nights: Nights,
    entered: frozenset[str],
    carried: Sequence[tuple[str, Key]],
) -> set[tuple[str, Key]]:
    """The programme: x says that a wish goes with a night, h that a machine does."""
    pairs = [(at, key) for at, wish in enumerate(wishes) for key in sorted(wish.crews)]
    column = {pair: index for index, pair in enumerate(pairs)}
    holds = {one: len(pairs) + index for index, one in enumerate(carried)}
    worth = np.zeros(len(pairs) + len(carried))
    for (at, key), index in column.items():
        now = wishes[at].now
        told = now is not None and (now.crew, now.on) == key
        value = worth_of(wishes[at].visit, week.last_on) + (MOVED_NIGHT + MOVED_CREW) * told
        worth[index] = -float(value) / 1e6
    # no crew drags along what it does not need; what it was told to take it takes
    told_of = {(code, (a.crew, a.on)) for a in week.assigned for code in a.machines}
    worth[len(pairs) :] = [1e-3 - 0.1 * (one in told_of) for one in carried]
    rows: list[tuple[dict[int, float], float]] = []
    for at, wish in enumerate(wishes):
        rows.append(({column[at, key]: 1.0 for key in wish.crews}, 1.0))
    rows += _room(week, wishes, nights, column)
    at_of = {id(wish): at for at, wish in enumerate(wishes)}
    for wish in asking:
        rows += _with_machines(wish, at_of[id(wish)], uses[id(wish)], column, holds, entered)
    rows += _one_crew_each(nights, carried, holds)
    chosen = _solved(worth, rows)
    return {one for one, index in holds.items() if index in chosen}


def _solved(worth: NDArray[np.float64], rows: Sequence[tuple[dict[int, float], float]]) -> set[int]:
    """The columns that are 1 in the best found; none where nothing was found."""
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import csr_array

    matrix = csr_array(
        (
            [value for row, _ in rows for value in row.values()],
            (
                [at for at, (row, _) in enumerate(rows) for _ in row],
                [index for row, _ in rows for index in row],
            ),
        ),
        shape=(len(rows), len(worth)),
    )
    found = milp(
        worth,
        integrality=np.ones(len(worth), dtype=np.int64),
        bounds=Bounds(0, 1),
        constraints=LinearConstraint(matrix, -np.inf, [most for _, most in rows]),
        options={"node_limit": MOST_NODES, "mip_rel_gap": NEAR_ENOUGH},
    )
    return set() if found.x is None else set(np.flatnonzero(found.x > 0.5).tolist())


def _room(
    week: BranchWeek,
    wishes: Sequence[Wish],
    nights: Nights,
    column: Mapping[tuple[int, Key], int],
) -> list[tuple[dict[int, float], float]]:
    of_night: dict[Key, dict[int, float]] = defaultdict(dict)
    for (at, key), index in column.items():
        visit = wishes[at].visit
        drive = min(STOP_MINUTES, week.drive(week.branch, week.site(visit)))
        of_night[key][index] = float(visit.minutes + drive)
    return [(row, float(nights[key].longest_minutes)) for key, row in sorted(of_night.items())]


def _with_machines(
    wish: Wish,
    at: int,
    uses: Sequence[_Use],
    column: Mapping[tuple[int, Key], int],
    holds: Mapping[tuple[str, Key], int],
    entered: frozenset[str],
) -> list[tuple[dict[int, float], float]]:
    rows = []
    for key in sorted(wish.crews):
        for kind in wish.kinds:
            if kind.code in entered:
                row = {column[at, key]: 1.0}
                for use in uses:
                    if use.night == key and use.kind == kind.code:
                        row[holds[use.machine, key]] = -1.0
                rows.append((row, 0.0))
    return rows


def _one_crew_each(
    nights: Nights, carried: Sequence[tuple[str, Key]], holds: Mapping[tuple[str, Key], int]
) -> list[tuple[dict[int, float], float]]:
    """Of nights that overlap only one has a machine; enough to ask it where each begins."""
    rows = []
    for machine, key in carried:
        meeting = [
            other
            for code, other in carried
            if code == machine and (other == key or _begins_within(nights[key], nights[other]))
        ]
        if len(meeting) > 1:
            rows.append(({holds[machine, other]: 1.0 for other in meeting}, 1.0))
    return rows


def _begins_within(night: CrewNight, other: CrewNight) -> bool:
    """Whether a night begins while the other is out."""
    if night.starts_at is None or other.starts_at is None or other.ends_at is None:
        return False
    return other.starts_at <= night.starts_at < other.ends_at


def _filled_up(
    taken: set[tuple[str, Key]],
    asking: Sequence[Wish],
    uses: Mapping[int, list[_Use]],
    nights: Nights,
    carried: Sequence[tuple[str, Key]],
) -> set[tuple[str, Key]]:
    """What nobody has goes with who could use it most: routes may find more than was counted."""
    wanted: dict[tuple[str, Key], int] = defaultdict(int)
    for wish in asking:
        for use in uses[id(wish)]:
            wanted[use.machine, use.night] += 1
    full = set(taken)
    for machine, key in sorted(carried, key=lambda one: (-wanted[one], one)):
        free = not any(
            code == machine and (at == key or nights[at].meets(nights[key])) for code, at in full
        )
        if free:
            full.add((machine, key))
    return full
