"""The commands of visits: list them, and change one by hand."""

from collections.abc import Callable
from datetime import date, timedelta
from typing import TYPE_CHECKING, Any

import typer

from floorcare import compose
from floorcare.errors import NotAllowed, NotUnderstood
from floorcare.faces.cli.commands import DB, FINDINGS_REMAIN, JSON, TODAY, day_given, who_asks
from floorcare.faces.cli.telling import as_json, say_findings

if TYPE_CHECKING:
    from floorcare.services.change_visit import VisitAsked, VisitChanged

group = typer.Typer(
    name="visits", invoke_without_command=True, pretty_exceptions_enable=False, add_completion=False
)

VISIT = typer.Argument(
    ..., metavar="VISIT", help="Site and night (and start where there are two), or its id."
)
BY = typer.Option("", "--by", help="Who decided it: a contact's code or name (default you).")
BY_CUSTOMER = typer.Option("", "--by", help="Who said so: a contact's code or name.")
HOW = typer.Option("office", "--how", help="How word came: phone, paper, mail or office.")
HOW_TOLD = typer.Option("phone", "--how", help="How word came: phone, paper, mail or office.")
ON = typer.Option(None, "--on", help="The day it was said (default today).")
WHY = typer.Option("", "--why", help="Why, in a few words.")
SURE = typer.Option(False, "--sure", help="Do also what is unwise.")
VERSION = typer.Option(
    None, "--version", help="Only if the visit still has this version (visits --json shows it)."
)


@group.callback()
def visits(
    context: typer.Context,
    first: str | None = typer.Option(None, "--from", help="First night (default today)."),
    last: str | None = typer.Option(None, "--to", help="Last night (default four weeks on)."),
    site: list[str] = typer.Option([], "--site", help="Only this site; may be given again."),
    cancelled: bool = typer.Option(False, "--cancelled", help="Show called-off visits too."),
    db: str | None = DB,
    json: bool = JSON,
) -> None:
    """List planned visits by night; with a word behind it, change one."""
    if context.invoked_subcommand is not None:
        if first or last or site or cancelled or db or json:
            word = context.invoked_subcommand
            raise NotUnderstood(f"Options go behind the word: floorcare visits {word} … --db FILE.")
        return
    from floorcare.faces.cli import accounts
    from floorcare.services.show_visits import show_visits

    starts = day_given(first)
    ends = day_given(last) if last is not None else starts + timedelta(weeks=4)
    if ends < starts:
        raise NotUnderstood(f"The last night {ends} lies before the first, {starts}.")
    with compose.opened(db) as store:
        rows = show_visits(store, first=starts, last=ends, sites=site, cancelled=cancelled)
    typer.echo(as_json(rows) if json else accounts.visit_rows(rows, starts, ends))


@group.command("move")
def move_visit(
    visit: list[str] = VISIT,
    to: str = typer.Option(..., "--to", help="The night it is to be."),
    at: str = typer.Option("", "--at", help="The start, HH:MM (default as early as it can)."),
    only_proposed: bool = typer.Option(
        False, "--only-proposed", help="Do not hold it: a plan may move it again."
    ),
    by: str = BY,
    how: str = HOW,
    on: str | None = ON,
    why: str = WHY,
    sure: bool = SURE,
    version: int | None = VERSION,
    today: str | None = TODAY,
    db: str | None = DB,
    json: bool = JSON,
) -> None:
    """Move a visit to another night or hour, and hold it there."""
    from floorcare.services import change_visit

    night, minute = day_given(to), _minute(at)
    asked = _asked(visit, by, how, on, why, today, version, sure=sure)
    more = {"to": night, "starts_minute": minute, "only_proposed": only_proposed}
    _done(change_visit.move_visit, asked, db, json=json, **more)


@group.command("hold")
def hold_visit(
    visit: list[str] = VISIT,
    hour: bool = typer.Option(False, "--hour", help="Hold its start too, not only its night."),
    by: str = BY,
    how: str = HOW,
    on: str | None = ON,
    why: str = WHY,
    sure: bool = SURE,
    version: int | None = VERSION,
    today: str | None = TODAY,
    db: str | None = DB,
    json: bool = JSON,
) -> None:
    """Pin a visit to its night, whatever later plans find."""
    from floorcare.services import change_visit

    asked = _asked(visit, by, how, on, why, today, version, sure=sure)
    _done(change_visit.hold_visit, asked, db, json=json, hour=hour)


@group.command("release")
def release_visit(
    visit: list[str] = VISIT,
    by: str = BY,
    how: str = HOW,
    on: str | None = ON,
    why: str = WHY,
    version: int | None = VERSION,
    today: str | None = TODAY,
    db: str | None = DB,
    json: bool = JSON,
) -> None:
    """Let plans move a held visit again; what the customer said stays said."""
    from floorcare.services import change_visit

    asked = _asked(visit, by, how, on, why, today, version)
    _done(change_visit.release_visit, asked, db, json=json)


