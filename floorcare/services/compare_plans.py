"""Compare measured wear with a fixed calendar on the same zones, in futures simulated alike."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from floorcare.errors import NotKnown, NotUnderstood
from floorcare.ground.rules.cost import STANDARD_LABOUR_HOUR, STANDARD_LITRE, branch_costs
from floorcare.ground.schedule.branch_year import BranchYear
from floorcare.ground.schedule.comparison.account import (
    GroupCompared,
    PromisedRhythms,
    account_of,
    promised_rhythms,
)
from floorcare.ground.schedule.comparison.compare import compare
from floorcare.ground.schedule.comparison.cost import (
    Prices,
    VisitCosts,
    prices_of,
    visit_costs,
)
from floorcare.ground.schedule.comparison.parts import Apart, Part, laid_out, round_hours
from floorcare.ground.schedule.years import year_of
from floorcare.ground.trade.book import SiteBook
from floorcare.ground.trade.contract import Contract
from floorcare.ground.trade.equipment import Rate
from floorcare.ground.trade.promise import PromiseKind
from floorcare.ground.trade.site import Branch, TravelLeg
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.visit import Visit
from floorcare.ground.wear.books.meters import Meters
from floorcare.ground.wear.pooled import Pooled
from floorcare.store.open import Store

Tell = Callable[[int, int], None]

YEARS = 3
"""The span, where nobody asks for another."""
MOST_YEARS = 5
FUTURES = 64
"""Futures of each zone, where nobody asks for others."""
MOST_FUTURES = 512
DAYS_A_YEAR = 365


def silent(done: int, total: int) -> None:
    """Tell nobody."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ZonesApart:
    """Zones that run as agreed in every plan, and are in none of its figures.

    hours, cost : of their lines alone, without visits' own; currency : ISO 4217.
    """

    currency: str
    why: str
    zones: int
    hours: float
    cost: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PlansCompared:
    """Measured wear against the calendar as agreed and one tuned in hindsight.

    last_on : the last day lived. groups : all, currencies, contracts, sites.
    factor : by which hindsight stretched the calendar's gaps; reached : to the same look.
    promised : what promised rhythms cost beyond what wear asks; None where none is compared.
    round_hours : our standing rounds, the same in every plan and in no figure.
    standard : prices for which no rate was entered.
    """

    today: date
    last_on: date
    years: int
    futures: int
    groups: tuple[GroupCompared, ...]
    factor: float | None
    reached: bool
    promised: PromisedRhythms | None
    apart: tuple[ZonesApart, ...]
    round_hours: float
    standard: tuple[str, ...]


def compare_plans(
    store: Store,
    surfaces: Mapping[str, Surface],
    *,
    today: date,
    sites: Sequence[str] = (),
    contracts: Sequence[str] = (),
    years: int = YEARS,
    futures: int = FUTURES,
    tell: Tell = silent,
) -> PlansCompared:
    """Live the zones' futures under measured wear and under a fixed calendar.

    Parameters
    ----------
    surfaces : by code.
    sites, contracts : only these; all where none is named.
    years : 1 to 5.
    futures : 1 to 512 of each zone.
    tell : told (done, total) steps.

    Raises
    ------
    NotUnderstood : years or futures out of range.
    NotKnown : there is no such site or contract, or none of them is under care.
    """
    _check_span(years, futures)
    known = _read(store, today)
    chosen = _asked_for(known.books, sites, contracts, today)
    last_on = today + timedelta(days=years * DAYS_A_YEAR)
    laid = [
        _laid(known, branch, chosen, surfaces, today, last_on, futures) for branch in known.branches
    ]
    served = [each for each in laid if each.parts or each.apart]
    if (sites or contracts) and not served:
        raise NotKnown(f"No zone of {', '.join((*sites, *contracts))} is under care on {today}.")
    return _compared(served, today, last_on, years, futures, tell)


def _check_span(years: int, futures: int) -> None:
    if not 1 <= years <= MOST_YEARS:
        raise NotUnderstood(f"{years} years cannot be compared; allowed 1 to {MOST_YEARS}.")
    if not 1 <= futures <= MOST_FUTURES:
        raise NotUnderstood(f"{futures} futures cannot be lived; allowed 1 to {MOST_FUTURES}.")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Snapshot:
    """One moment of the store: everything a comparison is made from."""

    branches: tuple[Branch, ...]
    books: tuple[SiteBook, ...]
    visits: tuple[Visit, ...]
    rates: tuple[Rate, ...]
    contracts: tuple[Contract, ...]
    pooled: Mapping[str, Pooled]
    meters: Meters
    legs: tuple[TravelLeg, ...]


