"""Many futures lived under measured wear: read each quarter, decided each week by the ladder.

The loop is closed. What is decided stands on sampled floors that know the readings taken so far,
never on the true floor; the ladder, its escape, caps, coat limits and minimum ages are the rules'
own. The belief runs one opportunity ahead of the floor: it is carried to the next opportunity, and
where too few of its floors would have kept the promise, a rung is laid tonight and it is carried
again.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np

from floorcare.ground.rules.cheapest import choose_cheapest, cycle_cost
from floorcare.ground.rules.floor import Floor
from floorcare.ground.rules.ladder import (
    LIFE_LOOK_DAYS,
    choose_rung,
    least_worthwhile_days,
    repolish_life,
    top_rung,
)
from floorcare.ground.rules.limits import TAKES_FILM_OFF
from floorcare.ground.rules.walk import NEVER, WalkTerms
from floorcare.ground.schedule.comparison.belief import Belief, carried, corrected
from floorcare.ground.schedule.comparison.futures import Futures, Lives, reading_errors
from floorcare.ground.trade.treatment import Work
from floorcare.ground.wear.model import Flags, Floats, Whole

DAYS_WITHOUT_NEXT = 7
"""Looked so far ahead where no opportunity follows, as the walk does."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LivedByWear:
    """What Z zones came to in K futures under measured wear.

    done : (R, Z, K), how often each rung was taken.
    nights : (Z, K, N), on which opportunities of its site a zone was worked.
    kept_days : (Z, K), days in promise.
    """

    done: Whole
    nights: Flags
    kept_days: Whole


class _Policy:
    """The memory of one closed loop; its rows go zone by zone, future by future."""

    def __init__(self, belief: Belief, terms: WalkTerms, futures: int) -> None:
        self.course, self.terms, self.futures = belief.course, terms, futures
        zones = terms.confidence.size
        # a copy, since it is written in place
        self.floor = belief.floor.rows(np.arange(belief.floor.zone.size))
        self.zone = belief.floor.zone
        self.works = [rung.work for rung in terms.rungs]
        self.top = top_rung(terms.rungs)
        self.top_gap_days = least_worthwhile_days(terms.rungs)
        one_each = belief.floor.rows(np.arange(zones) * futures)
        self.life = repolish_life(one_each, belief.course, terms.rungs[self.top])
        self.cheapest, self.cycle = self._cycles(one_each)
        self.coats, self.forced = terms.coats[self.zone], terms.forced[self.zone]
        self.cap_day = terms.cap_day[self.zone]
        self.last_top_day = np.full(self.zone.size, -NEVER)
        self.following = following_opportunity(terms.opportunity)

    def begin(self) -> None:
        """Carry the belief from today to each zone's first opportunity."""
        first = np.where(
            self.terms.opportunity.any(axis=1), self.terms.opportunity.argmax(axis=1), -1
        )
        begun, _ = carried(self.floor, self.course, -1, first[self.zone])
        self._put(np.arange(self.zone.size), begun)

    def rows_of(self, zones: Whole) -> Whole:
        """The rows of some zones' futures."""
        rows: Whole = (zones[:, None] * self.futures + np.arange(self.futures)).reshape(-1)
        return rows

    def read(self, rows: Whole, day: int, reading_ln: Floats, error_sd: float) -> None:
        """Take in a reading of some floors."""
        known = corrected(self.floor.rows(rows), self.course, day, reading_ln, error_sd)
        self._put(rows, known)

    def note(self, rows: Whole, rung: int, day: int) -> None:
        """Count coats, and restart the caps of the rung and of every milder one."""
        if self.works[rung] is Work.RECOAT:
            self.coats[rows] += 1
        elif self.works[rung] in TAKES_FILM_OFF:
            self.coats[rows] = 0
        harder = np.minimum(day + self.terms.cap_days[: rung + 1], NEVER)
        self.cap_day[rows, : rung + 1] = harder

    def note_laid(self, day: int) -> None:
        """Rungs that happen whatever is decided count towards coats and caps too."""
        for work, _, mask in self.course.treatments:
            if work is Work.STRIP and work not in self.works:
                # no rung of this ladder, yet coats are counted from none after it
                self.coats[self.rows_of(np.flatnonzero(mask[:, day]))] = 0
            if work in self.works and work is not Work.BURNISH and mask[:, day].any():
                rows = self.rows_of(np.flatnonzero(mask[:, day]))
                self.note(rows, self.works.index(work), day)

    def decide(self, zones: Whole, day: int) -> Whole:
        """The rung each future of some zones gets tonight, (n × K,), -1 for none."""
        rows = self.rows_of(zones)
        until = self.following[self.zone[rows], day]
        tonight = self.floor.rows(rows)
        ahead, share = carried(tonight, self.course, day, until)
        wanted = self.terms.confidence[self.zone[rows]] - 1e-9
        rung = self._without_look(rows, day, until, share < wanted)
        asking = np.flatnonzero((rung < 0) & (share < wanted))
        if asking.size:
            rung[asking] = self._climb(tonight.rows(asking), rows[asking], day, until[asking])
        self._put(rows, ahead)
        for r in np.unique(rung[rung >= 0]).tolist():
            mine = np.flatnonzero(rung == r)
            treated = tonight.rows(mine).treated(self.terms.rungs[r].effect)
            self._put(rows[mine], carried(treated, self.course, day, until[mine])[0])
            self.note(rows[mine], r, day)
            if r == self.top:
                self.last_top_day[rows[mine]] = day
        return rung

    def _without_look(self, rows: Whole, day: int, until: Whole, failing: Flags) -> Whole:
        """Rungs that evidence asks for at the first opportunity, or a cap before the next."""
        allowed = self._allowed(rows, day)
        rung = np.full(rows.size, -1)
        capped = allowed & (self.cap_day[rows] < until[:, None]) & ~failing[:, None]
        highest = capped.shape[1] - 1 - np.argmax(capped[:, ::-1], axis=1)
        rung = np.where(capped.any(axis=1), highest, rung)
        forced = self.forced[rows]
        first = self.terms.allowed_from[self.zone[rows], np.maximum(forced, 0)]
        now = (forced >= 0) & (first <= day)
        self.forced[rows[now]] = -1
        return np.where(now, forced, rung)

    def _cycles(self, floor: Floor) -> tuple[Flags, Floats]:
        """(Z,) zones of the policy cheapest, and what a day of theirs costs at best."""
        cheapest, cost = self.terms.cheapest, self.terms.cost
        cycle = np.full(floor.zone.size, np.nan)
        if cheapest is None or cost is None or not cheapest.any():
            return np.zeros(floor.zone.size, dtype=bool), cycle
        mine = np.flatnonzero(cheapest)
        usable = self.terms.allowed_from[mine] < self.course.days + LIFE_LOOK_DAYS
        cycle[mine] = cycle_cost(
            floor.rows(mine), self.course, self.terms.rungs, cost[mine], usable
        )
        return cheapest, cycle

    def _climb(self, floor: Floor, rows: Whole, day: int, until: Whole) -> Whole:
        """The rung of each zone's policy, (n,)."""
        rung, cheap = np.full(rows.size, -1), self.cheapest[self.zone[rows]]
        for places, cheapest in ((np.flatnonzero(~cheap), False), (np.flatnonzero(cheap), True)):
            if places.size == 0:
                continue
            mine, zone = rows[places], self.zone[rows[places]]
            asked: dict[str, Any] = {
                "rungs": self.terms.rungs,
                "allowed": self._allowed(mine, day),
                "confidence": self.terms.confidence[zone],
                "until_next": (until[places] - day).astype(np.float64),
                "life": self.life[zone],
                "last_resort": day - self.last_top_day[mine] >= self.top_gap_days,
            }
            own = floor.rows(places)
            if cheapest and self.terms.cost is not None:
                asked |= {"cost": self.terms.cost[zone], "cycle": self.cycle[zone]}
                rung[places] = choose_cheapest(own, self.course, day, **asked).rung
            else:
                asked |= {"escape_share": self.terms.escape_share}
                rung[places] = choose_rung(own, self.course, day, **asked).rung
        return rung

    def _allowed(self, rows: Whole, day: int) -> Flags:
        return self.terms.allowed(self.zone[rows], self.coats[rows], day)

    def _put(self, rows: Whole, part: Floor) -> None:
        self.floor.put(rows, part)
        self.floor.level[rows] = part.level
        for name in ("haze", "film", "scratch"):
            getattr(self.floor.rates, name)[rows] = getattr(part.rates, name)


