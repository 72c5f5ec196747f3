"""The command that sets measured wear against a fixed calendar, and what it says."""

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from floorcare import compose
from floorcare.faces.cli.commands import DB, JSON, TODAY, day_given
from floorcare.faces.cli.files import file_stem, put, ready_folder
from floorcare.faces.cli.telling import as_json, progress

if TYPE_CHECKING:
    from floorcare.ground.schedule.comparison.account import GroupCompared
    from floorcare.services.compare_plans import PlansCompared


def compare(
    site: list[str] = typer.Option([], "--site", help="Only this site; may be given again."),
    contract: list[str] = typer.Option(
        [], "--contract", help="Only zones this contract promises a look; may be given again."
    ),
    years: int = typer.Option(3, "--years", min=1, max=5, help="Years to live through."),
    futures: int = typer.Option(64, "--futures", min=1, max=512, help="Futures of each floor."),
    out: Path | None = typer.Option(
        None, "--out", help="Write a page, a table as CSV and the picture as SVG here."
    ),
    today: str | None = TODAY,
    db: str | None = DB,
    json: bool = JSON,
) -> None:
    """Set measured wear against a fixed calendar on the same zones: cost, closings, look kept."""
    from floorcare.services.compare_plans import compare_plans

    with compose.opened(db) as store:
        answer = compare_plans(
            store,
            compose.surfaces(),
            today=day_given(today),
            sites=site,
            contracts=contract,
            years=years,
            futures=futures,
            tell=progress("living through the futures"),
        )
    paths = write_compared(answer, ready_folder(out), only=(*site, *contract)) if out else ()
    if json:
        typer.echo(as_json({"files": paths, "compared": answer}))
    else:
        typer.echo(compared_said(answer, paths))


def write_compared(
    answer: "PlansCompared", folder: Path, *, only: Sequence[str] = ()
) -> tuple[Path, ...]:
    """The comparison in every form of the catalogue; `only` names what it was cut down to."""
    from floorcare.faces.documents.catalogue import COMPARISONS

    stem = file_stem("compare", *only)
    return tuple(
        put(folder / (stem + document.suffix), document.write(answer))
        for document in COMPARISONS
        if answer.groups or document.suffix != ".svg"
    )


def compared_said(answer: "PlansCompared", paths: Sequence[Path] = ()) -> str:
    """The answer in one line, the three plans, who wins where, then contracts and sites."""
    from floorcare.faces.documents import compare_words as words

    lines = [words.answer(answer)]
    if answer.groups:
        lines += ["", *_plans(answer.groups[0]), ""]
    lines += words.sentences(answer)
    for kind in words.kinds_told(answer):
        if found := words.groups(answer, kind):
            lines += ["", *_table(kind, found)]
    if answer.groups:
        lines += ["", *words.MEANING]
    else:
        lines.append("Next: floorcare record reading, and a reference in promises.csv.")
    lines += [f"Written: {path}" for path in paths]
    return "\n".join(lines)


def _plans(group: "GroupCompared") -> Iterator[str]:
    from floorcare.faces.documents.compare_words import plan_cells

    yield (
        f"  {'':28}{'days in promise':>18}{'hours':>22}{'closings':>17}{'product L':>22}"
        f"{'water L':>22}"
    )
    for plan in group.plans:
        cost, share, hours, closings, product, water = plan_cells(plan)
        yield (f"  {plan.way.value:28}{share:>18}{hours:>22}{closings:>17}{product:>22}{water:>22}")
        yield f"      {cost}"


def _table(kind: str, found: Sequence["GroupCompared"]) -> Iterator[str]:
    from floorcare.faces.documents.compare_words import verdict_words
    from floorcare.ground.schedule.comparison.compare import Way

    yield (
        f"  {'by ' + kind:18}{'zones':>6}   {'cost wear / agreed / hindsight':34}"
        f"{'days in promise':20}against the calendar as agreed; in hindsight"
    )
    for group in found:
        costs = " / ".join(f"{plan.cost[0].amount.p50:,.0f}" for plan in group.plans)
        shares = " / ".join(f"{100 * plan.share.p50:.0f}" for plan in group.plans)
        money = f"{costs} {group.plans[0].cost[0].currency}"
        yield (
            f"  {group.name:18}{group.zones:>6}   {money:34}{shares + ' %':20}"
            f"{verdict_words(group, Way.AGREED)}; {verdict_words(group, Way.HINDSIGHT)}"
        )
