"""A material order as plain words, laid out afterwards by the page and the printed sheet."""

from datetime import date

from floorcare.faces.documents import wording
from floorcare.ground.schedule.material_order import OrderLine
from floorcare.ground.work.tool_life import ToolLife
from floorcare.services.order_material import OrderSheet
from floorcare.services.sheets import Units

Plain = dict[str, object]


def answer(sheet: OrderSheet) -> str:
    """The order in one sentence."""
    order = sheet.order
    if not order.to_order:
        reckoned = wording.count(len(order.lines), "material")
        return f"Nothing to order for {order.weeks} weeks ahead; {reckoned} reckoned."
    late = sum(line.overdue for line in order.to_order)
    dated = (line.order_by for line in order.to_order if line.order_by is not None)
    first = wording.day_words(max(min(dated), order.today))
    said = f"{wording.count(len(order.to_order), 'material')} to order, the first by {first}"
    return f"{said}; {late} overdue." if late else f"{said}."


def as_text(sheet: OrderSheet) -> Plain:
    """Everything the order says, as nested dicts, lists and strings."""
    order = sheet.order
    amounts = [line.amount for line in order.to_order if line.amount is not None]
    unpriced = len(order.to_order) - len(amounts)
    total = f"{sum(amounts):,.2f} {order.currency}" if amounts else ""
    if total and unpriced:
        total += f", {wording.count(unpriced, 'material')} without a price besides"
    return {
        "title": f"Material order, {sheet.branch}: {wording.day_words(order.today)}",
        "heading": sheet.branch,
        "when": f"Material order, {wording.day_words(order.today)}",
        "answer": answer(sheet),
        "as_of": f"As of {sheet.as_of}" if sheet.as_of else "",
        "how": (
            "Stock as last counted and moved, less what the plan and our standing rounds use until "
            f"{order.weeks} weeks after an order placed today has arrived."
        ),
        "orders": [_order(line, sheet) for line in order.to_order],
        "total": total,
        "rest": [_enough(line, sheet) for line in order.lines if not line.packs],
        "findings": [str(finding) for finding in order.findings],
        "lives": [life_words(life, sheet.units) for life in sheet.lives],
    }


def amount_words(quantity: float, unit: str, units: Units) -> str:
    """A volume, or pieces to one decimal."""
    if unit == "L":
        sign = "−" if quantity < 0 else ""
        return f"{sign}{wording.bound(wording.volume_words(abs(quantity), units))}"
    rounded = round(quantity, 1)
    return f"{rounded:g} {'piece' if rounded == 1 else 'pieces'}"


def packs_words(line: OrderLine, units: Units) -> str:
    """The packs with what one holds."""
    return f"{line.packs} × {amount_words(line.supply.pack, line.unit, units)}"


def order_by_words(line: OrderLine) -> str:
    """By when, and that it is overdue."""
    if line.order_by is None:
        return wording.NONE
    day = _day(line.order_by)
    return f"{day}, overdue: order today" if line.overdue else day


def life_words(life: ToolLife, units: Units) -> str:
    """A tool's life with its band, and what it was learned from."""
    name, area = life.tool.replace("_", " "), wording.area_words(life.life_m2, units)
    low, high = wording.area_words(life.low_m2, units), wording.area_words(life.high_m2, units)
    said = f"{name}: {area} a set ({low} to {high}), {life.known_by}"
    if life.worked_m2:
        said += f" from {life.sets:g} sets on {wording.area_words(life.worked_m2, units)}"
    return said


def _order(line: OrderLine, sheet: OrderSheet) -> Plain:
    return {
        **_enough(line, sheet),
        "packs": packs_words(line, sheet.units),
        "order_by": order_by_words(line),
        "overdue": line.overdue,
        "short_on": wording.NONE if line.short_on is None else _day(line.short_on),
        "lead": wording.count(line.supply.lead_days, "day"),
        "amount": wording.NONE
        if line.amount is None
        else f"{line.amount:,.2f} {sheet.order.currency}",
    }


def _enough(line: OrderLine, sheet: OrderSheet) -> Plain:
    return {
        "material": line.material,
        "name": line.name.partition(", 1 part")[0] + (" (estimate)" if line.estimate else ""),
        "held": amount_words(line.held, line.unit, sheet.units),
        "used": amount_words(line.used, line.unit, sheet.units),
        "left": amount_words(line.left, line.unit, sheet.units),
        "reserve": amount_words(line.supply.reserve, line.unit, sheet.units),
        "until": _day(line.last_on),
    }


def _day(day: date) -> str:
    return wording.day_short(day)
