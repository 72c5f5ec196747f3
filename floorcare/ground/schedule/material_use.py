"""What visits and our own standing rounds use up of products and tools, night by night."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta

from floorcare.ground.schedule.closings import surface_of
from floorcare.ground.trade.book import SiteBook
from floorcare.ground.trade.equipment import StockEntry
from floorcare.ground.trade.routine import Performer
from floorcare.ground.trade.surface import Rung, Surface
from floorcare.ground.trade.visit import Visit, VisitState
from floorcare.ground.wear.books.from_books import routine_dates, runs_by_itself
from floorcare.ground.work.quantities import quantities, tool_uses
from floorcare.ground.work.tool_life import (
    ToolLife,
    ToolRecord,
    learn_tool_life,
    pieces_used,
    span_of,
)

TO_COME = (VisitState.PROPOSED, VisitState.HELD, VisitState.STARTED)
"""Visits whose material still lies on the shelf."""
LITRES, PIECES = "L", "pieces"


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialUse:
    """What a night's work takes off the shelf.

    quantity : litres of a product, or pieces of a tool; None where the tool's life is not known.
    estimate : the product's coverage is not from its sheet, or the area of a line is not known.
    """

    on: date
    material: str
    name: str
    quantity: float | None
    unit: str
    estimate: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class _Treated:
    """One work on one floor on one day, at a site of the branch."""

    on: date
    surface: Surface
    rung: Rung
    area_m2: float | None


def tool_lives(
    branch: str,
    books: Iterable[SiteBook],
    surfaces: Mapping[str, Surface],
    stock: Iterable[StockEntry],
) -> dict[str, ToolLife]:
    """The life of every tool a branch's surfaces name: typed, and learned from its recorded use.

    Parameters
    ----------
    books : of any sites; work counts where the branch served the site on that day.
    stock : entries of any branches; of a tool, in pieces.
    """
    books, entries = tuple(books), [e for e in stock if e.branch == branch and e.unit == PIECES]
    typed: dict[str, float | None] = {}
    for surface in surfaces.values():
        for code, tool in surface.tools.items():
            typed[code] = typed.get(code) or tool.life_m2
    found = {}
    for code, life in typed.items():
        record, span = None, span_of(entries, code)
        if span is not None:
            first, last = span[0] + timedelta(days=1), span[1]
            uses = [
                use
                for treated in _recorded(branch, books, surfaces, first, last)
                for use in tool_uses(treated.surface, treated.rung, treated.area_m2)
                if use.tool == code
            ]
            pieces = pieces_used(entries, code, after=span[0], to=last)
            heads = max((use.heads for use in uses), default=1)
            record = ToolRecord(sets=pieces / heads, worked_m2=sum(u.worked_m2 for u in uses))
        found[code] = learn_tool_life(code, life, record)
    return found


def with_lives(surface: Surface, lives: Mapping[str, ToolLife]) -> Surface:
    """The surface with the lives of its tools as they are known today."""
    tools = {
        code: replace(tool, life_m2=lives[code].life_m2 if code in lives else tool.life_m2)
        for code, tool in surface.tools.items()
    }
    return replace(surface, tools=tools)


def visit_uses(
    visits: Iterable[Visit], books: Mapping[str, SiteBook], surfaces: Mapping[str, Surface]
) -> Iterator[MaterialUse]:
    """What visits still to come use, each on its night."""
    for visit in visits:
        if visit.state not in TO_COME:
            continue
        zones = {zone.zone.code: zone for zone in books[visit.site].zones}
        for line in visit.lines:
            surface = surface_of(zones[line.zone], visit, surfaces)
            rung = surface.rung(line.work)
            if rung is not None:
                yield from _uses(
                    _Treated(on=visit.night, surface=surface, rung=rung, area_m2=line.area_m2)
                )


def round_uses(
    branch: str,
    books: Iterable[SiteBook],
    surfaces: Mapping[str, Surface],
    *,
    first: date,
    last: date,
) -> Iterator[MaterialUse]:
    """What our own standing rounds use from the first day to the last, both included."""
    for treated in _rounds(branch, books, surfaces, first, last):
        yield from _uses(treated)


def _uses(treated: _Treated) -> Iterator[MaterialUse]:
    for product in quantities(treated.surface, treated.rung, treated.area_m2):
        yield MaterialUse(
            on=treated.on,
            material=product.material,
            name=product.name,
            quantity=product.litres,
            unit=LITRES,
            estimate=product.marked_estimate,
        )
    for tool in tool_uses(treated.surface, treated.rung, treated.area_m2):
        yield MaterialUse(
            on=treated.on,
            material=tool.tool,
            name=tool.name,
            quantity=None if tool.share is None else tool.share * tool.heads,
            unit=PIECES,
            estimate=treated.area_m2 is None,
        )


def _recorded(
    branch: str,
    books: Iterable[SiteBook],
    surfaces: Mapping[str, Surface],
    first: date,
    last: date,
) -> Iterator[_Treated]:
    """Recorded treatments, and our own standing rounds, which nobody records one by one."""
    books = tuple(books)
    for book in books:
        for zone in book.zones:
            for done in zone.done:
                served = book.site.branch_on(done.done_on) == branch
                span = zone.zone.span_on(done.done_on)
                if not (first <= done.done_on <= last and served and span is not None):
                    continue
                surface = surfaces.get(span.surface)
                rung = surface.rung(done.work) if surface else None
                if surface is not None and rung is not None and span.area_m2 is not None:
                    area = span.area_m2 * done.share
                    yield _Treated(on=done.done_on, surface=surface, rung=rung, area_m2=area)
    yield from _rounds(branch, books, surfaces, first, last)


def _rounds(
    branch: str,
    books: Iterable[SiteBook],
    surfaces: Mapping[str, Surface],
    first: date,
    last: date,
) -> Iterator[_Treated]:
    for book in books:
        for zone in book.zones:
            for routine in zone.routines:
                if routine.performer is not Performer.US or not runs_by_itself(routine):
                    continue
                for on in routine_dates(routine, first, last):
                    span = zone.zone.span_on(on)
                    if span is None or book.site.branch_on(on) != branch:
                        continue
                    surface = surfaces.get(span.surface)
                    rung = surface.rung(routine.work) if surface else None
                    if surface is not None and rung is not None:
                        yield _Treated(on=on, surface=surface, rung=rung, area_m2=span.area_m2)
