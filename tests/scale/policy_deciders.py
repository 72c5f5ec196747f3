"""Those who decide once a week what is laid: a calendar, and the two policies of `ground.rules`.

The policies are the program's own: `choose_rung`, `choose_cheapest` and `cycle_cost` on floors
sampled from `estimate`, or on the true floor where the state is known.
"""

from dataclasses import dataclass, field, replace
from typing import Self

import numpy as np

from floorcare.ground.rules.cheapest import choose_cheapest, cycle_cost
from floorcare.ground.rules.floor import Course, Floor, keeps_promise, routinely_treated, worn
from floorcare.ground.rules.ladder import (
    choose_rung,
    least_worthwhile_days,
    repolish_life,
    top_rung,
)
from floorcare.ground.rules.wear_dues import wear_rungs
from floorcare.ground.trade.promise import Policy
from floorcare.ground.trade.surface import Effect, WearLaw
from floorcare.ground.trade.treatment import Work
from floorcare.ground.wear.columns import OpeningCode, WearColumns
from floorcare.ground.wear.draws import draw, walk_noise
from floorcare.ground.wear.estimate import estimate
from floorcare.ground.wear.learn import learn
from floorcare.ground.wear.model import FloorState, Rates
from floorcare.ground.wear.pooled import Pooled, class_places
from tests.builders import polished
from tests.scale.policy_floors import (
    FINE,
    NOTHING,
    RECOAT,
    REPOLISH,
    Floats,
    Night,
    Whole,
)

SURFACE = polished()
RUNGS = wear_rungs(SURFACE)
WORKS = [rung.work for rung in RUNGS]
LAID = {FINE: Work.FINE_BURNISH, RECOAT: Work.RECOAT, REPOLISH: Work.REPOLISH}
PLACE = np.array([WORKS.index(LAID[rung]) for rung in (FINE, RECOAT, REPOLISH)])
DRAWS = 64
FIT_DAYS = 28
"""Readings are taken into account so often."""
YEAR = 364


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Calendar:
    """Coats and re-polishes by the calendar, classes of traffic apart.

    repolish_days : (4,), between re-polishes; coats : (4,), spread evenly between two of them.
    """

    repolish_days: Floats
    coats: Whole

    def scaled(self, scale: Floats) -> Self:
        """The same calendar, (4,) times as slow."""
        return replace(self, repolish_days=self.repolish_days * scale)

    def with_coats(self, more: int) -> Self:
        """The same calendar with so many more coats between two re-polishes."""
        return replace(self, coats=np.maximum(self.coats + more, 0))

    def __call__(self, night: Night) -> Whole:
        """What is due tonight; floors of a class are spread over its cycle."""
        traffic = night.life.traffic
        apart = self.repolish_days[traffic] / (1 + self.coats[traffic])
        zone = np.arange(traffic.size)
        phase = (zone * 0.6180339887) % 1.0 * (1 + self.coats[traffic])
        last, now = (np.floor((night.day - back) / apart + phase) for back in (7, 0))
        turn = now % (1 + self.coats[traffic])
        return np.where(now > last, np.where(turn == 0, REPOLISH, RECOAT), NOTHING)


