"""What a week weighs, in money and in what it is worth that work is done."""

from datetime import date, timedelta
from decimal import Decimal

from floorcare.ground.crews.worth import (
    EARLY_DAY,
    FIRM,
    LATE_DAY,
    OTHER_NIGHT,
    PLACED,
    URGENT,
    night_cost,
    week_prices,
    worth_of,
)
from floorcare.ground.trade.equipment import Rate, RateKind
from floorcare.ground.trade.visit import Commitment
from tests.ground.crews.weeks import MONDAY, TUESDAY, a_visit

SUNDAY = MONDAY + timedelta(days=6)


def a_rate(kind: RateKind, amount: str, **more: object) -> Rate:
    whole = {"branch": "EAST", "currency": "USD", "from_on": date(2026, 1, 1), **more}
    return Rate(kind=kind, amount=Decimal(amount), **whole)  # type: ignore[arg-type]


def test_the_branchs_own_rates_of_the_day_are_taken():
    rates = (
        a_rate(RateKind.LABOUR_HOUR, "30"),
        a_rate(RateKind.LABOUR_HOUR, "60", branch="WEST"),
        a_rate(RateKind.LABOUR_HOUR, "12", from_on=date(2025, 1, 1), to_on=date(2025, 12, 31)),
        a_rate(RateKind.TRAVEL_KM, "0.50"),
        a_rate(RateKind.OVERTIME_HOUR, "48"),
    )
    prices = week_prices(rates, "EAST", MONDAY)
    assert (prices.minute, prices.over_minute, prices.km) == (50.0, 80.0, 50.0)
    assert prices.drive(10, 8.0, 2) == 10 * 2 * 50 + 8 * 50
    assert prices.drive(10, None, 2) == 1_000
    assert prices.overtime(2) == 160


def test_without_overtime_entered_it_is_the_hour_and_a_half():
    prices = week_prices((a_rate(RateKind.LABOUR_HOUR, "30"),), "EAST", MONDAY)
    assert prices.over_minute == 75.0


def test_what_presses_is_worth_more_and_what_stands_most():
    soon, later = a_visit(latest=SUNDAY), a_visit(latest=SUNDAY + timedelta(days=14))
    far = a_visit(latest=SUNDAY + timedelta(days=60))
    assert worth_of(soon, SUNDAY) == PLACED + URGENT
    assert worth_of(soon, SUNDAY) > worth_of(later, SUNDAY) > worth_of(far, SUNDAY) == PLACED
    assert worth_of(a_visit(commitment=Commitment.NIGHT), SUNDAY) == FIRM


def test_another_night_costs_and_a_late_one_more():
    visit = a_visit(night=TUESDAY, latest=TUESDAY)
    assert night_cost(visit, TUESDAY) == 0
    assert night_cost(visit, MONDAY) == OTHER_NIGHT + EARLY_DAY
    assert night_cost(visit, TUESDAY + timedelta(days=2)) == 2 * OTHER_NIGHT + 2 * LATE_DAY
