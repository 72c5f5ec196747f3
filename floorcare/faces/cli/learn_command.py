"""The command that pools what all zones show of their wear."""

import typer

from floorcare import compose
from floorcare.faces.cli.commands import DB, JSON, TODAY, day_given, who_asks
from floorcare.faces.cli.telling import as_json, progress


def learn(
    dry_run: bool = typer.Option(False, "--dry-run", help="Show what is learned, write nothing."),
    today: str | None = TODAY,
    db: str | None = DB,
    json: bool = JSON,
) -> None:
    """Learn from all readings how fast floors wear and how sure to be; plans read it from then."""
    from floorcare.faces.cli.learn_account import learned_said
    from floorcare.services.learn_wear import learn_wear

    with compose.opened(db) as store:
        answer = learn_wear(
            store,
            compose.surfaces(),
            today=day_given(today),
            now=compose.now(),
            who=who_asks(),
            dry_run=dry_run,
            tell=progress("learning surfaces"),
        )
    typer.echo(as_json(answer) if json else learned_said(answer))
