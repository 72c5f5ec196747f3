"""Views made into files: visit lists, condition tables, calendars."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from floorcare.faces.cli.files import file_stem, put
from floorcare.faces.documents.catalogue import CONDITION_TABLES, VISIT_LISTS, ZONE_CHARTS
from floorcare.faces.feeds.subscription import held
from floorcare.faces.feeds.write import write_calendar
from floorcare.services.sheets import CalendarSheet, ConditionTable, WeekLists


@dataclass(frozen=True, slots=True, kw_only=True)
class WrittenCalendar:
    """One calendar file and how many visits it holds; `left_out` are proposed or out of reach."""

    site: str
    path: Path
    visits: int
    left_out: int


def write_visit_lists(weeks: Sequence[WeekLists], folder: Path) -> tuple[Path, ...]:
    """Every branch's visit lists in every form of the catalogue."""
    return tuple(
        put(
            folder
            / (file_stem("visits", week.branch, week.starts_on.isoformat()) + document.suffix),
            document.write(week),
        )
        for week in weeks
        for document in VISIT_LISTS
    )


def write_condition_tables(
    tables: Sequence[ConditionTable], folder: Path, *, only: Sequence[str] = ()
) -> tuple[Path, ...]:
    """Every branch's condition table in every form of the catalogue.

    Parameters
    ----------
    only : what the tables were cut down to, to be named in the files beside the branch.
    """
    return tuple(
        put(
            folder
            / (file_stem("floors", table.branch, *only, table.on.isoformat()) + document.suffix),
            document.write(table),
        )
        for table in tables
        for document in CONDITION_TABLES
    )


def write_zone_charts(tables: Sequence[ConditionTable], folder: Path) -> tuple[ConditionTable, ...]:
    """A chart of every zone whose course is known; gives the tables with their rows naming it."""
    taken: set[str] = set()
    written = []
    for table in tables:
        charts: dict[str, str] = {}
        for chart in table.charts:
            stem = _free_stem(file_stem("chart", *chart.row.zone.split("/")), taken)
            for document in ZONE_CHARTS:
                path = put(folder / (stem + document.suffix), document.write(chart))
                charts.setdefault(chart.row.zone, path.name)
        rows = tuple(replace(row, chart=charts.get(row.zone, "")) for row in table.rows)
        written.append(replace(table, rows=rows, charts=()))
    return tuple(written)


def _free_stem(stem: str, taken: set[str]) -> str:
    """The stem, numbered where two zones' codes would make the same file, in any letter case."""
    number, free = 1, stem
    while free.casefold() in taken:
        number += 1
        free = f"{stem}-{number}"
    taken.add(free.casefold())
    return free


def write_calendars(
    sheets: Sequence[tuple[str, CalendarSheet]], folder: Path, *, today: date, proposed: bool
) -> tuple[WrittenCalendar, ...]:
    """One `.ics` file a site, with the visits a subscriber would see that day."""
    written = []
    for site, sheet in sheets:
        events = held(sheet.events, today, proposed=proposed)
        path = put(folder / f"{file_stem(site)}.ics", write_calendar(replace(sheet, events=events)))
        written.append(
            WrittenCalendar(
                site=site, path=path, visits=len(events), left_out=len(sheet.events) - len(events)
            )
        )
    return tuple(written)
