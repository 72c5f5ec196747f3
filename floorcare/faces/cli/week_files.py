"""A week made into files: the timetable of each branch, and every crew's lists and calendar."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

from floorcare.faces.cli.files import file_stem, put
from floorcare.faces.documents.catalogue import LOAD_OUTS, VISIT_LISTS, WEEK_SHEETS
from floorcare.faces.documents.load_out_pdf import write_load_out_pdf
from floorcare.faces.documents.visit_list_html import write_visit_list_html
from floorcare.faces.documents.visit_list_pdf import write_visit_list_pdf
from floorcare.faces.feeds.write import write_calendar
from floorcare.services.week_sheet import FittedWeek


def write_weeks(weeks: Sequence[FittedWeek], folder: Path, *, paper: str = "") -> tuple[Path, ...]:
    """Every branch's week sheet and load-out, then of each crew lists, calendar and load-out."""
    return tuple(path for week in weeks for path in _written(week, folder, paper))


def _written(week: FittedWeek, folder: Path, paper: str) -> Iterator[Path]:
    sheet = replace(week.sheet, paper=paper)
    starts_on = sheet.starts_on.isoformat()
    stem = file_stem("week", week.sheet.branch, starts_on)
    for document in WEEK_SHEETS:
        yield put(folder / (stem + document.suffix), document.write(sheet))
    if week.load_out is not None and week.load_out.nights:
        stem = file_stem("load-out", week.sheet.branch, starts_on)
        for load_out in LOAD_OUTS:
            yield put(folder / (stem + load_out.suffix), load_out.write(week.load_out))
    for papers in week.crews:
        stem = file_stem("crew", papers.crew, starts_on)
        for lists in VISIT_LISTS:
            yield put(
                folder / (stem + lists.suffix), lists.write(replace(papers.lists, paper=paper))
            )
        for language in papers.languages:
            view = replace(papers.lists, paper=paper, language=language)
            yield put(folder / f"{stem}-{language}.pdf", write_visit_list_pdf(view))
            yield put(folder / f"{stem}-{language}.html", write_visit_list_html(view))
        yield put(folder / f"{stem}.ics", write_calendar(papers.calendar))
        stem = file_stem("load-out", papers.crew, starts_on)
        yield put(folder / f"{stem}.pdf", write_load_out_pdf(papers.load_out, paper))
