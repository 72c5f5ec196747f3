"""Tables for spreadsheets: cells in, CSV or XLSX bytes out, no cell ever a formula."""

import csv
import io
import re
import zipfile
from collections.abc import Iterable
from datetime import date

Cell = str | int | float | date | None
Row = tuple[Cell, ...]

# The full-width signs are taken for the plain ones by spreadsheets set to East Asian languages.
_FORMULA_STARTS = tuple("=+-@＝＋－＠")
_CONTROL = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff]")
# Archives carry a date for each part; a fixed one keeps the same table the same bytes.
_ARCHIVE_DATE = (1980, 1, 1, 0, 0, 0)
_MODIFIED = re.compile(
    rb"(<dcterms:(created|modified)[^>]*>)[^<]*(</dcterms:(?:created|modified)>)"
)


def inert(text: str) -> str:
    """Text that a spreadsheet would run as a formula, with an apostrophe before it.

    >>> inert("=1+1"), inert("Hall B"), inert("-5")
    ("'=1+1", 'Hall B', "'-5")
    """
    clean = _CONTROL.sub(" ", text)
    if clean.startswith(("\t", "\r", "\n")) or clean.lstrip().startswith(_FORMULA_STARTS):
        return f"'{clean}"
    return clean


def csv_bytes(header: tuple[str, ...], rows: Iterable[Row]) -> bytes:
    """RFC 4180 in UTF-8, with the mark by which spreadsheets know it."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(header)
    writer.writerows([inert(c) if isinstance(c, str) else c for c in row] for row in rows)
    return out.getvalue().encode("utf-8-sig")


def xlsx_bytes(title: str, header: tuple[str, ...], rows: Iterable[Row], made_on: date) -> bytes:
    """A workbook of one sheet; text stays text, dates and numbers are themselves.

    Parameters
    ----------
    title : the sheet's name, at most 31 characters.
    made_on : stands in the workbook's properties in place of the moment of writing.
    """
    from openpyxl import Workbook
    from openpyxl.styles import Alignment, Border, Font, Side

    book = Workbook()
    sheet = book.active
    sheet.title = title
    widths = [len(name) for name in header]
    for down, row in enumerate((header, *rows), start=1):
        for across, value in enumerate(row, start=1):
            cell = sheet.cell(row=down, column=across)
            if isinstance(value, str):
                # Set by hand: given "=1+1" the library would make it a formula.
                cell.value = _CONTROL.sub(" ", value)
                cell.data_type = "s"
            else:
                cell.value = value
            cell.alignment = Alignment(vertical="top", wrap_text=isinstance(value, str))
            widths[across - 1] = max(widths[across - 1], min(46, len(str(value or ""))))
    for cell, width in zip(sheet[1], widths, strict=True):
        cell.font = Font(bold=True, color="6B1F4F")
        cell.border = Border(bottom=Side(style="medium", color="6B1F4F"))
        sheet.column_dimensions[cell.column_letter].width = width + 2
    sheet.freeze_panes = "B2"
    out = io.BytesIO()
    book.save(out)
    return _undated(out.getvalue(), made_on)


def _undated(workbook: bytes, made_on: date) -> bytes:
    stamp = rb"\g<1>" + f"{made_on}T00:00:00Z".encode() + rb"\g<3>"
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(workbook)) as old, zipfile.ZipFile(out, "w") as new:
        for name in old.namelist():
            part = old.read(name)
            if name == "docProps/core.xml":
                part = _MODIFIED.sub(stamp, part)
            entry = zipfile.ZipInfo(name, _ARCHIVE_DATE)
            new.writestr(entry, part, compress_type=zipfile.ZIP_DEFLATED)
    return out.getvalue()
