from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest

from floorcare.ground.schedule.material_order import order_material
from floorcare.ground.schedule.material_use import MaterialUse
from floorcare.ground.trade.equipment import Rate, RateKind, StockEntry, StockMove, Supply

MONDAY = date(2026, 3, 2)
DAY = timedelta(days=1)
SUPPLY = Supply(branch="EAST", material="protector", pack=10.0, lead_days=7, reserve=5.0)
COUNT = StockEntry(
    branch="EAST",
    material="protector",
    on=MONDAY - DAY,
    move=StockMove.COUNTED,
    quantity=20.0,
)
RATE = Rate(
    branch="EAST",
    kind=RateKind.MATERIAL_LITRE,
    amount=Decimal("21.90"),
    currency="USD",
    from_on=date(2026, 1, 1),
    what="protector",
)


def use(ahead: int, litres: float | None, material: str = "protector", unit: str = "L"):
    return MaterialUse(
        on=MONDAY + ahead * DAY, material=material, name=material, quantity=litres, unit=unit
    )


def ordered(*uses, stock=(COUNT,), supplies=(SUPPLY,), rates=(RATE,), weeks=4):
    return order_material("EAST", "USD", uses, stock, supplies, rates, today=MONDAY, weeks=weeks)


def test_the_stock_runs_down_night_by_night_and_packs_bring_it_back_to_the_reserve():
    (line,) = ordered(use(3, 8.0), use(10, 8.0), use(20, 9.0)).lines
    assert [(day.on, day.held) for day in line.days] == [
        (MONDAY + 3 * DAY, 12.0),
        (MONDAY + 10 * DAY, 4.0),
        (MONDAY + 20 * DAY, -5.0),
    ]
    # 5 in reserve and 5 missing make 10: one pack
    assert (line.packs, line.quantity, line.amount) == (1, 10.0, Decimal("219.00"))
    # short on the 12th, seven days of lead, a day before that
    assert (line.short_on, line.order_by, line.overdue) == (
        date(2026, 3, 12),
        date(2026, 3, 4),
        False,
    )


def test_a_stock_that_stands_on_its_reserve_is_not_short():
    (line,) = ordered(use(3, 15.0)).lines
    assert (line.left, line.short_on, line.packs) == (5.0, None, 0)
    (line,) = ordered(use(3, 15.1)).lines
    assert line.packs == 1


def test_what_should_have_been_ordered_by_now_is_overdue():
    (line,) = ordered(use(3, 16.0)).lines
    assert line.order_by == MONDAY - 5 * DAY
    assert line.overdue


def test_the_horizon_is_the_lead_and_the_weeks():
    assert ordered(use(14, 19.0), weeks=1).lines[0].packs == 1
    assert ordered(use(15, 19.0), weeks=1).lines[0].packs == 0
    assert ordered(use(15, 19.0), weeks=2).lines[0].last_on == MONDAY + 21 * DAY


def test_a_delivery_entered_for_a_day_to_come_counts_from_that_day():
    coming = replace(COUNT, on=MONDAY + 5 * DAY, move=StockMove.RECEIVED, quantity=10.0)
    (line,) = ordered(use(3, 8.0), use(10, 10.0), stock=(COUNT, coming)).lines
    assert (line.left, line.packs) == (12.0, 0)
    (line,) = ordered(use(3, 18.0), stock=(COUNT, coming)).lines
    assert (line.short_on, line.packs) == (MONDAY + 3 * DAY, 1)


@pytest.mark.parametrize(
    ("uses", "stock", "supplies", "problem", "mend"),
    [
        ((use(1, 1.0),), (COUNT,), (), "nobody said how it is bought", "add a row for EAST"),
        ((use(1, 1.0),), (), (SUPPLY,), "was never counted", "count it"),
        (
            (use(1, 1.0),),
            (replace(COUNT, unit="pieces"),),
            (SUPPLY,),
            "stands in L and in pieces",
            "write litres for a product",
        ),
        (
            (use(1, None, unit="pieces"),),
            (replace(COUNT, unit="pieces"),),
            (replace(SUPPLY, unit="pieces"),),
            "neither typed nor learned",
            "record the pieces used up",
        ),
        (
            (use(1, None, "pad", "pieces"),),
            (),
            (),
            "uses pads and tools nobody",
            "add a row in pieces",
        ),
    ],
)
def test_what_cannot_be_reckoned_is_named_and_the_rest_ordered(
    uses, stock, supplies, problem, mend
):
    sealer = replace(SUPPLY, material="sealer")
    counted = replace(COUNT, material="sealer", quantity=1.0)
    order = ordered(
        *uses, use(2, 3.0, "sealer"), stock=(*stock, counted), supplies=(*supplies, sealer)
    )
    (finding,) = order.findings
    assert problem in finding.problem
    assert finding.mend.startswith(mend)
    assert [line.material for line in order.to_order] == ["sealer"]


def test_a_price_of_another_currency_branch_or_time_is_no_price():
    for other in ({"currency": "EUR"}, {"branch": "WEST"}, {"from_on": MONDAY + DAY}):
        (line,) = ordered(use(1, 19.0), rates=(replace(RATE, **other),)).lines
        assert (line.price, line.amount) == (None, None)


def test_other_branches_are_passed_over_and_no_week_at_all_is_refused():
    west = replace(COUNT, branch="WEST", quantity=900.0)
    assert ordered(use(1, 1.0), stock=(COUNT, west)).lines[0].held == 20.0
    with pytest.raises(ValueError, match="allowed 1 or more"):
        ordered(weeks=0)
