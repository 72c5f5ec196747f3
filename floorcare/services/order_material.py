"""What every branch is to order: stock, plan, standing rounds, lead times, packs, reserves."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from floorcare.ground.rules.reasons import said
from floorcare.ground.schedule.material_order import (
    ORDER_WEEKS,
    MaterialOrder,
)
from floorcare.ground.schedule.material_order import order_material as order_branch
from floorcare.ground.schedule.material_use import round_uses, tool_lives, visit_uses, with_lives
from floorcare.ground.trade.surface import Surface
from floorcare.ground.work.tool_life import ToolLife
from floorcare.services.sheets import Units
from floorcare.services.visit_sheets import branches_asked, visits_of
from floorcare.store.open import Store


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderSheet:
    """A branch's material order, and the tool lives it was reckoned with.

    lives : of the tools something is known of, by code.
    """

    branch: str
    branch_code: str
    units: Units
    order: MaterialOrder
    lives: tuple[ToolLife, ...]
    as_of: str = ""


def order_material(
    store: Store,
    surfaces: Mapping[str, Surface],
    *,
    today: date,
    branch: str = "",
    weeks: int = ORDER_WEEKS,
) -> tuple[OrderSheet, ...]:
    """The material order of every branch, or of the one asked for ("" for all).

    Parameters
    ----------
    weeks : of work the order is to cover after its lead, 1 or more.

    Raises
    ------
    NotKnown : there is no such branch.
    """
    with store.work() as work:
        branches = work.branches()
        books = work.books()
        stock, supplies, rates = work.stock(), work.supplies(), work.rates()
        longest = max((supply.lead_days for supply in supplies), default=0)
        last = today + timedelta(days=longest + 7 * weeks)
        visits = work.visits(first=today, last=last)
        plan = work.standing_plan()
    by_code = {book.site.code: book for book in books}
    sheets = []
    for each in branches_asked(branches, branch):
        lives = tool_lives(each.code, books, surfaces, [e for e in stock if e.on <= today])
        known = {code: with_lives(surface, lives) for code, surface in surfaces.items()}
        uses = (
            *visit_uses(visits_of(each, books, visits), by_code, known),
            *round_uses(each.code, books, known, first=today, last=last),
        )
        order = order_branch(
            each.code, each.currency, uses, stock, supplies, rates, today=today, weeks=weeks
        )
        sheets.append(
            OrderSheet(
                branch=each.name,
                branch_code=each.code,
                units=each.units,
                order=order,
                lives=tuple(life for life in lives.values() if life.life_m2 is not None),
                as_of=f"the plan of {said(plan.made_at.date())}" if plan else "no plan yet",
            )
        )
    return tuple(sheets)
