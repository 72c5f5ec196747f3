"""The best policy there is on floors that follow the law: an average-cost dynamic programme.

A class of traffic wears at one pace, so a grid of (haze, film, scratch) holds all a decision needs.
Each week costs what is laid, and a price for a broken promise; the price is swept to find the least
cost at any look. Relative value iteration gives the average cost with a bracket.
"""

from dataclasses import dataclass

import numpy as np

from tests.scale.departing import FOOTFALL
from tests.scale.policy_floors import (
    AGEING,
    FILM_GLOSS,
    FINE,
    FINE_HAZE,
    FINE_KEPT,
    FINISH,
    HAZE_LOSS,
    LOSS,
    PLAIN,
    RATES,
    RECOAT,
    REPOLISH,
    SEEN,
    SHARED,
    Floats,
    Night,
    TrueFloors,
    Whole,
)

SAMPLES = 400
"""Weeks of haze sampled from each haze of the grid."""
MOST_FILM_WEAR, MOST_SCRATCH = 4.0, 0.75
SPAN, SWEEPS = 2e-4, 6000
"""Value iteration ends where the bracket is so narrow, relative to the cost."""

Size = tuple[int, int, int]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Grid:
    """A class's grid and what a week without work does on it.

    moves : (H, H) chances of the next week's haze; breaks : (H, W, O) chance of a broken promise.
    next_wear : (W,), next_scratch : (W, O).
    """

    haze: Floats
    wear: Floats
    scratch: Floats
    moves: Floats
    breaks: Floats
    next_wear: Floats
    next_scratch: Floats


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Programme:
    """A solved programme: `worth` (H, W, O) of beginning a week there, `value` of deciding there.

    low, high : bracket of the average cost a week, price of breaks in it.
    """

    grid: Grid
    cost: Floats
    price: float
    worth: Floats
    value: Floats
    low: float
    high: float


def a_grid(traffic: int, size: Size, seed: int) -> Grid:
    """The grid of a class of traffic."""
    haze_n, wear_n, scratch_n = size
    haze = np.linspace(0.0, 1.0, haze_n) ** 1.7
    wear = np.linspace(0.0, MOST_FILM_WEAR, wear_n)
    scratch = 0.03 + (MOST_SCRATCH - 0.03) * np.linspace(0.0, 1.0, scratch_n)
    x = FOOTFALL[traffic] / 1000.0 + AGEING
    seen, end = _haze_weeks(haze, x, seed)
    moves = np.zeros((haze_n, haze_n))
    low, part = _place(haze, end)
    for row in range(haze_n):
        np.add.at(moves[row], low[row], (1.0 - part[row]) / SAMPLES)
        np.add.at(moves[row], low[row] + 1, part[row] / SAMPLES)
    breaks = np.zeros((haze_n, wear_n, scratch_n))
    limit = np.log(1.0 - LOSS[traffic]) + np.log(FINISH + (1 - FINISH) * np.exp(-0.03))
    broken = np.zeros((haze_n, SAMPLES, wear_n, scratch_n), dtype=bool)
    for day in range(1, 8):
        later_wear, later_scratch = _worn(wear, scratch, x * day)
        ln = np.log(FINISH + (1 - FINISH) * np.exp(-later_scratch))
        ln += FILM_GLOSS * (np.exp(-later_wear)[:, None] - 1.0)
        broken |= seen[:, :, day - 1, None, None] < (limit - ln)[None, None]
    breaks[:] = broken.mean(axis=1)
    next_wear, next_scratch = _worn(wear, scratch, 7 * x)
    return Grid(
        haze=haze,
        wear=wear,
        scratch=scratch,
        moves=moves,
        breaks=breaks,
        next_wear=next_wear,
        next_scratch=next_scratch,
    )


def _haze_weeks(haze: Floats, x: float, seed: int) -> tuple[Floats, Floats]:
    """(H, N, 7) what the haze takes of ln gloss each day, and (H, N) the haze after the week."""
    random = np.random.Generator(np.random.PCG64(seed))
    now = np.repeat(haze[:, None], SAMPLES, axis=1)
    seen = np.empty((haze.size, SAMPLES, 7))
    shape = PLAIN.gamma_cv**-2
    for day in range(7):
        gamma = random.gamma(shape, 1.0 / shape, SAMPLES)
        hit = random.random(SAMPLES) < PLAIN.spills_a_day
        spilt = np.where(hit, PLAIN.spill_haze * random.random(SAMPLES), 0.0)
        kept = np.clip(SEEN + PLAIN.burnish_sd * random.standard_normal(SAMPLES), 0.05, 0.9)
        now = 1.0 - (1.0 - now) * np.exp(-RATES[0] * x * gamma)
        now = now + spilt * (1.0 - now)
        seen[:, :, day] = np.log1p(-HAZE_LOSS * SEEN * now)
        now = now * kept
    return seen, now