def following_opportunity(opportunity: Flags) -> Whole:
    """(Z, D): the first opportunity after each day, a week on where there is none."""
    days = opportunity.shape[1]
    at = np.where(opportunity, np.arange(days), NEVER)
    later = np.minimum.accumulate(at[:, ::-1], axis=1)[:, ::-1]
    found = np.full(opportunity.shape, NEVER)
    found[:, :-1] = later[:, 1:]
    return np.where(found == NEVER, np.arange(days) + DAYS_WITHOUT_NEXT, found)


def live_by_wear(
    futures: Futures,
    belief: Belief,
    terms: WalkTerms,
    reading_nights: Flags,
    reading_sd: float,
) -> LivedByWear:
    """Live every future under measured wear.

    Parameters
    ----------
    futures, belief, terms : the same zones in the same order; what is promised as a rhythm is laid
        on both courses already.
    reading_nights : (Z, D), opportunities on which a zone is read before the night's work.
    reading_sd : error of a reading, ln gloss.
    """
    zones, count = futures.level.shape
    days = futures.course.days
    opportunity = terms.opportunity[:, :days]
    number = np.cumsum(opportunity, axis=1) - 1
    lives, policy = Lives(futures), _Policy(belief, terms, count)
    policy.begin()
    done = np.zeros((len(terms.rungs), zones, count), dtype=np.int64)
    nights = np.zeros((zones, count, int(number.max(initial=-1)) + 1), dtype=bool)
    rounds = np.cumsum(reading_nights, axis=1, dtype=np.int64)
    for day in range(days):
        lives.live(day)
        policy.note_laid(day)
        at = np.flatnonzero(opportunity[:, day])
        if at.size == 0:
            continue
        read = at[reading_nights[at, day]]
        if read.size:
            told = _read(futures, lives, day, rounds[:, day], reading_sd)
            policy.read(policy.rows_of(read), day, told[read].reshape(-1), reading_sd)
        rung = np.full((zones, count), -1)
        rung[at] = policy.decide(at, day).reshape(at.size, count)
        for r in np.unique(rung[rung >= 0]).tolist():
            done[r] += rung == r
            lives.treat(terms.rungs[r].effect, rung == r)
        nights[at, :, number[at, day]] = rung[at] >= 0
    return LivedByWear(done=done, nights=nights, kept_days=lives.kept_days)


def _read(futures: Futures, lives: Lives, day: int, rounds: Whole, sd: float) -> Floats:
    """(Z, K) what is read tonight; every round of a zone has errors of its own."""
    told = lives.ln_seen(day)
    for number in np.unique(rounds).tolist():
        mine = rounds == number
        told[mine] += reading_errors(futures, number, sd)[mine]
    return told