@group.command("ask")
def ask_visit(
    visit: list[str] = VISIT,
    by: str = typer.Option("", "--by", help="Whom you asked: a contact's code or name."),
    how: str = HOW_TOLD,
    on: str | None = ON,
    why: str = WHY,
    sure: bool = SURE,
    version: int | None = VERSION,
    today: str | None = TODAY,
    db: str | None = DB,
    json: bool = JSON,
) -> None:
    """Note that the customer was asked for the night; it stands until they answer."""
    from floorcare.services import change_visit

    asked = _asked(visit, _named(by, "was asked"), how, on, why, today, version, sure=sure)
    _done(change_visit.ask_visit, asked, db, json=json)


@group.command("agree")
def agree_visit(
    visit: list[str] = VISIT,
    by: str = BY_CUSTOMER,
    how: str = HOW_TOLD,
    on: str | None = ON,
    why: str = WHY,
    version: int | None = VERSION,
    today: str | None = TODAY,
    db: str | None = DB,
    json: bool = JSON,
) -> None:
    """Note that the customer agreed to the night; no plan moves it from then on."""
    from floorcare.services import change_visit

    asked = _asked(visit, _named(by, "agreed"), how, on, why, today, version)
    _done(change_visit.agree_visit, asked, db, json=json)


@group.command("refuse")
def refuse_visit(
    visit: list[str] = VISIT,
    instead: list[str] = typer.Option(
        [], "--instead", help="A night they offer instead; may be given again."
    ),
    by: str = BY_CUSTOMER,
    how: str = HOW_TOLD,
    on: str | None = ON,
    why: str = WHY,
    version: int | None = VERSION,
    today: str | None = TODAY,
    db: str | None = DB,
    json: bool = JSON,
) -> None:
    """Note that the customer refused the night, and what they offer instead."""
    from floorcare.services import change_visit

    nights = tuple(day_given(night) for night in instead)
    asked = _asked(visit, _named(by, "refused"), how, on, why, today, version)
    _done(change_visit.refuse_visit, asked, db, json=json, instead=nights)


@group.command("cancel")
def cancel_visit(
    visit: list[str] = VISIT,
    why: str = WHY,
    by: str = BY,
    how: str = HOW,
    on: str | None = ON,
    version: int | None = VERSION,
    today: str | None = TODAY,
    db: str | None = DB,
    json: bool = JSON,
) -> None:
    """Call a visit off; its work goes back to the rules at the next plan."""
    from floorcare.services import change_visit

    if not why.strip():
        raise NotUnderstood('Why is it called off? Write --why "hall let for a fair".')
    asked = _asked(visit, by, how, on, why, today, version)
    _done(change_visit.cancel_visit, asked, db, json=json)


SUBCOMMANDS: tuple[Callable[..., None], ...] = (
    move_visit,
    hold_visit,
    release_visit,
    ask_visit,
    agree_visit,
    refuse_visit,
    cancel_visit,
)
"""What may be done to one visit, in the order --help names it."""


def _asked(
    words: list[str],
    by: str,
    how: str,
    on: str | None,
    why: str,
    today: str | None,
    version: int | None,
    *,
    sure: bool = False,
) -> "VisitAsked":
    from floorcare.ground.trade.answer import Manner, Said
    from floorcare.services.change_visit import VisitAsked

    day = day_given(today)
    said_on: date = day_given(on) if on is not None else day
    if said_on > day:
        raise NotUnderstood(f"{said_on} has not come yet; --on is the day it was said.")
    try:
        manner = Manner(how)
    except ValueError as trouble:
        allowed = ", ".join(Manner)
        raise NotUnderstood(f'"{how}" is no way word comes here; allowed {allowed}.') from trouble
    who = who_asks()
    return VisitAsked(
        words=tuple(words),
        said=Said(by=by.strip() or who, how=manner, on=said_on, why=why.strip()),
        who=who,
        today=day,
        now=compose.now(),
        version=version,
        sure=sure,
    )


def _named(by: str, what: str) -> str:
    if not by.strip():
        raise NotUnderstood(f"Who {what}? Write --by CONTACT.")
    return by


def _minute(at: str) -> int | None:
    from floorcare.ground.worktime.night import parse_minute

    if not at:
        return None
    try:
        return parse_minute(at)
    except ValueError as trouble:
        raise NotUnderstood(f"{trouble}.") from trouble


def _done(
    act: Callable[..., "VisitChanged"],
    asked: "VisitAsked",
    db: str | None,
    *,
    json: bool,
    **more: Any,
) -> None:
    """Do it; tell the answer, and leave with the exit code that says whether it wants a look."""
    from floorcare.faces.cli import visit_account

    with compose.opened(db) as store:
        answer = act(store, compose.surfaces(), asked, **more)
    if json:
        typer.echo(as_json(answer))
        if not answer.written:
            raise typer.Exit(NotAllowed.exit_code)
    elif not answer.written:
        raise NotAllowed(visit_account.not_changed(answer), findings=answer.findings)
    else:
        typer.echo(visit_account.changed(answer))
        say_findings(answer.findings)
    if answer.findings and answer.act in ("agreed", "refused"):
        raise typer.Exit(FINDINGS_REMAIN)
