"""The command that chooses what to read next, and what it says."""

from collections.abc import Iterable, Iterator, Sequence
from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from floorcare import compose
from floorcare.errors import NotUnderstood
from floorcare.faces.cli.commands import DB, JSON, TODAY, day_given
from floorcare.faces.cli.files import file_stem, put, ready_folder
from floorcare.faces.cli.telling import NO_BRANCH, as_json

if TYPE_CHECKING:
    from floorcare.services.choose_rounds import RoundSheet, RoundZone

LONGEST_AHEAD_DAYS = 182
"""A round is chosen for so many days ahead at most. Assumption: further, more will be known."""
MOST_LEFT = 20
"""More zones left unread than this are counted, not printed; --json gives all of them."""


def rounds(
    budget: int = typer.Option(240, "--budget", min=1, help="Minutes of each branch's round."),
    site: list[str] = typer.Option([], "--site", help="Only this site; may be given again."),
    by: str | None = typer.Option(
        None, "--by", help="The day the round is walked by (default today)."
    ),
    zone_minutes: int = typer.Option(7, "--zone-minutes", min=1, help="Minutes a zone takes."),
    site_minutes: int = typer.Option(
        5, "--site-minutes", min=0, help="Minutes a site takes besides its zones."
    ),
    out: Path | None = typer.Option(
        None, "--out", help="Write a blind sheet to read by as PDF, HTML and CSV here."
    ),
    today: str | None = TODAY,
    db: str | None = DB,
    json: bool = JSON,
) -> None:
    """Choose what to read next within a budget of minutes; write the sheet to read by."""
    from floorcare.ground.wear.reading_rounds import RoundCost
    from floorcare.services.choose_rounds import choose_rounds

    on = day_given(today)
    walked_by = day_given(by) if by is not None else on
    if not on <= walked_by <= on + timedelta(days=LONGEST_AHEAD_DAYS):
        raise NotUnderstood(
            f"A round by {walked_by} cannot be chosen on {on}; allowed {on} to "
            f"{on + timedelta(days=LONGEST_AHEAD_DAYS)}."
        )
    with compose.opened(db) as store:
        sheets = choose_rounds(
            store,
            compose.surfaces(),
            today=on,
            by=walked_by,
            budget_minutes=budget,
            cost=RoundCost(zone_minutes=zone_minutes, site_minutes=site_minutes),
            sites=site,
        )
    paths = write_round_sheets(sheets, ready_folder(out)) if out else ()
    typer.echo(as_json({"files": paths, "rounds": sheets}) if json else rounds_said(sheets, paths))


def write_round_sheets(sheets: Sequence["RoundSheet"], folder: Path) -> tuple[Path, ...]:
    """Every branch's blind sheet in every form of the catalogue; none where nothing is read."""
    from floorcare.faces.documents.catalogue import ROUND_SHEETS

    return tuple(
        put(
            folder / (file_stem("round", sheet.branch, sheet.by.isoformat()) + document.suffix),
            document.write(sheet),
        )
        for sheet in sheets
        if sheet.sites
        for document in ROUND_SHEETS
    )


def rounds_said(sheets: Sequence["RoundSheet"], paths: Iterable[Path]) -> str:
    """Every branch's round, what it leaves unread, and where its sheets lie."""
    lines = [line for sheet in sheets for line in _round(sheet)] or [NO_BRANCH]
    lines += [f"Written: {path}" for path in paths]
    return "\n".join(lines).rstrip()


def _round(sheet: "RoundSheet") -> Iterator[str]:
    from floorcare.faces.documents.round_sheet_text import answer
    from floorcare.faces.documents.wording import count

    yield f"{sheet.branch}: {answer(sheet)}"
    for site in sheet.sites:
        yield ""
        yield f"  {site.site_name} ({site.site}), {site.minutes} min"
        for zone in site.zones:
            yield f"    {zone.zone:34}{_read(zone):40}{zone.reason}"
    if sheet.left:
        yield ""
        yield "  Left unread:"
        for zone in sheet.left[:MOST_LEFT]:
            yield f"    {zone.zone:34}{_read(zone)}".rstrip()
        if len(sheet.left) > MOST_LEFT:
            yield f"    … and {len(sheet.left) - MOST_LEFT:,} more"
    if sheet.read_anyway:
        yield ""
        yield "  Read on a visit by then, so not counted here:"
        for zone in sheet.read_anyway:
            yield f"    {zone.zone:34}{_read(zone)}"
    if sheet.unpromised:
        yield ""
        yield f"  Not asked for: {count(sheet.unpromised, 'zone')} without a promised look."
    yield ""


def _read(zone: "RoundZone") -> str:
    age = "never read" if zone.age_days is None else f"{zone.age_days} days unread"
    return f"{age}, visit {_short(zone.planned_on)}" if zone.planned_on else age


def _short(day: date) -> str:
    from floorcare.faces.documents.wording import day_short

    return day_short(day)
