"""The commands of the week: put visits on crews, and change one by hand with what follows."""

from collections.abc import Callable, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

import typer

from floorcare import compose
from floorcare.errors import NotUnderstood
from floorcare.faces.cli.commands import (
    DB,
    FINDINGS_REMAIN,
    JSON,
    TODAY,
    day_given,
    week_start,
    who_asks,
)
from floorcare.faces.cli.telling import as_json, say_findings

if TYPE_CHECKING:
    from floorcare.services.week_ground import WeekAsked
    from floorcare.services.week_sheet import FittedWeek

group = typer.Typer(
    name="week", invoke_without_command=True, pretty_exceptions_enable=False, add_completion=False
)

VISIT = typer.Argument(
    ..., metavar="VISIT", help="Site and night (and start where there are two), or its id."
)
WRITE = typer.Option(False, "--write", help="Keep it; left out, it is only shown.")
OUT = typer.Option(None, "--out", help="Write week sheets, crew lists and crew calendars here.")
SEED = typer.Option(1, "--seed", help="Seed of the search; the same seed gives the same week.")
STEPS = typer.Option(4_000, "--steps", help="Steps of the search at most.")
PAPER = typer.Option("", "--paper", help="a4 or letter (default as the branch's units).")


@group.callback()
def week(
    context: typer.Context,
    week: str | None = typer.Option(
        None, "--week", help="Any day of the week (default next week)."
    ),
    branch: str = typer.Option("", "--branch", help="Only this branch."),
    write: bool = WRITE,
    out: Path | None = OUT,
    paper: str = PAPER,
    seed: int = SEED,
    steps: int = STEPS,
    workers: int = typer.Option(1, "--workers", help="Branches searched at once."),
    today: str | None = TODAY,
    db: str | None = DB,
    json: bool = JSON,
) -> None:
    """Put a week's visits on crews; with a word behind it, change one by hand."""
    if context.invoked_subcommand is not None:
        if week or branch or write or out or db or json:
            word = context.invoked_subcommand
            raise NotUnderstood(f"Options go behind the word: floorcare week {word} … --db FILE.")
        return
    from floorcare.services.fit_week import fit_week

    asked = _asked(week_start(week, today), today, write, seed, steps, branch, workers)
    _done(fit_week, asked, db, out=out, paper=paper, json=json)


@group.command("move")
def move_in_week(
    visit: list[str] = VISIT,
    to: str = typer.Option(..., "--to", help="The night of the same week it is to be."),
    crew: str = typer.Option("", "--crew", help="The crew that is to go (default any)."),
    write: bool = WRITE,
    out: Path | None = OUT,
    paper: str = PAPER,
    seed: int = SEED,
    steps: int = STEPS,
    today: str | None = TODAY,
    db: str | None = DB,
    json: bool = JSON,
) -> None:
    """Put a visit on another night of its week; show what moves with it."""
    from floorcare.services.change_week import give_visit

    asked = _asked(day_given(to), today, write, seed, steps)
    more = {"words": visit, "to": day_given(to), "crew": crew}
    _done(give_visit, asked, db, out=out, paper=paper, json=json, **more)


@group.command("assign")
def assign_in_week(
    visit: list[str] = VISIT,
    crew: str = typer.Option(..., "--crew", help="The crew that is to go."),
    write: bool = WRITE,
    out: Path | None = OUT,
    paper: str = PAPER,
    seed: int = SEED,
    steps: int = STEPS,
    today: str | None = TODAY,
    db: str | None = DB,
    json: bool = JSON,
) -> None:
    """Give a visit to a crew on its night, and hold it there; show what moves with it."""
    from floorcare.services.change_week import give_visit

    asked = _asked(day_given(today), today, write, seed, steps)
    more = {"words": visit, "crew": crew}
    _done(give_visit, asked, db, out=out, paper=paper, json=json, **more)


@group.command("hold")
def hold_in_week(
    visit: list[str] = VISIT,
    release: bool = typer.Option(False, "--release", help="Let it go again instead."),
    today: str | None = TODAY,
    db: str | None = DB,
    json: bool = JSON,
) -> None:
    """Pin a visit to the crew and night it has, whatever later weeks and plans find."""
    from floorcare.services.change_week import hold_visit

    asked = _asked(day_given(today), today, True, 1, 1)
    with compose.opened(db) as store:
        answer = hold_visit(store, asked, words=visit, held=not release)
    if json:
        typer.echo(as_json(answer))
        return
    what = "is held with" if answer.held else "is free again; it was held with"
    typer.echo(f"{answer.site}, {answer.night}: {what} crew {answer.crew}.")


