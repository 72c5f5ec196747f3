"""The commands, each a verb of the job: parse, call a service, show."""

import getpass
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from floorcare import compose
from floorcare.errors import NotUnderstood
from floorcare.faces.cli.files import ready_folder
from floorcare.faces.cli.telling import as_json, progress, say_findings

if TYPE_CHECKING:
    from floorcare.faces.intake.taken import Taken

FINDINGS_REMAIN = 1
"""Exit code: done, but something needs a person."""

DB = typer.Option(
    None, "--db", help="Database: a file or a URL. Else FLOORCARE_DB or floorcare.db."
)
JSON = typer.Option(False, "--json", help="Answer as JSON on standard output.")
TODAY = typer.Option(None, "--today", help="Plan as if it were this day (YYYY-MM-DD).")
OUT = typer.Option(Path("out"), "--out", help="Folder the files are written to.")


def _day(text: str | None) -> date:
    if text is None:
        return compose.today()
    try:
        return date.fromisoformat(text)
    except ValueError as trouble:
        raise NotUnderstood(f'"{text}" is no day; write it as 2026-03-02.') from trouble


def _who() -> str:
    try:
        return getpass.getuser()
    except (KeyError, OSError):  # a container without a name for its user
        return "somebody"


def demo(
    folder: Path = typer.Argument(Path("demo"), help="Folder for everything the demo makes."),
    json: bool = JSON,
) -> None:
    """Load the invented sample contractor, plan a year, write its lists and calendars."""
    from floorcare.faces.cli import accounts
    from floorcare.faces.cli.demo import build_demo

    account = build_demo(ready_folder(folder), tell=progress)
    typer.echo(as_json(account) if json else accounts.demo_account(account))


def load(
    source: Path = typer.Argument(..., help="Folder of CSV files, or one five-column sheet."),
    check: bool = typer.Option(False, "--check", help="Only look; write nothing."),
    time_zone: str = typer.Option("", "--time-zone", help="Time zone of a five-column sheet."),
    db: str | None = DB,
    json: bool = JSON,
    today: str | None = TODAY,
) -> None:
    """Bring sites, zones, readings and promises in from a folder or sheet."""
    from floorcare.faces.cli import accounts
    from floorcare.faces.intake.care import read_care
    from floorcare.services.load_care import load_care
    from floorcare.store.upgrade import create_or_upgrade

    taken = read_care(
        source,
        surfaces=frozenset(compose.surfaces()),
        today=_day(today),
        time_zone=time_zone,
        tell=progress("reading"),
    )
    _stop_on_problems(taken, source, json=json)
    loaded = None
    if not check:
        create_or_upgrade(compose.database_url(db), compose.now())
        with compose.opened(db) as store:
            loaded = load_care(store, taken.portfolio, who=_who(), now=compose.now())
    if json:
        typer.echo(
            as_json(
                {
                    "written": loaded is not None and loaded.changed_anything,
                    "files": taken.files,
                    "rows": taken.rows,
                    "counts": loaded.counts if loaded else (),
                    "findings": taken.findings,
                }
            )
        )
    else:
        typer.echo(accounts.load_account(taken, loaded))
        say_findings(taken.findings)
    if taken.findings:
        raise typer.Exit(FINDINGS_REMAIN)


def _stop_on_problems(taken: "Taken", source: Path, *, json: bool) -> None:
    """Leave with every finding told where one of them stops the load."""
    stops = sum(1 for finding in taken.findings if finding.weight == "stops")
    if not stops:
        return
    if json:
        typer.echo(as_json({"written": False, "findings": taken.findings}))
    raise NotUnderstood(
        f"{stops} problem{'s' if stops > 1 else ''} found; nothing was written.",
        where=str(source),
        findings=() if json else taken.findings,
    )


def plan(
    weeks: int = typer.Option(52, "--weeks", min=1, max=156, help="Length of the horizon."),
    dry_run: bool = typer.Option(False, "--dry-run", help="Show the difference, write nothing."),
    changes: bool = typer.Option(False, "--changes", help="Name every changed visit."),
    today: str | None = TODAY,
    db: str | None = DB,
    json: bool = JSON,
) -> None:
    """Plan the year and show what changed from the plan that stood."""
    from floorcare.faces.cli import accounts
    from floorcare.services.plan_year import plan_year

    with compose.opened(db) as store:
        account = plan_year(
            store,
            compose.surfaces(),
            today=_day(today),
            now=compose.now(),
            who=_who(),
            weeks=weeks,
            dry_run=dry_run,
            tell=progress("planning branches"),
        )
    if json:
        typer.echo(as_json(account))
    else:
        typer.echo(accounts.plan_account(account, dry_run=dry_run, every_change=changes))
        say_findings(account.findings)
    if account.unplaced or account.late or account.findings:
        raise typer.Exit(FINDINGS_REMAIN)


