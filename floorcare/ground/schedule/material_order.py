"""Material order: what to buy for a branch, how many packs, and by when, from stock and plan."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import ROUND_HALF_UP, Decimal
from math import ceil

from floorcare.findings import Finding
from floorcare.ground.schedule.material_use import PIECES, MaterialUse
from floorcare.ground.trade.equipment import (
    Rate,
    RateKind,
    StockEntry,
    StockMove,
    Supply,
    stock_on,
)

ORDER_WEEKS = 4
"""Weeks of work an order covers once it has arrived. Assumption."""
DAY = timedelta(days=1)
HARDLY_ANY = 1e-9
CENT = Decimal("0.01")


@dataclass(frozen=True, slots=True, kw_only=True)
class StockDay:
    """What a day's work takes, and what is left on the shelf at its end."""

    on: date
    used: float
    held: float


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderLine:
    """One material of a branch: the running stock, and what to order by when.

    unit : "L" or "pieces".
    held, used, left : today, through the horizon, and at its end if nothing is ordered.
    last_on : end of the horizon: days of lead, then the weeks asked for.
    short_on : first day the stock falls below the reserve, None where it never does.
    order_by : the day before the lead begins; it may lie before today.
    packs : to be ordered, 0 where nothing is short.
    price, amount : of a litre and of the order, where a rate is known.
    days : those on which work takes some.
    """

    material: str
    name: str
    unit: str
    supply: Supply
    held: float
    used: float
    left: float
    last_on: date
    today: date
    short_on: date | None = None
    order_by: date | None = None
    packs: int = 0
    price: Decimal | None = None
    amount: Decimal | None = None
    estimate: bool = False
    days: tuple[StockDay, ...] = ()

    @property
    def overdue(self) -> bool:
        """Whether it should have been ordered before today."""
        return self.order_by is not None and self.order_by < self.today

    @property
    def quantity(self) -> float:
        """What the packs hold."""
        return self.packs * self.supply.pack


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialOrder:
    """What a branch is to buy: every material it uses or stocks, the first to order on top.

    findings : materials that cannot be reckoned, each with its mend.
    currency : ISO 4217, of every price and amount.
    """

    branch: str
    today: date
    weeks: int
    currency: str
    lines: tuple[OrderLine, ...] = ()
    findings: tuple[Finding, ...] = ()

    @property
    def to_order(self) -> tuple[OrderLine, ...]:
        """The lines with packs to order."""
        return tuple(line for line in self.lines if line.packs)


def order_material(
    branch: str,
    currency: str,
    uses: Iterable[MaterialUse],
    stock: Iterable[StockEntry],
    supplies: Iterable[Supply],
    rates: Iterable[Rate] = (),
    *,
    today: date,
    weeks: int = ORDER_WEEKS,
) -> MaterialOrder:
    """The material order of a branch.

    Parameters
    ----------
    uses : of the branch, from today to beyond the longest lead and the weeks.
    stock, supplies, rates : of any branches; others are passed over.
    weeks : of work that stay covered after the lead of an order placed today, 1 or more.

    Raises
    ------
    ValueError : less than one week.
    """
    if weeks < 1:
        raise ValueError(f"{weeks} weeks: allowed 1 or more")
    bought = {s.material: s for s in supplies if s.branch == branch}
    entries = tuple(e for e in stock if e.branch == branch)
    by_material = _by_material(use for use in uses if use.on >= today)
    prices = _prices(rates, branch, currency, today)
    lines, findings = [], _unbought(branch, by_material, bought, today + 7 * weeks * DAY)
    for material in sorted(bought.keys() | by_material.keys()):
        mine, supply = by_material.get(material, []), bought.get(material)
        if supply is None:
            continue
        problem = _unreckoned(supply, mine, [e for e in entries if e.material == material])
        if problem is not None:
            findings.append(problem)
            continue
        price = prices.get(material)
        lines.append(_line(supply, mine, entries, price, today=today, weeks=weeks))
    lines.sort(key=lambda line: (not line.packs, line.order_by or date.max, line.material))
    return MaterialOrder(
        branch=branch,
        today=today,
        weeks=weeks,
        currency=currency,
        lines=tuple(lines),
        findings=tuple(findings),
    )


def _by_material(uses: Iterable[MaterialUse]) -> dict[str, list[MaterialUse]]:
    found: dict[str, list[MaterialUse]] = {}
    for use in uses:
        found.setdefault(use.material, []).append(use)
    return found


