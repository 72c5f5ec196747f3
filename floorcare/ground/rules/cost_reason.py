"""The reason of a rung taken at least cost a day held, with what the others would have cost.

Sentences go to crews and name shares only; amounts stand in the facts, which they never see.
"""

from collections.abc import Set
from dataclasses import replace
from math import isfinite

from floorcare.findings import Reason
from floorcare.ground.rules.ladder import top_rung
from floorcare.ground.rules.walk import RungTaken
from floorcare.ground.trade.surface import Rung
from floorcare.ground.trade.treatment import Work

RULE = "least cost"
"""The rule's name, as reasons carry it."""


def dearer_rungs(
    rungs: tuple[Rung, ...], step: RungTaken, by_routine: Set[Work] = frozenset()
) -> tuple[tuple[str, str], ...]:
    """Each rung that might have been taken instead, with what its days would have cost.

    Parameters
    ----------
    by_routine : rungs that a routine does weekly or oftener.

    Source: the walk's own trials.
    """
    found = []
    for r, rung in enumerate(rungs[: top_rung(rungs) + 1]):
        if r == step.rung:
            continue
        if rung.work in by_routine:
            why = "is done by routine anyway"
        elif not isfinite(step.hold_days[r]):
            why = "not allowed yet, its coats used up, or of no use until the next opportunity"
        else:
            why = f"would hold {_each_at(rungs, step, r)}"
        found.append((rung.work.value, why))
    return tuple(found)


def with_costs(
    reason: Reason,
    rungs: tuple[Rung, ...],
    step: RungTaken,
    currency: str,
    by_routine: Set[Work] = frozenset(),
) -> Reason:
    """A reason of the forecast, with what speaks for its rung in days and in cost.

    Parameters
    ----------
    currency : ISO 4217, "" where the branch has no rates.
    by_routine : as for `dearer_rungs`.

    Source: the walk's own trials.
    """
    top = top_rung(rungs)
    if step.rung == top:
        why = f"no milder rung holds its days for less than they cost {_from_to(rungs)}"
    elif isfinite(step.hold_days[step.rung]):
        why = f"expected to hold {_each_at(rungs, step, step.rung)}"
    else:
        why = "taken for want of better"
    others = [
        r
        for r in range(top + 1)
        if r != step.rung and isfinite(step.hold_days[r]) and rungs[r].work not in by_routine
    ]
    if others:
        nearest = min(others, key=lambda r: (step.cost_a_day[r], r))
        why += f"; {rungs[nearest].work} would hold {_each_at(rungs, step, nearest)}"
    costs = tuple(
        (f"cost a day held, {rung.work}", round(cost, 2))
        for rung, cost, held in zip(rungs, step.cost_a_day, step.hold_days, strict=True)
        if isfinite(held) and isfinite(cost)
    )
    cycle = round(step.cycle_cost_a_day, 2) if isfinite(step.cycle_cost_a_day) else None
    return replace(
        reason,
        inside=f"{reason.inside.removesuffix('.')}; {why}.",
        facts=(
            *reason.facts,
            *costs,
            (f"cost a day {_from_to(rungs)}", cycle),
            ("currency", currency or None),
        ),
        rejected=dearer_rungs(rungs, step, by_routine),
    )


def _from_to(rungs: tuple[Rung, ...]) -> str:
    return f"from one {rungs[top_rung(rungs)].work} to the next"


def _each_at(rungs: tuple[Rung, ...], step: RungTaken, r: int) -> str:
    share = step.cost_a_day[r] / max(step.cycle_cost_a_day, 1e-9)
    return (
        f"{step.hold_days[r]:.0f} days, each at {share:.0%} of what a day costs {_from_to(rungs)}"
    )
