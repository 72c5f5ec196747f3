"""The walk of the horizon: opportunity by opportunity, what each zone needs and when.

A zone is carried forward under its routine alone. Where, at an opportunity, the promise would no
longer have been kept with the wanted confidence since the last one, the walk goes back to that
last opportunity, takes a rung there, and goes on. So the night found is the last on which the
probability of no break before it is still q: the latest night for the work.
"""

from dataclasses import dataclass

import numpy as np

from floorcare.ground.rules.cheapest import choose_cheapest, cycle_cost
from floorcare.ground.rules.floor import Course, Floor, keeps_promise, routinely_treated, worn
from floorcare.ground.rules.ladder import (
    LIFE_LOOK_DAYS,
    choose_rung,
    least_worthwhile_days,
    repolish_life,
    top_rung,
)
from floorcare.ground.rules.limits import TAKES_FILM_OFF
from floorcare.ground.trade.surface import Rung
from floorcare.ground.trade.treatment import Work
from floorcare.ground.wear.model import Flags, Floats, Whole

NEVER = 10**6
"""A day index no horizon reaches."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class WalkTerms:
    """What the walk must keep to, for Z zones and R rungs (mild to aggressive).

    opportunity : (Z, H), nights on which a decision can be acted on.
    confidence : (Z,), q.
    allowed_from : (Z, R), first day index the rung is allowed; NEVER for a guarded zone.
    cap_day : (Z, R), day index by which the calendar cap asks for the rung; NEVER without.
    cap_days : (R,), length of each cap; NEVER without.
    forced : (Z,), rung that evidence asks for at the first opportunity, -1 for none.
    coats : (Z,), protector coats laid since the film last came off.
    coat_limit : coats before it must come off.
    escape_share : see the ladder.
    cheapest : (Z,), zones whose rungs are chosen at least cost a day held; None for none.
    cost : (Z, R), what each rung costs; only read where a zone is `cheapest`.
    """

    rungs: tuple[Rung, ...]
    opportunity: Flags
    confidence: Floats
    allowed_from: Whole
    cap_day: Whole
    cap_days: Whole
    forced: Whole
    coats: Whole
    coat_limit: int
    escape_share: float
    cheapest: Flags | None = None
    cost: Floats | None = None

    def allowed(self, rows: Whole, coats: Whole, day: int) -> Flags:
        """(n, R): which rungs may be taken on some zones (n,) that have so many coats."""
        allowed = self.allowed_from[rows] <= day
        for r, rung in enumerate(self.rungs):
            if rung.work is Work.RECOAT:
                allowed[:, r] &= coats < self.coat_limit
            if rung.work is Work.FULL_RESTORATION:
                allowed[:, r] = False  # only evidence asks for it
        return allowed


@dataclass(frozen=True, slots=True, kw_only=True)
class RungTaken:
    """One rung taken on the walk.

    zone, day : row of the course and day index, 0 tomorrow.
    rung : index into the rungs.
    rule : "evidence", "cap", "promise", "escape" or "cost".
    kept_probability : of no break until the next opportunity had nothing been done; NaN for a cap.
    hold_days : what each milder rung would have held, NaN where not tried; its own at its place.
    cost_a_day : what each rung would cost a day held, where the zone's policy is cheapest; else ().
    cycle_cost_a_day : what a day costs from one renewal to the next; NaN for other policies.
    """

    zone: int
    day: int
    rung: int
    rule: str
    kept_probability: float
    hold_days: tuple[float, ...]
    cost_a_day: tuple[float, ...] = ()
    cycle_cost_a_day: float = float("nan")


@dataclass(slots=True, kw_only=True)
class _Chosen:
    """What the policies of n zones take; `rules` and `cost_a_day` as in `RungTaken`."""

    rung: Whole
    hold_days: Floats
    rules: list[str]
    cost_a_day: list[tuple[float, ...]]


class _Walk:
    """The walk's own memory; one object a walk, thrown away after it."""

    def __init__(self, floor: Floor, course: Course, terms: WalkTerms) -> None:
        self.floor, self.course, self.terms = floor, course, terms
        zones = floor.zone.size
        self.alive = np.ones(floor.level.shape, dtype=bool)
        self.snapshot = floor.rows(np.arange(zones))
        self.snapshot_day = np.full(zones, -1)
        self.coats, self.snapshot_coats = terms.coats.copy(), terms.coats.copy()
        self.cap_day, self.snapshot_cap_day = terms.cap_day.copy(), terms.cap_day.copy()
        self.forced = terms.forced.copy()
        self.last_resort_on = np.full(zones, -NEVER)
        self.steps: list[RungTaken] = []
        self.works = [rung.work for rung in terms.rungs]
        self.top = top_rung(terms.rungs)
        self.life = repolish_life(floor, course, terms.rungs[self.top])
        self.cheapest = _none_of(zones) if terms.cheapest is None else terms.cheapest
        self.cycle = np.full(zones, np.nan)
        if self.cheapest.any() and terms.cost is not None:
            mine = np.flatnonzero(self.cheapest)
            usable = terms.allowed_from[mine] < course.days + LIFE_LOOK_DAYS
            self.cycle[mine] = cycle_cost(
                floor.rows(mine), course, terms.rungs, terms.cost[mine], usable
            )
        # where even the last rung does not keep the promise, doing it every week would not either
        self.top_gap_days = least_worthwhile_days(terms.rungs)

    def advance(self, rows: Whole, day: int) -> None:
        """One day of some zones: wear, look, routine."""
        part = worn(self.floor.rows(rows), self.course, day)
        self.alive[rows] &= keeps_promise(part, self.course, day)
        self.floor.put(rows, routinely_treated(part, self.course, day))
        for work, _, mask in self.course.treatments:
            if work is Work.STRIP and work not in self.works:
                # no rung of this ladder, yet coats are counted from none after it
                self.coats[rows[mask[rows, self.course.on(day)]]] = 0
            if work in self.works and work is not Work.BURNISH:
                fixed = rows[mask[rows, self.course.on(day)]]
                if fixed.size:
                    self.note_done(fixed, self.works.index(work), day)

    def note_done(self, rows: Whole, rung: int, day: int) -> None:
        """Count coats and restart the caps of the rung and of every milder one."""
        self.alive[rows] = True
        if self.works[rung] is Work.RECOAT:
            self.coats[rows] += 1
        elif self.works[rung] in TAKES_FILM_OFF:
            self.coats[rows] = 0
        for r in range(rung + 1):
            self.cap_day[rows, r] = np.minimum(day + self.terms.cap_days[r], NEVER)

    def allowed(self, rows: Whole, day: int) -> Flags:
        """(n, R): which rungs may be taken that night."""
        return self.terms.allowed(rows, self.coats[rows], day)

    def take(self, rows: Whole, rung: int, day: int) -> None:
        """Lay a rung on some zones at the end of a day."""
        self.floor.put(rows, self.floor.rows(rows).treated(self.terms.rungs[rung].effect))
        self.note_done(rows, rung, day)

    def keep_snapshot(self, rows: Whole, day: int) -> None:
        """Remember an opportunity, to come back to if the promise breaks before the next."""
        self.snapshot.put(rows, self.floor.rows(rows))
        self.snapshot_day[rows] = day
        self.snapshot_coats[rows] = self.coats[rows]
        self.snapshot_cap_day[rows] = self.cap_day[rows]

    def choose(self, rows: Whole, day: int, next_day: int) -> "_Chosen":
        """The rung of each zone's policy at the opportunity `day`."""
        count = len(self.works)
        chosen = _Chosen(
            rung=np.full(rows.size, -1),
            hold_days=np.full((rows.size, count), np.nan),
            rules=["promise"] * rows.size,
            cost_a_day=[()] * rows.size,
        )
        for at, cheapest in ((~self.cheapest[rows], False), (self.cheapest[rows], True)):
            mine, places = rows[at], np.flatnonzero(at)
            if not mine.size:
                continue
            floor, next_in = self.snapshot.rows(mine), np.full(mine.size, float(next_day - day))
            allowed, confidence = self.allowed(mine, day), self.terms.confidence[mine]
            resort = day - self.last_resort_on[mine] >= self.top_gap_days
            if cheapest and self.terms.cost is not None:
                best = choose_cheapest(
                    floor,
                    self.course,
                    day,
                    rungs=self.terms.rungs,
                    cost=self.terms.cost[mine],
                    cycle=self.cycle[mine],
                    allowed=allowed,
                    confidence=confidence,
                    until_next=next_in,
                    life=self.life[mine],
                    last_resort=resort,
                )
                chosen.rung[at], chosen.hold_days[at] = best.rung, best.hold_days
                for place, own in zip(places, best.cost_a_day, strict=True):
                    chosen.rules[place], chosen.cost_a_day[place] = "cost", tuple(own.tolist())
                continue
            mild = choose_rung(
                floor,
                self.course,
                day,
                rungs=self.terms.rungs,
                allowed=allowed,
                confidence=confidence,
                until_next=next_in,
                life=self.life[mine],
                escape_share=self.terms.escape_share,
                last_resort=resort,
            )
            chosen.rung[at], chosen.hold_days[at] = mild.rung, mild.hold_days
            for place in places[mild.escaped]:
                chosen.rules[place] = "escape"
        return chosen

    def go_back(self, rows: Whole, day: int, next_day: int) -> None:
        """Take a rung at the opportunity `day` and walk these zones on to `next_day` again."""
        broken_share = 1.0 - self.alive[rows].mean(axis=1)
        coats_since, caps_since = self.coats[rows], self.cap_day[rows]
        self.coats[rows] = self.snapshot_coats[rows]
        self.cap_day[rows] = self.snapshot_cap_day[rows]
        choice = self.choose(rows, day, next_day)
        taken = choice.rung >= 0
        left = rows[~taken]  # nothing allowed yet: they stay as they have come to be
        self.coats[left], self.cap_day[left] = coats_since[~taken], caps_since[~taken]
        if not taken.any():
            return
        again = rows[taken]
        self.floor.put(again, self.snapshot.rows(again))
        self.alive[again] = True
        for index in np.flatnonzero(taken):
            rung = int(choice.rung[index])
            self.take(rows[index : index + 1], rung, day)
            if rung == self.top:
                self.last_resort_on[rows[index]] = day
            self.steps.append(
                RungTaken(
                    zone=int(rows[index]),
                    day=day,
                    rung=rung,
                    rule=choice.rules[index],
                    kept_probability=1.0 - float(broken_share[index]),
                    hold_days=tuple(choice.hold_days[index].tolist()),
                    cost_a_day=choice.cost_a_day[index],
                    cycle_cost_a_day=float(self.cycle[rows[index]]),
                )
            )
        for between in range(day + 1, next_day + 1):
            self.advance(again, between)

    def decide_now(self, rows: Whole, day: int, next_day: Whole) -> None:
        """Rungs that need no look back: evidence at the first opportunity, caps before the next."""
        allowed = self.allowed(rows, day)
        # a floor that already breaks its promise is the ladder's business, not the calendar's
        failing = self.alive[rows].mean(axis=1) < self.terms.confidence[rows] - 1e-9
        for place, row in enumerate(rows):
            one = rows[place : place + 1]
            forced = int(self.forced[row])
            capped = [
                r
                for r in range(len(self.works))
                if self.cap_day[row, r] < next_day[place] and allowed[place, r]
            ]
            if forced >= 0 and self.terms.allowed_from[row, forced] <= day:
                rung, rule = forced, "evidence"
            elif capped and not failing[place]:
                rung, rule = capped[-1], "cap"
            else:
                continue
            if rule == "evidence":
                self.forced[row] = -1
            self.take(one, rung, day)
            self.steps.append(
                RungTaken(
                    zone=int(row),
                    day=day,
                    rung=rung,
                    rule=rule,
                    kept_probability=float("nan"),
                    hold_days=(float("nan"),) * len(self.works),
                )
            )


