"""Comparisons of plans with plain figures, for the tests of what is said of one."""

from dataclasses import replace
from datetime import date

from floorcare.ground.schedule.comparison.account import (
    CostSpread,
    GroupCompared,
    PlanFigures,
    PromisedRhythms,
    Spread,
    Verdict,
    Versus,
)
from floorcare.ground.schedule.comparison.compare import Way
from floorcare.services.compare_plans import PlansCompared, ZonesApart


def spread(middle: float, apart: float = 0.0) -> Spread:
    """A figure with as much below its middle as above."""
    return Spread(p10=middle - apart, p50=middle, p90=middle + apart)


def figures(way: Way, cost: float, share: float, *, apart: float = 0.0) -> PlanFigures:
    """One plan paid in euros."""
    return PlanFigures(
        way=way,
        cost=(CostSpread(currency="EUR", amount=spread(cost, apart)),),
        hours=spread(cost / 40, apart / 40),
        closings=spread(20, 2 if apart else 0),
        product_l=spread(35.0),
        water_l=spread(120.0),
        share=spread(share, 0.02),
    )


def group(
    kind: str,
    name: str,
    costs: tuple[float, float, float],
    shares: tuple[float, float, float],
    verdicts: tuple[Verdict | None, Verdict | None],
) -> GroupCompared:
    """A group with its three plans."""
    ways = (Way.AGREED, Way.HINDSIGHT)
    return GroupCompared(
        kind=kind,
        name=name,
        zones=4,
        plans=tuple(
            figures(way, cost, share, apart=300.0 if way is Way.WEAR else 0.0)
            for way, cost, share in zip(Way, costs, shares, strict=True)
        ),
        versus=tuple(
            Versus(
                against=way,
                cost_more=spread(costs[0] - costs[at + 1], 300.0),
                share_more=spread(shares[0] - shares[at + 1], 0.02),
                cheaper_in=0.875,
                verdict=verdict,
            )
            for at, (way, verdict) in enumerate(zip(ways, verdicts, strict=True))
        ),
    )


COMPARED = PlansCompared(
    today=date(2026, 3, 2),
    last_on=date(2029, 3, 1),
    years=3,
    futures=64,
    groups=(
        group(
            "all",
            "",
            (9000, 8000, 14000),
            (0.95, 0.88, 0.95),
            (Verdict.MORE_FOR_MORE, Verdict.WEAR),
        ),
        group(
            "contract", "C-1", (6000, 7000, 9000), (0.95, 0.84, 0.95), (Verdict.WEAR, Verdict.WEAR)
        ),
        group(
            "contract",
            "C-2",
            (3000, 1000, 5000),
            (0.95, 0.95, 0.95),
            (Verdict.CALENDAR, Verdict.WEAR),
        ),
        group(
            "site", "MARKET", (6000, 7000, 9000), (0.95, 0.84, 0.95), (Verdict.WEAR, Verdict.WEAR)
        ),
        group(
            "site",
            "STORE",
            (3000, 1000, 5000),
            (0.95, 0.95, 0.95),
            (Verdict.CALENDAR, Verdict.WEAR),
        ),
    ),
    factor=0.43,
    reached=True,
    promised=PromisedRhythms(
        cost_more=(CostSpread(currency="EUR", amount=spread(150, 20)),), share_more=spread(0.002)
    ),
    apart=(
        ZonesApart(currency="EUR", why="no readings to go by", zones=2, hours=41.0, cost=1650.0),
    ),
    round_hours=2100.0,
    standard=("NORTH: a labour hour as 30 EUR",),
)
EMPTY = replace(
    COMPARED, groups=(), factor=None, reached=False, promised=None, apart=(), standard=()
)
