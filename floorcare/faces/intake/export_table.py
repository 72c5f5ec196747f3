"""The table of an export, whatever its separator and however many lines stand above it."""

import csv
import io
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from floorcare.faces.intake.export_mapping import ExportMapping, ExportNotes, Question
from floorcare.faces.intake.grid import Row
from floorcare.faces.intake.textfile import text_of
from floorcare.faces.intake.workbook import workbook_grid

SEPARATORS = {"comma": ",", "semicolon": ";", "tab": "\t"}
LOOKED_AT = 60
"""A heading is looked for in so many lines. Assumption."""

Known = Callable[[str], bool]


@dataclass(frozen=True, slots=True)
class ExportTable:
    """Heading and rows; rows are numbered as a spreadsheet shows them, blank ones left out."""

    file: str
    heading_row: int
    heading: tuple[str, ...]
    rows: tuple[Row, ...]
    separator: str = ""

    def cells(self, heading: str) -> Iterator[tuple[int, str]]:
        """Row and stripped text of every cell of a column that is not empty."""
        if heading not in self.heading:
            return
        at = self.heading.index(heading)
        for number, cells in self.rows:
            text = cells[at].strip()
            if text:
                yield number, text


def read_table(
    path: Path, mapping: ExportMapping, known: Known, notes: ExportNotes
) -> ExportTable | None:
    """The table of a CSV file or workbook; None with a finding where it is none.

    Parameters
    ----------
    mapping : its [table] outranks what the file looks like.
    known : whether a heading means anything; the heading row is the one that knows most.
    """
    if path.suffix.casefold() in (".xlsx", ".xlsm"):
        grid = workbook_grid(path, notes)
        if grid is None:
            return None
        rows = [(grid.heading_row, list(grid.heading)), *grid.rows]
        return _table(path.name, rows, mapping, known, notes)
    text = text_of(path, path.name, notes)
    if text is None:
        return None
    first, _, rest = text.partition("\n")
    if first.casefold().startswith("sep=") and len(first.strip()) == 5:
        text = "\n" + rest  # the line number of every row stays
    told = mapping.get("table", "separator")
    separator = told or _separator(text, known, path.name, notes)
    if not separator:
        return None
    rows = _split(text, SEPARATORS[separator], path.name, notes)
    return _table(path.name, rows, mapping, known, notes, separator)


def _separator(text: str, known: Known, file: str, notes: ExportNotes) -> str:
    """The separator that makes most headings known, "" with a finding where two do as well."""
    top = "\n".join(text.split("\n", LOOKED_AT)[:LOOKED_AT])
    score: dict[str, tuple[int, int]] = {}
    for name, sign in SEPARATORS.items():
        rows = _split(top, sign, file, None)
        score[name] = max((_worth(cells, known) for _, cells in rows), default=(0, 0))
    best = max(score.values())
    if best[1] < 2:
        notes.add(
            *("stops", file, 1, "no row has two cells: this is no table"),
            value=top.strip()[:80],
            allowed="a table with a heading, its cells parted by comma, semicolon or tab",
            mend="save the table itself as CSV",
        )
        return ""
    fitting = [name for name, one in score.items() if one == best]
    if len(fitting) > 1:
        question = Question("table", "separator", tuple(fitting))
        notes.ask(question, "two separators part the cells as well", row=1)
        return ""
    return fitting[0]


def _worth(cells: list[str], known: Known) -> tuple[int, int]:
    return sum(known(cell.strip()) for cell in cells), sum(bool(cell.strip()) for cell in cells)


def _split(text: str, sign: str, file: str, notes: ExportNotes | None) -> list[Row]:
    """Rows with the line they begin in; one that cannot be split is told and left out."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=sign, strict=notes is not None)
    rows: list[Row] = []
    while True:
        begins = reader.line_num + 1
        try:
            rows.append((begins, next(reader)))
        except StopIteration:
            return rows
        except csv.Error as trouble:
            if notes is not None:
                problem = f"the row cannot be split into cells ({trouble})"
                mend = "look for a quotation mark too many or too few in this row"
                notes.add("stops", file, begins, problem, mend=mend)


def _table(
    file: str,
    rows: list[Row],
    mapping: ExportMapping,
    known: Known,
    notes: ExportNotes,
    separator: str = "",
) -> ExportTable | None:
    rows = [(number, cells) for number, cells in rows if any(cell.strip() for cell in cells)]
    if not rows:
        notes.add("stops", file, 1, "the file is empty", mend="give it a heading and rows")
        return None
    told = mapping.get("table", "heading_row")
    if told:
        at = next((at for at, row in enumerate(rows) if str(row[0]) == told), None)
        if at is None:
            problem = "the mapping's heading_row is blank or beyond the end of this file"
            notes.add("stops", file, 0, problem, value=told, mend="correct [table] heading_row")
            return None
    else:
        at = max(range(min(LOOKED_AT, len(rows))), key=lambda at: _worth(rows[at][1], known))
        if _worth(rows[at][1], known)[0] == 0:
            at = 0
    heading_row, cells = rows[at]
    heading = tuple(cell.strip() for cell in cells)
    wide = len(heading)
    kept: list[Row] = []
    for number, of_row in rows[at + 1 :]:
        if any(cell.strip() for cell in of_row[wide:]):
            notes.leave_out(
                number,
                "the row has more cells than the heading",
                value=" | ".join(of_row),
                mend="put cells that hold the separator, such as decimal commas, in quotation "
                "marks, or save with semicolons",
            )
            continue
        kept.append((number, of_row + [""] * (wide - len(of_row))))
    if not kept:
        notes.add("stops", file, heading_row, "there is no row below the heading")
        return None
    return ExportTable(file, heading_row, heading, tuple(kept), separator)
