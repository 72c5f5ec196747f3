"""The commands, each a verb of the job: parse, call a service, show."""

import getpass
from collections.abc import Callable
from dataclasses import replace
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
    from floorcare.services.load_care import Loaded

FINDINGS_REMAIN = 1
"""Exit code: done, but something needs a person."""

DB = typer.Option(
    None, "--db", help="Database: a file or a URL. Else FLOORCARE_DB or floorcare.db."
)
JSON = typer.Option(False, "--json", help="Answer as JSON on standard output.")
TODAY = typer.Option(None, "--today", help="Act as if it were this day (YYYY-MM-DD).")
OUT = typer.Option(Path("out"), "--out", help="Folder the files are written to.")


FIRST_DAY, LAST_DAY = date(2000, 1, 1), date(2090, 12, 31)
"""Days a command may be asked about: a horizon and its holidays must still lie in the calendar."""


def week_start(week: str | None, today: str | None) -> date:
    """First day of the week asked for, else of next week."""
    from floorcare.ground.worktime.window import week_of

    return week_of(day_given(week) if week is not None else day_given(today) + timedelta(weeks=1))


def day_given(text: str | None) -> date:
    if text is None:
        return compose.today()
    try:
        day = date.fromisoformat(text)
    except ValueError as trouble:
        raise NotUnderstood(f'"{text}" is no day; write it as 2026-03-02.') from trouble
    if not FIRST_DAY <= day <= LAST_DAY:
        raise NotUnderstood(f"{day} is out of reach; allowed {FIRST_DAY} to {LAST_DAY}.")
    return day


def who_asks() -> str:
    try:
        return getpass.getuser()
    except (KeyError, OSError, ImportError):  # a container or a system without a name for its user
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
    check: bool = typer.Option(False, "--check", help="Show what would change; write nothing."),
    time_zone: str = typer.Option("", "--time-zone", help="Time zone of a five-column sheet."),
    db: str | None = DB,
    json: bool = JSON,
    today: str | None = TODAY,
) -> None:
    """Bring sites, zones, readings and promises in from a folder or sheet."""
    from floorcare.faces.cli.load_account import load_account
    from floorcare.faces.intake.care import read_care

    taken = read_care(
        source,
        **compose.known_codes(compose.surfaces())._asdict(),
        today=day_given(today),
        time_zone=time_zone,
        tell=progress("reading"),
    )
    _stop_on_problems(taken, source, json=json)
    loaded = _loaded(taken, db, check=check)
    if json:
        typer.echo(
            as_json(
                {
                    "written": not check and loaded is not None and loaded.changed_anything,
                    "files": taken.files,
                    "rows": taken.rows,
                    "compared": loaded is not None,
                    "counts": loaded.counts if loaded else (),
                    "changes": loaded.changes if loaded else (),
                    "findings": taken.findings,
                }
            )
        )
    else:
        typer.echo(load_account(taken, loaded, check=check))
        say_findings(taken.findings)
    if taken.findings:
        raise typer.Exit(FINDINGS_REMAIN)


def _loaded(taken: "Taken", db: str | None, *, check: bool) -> "Loaded | None":
    """The load, or only its difference; None where there is no database to look against."""
    from floorcare.services.load_care import load_care
    from floorcare.store.upgrade import create_or_upgrade

    if check and not compose.database_stands(db):
        return None
    if not check:
        create_or_upgrade(compose.database_url(db), compose.now())
    with compose.opened(db) as store:
        return load_care(store, taken.portfolio, who=who_asks(), now=compose.now(), dry_run=check)


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
    keep_notice: bool = typer.Option(
        False, "--keep-notice", help="Propose nothing new within a site's notice days."
    ),
    site: list[str] = typer.Option(
        [], "--site", help="Plan only what changed at this site; may be given again."
    ),
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
            today=day_given(today),
            now=compose.now(),
            who=who_asks(),
            weeks=weeks,
            keep_notice=keep_notice,
            dry_run=dry_run,
            tell=progress("planning sites"),
            sites=site,
        )
    account = replace(account, findings=(*compose.surface_findings(), *account.findings))
    if json:
        typer.echo(as_json(account))
    else:
        typer.echo(accounts.plan_account(account, dry_run=dry_run, every_change=changes))
        if site:
            typer.echo(accounts.alone_words(account))
        say_findings(account.findings)
    if account.unplaced or account.late or account.findings:
        raise typer.Exit(FINDINGS_REMAIN)


