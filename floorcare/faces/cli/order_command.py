"""The command that says what to order for each branch, and by when."""

from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from floorcare import compose
from floorcare.faces.cli.commands import DB, JSON, TODAY, day_given
from floorcare.faces.cli.files import file_stem, put, ready_folder
from floorcare.faces.cli.telling import NO_BRANCH, as_json

if TYPE_CHECKING:
    from floorcare.ground.schedule.material_order import OrderLine
    from floorcare.services.order_material import OrderSheet


def order(
    branch: str = typer.Option("", "--branch", help="Only this branch."),
    weeks: int = typer.Option(
        4, "--weeks", min=1, max=52, help="Weeks of work to cover after the lead."
    ),
    out: Path | None = typer.Option(
        None, "--out", help="Write each branch's order as PDF, HTML and CSV here."
    ),
    today: str | None = TODAY,
    db: str | None = DB,
    json: bool = JSON,
) -> None:
    """Say what to order, how many packs and by when, from stock, plan, lead and reserve."""
    from floorcare.services.order_material import order_material

    with compose.opened(db) as store:
        sheets = order_material(
            store, compose.surfaces(), today=day_given(today), branch=branch, weeks=weeks
        )
    paths = write_orders(sheets, ready_folder(out)) if out else ()
    typer.echo(as_json({"files": paths, "orders": sheets}) if json else orders_said(sheets, paths))


def write_orders(sheets: Sequence["OrderSheet"], folder: Path) -> tuple[Path, ...]:
    """Every branch's order in every form of the catalogue."""
    from floorcare.faces.documents.catalogue import MATERIAL_ORDERS

    return tuple(
        put(
            folder
            / (file_stem("order", sheet.branch, sheet.order.today.isoformat()) + document.suffix),
            document.write(sheet),
        )
        for sheet in sheets
        for document in MATERIAL_ORDERS
    )


def orders_said(sheets: Sequence["OrderSheet"], paths: Iterable[Path]) -> str:
    """Every branch's order, what cannot be reckoned, and where its papers lie."""
    lines = [line for sheet in sheets for line in _branch(sheet)] or [NO_BRANCH]
    lines += [f"Written: {path}" for path in paths]
    return "\n".join(lines).rstrip()


def _branch(sheet: "OrderSheet") -> Iterator[str]:
    from floorcare.faces.documents.material_order_text import answer, as_text, life_words

    yield f"{sheet.branch}: {answer(sheet)}"
    for line in sheet.order.to_order:
        yield _ordered(line, sheet)
    total = as_text(sheet)["total"]
    if total:
        yield f"  together {total}"
    for finding in sheet.order.findings:
        yield f"  ! {finding}"
    for life in sheet.lives:
        yield f"  {life_words(life, sheet.units)}"
    yield ""


def _ordered(line: "OrderLine", sheet: "OrderSheet") -> str:
    from floorcare.faces.documents.material_order_text import (
        amount_words,
        order_by_words,
        packs_words,
    )

    held = amount_words(line.held, line.unit, sheet.units)
    used = amount_words(line.used, line.unit, sheet.units)
    packs, by = packs_words(line, sheet.units), order_by_words(line)
    return f"  {line.material:20}{packs:18}by {by:34}{held} held, {used} used by {line.last_on}"
