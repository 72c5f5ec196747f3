"""What a comparison says: figures with their spread, by site and contract, and who wins where."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from floorcare.ground.schedule.comparison.compare import Comparison, Way
from floorcare.ground.schedule.comparison.tally import Tally, Unit
from floorcare.ground.wear.model import Floats

QUANTILES = (0.1, 0.5, 0.9)
SAME_COST = 0.02
"""Costs this near to one another, as a share, are the same. Assumption."""
SAME_DAYS = 0.01
"""Shares of days in promise this near are the same. Assumption."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """A figure over the futures: a tenth lies below p10, half below p50, a tenth above p90."""

    p10: float
    p50: float
    p90: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CostSpread:
    """Money of one currency (ISO 4217) over the futures."""

    currency: str
    amount: Spread


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanFigures:
    """What one plan comes to over the whole span.

    cost : one entry a currency. hours : person-hours, driving and readings included.
    closings : site-nights. product_l, water_l : used up. share : of zone-days in promise, 0..1.
    """

    way: Way
    cost: tuple[CostSpread, ...]
    hours: Spread
    closings: Spread
    product_l: Spread
    water_l: Spread
    share: Spread


class Verdict(StrEnum):
    """Who wins, cost and look taken together."""

    WEAR = "measured wear wins"
    CALENDAR = "the calendar wins"
    NEITHER = "no difference"
    MORE_FOR_MORE = "measured wear costs more and keeps more"
    LESS_FOR_LESS = "measured wear costs less and keeps less"


@dataclass(frozen=True, slots=True, kw_only=True)
class Versus:
    """Measured wear against one calendar, future by future.

    cost_more : what measured wear costs more; None where there are several currencies.
    share_more : of zone-days it keeps more.
    cheaper_in : share of the futures in which it costs less; None with several currencies.
    """

    against: Way
    cost_more: Spread | None
    share_more: Spread
    cheaper_in: float | None
    verdict: Verdict | None


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupCompared:
    """Zones compared together.

    kind : "all", "currency", "contract" or "site"; name : its code, "" for all.
    """

    kind: str
    name: str
    zones: int
    plans: tuple[PlanFigures, ...]
    versus: tuple[Versus, ...]

    def plan(self, way: Way) -> PlanFigures:
        """The figures of one plan."""
        return next(plan for plan in self.plans if plan.way is way)

    def against(self, way: Way) -> Versus:
        """Measured wear against one calendar."""
        return next(one for one in self.versus if one.against is way)


@dataclass(frozen=True, slots=True, kw_only=True)
class PromisedRhythms:
    """What the rhythms that were sold cost measured wear beyond what wear itself asks for.

    cost_more : one entry a currency, below 0 where they save. share_more : of zone-days kept more.
    """

    cost_more: tuple[CostSpread, ...]
    share_more: Spread


def promised_rhythms(found: Comparison, currency: Mapping[Unit, str]) -> PromisedRhythms | None:
    """Measured wear with the promised rhythms against measured wear alone; None where none is."""
    if found.unpromised is None:
        return None
    more = found.plans[Way.WEAR].money - found.unpromised.money
    kept = found.plans[Way.WEAR].kept_days - found.unpromised.kept_days
    money = [currency[unit] for unit in found.units]
    changed = np.flatnonzero((more != 0).any(axis=1)).tolist()
    return PromisedRhythms(
        cost_more=tuple(
            CostSpread(
                currency=code,
                amount=spread_of(more[[u for u in changed if money[u] == code]].sum(axis=0)),
            )
            for code in sorted({money[u] for u in changed})
        ),
        share_more=spread_of(kept.sum(axis=0) / max(float(found.zone_days.sum()), 1.0)),
    )


def account_of(found: Comparison, currency: Mapping[Unit, str]) -> tuple[GroupCompared, ...]:
    """Every group of a comparison: all of it, each currency where there are several, contracts,
    sites.

    Parameters
    ----------
    currency : of each unit, ISO 4217.
    """
    money = [currency[unit] for unit in found.units]
    groups = [_group(found, money, "all", "", lambda _u: True)]
    if len(set(money)) > 1:
        groups += _each(found, money, "currency", money)
    groups += _each(found, money, "contract", [contract for _, contract in found.units])
    groups += _each(found, money, "site", [site for site, _ in found.units])
    return tuple(groups)


def _each(
    found: Comparison, money: Sequence[str], kind: str, names: Sequence[str]
) -> Iterator[GroupCompared]:
    for name in sorted(set(names)):
        yield _group(found, money, kind, name, lambda u, name=name: names[u] == name)  # type: ignore[misc]


def _group(
    found: Comparison,
    money: Sequence[str],
    kind: str,
    name: str,
    belongs: Callable[[int], bool],
) -> GroupCompared:
    rows = [u for u in range(len(found.units)) if belongs(u)]
    days = float(found.zone_days[rows].sum())
    figures = tuple(_figures(way, found.plans[way], rows, money, days) for way in Way)
    single = len({money[u] for u in rows}) == 1
    return GroupCompared(
        kind=kind,
        name=name,
        zones=int(found.zones[rows].sum()),
        plans=figures,
        versus=tuple(
            _versus(found, way, rows, days, single) for way in (Way.AGREED, Way.HINDSIGHT)
        ),
    )


def spread_of(figures: Floats) -> Spread:
    """The spread of a figure over its futures (K,); Hazen's positions between them."""
    low, middle, high = np.quantile(figures, QUANTILES, method="hazen").tolist()
    return Spread(p10=low, p50=middle, p90=high)


