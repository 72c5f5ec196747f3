"""The first worksheet of a workbook (XLSX) as a table."""

import warnings
import zipfile
from pathlib import Path

from floorcare.faces.intake.grid import Grid
from floorcare.faces.intake.notes import Notes

LARGEST_UNPACKED_BYTES = 300_000_000
"""A workbook that unpacks to more is refused. Assumption: far above any sheet typed by people."""


def workbook_grid(path: Path, notes: Notes) -> Grid | None:
    """The table of the first worksheet that holds anything, or None with a finding.

    Formulas count as the result last saved with them; nothing is worked out here.
    """
    if not _opens(path, notes):
        return None
    import pandas as pd

    try:
        with warnings.catch_warnings():
            # openpyxl warns of styles and validations that do not matter here
            warnings.simplefilter("ignore")
            sheets = pd.read_excel(
                path, sheet_name=None, header=None, dtype=str, na_filter=False, engine="openpyxl"
            )
    except Exception as trouble:  # a damaged workbook fails anywhere inside openpyxl
        _refuse(path, notes, "the workbook is damaged", str(trouble))
        return None
    filled = [(name, sheet) for name, sheet in sheets.items() if sheet.size]
    if not filled:
        _refuse(path, notes, "the workbook is empty", "")
        return None
    for name, _ in filled[1:]:
        problem = "only the first worksheet is read; this one was not"
        notes.add("asks", path.name, 0, problem, value=str(name), mend="move it to the front")
    rows = [
        (number, [str(cell) for cell in cells])
        for number, cells in enumerate(filled[0][1].itertuples(index=False, name=None), start=1)
    ]
    heading_row, heading = next(
        (number, cells) for number, cells in rows if any(cell.strip() for cell in cells)
    )
    return Grid(
        file=path.name,
        heading_row=heading_row,
        heading=tuple(cell.strip() for cell in heading),
        decimal=".",
        rows=rows[heading_row:],
        lines=len(rows),
    )


def _opens(path: Path, notes: Notes) -> bool:
    try:
        with zipfile.ZipFile(path) as archive:
            unpacked = sum(part.file_size for part in archive.infolist())
    except zipfile.BadZipFile:
        _refuse(path, notes, "this is no workbook (XLSX), or it is protected by a password", "")
        return False
    except OSError as trouble:
        _refuse(path, notes, "the file cannot be opened", trouble.strerror or str(trouble))
        return False
    if unpacked > LARGEST_UNPACKED_BYTES:
        _refuse(path, notes, "the workbook is too large", f"{unpacked:,} bytes unpacked")
        return False
    return True


def _refuse(path: Path, notes: Notes, problem: str, value: str) -> None:
    mend = 'save it anew as XLSX without a password, or as "CSV UTF-8"'
    notes.add("stops", path.name, 0, problem, value=value, mend=mend)
