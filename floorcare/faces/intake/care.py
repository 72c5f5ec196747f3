"""Files in: a folder of CSV files or one five-column sheet, whichever the path holds."""

from datetime import date
from pathlib import Path

from floorcare.errors import NotUnderstood
from floorcare.faces.intake.column import FileKind
from floorcare.faces.intake.columns import FOLDER, SHEET
from floorcare.faces.intake.folder import NAMES_UNDERSTOOD, Tell, known_files, read_folder
from floorcare.faces.intake.grid import Grid, grid_of, heading_key, headings_of
from floorcare.faces.intake.notes import Notes
from floorcare.faces.intake.sheet import read_sheet
from floorcare.faces.intake.taken import Taken
from floorcare.faces.intake.textfile import text_of
from floorcare.faces.intake.workbook import workbook_grid
from floorcare.ground.trade.book import Portfolio

_TABLE_ENDINGS = (".csv", ".tsv", ".txt", ".xlsx", ".xlsm")


def read_care(
    path: Path,
    *,
    surfaces: frozenset[str],
    today: date,
    tell: Tell | None = None,
    time_zone: str = "",
    machine_kinds: frozenset[str] = frozenset(),
    materials: frozenset[str] = frozenset(),
) -> Taken:
    """Read whatever the path holds: a folder of files, a five-column sheet, or a folder with one.

    Parameters
    ----------
    path : a folder, or a CSV or XLSX file.
    surfaces : codes of the surfaces that are known.
    today : nothing that happened may lie after it.
    tell : called now and then with rows read and rows in all.
    time_zone : where the sites of a sheet are; a folder names its own.
    machine_kinds, materials : codes of the kinds of machines and of the materials that are known;
        where none is given, any code is taken.

    Raises
    ------
    NotUnderstood : the path itself is of no use; whatever is wrong inside files is a finding.
    """
    if not _is_there(path):
        raise NotUnderstood("there is no such file or folder", where=str(path)[:200])
    sheet = path if path.is_file() else _only_sheet(path)
    if sheet is None:
        return read_folder(
            path,
            surfaces=surfaces,
            today=today,
            tell=tell,
            machine_kinds=machine_kinds,
            materials=materials,
        )
    taken = _read_sheet(sheet, surfaces, today, time_zone)
    if tell:
        tell(taken.rows, taken.rows)
    return taken


def _read_sheet(sheet: Path, surfaces: frozenset[str], today: date, time_zone: str) -> Taken:
    if sheet.suffix.casefold() not in _TABLE_ENDINGS:
        raise NotUnderstood(f"this is no CSV or XLSX file; {NAMES_UNDERSTOOD}", where=str(sheet))
    notes = Notes()
    grid = _grid(sheet, notes)
    if grid is None:
        return Taken(
            portfolio=Portfolio(),
            findings=notes.findings(),
            files=(sheet.name,),
            rows=0,
            kind="sheet",
        )
    kind = _kind_named(sheet)
    if kind is not None and not _is_sheet(grid, kind):
        raise NotUnderstood(
            f"{sheet.name} is one file of a folder; name the folder it stands in", where=str(sheet)
        )
    return read_sheet(grid, notes, surfaces=surfaces, today=today, time_zone=time_zone)


def _is_there(path: Path) -> bool:
    try:
        return path.exists()
    except (OSError, ValueError):  # a name too long, or with a NUL in it
        return False


def _only_sheet(folder: Path) -> Path | None:
    """The one table of a folder that holds no other, where it is a five-column sheet."""
    try:
        tables = [
            path
            for path in sorted(folder.iterdir())
            if path.suffix.casefold() in (".csv", ".xlsx", ".xlsm")
            and not path.name.startswith((".", "~"))
        ]
        known = known_files(folder)
    except OSError as trouble:
        raise NotUnderstood(
            f"the folder cannot be opened ({trouble.strerror})", where=str(folder)
        ) from None
    if not tables:
        raise NotUnderstood(f"no CSV or XLSX file is here; {NAMES_UNDERSTOOD}", where=str(folder))
    if len(tables) > 1:
        return None
    kind = _kind_named(tables[0])
    if not known or kind is None:
        return tables[0]
    grid = _grid(tables[0], Notes())
    return tables[0] if grid is not None and _is_sheet(grid, kind) else None


def _kind_named(path: Path) -> FileKind | None:
    return next((kind for kind in FOLDER if kind.name == path.name.casefold()), None)


def _is_sheet(grid: Grid, kind: FileKind) -> bool:
    """Whether the heading is rather a sheet's than that of the file its name says."""
    headings = {heading_key(text) for text in grid.heading if text}
    return len(headings & headings_of(SHEET)) > len(headings & headings_of(kind))


def _grid(path: Path, notes: Notes) -> Grid | None:
    if path.suffix.casefold() in (".xlsx", ".xlsm"):
        return workbook_grid(path, notes)
    text = text_of(path, path.name, notes)
    return None if text is None else grid_of(path.name, text, SHEET, notes)