def _figures(
    way: Way, tally: Tally, rows: Sequence[int], money: Sequence[str], days: float
) -> PlanFigures:
    def summed(column: Floats) -> Floats:
        total: Floats = column[list(rows)].sum(axis=0)
        return total

    return PlanFigures(
        way=way,
        cost=tuple(
            CostSpread(
                currency=code,
                amount=spread_of(tally.money[[u for u in rows if money[u] == code]].sum(axis=0)),
            )
            for code in sorted({money[u] for u in rows})
        ),
        hours=spread_of(summed(tally.minutes) / 60.0),
        closings=spread_of(summed(tally.closings)),
        product_l=spread_of(summed(tally.litres)),
        water_l=spread_of(summed(tally.water_l)),
        share=spread_of(summed(tally.kept_days) / max(days, 1.0)),
    )


def _versus(found: Comparison, way: Way, rows: Sequence[int], days: float, single: bool) -> Versus:
    index = list(rows)
    wear, calendar = found.plans[Way.WEAR], found.plans[way]
    share = (wear.kept_days[index] - calendar.kept_days[index]).sum(axis=0) / max(days, 1.0)
    if not single:
        return Versus(
            against=way, cost_more=None, share_more=spread_of(share), cheaper_in=None, verdict=None
        )
    more = (wear.money[index] - calendar.money[index]).sum(axis=0)
    base = float(np.median(calendar.money[index].sum(axis=0)))
    cost_more, share_more = spread_of(more), spread_of(share)
    return Versus(
        against=way,
        cost_more=cost_more,
        share_more=share_more,
        cheaper_in=float((more < 0).mean()),
        verdict=verdict_of(cost_more.p50, base, share_more.p50),
    )


def verdict_of(cost_more: float, calendar_cost: float, share_more: float) -> Verdict:
    """Who wins, from what measured wear costs and keeps more than the calendar.

    >>> verdict_of(-500.0, 4000.0, 0.0)
    <Verdict.WEAR: 'measured wear wins'>
    >>> verdict_of(500.0, 4000.0, 0.0)
    <Verdict.CALENDAR: 'the calendar wins'>
    """
    band = SAME_COST * abs(calendar_cost)
    dearer, cheaper = cost_more > band, cost_more < -band
    better, worse = share_more > SAME_DAYS, share_more < -SAME_DAYS
    if dearer and better:
        return Verdict.MORE_FOR_MORE
    if cheaper and worse:
        return Verdict.LESS_FOR_LESS
    if cheaper or better:
        return Verdict.WEAR
    return Verdict.CALENDAR if dearer or worse else Verdict.NEITHER
