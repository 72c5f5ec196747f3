"""A week made into files: the timetable of each branch, and every crew's lists and calendar."""

from collections.abc import Iterator, Sequence
from pathlib import Path

from floorcare.faces.cli.files import file_stem, put
from floorcare.faces.documents.catalogue import VISIT_LISTS, WEEK_SHEETS
from floorcare.faces.feeds.write import write_calendar
from floorcare.services.week_sheet import FittedWeek


def write_weeks(weeks: Sequence[FittedWeek], folder: Path) -> tuple[Path, ...]:
    """Every branch's week sheet, then for each of its crews the visit lists and the calendar."""
    return tuple(path for week in weeks for path in _written(week, folder))


def _written(week: FittedWeek, folder: Path) -> Iterator[Path]:
    starts_on = week.sheet.starts_on.isoformat()
    stem = file_stem("week", week.sheet.branch, starts_on)
    for document in WEEK_SHEETS:
        yield put(folder / (stem + document.suffix), document.write(week.sheet))
    for papers in week.crews:
        stem = file_stem("crew", papers.crew, starts_on)
        for lists in VISIT_LISTS:
            yield put(folder / (stem + lists.suffix), lists.write(papers.lists))
        yield put(folder / f"{stem}.ics", write_calendar(papers.calendar))
