"""What the works of a comparison cost: person-minutes, money, product and water, zone by zone."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.cost import STANDARD_LITRE, branch_costs
from floorcare.ground.schedule.travel import BY_MAP, SPEED_KM_PER_HOUR, Travel
from floorcare.ground.trade.equipment import Rate, RateKind
from floorcare.ground.trade.routine import Routine
from floorcare.ground.trade.site import Branch, Site
from floorcare.ground.trade.surface import Rung, Surface
from floorcare.ground.trade.treatment import Work
from floorcare.ground.wear.model import Floats
from floorcare.ground.work.minutes import SETUP_MINUTES, line_minutes, step_minutes
from floorcare.ground.work.quantities import quantities

WATER_L_PER_M2 = 0.07
"""Water of one wet pass by machine, or of one rinse: 600 ft² a US gallon, as the surfaces reckon a
scrubber's solution; a product laid by hand takes none. Assumption."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Prices:
    """A branch's prices on one day, in its currency; what is not there was taken as standard.

    labour_minute : of one person, the night supplement in it.
    litre, machine_minute : by material and by machine; a machine without a rate costs nothing.
    """

    currency: str
    labour_minute: float
    travel_km: float
    litre: Mapping[str, float]
    machine_minute: Mapping[str, float]
    standard_labour: bool


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class WorkCosts:
    """What each work takes on each zone, arrays (W, Z).

    minutes : person-minutes; money : labour, product and machines; litres, water_l : used up.
    standard : of each work, materials whose price was taken as standard.
    """

    minutes: Floats
    money: Floats
    litres: Floats
    water_l: Floats
    standard: tuple[frozenset[str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class VisitCosts:
    """What a visit to a site costs beside its lines.

    setup_minutes, travel_minutes : person-minutes of the crew, there and back.
    travel_money : kilometres; the minutes are paid as labour.
    labour_minute : what one of them costs. currency : ISO 4217.
    """

    setup_minutes: float
    travel_minutes: float
    travel_money: float
    labour_minute: float
    currency: str


def prices_of(branch: Branch, rates: Sequence[Rate], on: date) -> Prices:
    """The prices in force at a branch on a day; today's hold for the whole comparison."""
    costs = branch_costs(branch.code, rates, (), on)
    kilometre = [
        r
        for r in sorted(rates, key=lambda r: r.from_on)
        if r.branch == branch.code
        and r.kind is RateKind.TRAVEL_KM
        and r.from_on <= on
        and (r.to_on is None or on <= r.to_on)
    ]
    return Prices(
        currency=branch.currency,
        labour_minute=costs.labour_hour / 60.0,
        travel_km=float(kilometre[-1].amount) if kilometre else 0.0,
        litre=costs.litre,
        machine_minute={kind: hour / 60.0 for kind, hour in costs.machine_hour.items()},
        standard_labour=bool(costs.standard),
    )


def work_costs(
    cases: Sequence[ZoneCase], works: Sequence[Work], surface: Surface, prices: Prices
) -> WorkCosts:
    """What each work takes on each zone; minutes typed with a routine outrank the rates."""
    found = np.zeros((4, len(works), len(cases)))
    for z, case in enumerate(cases):
        area = case.book.zone.span_about(case.today).area_m2
        for w, work in enumerate(works):
            typed = _typed(case.book.routines, work)
            found[:, w, z] = _line(surface, surface.methods[work], area, typed, prices)
    minutes, money, litres, water = found
    used = [{s.product for s in surface.methods[work].steps if s.product} for work in works]
    return WorkCosts(
        minutes=minutes,
        money=money,
        litres=litres,
        water_l=water,
        standard=tuple(frozenset(products - set(prices.litre)) for products in used),
    )


def _typed(routines: Sequence[Routine], work: Work) -> int | None:
    return next((r.minutes for r in routines if r.work is work and r.minutes is not None), None)


def _line(
    surface: Surface,
    rung: Rung,
    area_m2: float | None,
    typed: int | None,
    prices: Prices,
) -> tuple[float, float, float, float]:
    """(person-minutes, money, litres of product, litres of water) of one line."""
    minutes = line_minutes(rung, area_m2, typed_minutes=typed).minutes
    money = minutes * prices.labour_minute
    litres = water = 0.0
    for used in quantities(surface, rung, area_m2):
        litres += used.litres
        money += used.litres * prices.litre.get(used.material, STANDARD_LITRE)
    if area_m2 is None:
        return float(minutes), money, litres, water
    for step in rung.steps:
        money += step_minutes(step, area_m2) * prices.machine_minute.get(step.machine, 0.0)
        if step.wet and (step.machine or not step.product):
            water += area_m2 * step.passes * WATER_L_PER_M2
    return float(minutes), money, litres, water


def visit_costs(branch: Branch, site: Site, prices: Prices, travel: Travel = BY_MAP) -> VisitCosts:
    """What a crew's visit to a site costs beside its lines: set-up, the drive there and back.

    Kilometres are those a van makes in the minutes, except where a drive's own were typed.
    """
    out, back = travel.minutes(branch, site), travel.minutes(site, branch)
    return VisitCosts(
        setup_minutes=float(SETUP_MINUTES * branch.crew_size),
        travel_minutes=float((out + back) * branch.crew_size),
        travel_money=(_km(travel, branch, site) + _km(travel, site, branch)) * prices.travel_km,
        labour_minute=prices.labour_minute,
        currency=prices.currency,
    )


def _km(travel: Travel, start: Branch | Site, end: Branch | Site) -> float:
    typed = travel.typed_km(start, end)
    return travel.minutes(start, end) / 60.0 * SPEED_KM_PER_HOUR if typed is None else typed