@group.command("absent")
def absent_in_week(
    worker: str = typer.Argument(..., help="The worker's code."),
    first: str = typer.Option(..., "--from", help="First day away."),
    last: str | None = typer.Option(None, "--to", help="Last day away (default the first)."),
    why: str = typer.Option("", "--why", help="Why, in a word."),
    write: bool = WRITE,
    out: Path | None = OUT,
    paper: str = PAPER,
    seed: int = SEED,
    steps: int = STEPS,
    today: str | None = TODAY,
    db: str | None = DB,
    json: bool = JSON,
) -> None:
    """A worker does not come: show the week without them."""
    from floorcare.ground.worktime.window import week_of
    from floorcare.services.change_week import note_absence

    begins, ends = _span(first, last)
    asked = _asked(week_of(begins), today, write, seed, steps)
    more = {"worker": worker, "first": begins, "last": ends, "why": why}
    _done(note_absence, asked, db, out=out, paper=paper, json=json, **more)


@group.command("down")
def down_in_week(
    machine: str = typer.Argument(..., help="The machine's code."),
    first: str = typer.Option(..., "--from", help="First day out of order."),
    last: str | None = typer.Option(None, "--to", help="Last day (default the first)."),
    write: bool = WRITE,
    out: Path | None = OUT,
    paper: str = PAPER,
    seed: int = SEED,
    steps: int = STEPS,
    today: str | None = TODAY,
    db: str | None = DB,
    json: bool = JSON,
) -> None:
    """A machine is out of order: show the week without it."""
    from floorcare.ground.worktime.window import week_of
    from floorcare.services.change_week import note_outage

    begins, ends = _span(first, last)
    asked = _asked(week_of(begins), today, write, seed, steps)
    more = {"machine": machine, "first": begins, "last": ends}
    _done(note_outage, asked, db, out=out, paper=paper, json=json, **more)


@group.command("overrun")
def overrun_in_week(
    visit: list[str] = VISIT,
    minutes: int = typer.Option(..., "--minutes", help="Minutes it takes more than planned."),
    write: bool = WRITE,
    out: Path | None = OUT,
    paper: str = PAPER,
    seed: int = SEED,
    steps: int = STEPS,
    today: str | None = TODAY,
    db: str | None = DB,
    json: bool = JSON,
) -> None:
    """A visit takes longer: show what becomes of the crew's other visits."""
    from floorcare.services.change_week import note_overrun

    asked = _asked(day_given(today), today, write, seed, steps)
    more = {"words": visit, "minutes": minutes}
    _done(note_overrun, asked, db, out=out, paper=paper, json=json, **more)


SUBCOMMANDS: tuple[Callable[..., None], ...] = (
    move_in_week,
    assign_in_week,
    hold_in_week,
    absent_in_week,
    down_in_week,
    overrun_in_week,
)
"""What may be done to a week by hand, in the order --help names it."""


def _asked(
    starts_on: date,
    today: str | None,
    write: bool,
    seed: int,
    steps: int,
    branch: str = "",
    workers: int = 1,
) -> "WeekAsked":
    from dataclasses import replace

    from floorcare.ground.crews.assign import USUAL_SEARCH
    from floorcare.services.week_ground import WeekAsked

    if steps < 1 or workers < 1:
        raise NotUnderstood("--steps and --workers: allowed 1 or more.")
    return WeekAsked(
        starts_on=starts_on,
        today=day_given(today),
        who=who_asks(),
        now=compose.now(),
        branch=branch,
        write=write,
        search=replace(USUAL_SEARCH, seed=seed, iterations=steps),
        workers=workers,
    )


def _span(first: str, last: str | None) -> tuple[date, date]:
    begins = day_given(first)
    ends = day_given(last) if last is not None else begins
    if ends < begins:
        raise NotUnderstood(f"The last day {ends} lies before the first, {begins}.")
    return begins, ends


def _done(
    act: Callable[..., "Sequence[FittedWeek]"],
    asked: "WeekAsked",
    db: str | None,
    *,
    out: Path | None,
    paper: str,
    json: bool,
    **more: Any,
) -> None:
    """Do it, write the papers, tell the answer; exit 1 where a visit has no crew."""
    from floorcare.faces.cli import week_account
    from floorcare.faces.cli.files import ready_folder
    from floorcare.faces.cli.week_files import write_weeks
    from floorcare.store.surfaces import load_cautions

    size = {"": "", "a4": "A4", "letter": "Letter"}.get(paper.casefold())
    if size is None:
        raise NotUnderstood(f'"{paper}" is no paper here; allowed a4 and letter.')
    with compose.opened(db) as store:
        weeks = act(store, compose.surfaces(), load_cautions(), asked, **more)
    paths = write_weeks(weeks, ready_folder(out), paper=size) if out else ()
    if json:
        typer.echo(as_json({"files": paths, "weeks": weeks, "written": asked.write}))
    else:
        typer.echo(week_account.weeks(weeks, paths, written=asked.write))
        say_findings(tuple(finding for one in weeks for finding in one.findings))
    if any(one.sheet.unfitted for one in weeks):
        raise typer.Exit(FINDINGS_REMAIN)