@dataclass(slots=True, kw_only=True)
class ByWear:
    """A policy by wear, asked once a week.

    offered : rungs it may lay. cost : (3,) of them. known : it sees the true floor and its rates.
    """

    policy: Policy
    confidence: float
    offered: tuple[int, ...]
    cost: Floats
    known: bool
    floor: Floor | None = None
    course: Course | None = None
    ahead: int = 0
    pooled: Pooled | None = None
    cycle: Floats = field(default_factory=lambda: np.zeros(0))
    life: Floats = field(default_factory=lambda: np.zeros(0))
    top_laid: Whole = field(default_factory=lambda: np.zeros(0, dtype=np.int64))

    def __call__(self, night: Night) -> Whole:
        """What is laid tonight."""
        zones = night.life.zones
        if self.floor is None:
            self.top_laid = np.full(zones, -10_000)
        if self.known:
            if self.course is None:
                self.course = _course(night, SURFACE.law, DRAWS)
            self.floor, self.ahead = _true_floor(night), 0
        elif self.course is None or night.day % FIT_DAYS == 0:
            self._look(night)
        assert self.floor is not None
        assert self.course is not None
        due = np.flatnonzero(_kept(self.floor, self.course, self.ahead) < self.confidence - 1e-9)
        rung = np.full(zones, NOTHING)
        if due.size:
            rung[due] = self._choose(due, night.day)
        if not self.known:
            self._carry(rung)
        return rung

    def _look(self, night: Night) -> None:
        """Estimate every floor anew from all that was read."""
        columns = _columns(night)
        traffic = class_places(night.life.traffic, night.life.counted)
        if self.pooled is None:
            self.pooled = learn(columns, SURFACE.law, traffic)
        law = self.pooled.law(SURFACE.law)
        fit = estimate(columns, law, self.pooled.prior(traffic))
        found = draw(fit, DRAWS, band_scale=self.pooled.band_scale[traffic])
        self.course = _course(night, law, DRAWS)
        self.floor = Floor(
            zone=np.arange(night.life.zones),
            state=found.state,
            rates=found.rates,
            level=found.level,
            shock=found.shock,
        )
        self.ahead = 0
        self.cycle = self.life = np.zeros(0)

    def _carry(self, rung: Whole) -> None:
        """Lay what was decided, and live through the week as it is expected."""
        assert self.floor is not None
        assert self.course is not None
        for which in self.offered:
            where = rung == which
            if where.any():
                self.floor = self.floor.treated(RUNGS[PLACE[which]].effect, where)
        for day in range(self.ahead, self.ahead + 7):
            self.floor = routinely_treated(worn(self.floor, self.course, day), self.course, day)
        self.ahead += 7

    def _choose(self, due: Whole, day: int) -> Whole:
        """The rungs of the floors that are due."""
        assert self.floor is not None
        assert self.course is not None
        self._reckon()
        count = due.size
        allowed = np.zeros((count, len(RUNGS)), dtype=bool)
        allowed[:, PLACE[list(self.offered)]] = True
        cost = np.full((count, len(RUNGS)), np.inf)
        cost[:, PLACE] = self.cost
        floor, before = self.floor.rows(due), self.ahead - 1
        resort = day - self.top_laid[due] >= least_worthwhile_days(RUNGS)
        bridge = np.full(count, 7.0)
        confidence = np.full(count, self.confidence)
        if self.policy is Policy.CHEAPEST:
            taken = choose_cheapest(
                floor, self.course, before, rungs=RUNGS, cost=cost, cycle=self.cycle[due],
                allowed=allowed, confidence=confidence, until_next=bridge, life=self.life[due],
                last_resort=resort,
            ).rung  # fmt: skip
        else:
            taken = choose_rung(
                floor, self.course, before, rungs=RUNGS, allowed=allowed, confidence=confidence,
                until_next=bridge, life=self.life[due], escape_share=SURFACE.escape_share,
                last_resort=resort,
            ).rung  # fmt: skip
        found = np.array([NOTHING if r < 0 else int(np.flatnonzero(r == PLACE)[0]) for r in taken])
        self.top_laid[due[found == REPOLISH]] = day
        return found

    def _reckon(self) -> None:
        """What a renewal lives and the best cycle costs; once a look."""
        assert self.floor is not None
        assert self.course is not None
        if self.life.size:
            return
        self.life = repolish_life(self.floor, self.course, RUNGS[top_rung(RUNGS)])
        if self.policy is Policy.CHEAPEST:
            usable = np.zeros((self.floor.zone.size, len(RUNGS)), dtype=bool)
            usable[:, PLACE[list(self.offered)]] = True
            cost = np.full(usable.shape, np.inf)
            cost[:, PLACE] = self.cost
            self.cycle = cycle_cost(self.floor, self.course, RUNGS, cost, usable)


def _kept(floor: Floor, course: Course, ahead: int) -> Floats:
    """Share of the sampled floors that keep the promise until the next night of decision."""
    alive = np.ones(floor.level.shape, dtype=bool)
    for day in range(ahead, ahead + 7):
        floor = worn(floor, course, day)
        alive &= keeps_promise(floor, course, day)
        floor = routinely_treated(floor, course, day)
    share: Floats = alive.mean(axis=1)
    return share


def _course(night: Night, law: WearLaw, draws: int) -> Course:
    """What is expected of the year to come: the last year's mean traffic, a burnish a night."""
    zones = night.life.zones
    drift, shocks = walk_noise(draws, YEAR, law)
    mean = night.life.told[:, max(0, night.day - YEAR) : night.day].mean(axis=1)
    burnish = SURFACE.methods[Work.BURNISH].effect
    return Course(
        law=law,
        thousand_passes=np.repeat(mean[:, None], YEAR, axis=1),
        treatments=((Work.BURNISH, burnish, np.ones((zones, YEAR), dtype=bool)),),
        drift=drift,
        shocks=shocks,
        promise_ln=night.life.promise_ln,
        seen_haze_kept=np.full(zones, burnish.haze_kept),
    )


def _true_floor(night: Night) -> Floor:
    life, floors = night.life, night.floors

    def wide(column: Floats) -> Floats:
        return np.repeat(column[:, None], DRAWS, axis=1)

    return Floor(
        zone=np.arange(life.zones),
        state=FloorState(
            haze=wide(floors.haze),
            film=wide(np.exp(-floors.film_wear)),
            scratch=wide(floors.scratch),
        ),
        rates=Rates(
            **{
                part: wide(life.rates[place])
                for place, part in enumerate(("haze", "film", "scratch"))
            }
        ),
        level=wide(floors.drift),
        shock=np.zeros((life.zones, DRAWS)),
    )


def _columns(night: Night) -> WearColumns:
    """All that was recorded up to tonight."""
    zone, day = np.nonzero(np.isfinite(night.read_ln))
    life = night.life
    laid: list[tuple[Effect, np.ndarray[tuple[int, ...], np.dtype[np.bool_]]]] = [
        (SURFACE.methods[LAID[rung]].effect, night.done == rung)
        for rung in (REPOLISH, RECOAT, FINE)
    ]
    burnish = SURFACE.methods[Work.BURNISH].effect
    nightly = np.ones((life.zones, night.day), dtype=bool)
    return WearColumns(
        thousand_passes=life.told[:, : night.day],
        treatments=(*laid, (burnish, nightly)),
        reading_zone=zone,
        reading_day=day,
        reading_ln=night.read_ln[zone, day],
        reading_stations=life.stations[zone, day],
        reading_after_burnish=day > 0,
        counted=life.counted,
        opening=np.full(life.zones, OpeningCode.FRESH),
        opening_about_days=np.zeros(life.zones),
        start_day=np.zeros(life.zones, dtype=np.int64),
    )
