"""A table as it stands in a file: its heading, and its rows numbered as spreadsheets do."""

import csv
import io
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from floorcare.faces.intake.column import FileKind
from floorcare.faces.intake.notes import Notes
from floorcare.faces.intake.readers import folded

Row = tuple[int, list[str]]

_SEPARATORS = (",", ";", "\t")
_DECIMAL_OF = {",": ".", ";": ",", "\t": ""}


@dataclass(frozen=True, slots=True)
class Grid:
    """Heading and rows of one file.

    file : its name; heading_row : the row its heading stands in.
    decimal : the sign it writes before decimals, "" where neither is certain.
    rows : (row number, cells) pairs below the heading, blank ones included; read once.
    lines : about how many rows there are, for progress.
    broken : numbers of rows that could not be split into cells, filled while `rows` is read.
    """

    file: str
    heading_row: int
    heading: tuple[str, ...]
    decimal: str
    rows: Iterable[Row]
    lines: int
    broken: list[int] = field(default_factory=list)


def headings_of(kind: FileKind) -> set[str]:
    """Every heading understood in files of this kind, folded."""
    return {folded(name) for column in kind.columns for name in (column.name, *column.also)}


def heading_key(text: str) -> str:
    """A heading as it is compared: without case, spaces, underscores, brackets; ² is 2.

    >>> heading_key(" Area (m²) ")
    'aream2'
    """
    return folded(text).replace("²", "2").replace("(", "").replace(")", "")


def grid_of(file: str, text: str, kind: FileKind, notes: Notes) -> Grid | None:
    """The table of a CSV text, or None with a finding where it has no heading.

    The separator is the one of comma, semicolon and tab that makes most known headings of the
    first line; a "sep=" line before it is obeyed.
    """
    told = ""
    start = 0
    for number, line in enumerate(io.StringIO(text, newline=""), start=1):
        if line.lower().startswith("sep=") and len(line.rstrip("\r\n")) == 5:
            told = line[4]
        elif line.strip(" \t\r\n,;"):
            start = number
            heading = line
            break
    if not start:
        notes.add("stops", file, 1, "the file is empty", mend="give it a heading and rows")
        return None
    separator = told if told in _SEPARATORS else _separator(heading, headings_of(kind))
    broken: list[int] = []
    rows = _rows(file, text, separator, notes, broken)
    for number, cells in rows:
        if number == start:
            return Grid(
                file=file,
                heading_row=start,
                heading=tuple(cell.strip() for cell in cells),
                decimal=_DECIMAL_OF[separator],
                rows=rows,
                lines=text.count("\n"),
                broken=broken,
            )
    return None


def _separator(heading: str, known: set[str]) -> str:
    def understood(separator: str) -> tuple[int, int]:
        cells = heading.replace('"', "").split(separator)
        return sum(heading_key(cell) in known for cell in cells), len(cells)

    return max(_SEPARATORS, key=understood)


def _rows(file: str, text: str, separator: str, notes: Notes, broken: list[int]) -> Iterator[Row]:
    """Rows with their numbers; a row that cannot be split is a finding and is left out."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    number = 0
    while True:
        number += 1
        try:
            cells = next(reader)
        except StopIteration:
            return
        except csv.Error as trouble:
            broken.append(number)
            notes.add(
                "stops",
                file,
                number,
                _csv_problem(str(trouble)),
                allowed='cells in quotation marks end with one; a mark inside is doubled ("")',
                mend="look for a quotation mark too many or too few in this row",
            )
            continue
        yield number, cells


def _csv_problem(trouble: str) -> str:
    if "field larger" in trouble:
        return f"a cell has more than {csv.field_size_limit():,} characters"
    if "unexpected end" in trouble:
        return "a quotation mark is opened and never closed"
    return "the row cannot be split into cells"
