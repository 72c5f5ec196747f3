from datetime import timedelta
from decimal import Decimal

import numpy as np
import pytest

from floorcare.ground.rules.cost import STANDARD_LABOUR_HOUR, STANDARD_LITRE
from floorcare.ground.schedule.comparison.cost import (
    WATER_L_PER_M2,
    prices_of,
    visit_costs,
    work_costs,
)
from floorcare.ground.schedule.travel import UNKNOWN_MINUTES, Travel
from floorcare.ground.trade.equipment import Rate, RateKind
from floorcare.ground.trade.site import TravelLeg
from floorcare.ground.trade.treatment import Work
from floorcare.ground.work.minutes import SETUP_MINUTES, line_minutes
from floorcare.ground.work.quantities import quantities
from tests.builders import TODAY, a_book, a_branch, a_case, a_site, a_zone, polished, routinely

WORKS = (Work.RECOAT, Work.REPOLISH)


def rate(kind, amount, what="", *, from_days=-30, to_days=None, branch="EAST"):
    return Rate(
        branch=branch,
        kind=kind,
        amount=Decimal(amount),
        currency="USD",
        from_on=TODAY + timedelta(days=from_days),
        to_on=None if to_days is None else TODAY + timedelta(days=to_days),
        what=what,
    )


def test_the_rate_in_force_counts_and_a_night_supplement_is_on_top():
    rates = (
        rate(RateKind.LABOUR_HOUR, "10", from_days=-400, to_days=-1),
        rate(RateKind.LABOUR_HOUR, "24"),
        rate(RateKind.LABOUR_HOUR, "99", from_days=1),
        rate(RateKind.LABOUR_HOUR, "77", branch="WEST"),
        rate(RateKind.NIGHT_SUPPLEMENT, "6"),
    )
    prices = prices_of(a_branch(), rates, TODAY)
    assert prices.labour_minute == pytest.approx(0.5)
    assert not prices.standard_labour


def test_without_a_rate_the_standard_is_taken_and_marked():
    prices = prices_of(a_branch(), (), TODAY)
    assert prices.labour_minute == pytest.approx(STANDARD_LABOUR_HOUR / 60)
    assert prices.standard_labour


def test_a_line_costs_its_labour_its_product_and_its_machines():
    rates = (
        rate(RateKind.LABOUR_HOUR, "60"),
        rate(RateKind.MATERIAL_LITRE, "20", "protector"),
        rate(RateKind.MACHINE_HOUR, "12", "planetary_polisher"),
    )
    case, surface = a_case(), polished()
    costs = work_costs([case], WORKS, surface, prices_of(a_branch(), rates, TODAY))
    rung = surface.methods[Work.RECOAT]
    used = {q.material: q.litres for q in quantities(surface, rung, 400.0)}
    minutes = line_minutes(rung, 400.0).minutes
    assert costs.minutes[0, 0] == minutes
    assert costs.litres[0, 0] == pytest.approx(sum(used.values()))
    product = used["protector"] * 20 + used["neutral_cleaner"] * STANDARD_LITRE
    assert costs.money[0, 0] == pytest.approx(minutes + product)
    assert costs.standard[0] == {"neutral_cleaner"}
    polish = surface.methods[Work.REPOLISH]
    without = work_costs([case], WORKS, surface, prices_of(a_branch(), rates[:2], TODAY))
    machine = sum(
        s.passes * 400.0 / s.rate_m2_per_hour * 12
        for s in polish.steps
        if s.machine == "planetary_polisher"
    )
    assert costs.money[1, 0] - without.money[1, 0] == pytest.approx(machine, rel=0.01)


def test_water_is_that_of_wet_passes_by_machine_and_not_of_coats():
    surface = polished()
    costs = work_costs([a_case()], WORKS, surface, prices_of(a_branch(), (), TODAY))
    wet = [s for s in surface.methods[Work.RECOAT].steps if s.wet and s.machine]
    assert [s.name for s in wet] == ["Scrub and pick up; let dry"]
    assert costs.water_l[0, 0] == pytest.approx(400.0 * WATER_L_PER_M2)


def test_typed_minutes_outrank_the_rates_and_an_unmeasured_zone_uses_no_product():
    typed = routinely(Work.RECOAT, "FREQ=YEARLY", minutes=77)
    books = [a_book(routines=(typed,)), a_book(zone=a_zone(area_m2=None))]
    prices = prices_of(a_branch(), (), TODAY)
    costs = work_costs([a_case(book) for book in books], WORKS, polished(), prices)
    assert costs.minutes[0, 0] == 77
    assert costs.litres[0, 1] == costs.water_l[0, 1] == 0.0
    assert np.isfinite(costs.money).all()


def test_a_visit_costs_its_set_up_and_the_drive_of_the_whole_crew():
    prices = prices_of(a_branch(), (rate(RateKind.TRAVEL_KM, "0.50"),), TODAY)
    costs = visit_costs(a_branch(), a_site(), prices)
    assert costs.setup_minutes == 2 * SETUP_MINUTES
    assert costs.travel_minutes == 2 * 2 * UNKNOWN_MINUTES
    assert costs.travel_money == pytest.approx(45.0 * 0.5)  # an hour there and back at 45 km/h
    assert costs.currency == "USD"


def test_a_typed_drive_costs_its_own_minutes_and_kilometres():
    prices = prices_of(a_branch(), (rate(RateKind.TRAVEL_KM, "0.50"),), TODAY)
    own = {"branch": a_branch().code, "leaves": "", "reaches": a_site().code}
    travel = Travel.of(a_branch().code, [TravelLeg(minutes=40, km=52.0, **own)])
    costs = visit_costs(a_branch(), a_site(), prices, travel)
    assert costs.travel_minutes == 2 * 2 * 40
    assert costs.travel_money == pytest.approx(2 * 52.0 * 0.5)
    travel = Travel.of(a_branch().code, [TravelLeg(minutes=40, **own)])
    assert visit_costs(a_branch(), a_site(), prices, travel).travel_money == pytest.approx(30.0)
