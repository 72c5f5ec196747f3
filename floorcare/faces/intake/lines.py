"""Rows of a table to values by column: every cell read, every problem noted."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from floorcare.faces.intake.column import FILL_IN, Column, FileKind
from floorcare.faces.intake.grid import Grid, heading_key
from floorcare.faces.intake.notes import Notes, nearest
from floorcare.faces.intake.readers import folded
from floorcare.faces.intake.unfit import Unfit

_KEPT_PER_COLUMN = 50_000
_UNREAD = object()


@dataclass(frozen=True, slots=True)
class Line:
    """One row of a file.

    row : its number; cells : value by column name, None where it is empty or did not fit.
    texts, index : the cells as typed, and which of them belongs to which column.
    fits : every cell was understood.
    """

    row: int
    cells: dict[str, Any]
    texts: list[str]
    index: dict[str, int]
    fits: bool

    def typed(self, column: str) -> str:
        """What was typed in a column, "" where it is not there."""
        at = self.index.get(column, len(self.texts))
        return self.texts[at].strip() if at < len(self.texts) else ""


@dataclass(slots=True)
class _Place:
    column: Column
    index: int
    known: dict[str, Any]


def lines_of(kind: FileKind, grid: Grid, notes: Notes) -> Iterator[Line]:
    """The file's rows, blank ones left out; those with a problem come with `fits` False."""
    places = _places(kind, grid, notes)
    index = {place.column.name: place.index for place in places}
    whole = all(column.name in index for column in kind.columns if column.required)
    empty = {column.name: column.default for column in kind.columns}
    width = len(grid.heading)
    unheaded = {i for i, text in enumerate(grid.heading) if not text}
    for row, texts in grid.rows:
        if not "".join(texts).strip():
            continue
        fits = whole
        if len(texts) > width or unheaded:
            fits = _all_headed(grid, row, texts, unheaded, notes) and fits
        cells = empty.copy()
        for place in places:
            text = texts[place.index] if place.index < len(texts) else ""
            value = place.known.get(text, _UNREAD)
            if value is _UNREAD:
                value, good = _read(place.column, text, grid, row, notes)
                if good and len(place.known) < _KEPT_PER_COLUMN:
                    place.known[text] = value
                fits = fits and good
            cells[place.column.name] = value
        yield Line(row, cells, texts, index, fits)


def _read(column: Column, text: str, grid: Grid, row: int, notes: Notes) -> tuple[Any, bool]:
    clean = text.strip()
    if not clean:
        if not column.required:
            return column.default, True
        notes.add(
            "stops",
            grid.file,
            row,
            "the cell is empty",
            column=column.name,
            allowed=column.reader.allowed,
            mend=column.mend,
        )
        return None, False
    try:
        return column.reader.read(clean, grid.decimal), True
    except Unfit as trouble:
        notes.add(
            "stops",
            grid.file,
            row,
            f"it {trouble.problem}",
            column=column.name,
            value=clean,
            allowed=trouble.allowed,
            mend=trouble.mend,
        )
        return None, False


def _all_headed(grid: Grid, row: int, texts: list[str], unheaded: set[int], notes: Notes) -> bool:
    for index, text in enumerate(texts):
        if text.strip() and (index >= len(grid.heading) or index in unheaded):
            notes.add(
                "stops",
                grid.file,
                row,
                "a cell stands under no heading",
                value=text.strip(),
                allowed=f"{len(grid.heading)} cells, one under each heading",
                mend="put a cell that holds the separator or a decimal comma in quotation marks",
            )
            return False
    return True


def _places(kind: FileKind, grid: Grid, notes: Notes) -> list[_Place]:
    """Where each column stands; missing, doubled and unknown headings are noted."""
    by_key = {folded(n): column for column in kind.columns for n in (column.name, *column.also)}
    places: dict[str, _Place] = {}
    unknown = []
    for index, text in enumerate(grid.heading):
        column = by_key.get(heading_key(text))
        if column is None:
            if text:
                unknown.append(text)
        elif column.name in places:
            notes.add(
                "stops",
                grid.file,
                grid.heading_row,
                "the column stands twice",
                column=column.name,
                value=text,
                mend="leave one of the two out",
            )
        else:
            places[column.name] = _Place(column, index, {})
    missing = [column for column in kind.columns if column.name not in places]
    _note_missing([c for c in missing if c.required], unknown, grid, notes)
    for text in unknown:
        notes.add(
            "asks",
            grid.file,
            grid.heading_row,
            "the column is not known and was not read",
            column=text,
            allowed=", ".join(column.name for column in kind.columns),
            mend=nearest(text, [c.name for c in missing], "leave it; nothing of it is taken in"),
        )
    return list(places.values())


def _note_missing(missing: list[Column], unknown: list[str], grid: Grid, notes: Notes) -> None:
    for column in missing:
        add = f'add a column "{column.name}"'
        if column.mend != FILL_IN:
            add = f"{add} and {column.mend}"
        close = nearest(column.name, unknown, "")(True)
        if close:
            found = close.removeprefix("write ").removesuffix(" if that is meant")
            add = f"{add}, or rename {found} if that is it"
        notes.add(
            "stops",
            grid.file,
            grid.heading_row,
            "the column is missing",
            column=column.name,
            allowed=column.reader.allowed,
            mend=add,
        )