def _line(
    supply: Supply,
    uses: list[MaterialUse],
    entries: tuple[StockEntry, ...],
    price: Decimal | None,
    *,
    today: date,
    weeks: int,
) -> OrderLine:
    last_on = today + (supply.lead_days + 7 * weeks) * DAY
    held = stock_on(entries, supply.material, today)
    days = _running(held, [u for u in uses if u.on <= last_on], _arriving(supply, entries, today))
    levels = [(today, held), *((day.on, day.held) for day in days)]
    short_on = next((on for on, left in levels if left < supply.reserve - HARDLY_ANY), None)
    lowest = min(left for _, left in levels)
    packs = 0
    if short_on is not None:
        packs = ceil((supply.reserve - lowest) / supply.pack - HARDLY_ANY)
    per_unit = price if supply.unit != PIECES else None
    return OrderLine(
        material=supply.material,
        name=next((use.name for use in uses), supply.material.replace("_", " ")),
        unit=supply.unit,
        supply=supply,
        held=held,
        used=sum(day.used for day in days),
        left=levels[-1][1],
        last_on=last_on,
        today=today,
        short_on=short_on,
        order_by=None if short_on is None else short_on - (supply.lead_days + 1) * DAY,
        packs=packs,
        price=per_unit,
        amount=_amount(per_unit, packs * supply.pack),
        estimate=any(use.estimate for use in uses),
        days=days,
    )


def _running(
    held: float, uses: list[MaterialUse], arriving: Mapping[date, float]
) -> tuple[StockDay, ...]:
    """The stock at the end of each day on which some is used or arrives."""
    used: dict[date, float] = dict.fromkeys(arriving, 0.0)
    for use in uses:
        used[use.on] = used.get(use.on, 0.0) + (use.quantity or 0.0)
    days = []
    for on in sorted(used):
        held += arriving.get(on, 0.0) - used[on]
        days.append(StockDay(on=on, used=used[on], held=held))
    return tuple(days)


def _arriving(supply: Supply, entries: tuple[StockEntry, ...], today: date) -> dict[date, float]:
    """Deliveries that are entered for days to come."""
    arriving: dict[date, float] = {}
    for entry in entries:
        of_it = entry.material == supply.material and entry.move is StockMove.RECEIVED
        if of_it and entry.on > today:
            arriving[entry.on] = arriving.get(entry.on, 0.0) + entry.quantity
    return arriving


def _unsupplied(branch: str, material: str) -> Finding:
    return Finding(
        problem=f"branch {branch} uses this material and nobody said how it is bought",
        file="supplies.csv",
        column="material",
        value=material,
        mend=f"add a row for {branch}, {material} with its pack, lead_days and reserve",
        weight="asks",
    )


def _unbought(
    branch: str,
    uses: Mapping[str, list[MaterialUse]],
    bought: Mapping[str, Supply],
    last_on: date,
) -> list[Finding]:
    """What is used within the weeks and nobody said how to buy: each product, all tools at once."""
    findings, tools = [], []
    for material in sorted(uses.keys() - bought.keys()):
        soon = [use for use in uses[material] if use.on <= last_on]
        if soon and soon[0].unit == PIECES:
            tools.append(material)
        elif soon:
            findings.append(_unsupplied(branch, material))
    if tools:
        findings.append(
            Finding(
                problem=f"branch {branch} uses pads and tools nobody said how to buy",
                file="supplies.csv",
                column="material",
                mend=f"add a row in pieces for each that is to be ordered of {', '.join(tools)}",
                weight="asks",
            )
        )
    return findings


def _unreckoned(
    supply: Supply, uses: list[MaterialUse], entries: list[StockEntry]
) -> Finding | None:
    """Why the stock of a material cannot be followed, None where it can."""
    where = f"{supply.material} at {supply.branch}"
    units = {supply.unit, *(e.unit for e in entries), *(u.unit for u in uses)}
    if len(units) > 1:
        return Finding(
            problem=f"{where} stands in {' and in '.join(sorted(units))}",
            file="supplies.csv",
            column="unit",
            value=supply.unit,
            mend="write litres for a product and pieces for a tool, in both files",
            weight="asks",
        )
    if not any(entry.move is StockMove.COUNTED for entry in entries):
        return Finding(
            problem=f"{where} was never counted",
            file="stock.csv",
            column="move",
            value=supply.material,
            mend="count it and add the row to stock.csv",
            weight="asks",
        )
    if any(use.quantity is None for use in uses):
        return Finding(
            problem=f"the life of {where} is neither typed nor learned",
            file="stock.csv",
            column="move",
            value=supply.material,
            mend="record the pieces used up, or give the tool a life in its surface",
            weight="asks",
        )
    return None


def _prices(rates: Iterable[Rate], branch: str, currency: str, day: date) -> dict[str, Decimal]:
    """What a litre of each material costs on that day, in the branch's currency."""
    return {
        rate.what: rate.amount
        for rate in rates
        if rate.kind is RateKind.MATERIAL_LITRE
        and (rate.branch, rate.currency) == (branch, currency)
        and rate.from_on <= day
        and (rate.to_on is None or day <= rate.to_on)
    }


def _amount(price: Decimal | None, quantity: float) -> Decimal | None:
    if price is None:
        return None
    return (price * Decimal(str(round(quantity, 6)))).quantize(CENT, ROUND_HALF_UP)