def floors(
    site: list[str] = typer.Option([], "--site", help="Only this site; may be given again."),
    zone: str = typer.Option("", "--zone", help="Only this zone, as SITE/ZONE, in full."),
    out: Path | None = typer.Option(
        None, "--out", help="Write HTML, CSV, XLSX and a chart of every zone here."
    ),
    today: str | None = TODAY,
    db: str | None = DB,
    json: bool = JSON,
) -> None:
    """Show every zone's condition against its promise."""
    from floorcare.faces.cli import floor_account
    from floorcare.faces.cli.writing import write_condition_tables, write_zone_charts
    from floorcare.services.show_floors import show_floors

    with compose.opened(db) as store:
        tables = show_floors(
            store,
            compose.surfaces(),
            today=day_given(today),
            sites=site,
            zone=zone,
            charts=out is not None,
        )
    paths: tuple[Path, ...] = ()
    if out:
        tables = write_zone_charts(tables, ready_folder(out))
        only = (*site, *zone.split("/"))
        paths = write_condition_tables(tables, out, only=only)
    if json:
        typer.echo(as_json(tables))
    else:
        typer.echo(floor_account.floors_said(tables, paths, in_full=bool(zone)))


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
        answer = explain_why(store, compose.surfaces(), target=target, today=day_given(today))
    typer.echo(as_json(answer) if json else accounts.explanation(answer))


def lists(
    week: str | None = typer.Option(
        None, "--week", help="Any day of the week (default next week)."
    ),
    branch: str = typer.Option("", "--branch", help="Only this branch."),
    out: Path = OUT,
    today: str | None = TODAY,
    db: str | None = DB,
    json: bool = JSON,
) -> None:
    """Write a week's visit lists as PDF, HTML and CSV."""
    from floorcare.faces.cli import accounts
    from floorcare.faces.cli.writing import write_visit_lists
    from floorcare.services.list_visits import list_week
    from floorcare.store.surfaces import load_cautions

    starts_on = week_start(week, today)
    with compose.opened(db) as store:
        weeks = list_week(
            store, compose.surfaces(), load_cautions(), starts_on=starts_on, branch=branch
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
        sheets, ready_folder(out), today=day_given(today), proposed=not agreed_only
    )
    typer.echo(as_json(written) if json else accounts.calendars(written))


def contracts(
    code: str = typer.Argument("", help="A contract's code; left out, all stand by notice date."),
    term: str | None = typer.Option(None, "--term", help="Another term, by its first day."),
    out: Path | None = typer.Option(
        None, "--out", help="Write the term's history and its dates as a calendar here."
    ),
    today: str | None = TODAY,
    db: str | None = DB,
    json: bool = JSON,
) -> None:
    """Show contracts by notice date, or one contract's promises and visit history."""
    from floorcare.faces.cli import contract_account
    from floorcare.faces.cli.contract_files import write_contract_history
    from floorcare.services.show_contracts import show_contract, show_contracts

    if not code and (term or out):
        raise NotUnderstood("--term and --out are of one contract; name it: contracts CODE.")
    on, starts_on = day_given(today), day_given(term) if term else None
    with compose.opened(db) as store:
        if not code:
            answer = show_contracts(store, compose.surfaces(), today=on)
            typer.echo(as_json(answer) if json else contract_account.contract_list(answer))
            return
        history = show_contract(store, compose.surfaces(), code=code, today=on, starts_on=starts_on)
    paths = write_contract_history(history, ready_folder(out)) if out else ()
    told = {"files": paths, "history": history}
    typer.echo(as_json(told) if json else contract_account.contract_history(history, paths))


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
    floors,
    why,
    lists,
    calendars,
    contracts,
    upgrade,
)
"""Every command, in the order --help names them."""
