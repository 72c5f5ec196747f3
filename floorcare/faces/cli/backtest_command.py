"""The command that holds forecasts against the readings that came, and what it says."""

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from floorcare import compose
from floorcare.faces.cli.commands import DB, JSON, TODAY, day_given
from floorcare.faces.cli.files import file_stem, put, ready_folder
from floorcare.faces.cli.telling import as_json, progress

if TYPE_CHECKING:
    from floorcare.ground.wear.trial.backtest import Score
    from floorcare.services.backtest_wear import Backtest


def backtest(
    surface: str = typer.Option("", "--surface", help="Only zones of this surface, by its code."),
    site: list[str] = typer.Option([], "--site", help="Only this site; may be given again."),
    months: int = typer.Option(12, "--months", min=1, max=36, help="Months to look back."),
    out: Path | None = typer.Option(
        None, "--out", help="Write a page to read and every forecast as CSV here."
    ),
    today: str | None = TODAY,
    db: str | None = DB,
    json: bool = JSON,
) -> None:
    """Hide the last months' readings, forecast them, and say how far off the forecast was."""
    from floorcare.services.backtest_wear import backtest_wear

    with compose.opened(db) as store:
        answer = backtest_wear(
            store,
            compose.surfaces(),
            today=day_given(today),
            months=months,
            surface=surface,
            sites=site,
            tell=progress("forecasting from days"),
        )
    cut = (*((surface,) if surface else ()), *site)
    paths = write_backtest(answer, ready_folder(out), only=cut) if out else ()
    if json:
        typer.echo(as_json({"files": paths, "backtest": answer}))
    else:
        typer.echo(backtest_said(answer, paths))


def write_backtest(
    answer: "Backtest", folder: Path, *, only: Sequence[str] = ()
) -> tuple[Path, ...]:
    """The backtest in every form of the catalogue; `only` names what it was cut down to."""
    from floorcare.faces.documents.catalogue import BACKTESTS

    stem = file_stem("backtest", *only)
    return tuple(
        put(folder / (stem + document.suffix), document.write(answer)) for document in BACKTESTS
    )


def backtest_said(answer: "Backtest", paths: Sequence[Path] = ()) -> str:
    """The answer in one line, then the scores by days ahead and by group."""
    from floorcare.faces.documents import backtest_page as words

    lines = [words.answer(answer)]
    if not answer.forecasts:
        return "\n".join([*lines, "Next: floorcare record reading, or a longer --months."])
    lines.append(words.behind(answer))
    for heading, _, rows in words.tables(answer):
        if rows:
            lines += ["", *_table(heading, rows)]
    lines += ["", *words.MEANING, *(f"Written: {path}" for path in paths)]
    return "\n".join(lines)


def _table(heading: str, rows: Sequence[tuple[str, "Score"]]) -> Iterator[str]:
    first = f"  {heading}"
    yield first
    yield (
        f"  {'':24}{'readings':>9}{'off':>6}{'bias':>6}   {'in band 50/80/90 %':20}{'':16}"
        f"{'last':>6}{'trend':>7}{'exp.':>7}{'regr.':>7}"
    )
    for name, score in rows:
        yield _line(name, score)


def _line(name: str, score: "Score") -> str:
    from floorcare.faces.documents.backtest_page import verdict

    start = f"  {name:24}{score.readings:>9,}"
    if score.mean_error_gu is None or score.inside is None or score.rivals_gu is None:
        return f"{start}{'–':>6}"
    inside = " / ".join(f"{100 * share:.0f}" for share in score.inside)
    last, *others = score.rivals_gu
    rivals = f"{last:>6.1f}" + "".join(f"{off:>7.1f}" for off in others)
    return (
        f"{start}{score.mean_error_gu:>6.1f}{score.bias_gu:>+z6.1f}   {inside:20}"
        f"{verdict(score):16}{rivals}"
    )
