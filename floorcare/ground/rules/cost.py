"""What a treatment of a zone costs us: labour, machines, product and its share of a visit."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from floorcare.ground.trade.contract import Contract, FeeKind
from floorcare.ground.trade.equipment import Rate, RateKind
from floorcare.ground.trade.site import Branch
from floorcare.ground.trade.surface import Rung, Surface
from floorcare.ground.work.minutes import line_minutes, step_minutes
from floorcare.ground.work.quantities import quantities

STANDARD_LABOUR_HOUR = 30.0
"""An hour of one person, night work included, where the branch has no rate. Assumption."""
STANDARD_LITRE = 15.0
"""A litre of product without a rate, in the branch's currency. Assumption."""
VISIT_SHARE_MINUTES = 60.0
"""Person-minutes of set-up and drive that one line carries: two people, half an hour each way and
half an hour of set-up, over three lines a visit. Assumption."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BranchCosts:
    """What work costs a branch on a day, in its own currency.

    labour_hour : one person's hour, night supplement included.
    machine_hour, litre : by machine kind and by material; machines without a rate cost nothing.
    standard : what had no rate of its own, so that a standard stands in: "labour hour".
    paid_by_visit : (contract, site) whose fee is per visit and not by result; site "" is all.
    """

    labour_hour: float = STANDARD_LABOUR_HOUR
    machine_hour: Mapping[str, float] = field(default_factory=dict)
    litre: Mapping[str, float] = field(default_factory=dict)
    currency: str = ""
    standard: tuple[str, ...] = (RateKind.LABOUR_HOUR.value,)
    paid_by_visit: frozenset[tuple[str, str]] = frozenset()

    def pays_by_visit(self, contract: str, site: str) -> bool:
        """Whether skipping a visit at that site would cut our own invoice."""
        return not self.paid_by_visit.isdisjoint({(contract, ""), (contract, site)})


STANDARD_COSTS = BranchCosts()
"""The costs of a branch nobody entered a rate for."""


def branch_costs(
    branch: str, rates: Sequence[Rate], contracts: Sequence[Contract], today: date
) -> BranchCosts:
    """The costs of a branch on a day, from its rates and the fees its contracts pay.

    Parameters
    ----------
    rates, contracts : of any branch and any day; the latest rate in force counts.

    Source: the branch's own rates; where one is missing, the Assumptions of this module.
    """
    mine = [
        r
        for r in sorted(rates, key=lambda r: r.from_on)
        if r.branch == branch and r.from_on <= today and (r.to_on is None or today <= r.to_on)
    ]

    def priced(kind: RateKind) -> dict[str, float]:
        return {rate.what: float(rate.amount) for rate in mine if rate.kind is kind}

    hour = priced(RateKind.LABOUR_HOUR).get("")
    night = priced(RateKind.NIGHT_SUPPLEMENT).get("", 0.0)
    return BranchCosts(
        labour_hour=STANDARD_LABOUR_HOUR if hour is None else hour + night,
        machine_hour=priced(RateKind.MACHINE_HOUR),
        litre=priced(RateKind.MATERIAL_LITRE),
        currency=mine[0].currency if mine else "",
        standard=(RateKind.LABOUR_HOUR.value,) if hour is None else (),
        paid_by_visit=frozenset(
            place for contract in contracts for place in _paid_by_visit(contract, today)
        ),
    )


def costs_by_branch(
    branches: Sequence[Branch], rates: Sequence[Rate], contracts: Sequence[Contract], today: date
) -> dict[str, BranchCosts]:
    """The costs of every branch, by its code.

    Source: see `branch_costs`.
    """
    return {branch.code: branch_costs(branch.code, rates, contracts, today) for branch in branches}


def _paid_by_visit(contract: Contract, today: date) -> set[tuple[str, str]]:
    term = contract.term_on(today)
    fees = term.fees if term else ()
    by_result = {fee.site for fee in fees if fee.kind is FeeKind.BY_RESULT}
    by_visit = {fee.site for fee in fees if fee.kind is FeeKind.PER_VISIT}
    if "" in by_result:
        return set()
    return {(contract.code, site) for site in by_visit - by_result}


def treatment_cost(
    costs: BranchCosts, surface: Surface, rung: Rung, area_m2: float | None
) -> float:
    """What one treatment of a zone costs, in the branch's currency.

    Parameters
    ----------
    area_m2 : None where nobody measured it; the line's minutes are then assumed, product left out.

    Source: minutes and quantities of the surface's own method; the visit's share and what has no
    rate are Assumptions.
    """
    minutes = line_minutes(rung, area_m2).minutes + VISIT_SHARE_MINUTES
    product = sum(
        used.litres * costs.litre.get(used.material, STANDARD_LITRE)
        for used in quantities(surface, rung, area_m2)
    )
    machines = sum(
        step_minutes(step, area_m2 or 0.0) / 60.0 * costs.machine_hour.get(step.machine, 0.0)
        for step in rung.steps
    )
    return minutes / 60.0 * costs.labour_hour + product + machines
