"""A plan's figures by site and contract: lines, visits and readings counted up over its futures."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from floorcare.ground.schedule.comparison.cost import VisitCosts
from floorcare.ground.schedule.comparison.parts import Part
from floorcare.ground.trade.treatment import Work
from floorcare.ground.wear.model import Flags, Floats, Whole
from floorcare.ground.work.minutes import PLAIN_MINUTES, READING_MINUTES_SITE

Unit = tuple[str, str]
"""A site and a contract on it: the least that visits are counted for."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Tally:
    """What one plan came to, arrays (U, K) over units and futures.

    minutes : person-minutes, set-up, driving and reading included; money : in the unit's currency.
    closings : site-nights on which zones were kept shut for work.
    litres, water_l : used up. kept_days : zone-days in promise.
    """

    minutes: Floats
    money: Floats
    closings: Floats
    litres: Floats
    water_l: Floats
    kept_days: Floats


class Count:
    """A plan's figures while its parts are lived one after another."""

    def __init__(self, units: Sequence[Unit], futures: int, nights: int) -> None:
        self.place = {unit: u for u, unit in enumerate(units)}
        self.sums = np.zeros((5, len(units), futures))
        self.worked = np.zeros((len(units), futures, nights), dtype=bool)
        self.read = np.zeros((len(units), nights), dtype=bool)

    def rows(self, part: Part) -> Whole:
        """The unit of each zone of a part."""
        return np.array([self.place[key] for key in part.keys], dtype=np.int64)

    def add_days(self, part: Part, kept_days: Whole) -> None:
        """kept_days : (Z, K), days in promise."""
        np.add.at(self.sums[4], self.rows(part), kept_days.astype(np.float64))

    def add_work(self, part: Part, done: Whole | Floats, works: Sequence[Work]) -> None:
        """done : (w, Z, K or 1), how often each of `works` was done."""
        index = [part.works.index(work) for work in works]
        costs = part.costs
        for at, column in enumerate((costs.minutes, costs.money, costs.litres, costs.water_l)):
            own = np.einsum("wzk,wz->zk", done.astype(np.float64), column[index])
            np.add.at(self.sums[at], self.rows(part), own)

    def add_nights(self, part: Part, nights: Flags) -> None:
        """nights : (Z, K or 1, N)."""
        np.logical_or.at(self.worked[:, :, : nights.shape[2]], self.rows(part), nights)

    def add_rounds(self, part: Part) -> None:
        """The reading rounds of measured wear: minutes of each zone now, of the site at the end."""
        rounds = part.reading_nights.sum(axis=1) * float(PLAIN_MINUTES[Work.READING_ROUND])
        minutes = np.broadcast_to(rounds[:, None], part.futures.level.shape)
        np.add.at(self.sums[0], self.rows(part), minutes)
        np.add.at(self.sums[1], self.rows(part), minutes * part.labour_minute)
        nights = nights_by_number(part, part.reading_nights)
        np.logical_or.at(self.read[:, : nights.shape[1]], self.rows(part), nights)

    def tally(self, visits: Sequence[VisitCosts]) -> Tally:
        """Visits' own costs put on top; a round on a night of work needs no drive of its own."""
        setup = np.array([v.setup_minutes for v in visits])[:, None]
        drive = np.array([v.travel_minutes for v in visits])[:, None]
        fare = np.array([v.travel_money for v in visits])[:, None]
        paid = np.array([v.labour_minute for v in visits])[:, None]
        closings = self.worked.sum(axis=2).astype(np.float64)
        only_read = (self.read[:, None, :] & ~self.worked).sum(axis=2)
        rounds = self.read.sum(axis=1)[:, None]
        minutes = closings * setup + (closings + only_read) * drive + rounds * READING_MINUTES_SITE
        money = minutes * paid + (closings + only_read) * fare
        return Tally(
            minutes=self.sums[0] + minutes,
            money=self.sums[1] + money,
            closings=closings,
            litres=self.sums[2],
            water_l=self.sums[3],
            kept_days=self.sums[4],
        )


def nights_by_number(part: Part, nights: Flags) -> Flags:
    """(Z, N): (Z, D) days turned into the numbers of their site's opportunities."""
    number = part.number
    found = np.zeros((nights.shape[0], int(number.max(initial=-1)) + 1), dtype=bool)
    zone, day = np.nonzero(nights)
    found[zone, number[zone, day]] = True
    return found
