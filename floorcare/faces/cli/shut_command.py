"""The command that shuts a site for some days, or opens it again."""

from typing import TYPE_CHECKING

import typer

from floorcare import compose
from floorcare.errors import NotUnderstood
from floorcare.faces.cli.commands import DB, FINDINGS_REMAIN, JSON, TODAY, day_given, who_asks
from floorcare.faces.cli.telling import as_json

if TYPE_CHECKING:
    from floorcare.ground.worktime.shut import ShutDay


def shut(
    site: str = typer.Argument("", help="The site's code; left out, all shut days are listed."),
    first: str | None = typer.Option(None, "--from", help="First day it is shut."),
    last: str | None = typer.Option(None, "--to", help="Last day (default the first)."),
    why: str = typer.Option("", "--why", help="Why; people are shown it."),
    withdraw: bool = typer.Option(
        False, "--withdraw", help="Take back the shut days that begin on --from."
    ),
    today: str | None = TODAY,
    db: str | None = DB,
    json: bool = JSON,
) -> None:
    """Shut a site for a day or a week and say which visits fall in it; or list its shut days."""
    from floorcare.faces.cli import visit_account
    from floorcare.services.shut_site import list_shut, open_site, shut_site

    day = day_given(today)
    if first is None:
        if last or why or withdraw:
            raise NotUnderstood("From which day? Write --from 2026-12-24.")
        with compose.opened(db) as store:
            rows = list_shut(store, site=site, first=day)
        typer.echo(as_json(rows) if json else visit_account.shut_rows(rows, site, day))
        return
    if not site:
        raise NotUnderstood("Which site? Write floorcare shut SITE --from 2026-12-24.")
    if withdraw and (last or why):
        raise NotUnderstood("--withdraw takes all that begins on --from; leave the rest out.")
    who, now = who_asks(), compose.now()
    with compose.opened(db) as store:
        if withdraw:
            answer = open_site(store, site=site, from_on=day_given(first), who=who, now=now)
        else:
            days, known = _shut_days(first, last, why), compose.surfaces()
            answer = shut_site(store, known, site=site, shut=days, today=day, who=who, now=now)
    typer.echo(as_json(answer) if json else visit_account.shut_changed(answer))
    if any(visit.stands for visit in answer.fallen):
        raise typer.Exit(FINDINGS_REMAIN)


def _shut_days(first: str, last: str | None, why: str) -> "ShutDay":
    from floorcare.ground.worktime.shut import ShutDay

    from_on = day_given(first)
    to_on = day_given(last) if last is not None else from_on
    if to_on < from_on:
        raise NotUnderstood(f"The last day {to_on} lies before the first, {from_on}.")
    if not why.strip():
        raise NotUnderstood('Why is it shut? Write --why "inventory".')
    return ShutDay(from_on=from_on, to_on=to_on, why=why.strip())