def walk(floor: Floor, course: Course, terms: WalkTerms) -> tuple[RungTaken, ...]:
    """Every rung the zones need over the horizon, in order of day and zone.

    Parameters
    ----------
    floor : Z sampled floors today, rows 0..Z-1 of the course in order; left unchanged.
    course : what happens anyway.
    terms : what to keep to.

    Raises
    ------
    ValueError where the floor's rows are not the course's.

    Source: rule of the latest night, "the last opportunity at which P(no break before it) ≥ q".
    Assumption: each rung is taken on its target night; what moves is walked once more by the plan.
    """
    zones = np.arange(course.promise_ln.size)
    if not np.array_equal(floor.zone, zones):
        raise ValueError("the walk needs one floor for each zone of the course, in its order")
    memory = _Walk(floor.rows(zones), course, terms)
    following = _next_opportunity(terms.opportunity)
    for day in range(course.days):
        memory.advance(zones, day)
        at = np.flatnonzero(terms.opportunity[:, day])
        if at.size == 0:
            continue
        failed = memory.alive[at].mean(axis=1) < terms.confidence[at] - 1e-9
        failed &= memory.snapshot_day[at] >= 0
        back = at[failed]
        for before in np.unique(memory.snapshot_day[back]):
            memory.go_back(back[memory.snapshot_day[back] == before], int(before), day)
        soon = np.where(following[at, day] == NEVER, day + 7, following[at, day])
        memory.decide_now(at, day, soon)
        memory.keep_snapshot(at, day)
    return tuple(sorted(memory.steps, key=lambda s: (s.day, s.zone, s.rung)))


def _none_of(zones: int) -> Flags:
    return np.zeros(zones, dtype=bool)


def _next_opportunity(opportunity: Flags) -> Whole:
    """(Z, H): day index of the first opportunity after each day, NEVER where there is none."""
    zones, days = opportunity.shape
    following = np.full((zones, days), NEVER)
    ahead = np.full(zones, NEVER)
    for day in range(days - 1, -1, -1):
        following[:, day] = ahead
        ahead = np.where(opportunity[:, day], day, ahead)
    return following