def _read(store: Store, today: date) -> _Snapshot:
    with store.work() as work:
        return _Snapshot(
            branches=work.branches(),
            books=work.books(),
            visits=work.visits(first=today),
            rates=work.rates(),
            contracts=work.contracts(),
            pooled=work.pooled(),
            meters=work.meters(),
            legs=work.legs(),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class _BranchLaid:
    year: BranchYear
    prices: Prices
    parts: tuple[Part, ...]
    apart: tuple[Apart, ...]

    @property
    def visits(self) -> dict[tuple[str, str], VisitCosts]:
        sites = {book.site.code: book.site for book in self.year.books}
        return {
            key: visit_costs(self.year.branch, sites[key[0]], self.prices, self.year.travel)
            for part in self.parts
            for key in part.keys
        }


def _laid(
    known: _Snapshot,
    branch: Branch,
    books: tuple[SiteBook, ...],
    surfaces: Mapping[str, Surface],
    today: date,
    last_on: date,
    futures: int,
) -> _BranchLaid:
    """A branch's zones of the books asked for, in parts."""
    year = year_of(
        branch,
        books=books,
        visits=known.visits,
        surfaces=surfaces,
        pooled=known.pooled,
        meters=known.meters,
        legs=known.legs,
        costs=branch_costs(branch.code, known.rates, known.contracts, today),
        today=today,
        last_on=last_on,
    )
    prices = prices_of(branch, known.rates, today)
    found = tuple(laid_out(year, prices, futures))
    return _BranchLaid(
        year=year,
        prices=prices,
        parts=tuple(each for each in found if isinstance(each, Part)),
        apart=tuple(each for each in found if isinstance(each, Apart)),
    )


def _asked_for(
    books: tuple[SiteBook, ...], sites: Sequence[str], contracts: Sequence[str], today: date
) -> tuple[SiteBook, ...]:
    """The books of the sites and contracts asked for; of a contract, the zones it promises."""
    known = {book.site.code for book in books}
    for site in sorted(set(sites) - known):
        raise NotKnown(f'There is no site "{site}"; there are {", ".join(sorted(known))}.')
    agreed = {line.contract for book in books for zone in book.zones for line in zone.promises}
    for contract in sorted(set(contracts) - agreed):
        raise NotKnown(
            f'No zone is promised anything by a contract "{contract}"; there are '
            f"{', '.join(sorted(agreed))}."
        )
    chosen = [book for book in books if not sites or book.site.code in sites]
    if not contracts:
        return tuple(chosen)
    cut = []
    for book in chosen:
        zones = []
        for zone in book.zones:
            line = zone.promise_on(today, PromiseKind.APPEARANCE)
            if line is not None and line.contract in contracts:
                zones.append(zone)
        if zones:
            cut.append(replace(book, zones=tuple(zones)))
    return tuple(cut)


def _compared(
    laid: Sequence[_BranchLaid], today: date, last_on: date, years: int, futures: int, tell: Tell
) -> PlansCompared:
    parts = [part for each in laid for part in each.parts]
    visits = {key: costs for each in laid for key, costs in each.visits.items()}
    currency = {key: costs.currency for key, costs in visits.items()}
    found = compare(parts, visits, tell) if parts else None
    return PlansCompared(
        today=today,
        last_on=last_on,
        years=years,
        futures=futures,
        groups=account_of(found, currency) if found else (),
        factor=found.factor if found else None,
        reached=found.reached if found else False,
        promised=promised_rhythms(found, currency) if found else None,
        apart=_apart(laid),
        round_hours=sum(
            round_hours(each.year, today + timedelta(days=1), last_on) for each in laid
        ),
        standard=_standard(laid),
    )


def _apart(laid: Sequence[_BranchLaid]) -> tuple[ZonesApart, ...]:
    found: dict[tuple[str, str], list[tuple[float, float]]] = {}
    for each in laid:
        for some in each.apart:
            for why, minutes, money in zip(some.why, some.minutes, some.money, strict=True):
                own = found.setdefault((each.prices.currency, why), [])
                own.append((float(minutes), float(money)))
    return tuple(
        ZonesApart(
            currency=currency,
            why=why,
            zones=len(own),
            hours=sum(minutes for minutes, _ in own) / 60.0,
            cost=sum(money for _, money in own),
        )
        for (currency, why), own in sorted(found.items())
    )


def _standard(laid: Sequence[_BranchLaid]) -> tuple[str, ...]:
    """What stands for rates nobody entered, in words."""
    said = []
    for each in laid:
        branch, money = each.year.branch.code, each.prices.currency
        if each.prices.standard_labour and each.parts:
            said.append(f"{branch}: a labour hour as {STANDARD_LABOUR_HOUR:.0f} {money}")
        materials = sorted({m for part in each.parts for m in part.standard})
        if materials:
            names = ", ".join(m.replace("_", " ") for m in materials)
            said.append(f"{branch}: a litre of {names} as {STANDARD_LITRE:.0f} {money}")
    return tuple(said)