def visits(
    first: str | None = typer.Option(None, "--from", help="First night (default today)."),
    last: str | None = typer.Option(None, "--to", help="Last night (default four weeks on)."),
    site: list[str] = typer.Option([], "--site", help="Only this site; may be given again."),
    cancelled: bool = typer.Option(False, "--cancelled", help="Show called-off visits too."),
    db: str | None = DB,
    json: bool = JSON,
) -> None:
    """List planned visits by night."""
    from floorcare.faces.cli import accounts
    from floorcare.services.show_visits import show_visits

    starts = _day(first)
    ends = _day(last) if last else starts + timedelta(weeks=4)
    if ends < starts:
        raise NotUnderstood(f"The last night {ends} lies before the first, {starts}.")
    with compose.opened(db) as store:
        rows = show_visits(store, first=starts, last=ends, sites=site, cancelled=cancelled)
    typer.echo(as_json(rows) if json else accounts.visit_rows(rows, starts, ends))


def floors(
    out: Path | None = typer.Option(None, "--out", help="Write HTML, CSV and XLSX here."),
    today: str | None = TODAY,
    db: str | None = DB,
    json: bool = JSON,
) -> None:
    """Show every zone's condition against its promise."""
    from floorcare.faces.cli import accounts
    from floorcare.faces.cli.writing import write_condition_tables
    from floorcare.services.show_floors import show_floors

    with compose.opened(db) as store:
        tables = show_floors(store, compose.surfaces(), today=_day(today))
    paths = write_condition_tables(tables, ready_folder(out)) if out else ()
    typer.echo(as_json(tables) if json else accounts.floor_tables(tables, paths))


def why(
    target: str = typer.Argument(..., help="A visit's id, its beginning, or a zone: SITE/ZONE."),
    today: str | None = TODAY,
    db: str | None = DB,
    json: bool = JSON,
) -> None:
    """Explain a visit or a zone: reason, numbers, what was rejected, what would change the date."""
    from floorcare.faces.cli import accounts
    from floorcare.services.explain_why import explain_why

    with compose.opened(db) as store:
        answer = explain_why(store, compose.surfaces(), target=target, today=_day(today))
    typer.echo(as_json(answer) if json else accounts.explanation(answer))


def lists(
    week: str | None = typer.Option(
        None, "--week", help="Any day of the week (default next week)."
    ),
    branch: str = typer.Option("", "--branch", help="Only this branch."),
    out: Path = OUT,
    db: str | None = DB,
    json: bool = JSON,
) -> None:
    """Write a week's visit lists as PDF, HTML and CSV."""
    from floorcare.faces.cli import accounts
    from floorcare.faces.cli.writing import write_visit_lists
    from floorcare.services.list_visits import list_week, week_of
    from floorcare.store.surfaces import load_cautions

    day = _day(week) if week else compose.today() + timedelta(weeks=1)
    with compose.opened(db) as store:
        weeks = list_week(
            store, compose.surfaces(), load_cautions(), starts_on=week_of(day), branch=branch
        )
    paths = write_visit_lists(weeks, ready_folder(out))
    typer.echo(as_json({"files": paths, "lists": weeks}) if json else accounts.lists(weeks, paths))


def calendars(
    site: list[str] = typer.Option([], "--site", help="Only this site; may be given again."),
    agreed_only: bool = typer.Option(
        False, "--agreed-only", help="Leave out visits the customer was not asked about yet."
    ),
    out: Path = OUT,
    today: str | None = TODAY,
    db: str | None = DB,
    json: bool = JSON,
) -> None:
    """Write a calendar file for each site."""
    from floorcare.faces.cli import accounts
    from floorcare.faces.cli.writing import write_calendars
    from floorcare.services.publish_calendars import publish_calendars

    with compose.opened(db) as store:
        sheets = publish_calendars(store, compose.surfaces(), sites=site)
    written = write_calendars(
        sheets, ready_folder(out), today=_day(today), proposed=not agreed_only
    )
    typer.echo(as_json(written) if json else accounts.calendars(written))


def upgrade(db: str | None = DB, json: bool = JSON) -> None:
    """Make a new database, or bring an older one up to date after taking a copy of it."""
    from floorcare.faces.cli import accounts
    from floorcare.store.upgrade import create_or_upgrade

    result = create_or_upgrade(compose.database_url(db), compose.now())
    typer.echo(as_json(result) if json else accounts.upgraded(result))


COMMANDS: tuple[Callable[..., None], ...] = (
    demo,
    load,
    plan,
    visits,
    floors,
    why,
    lists,
    calendars,
    upgrade,
)
"""Every command, in the order --help names them."""
