from datetime import date
from decimal import Decimal

import pytest

from floorcare.ground.rules.cost import (
    STANDARD_COSTS,
    STANDARD_LABOUR_HOUR,
    STANDARD_LITRE,
    VISIT_SHARE_MINUTES,
    BranchCosts,
    branch_costs,
    costs_by_branch,
    treatment_cost,
)
from floorcare.ground.trade.contract import Contract, FeeKind, FeeLine, RenewalKind, Term
from floorcare.ground.trade.equipment import Rate, RateKind
from floorcare.ground.trade.treatment import Work
from floorcare.ground.work.minutes import ASSUMED_MINUTES, line_minutes
from floorcare.ground.work.quantities import quantities
from tests.builders import a_branch, polished

TODAY = date(2026, 3, 2)


def a_rate(kind: RateKind, amount: str, what: str = "", **more: object) -> Rate:
    own = {"branch": "B-1", "currency": "USD", "from_on": date(2025, 1, 1), **more}
    return Rate(kind=kind, amount=Decimal(amount), what=what, **own)  # type: ignore[arg-type]


def a_contract(*fees: tuple[FeeKind, str], starts_on: date = date(2026, 1, 1)) -> Contract:
    term = Term(
        starts_on=starts_on,
        ends_on=date(2026, 12, 31),
        our_notice_days=60,
        their_notice_days=60,
        renewal=RenewalKind.AUTOMATIC,
        fees=tuple(FeeLine(kind=kind, amount=Decimal(100), site=site) for kind, site in fees),
    )
    return Contract(code="K-1", customer="C-1", name="Halls", currency="USD", terms=(term,))


def test_the_rates_in_force_today_are_taken_with_the_night_supplement() -> None:
    rates = [
        a_rate(RateKind.LABOUR_HOUR, "27.50", to_on=date(2025, 12, 31)),
        a_rate(RateKind.LABOUR_HOUR, "28.75", from_on=date(2026, 1, 1)),
        a_rate(RateKind.LABOUR_HOUR, "99", from_on=date(2026, 6, 1)),
        a_rate(RateKind.NIGHT_SUPPLEMENT, "3.50"),
        a_rate(RateKind.MATERIAL_LITRE, "24.60", "protector"),
        a_rate(RateKind.MACHINE_HOUR, "18", "planetary_polisher"),
        a_rate(RateKind.LABOUR_HOUR, "50", branch="B-2"),
    ]
    costs = branch_costs("B-1", rates, (), TODAY)
    assert costs.labour_hour == pytest.approx(32.25)
    assert (costs.litre, costs.machine_hour) == (
        {"protector": 24.60},
        {"planetary_polisher": 18.0},
    )
    assert (costs.currency, costs.standard) == ("USD", ())
    others = costs_by_branch([a_branch(code="B-2"), a_branch(code="B-3")], rates, (), TODAY)
    assert others["B-2"].labour_hour == 50.0
    assert others["B-3"] == STANDARD_COSTS


def test_a_branch_without_rates_costs_the_standard_and_says_so() -> None:
    costs = branch_costs("B-1", (), (), TODAY)
    assert costs == STANDARD_COSTS
    assert costs.standard == ("labour hour",)


def test_a_treatment_costs_its_minutes_its_product_its_machines_and_its_share_of_a_visit() -> None:
    surface = polished()
    rung = surface.methods[Work.REPOLISH]
    area = 150.0
    labour = (line_minutes(rung, area).minutes + VISIT_SHARE_MINUTES) / 60.0
    litres = {used.material: used.litres for used in quantities(surface, rung, area)}
    plain = treatment_cost(STANDARD_COSTS, surface, rung, area)
    by_hand = labour * STANDARD_LABOUR_HOUR + sum(litres.values()) * STANDARD_LITRE
    assert plain == pytest.approx(by_hand)
    priced = BranchCosts(
        labour_hour=20.0, litre={"protector": 40.0}, machine_hour={"planetary_polisher": 10.0}
    )
    passes = 3 * 2 * area / 125.0  # three grits, two passes each, 125 m² an hour
    by_hand = labour * 20.0 + litres["protector"] * 40.0 + passes * 10.0
    by_hand += litres["neutral_cleaner"] * STANDARD_LITRE
    assert treatment_cost(priced, surface, rung, area) == pytest.approx(by_hand)


def test_where_nobody_measured_the_area_the_assumed_minutes_stand_in() -> None:
    surface = polished()
    found = treatment_cost(STANDARD_COSTS, surface, surface.methods[Work.RECOAT], None)
    hours = (ASSUMED_MINUTES + VISIT_SHARE_MINUTES) / 60.0
    assert found == pytest.approx(hours * STANDARD_LABOUR_HOUR)


@pytest.mark.parametrize(
    ("fees", "north", "south"),
    [
        ([(FeeKind.MONTHLY, "")], False, False),
        ([], False, False),
        ([(FeeKind.PER_VISIT, "")], True, True),
        ([(FeeKind.PER_VISIT, "NORTH")], True, False),
        ([(FeeKind.PER_VISIT, ""), (FeeKind.BY_RESULT, "")], False, False),
        ([(FeeKind.PER_VISIT, "NORTH"), (FeeKind.BY_RESULT, "NORTH")], False, False),
        ([(FeeKind.PER_VISIT, "NORTH"), (FeeKind.BY_RESULT, "SOUTH")], True, False),
    ],
)
def test_a_contract_pays_by_the_visit_unless_it_pays_by_result(
    fees: list[tuple[FeeKind, str]], north: bool, south: bool
) -> None:
    costs = branch_costs("B-1", (), [a_contract(*fees)], TODAY)
    assert costs.pays_by_visit("K-1", "NORTH") is north
    assert costs.pays_by_visit("K-1", "SOUTH") is south
    assert not costs.pays_by_visit("K-2", "NORTH")


def test_a_term_that_has_not_begun_pays_nothing_yet() -> None:
    later = a_contract((FeeKind.PER_VISIT, ""), starts_on=date(2026, 6, 1))
    assert not branch_costs("B-1", (), [later], TODAY).pays_by_visit("K-1", "NORTH")