def _worn(wear: Floats, scratch: Floats, exposure: float) -> tuple[Floats, Floats]:
    """Film wear (W,) and scratch (W, O) after an exposure."""
    later = wear + RATES[1] * exposure
    spared = SHARED * RATES[2] / RATES[1] * (np.exp(-wear) - np.exp(-later))
    gained = RATES[2] * exposure - spared
    return (
        np.minimum(later, wear[-1]),
        np.minimum(scratch[None, :] + gained[:, None], scratch[-1]),
    )


def _place(axis: Floats, at: Floats) -> tuple[Whole, Floats]:
    low = np.clip(np.searchsorted(axis, at, side="right") - 1, 0, axis.size - 2)
    return low, np.clip((at - axis[low]) / (axis[low + 1] - axis[low]), 0.0, 1.0)


class _Between:
    """Linear between the grid's points of film wear and scratch, for all hazes at once."""

    def __init__(self, grid: Grid, wear: Floats, scratch: Floats) -> None:
        self.w, self.a = _place(grid.wear, wear)
        self.o, self.b = _place(grid.scratch, scratch)

    def of(self, table: Floats) -> Floats:
        """(H, …) values of a table (H, W, O)."""
        w, o, a, b = self.w, self.o, self.a, self.b
        low = table[:, w, o] * (1 - b) + table[:, w, o + 1] * b
        high = table[:, w + 1, o] * (1 - b) + table[:, w + 1, o + 1] * b
        found: Floats = low * (1 - a) + high * a
        return found


def solved(grid: Grid, cost: Floats, price: float, start: Floats | None = None) -> Programme:
    """The programme at a price of a broken week; `cost` (3,), inf where a rung is not offered."""
    wear, scratch = np.meshgrid(grid.wear, grid.scratch, indexing="ij")
    stays = _Between(grid, np.broadcast_to(grid.next_wear[:, None], wear.shape), grid.next_scratch)
    finely = _Between(grid, wear - np.log(FINE_KEPT), FINE_KEPT * scratch)
    low, part = _place(grid.haze, FINE_HAZE * grid.haze)
    coated = _Between(grid, np.zeros_like(grid.scratch), grid.scratch)
    worth = np.zeros(grid.breaks.shape) if start is None else start
    value = worth.copy()
    down = up = 0.0
    for _ in range(SWEEPS):
        worth = price * grid.breaks + np.tensordot(grid.moves, stays.of(value), 1)
        best = worth
        if np.isfinite(cost[FINE]):
            fine = finely.of(worth)
            laid = fine[low] * (1 - part)[:, None, None] + fine[low + 1] * part[:, None, None]
            best = np.minimum(best, cost[FINE] + laid)
        best = np.minimum(best, cost[RECOAT] + coated.of(worth[:1])[0][None, None, :])
        best = np.minimum(best, cost[REPOLISH] + worth[0, 0, 0])
        change = best - value
        down, up = float(change.min()), float(change.max())
        value = best - best[0, 0, 0]
        if up - down <= SPAN * max(abs(up), 1e-9):
            break
    return Programme(grid=grid, cost=cost, price=price, worth=worth, value=value, low=down, high=up)


def _at(grid: Grid, table: Floats, haze: Floats, wear: Floats, scratch: Floats) -> Floats:
    """A table's value at each floor."""
    low, part = _place(grid.haze, haze)
    w, a = _place(grid.wear, np.minimum(wear, grid.wear[-1]))
    o, b = _place(grid.scratch, np.minimum(scratch, grid.scratch[-1]))
    found = np.zeros_like(haze)
    for h, of_haze in ((low, 1 - part), (low + 1, part)):
        thin = table[h, w, o] * (1 - b) + table[h, w, o + 1] * b
        thick = table[h, w + 1, o] * (1 - b) + table[h, w + 1, o + 1] * b
        found += of_haze * (thin * (1 - a) + thick * a)
    return found


def programmed(of_class: list[Programme], night: Night) -> Whole:
    """What the programme of each floor's class lays tonight."""
    rung = np.full(night.life.zones, -1)
    for traffic, programme in enumerate(of_class):
        mine = night.life.traffic == traffic
        haze, wear, scratch = _seen(night.floors, mine)
        nothing = np.zeros_like(haze)
        after = (
            (FINE_HAZE * haze, wear - np.log(FINE_KEPT), FINE_KEPT * scratch),
            (nothing, nothing, scratch),
            (nothing, nothing, nothing + 0.03),
        )
        worth = [_at(programme.grid, programme.worth, haze, wear, scratch)]
        for cost, state in zip(programme.cost, after, strict=True):
            worth.append(cost + _at(programme.grid, programme.worth, *state))
        rung[mine] = np.argmin(worth, axis=0) - 1
    return rung


def left_behind(programme: Programme, floors: TrueFloors, mine: Whole) -> Floats:
    """What the floors' state will cost beyond the average: compares ends that differ."""
    return _at(programme.grid, programme.value, *_seen(floors, mine))


def _seen(floors: TrueFloors, mine: Whole) -> tuple[Floats, Floats, Floats]:
    return floors.haze[mine], floors.film_wear[mine], floors.scratch[mine]
