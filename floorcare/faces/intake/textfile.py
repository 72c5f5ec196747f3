"""Bytes of a CSV file to text: which encoding it is in, and whether it is text at all."""

import codecs
import re
import unicodedata
from pathlib import Path

from floorcare.faces.intake.notes import Notes

LARGEST_BYTES = 300_000_000
"""A file beyond this size is refused. Assumption: far above any portfolio's readings."""

_NO_TEXT = re.compile(r"[\x00-\x08\x0e-\x1f\x7f]")
_NOT_CSV = (
    (b"PK\x03\x04", "is a workbook or archive, not a CSV file"),
    (b"\xd0\xcf\x11\xe0", "is an old workbook (.xls) or protected by a password, not a CSV file"),
    (b"%PDF", "is a PDF, not a CSV file"),
)


def text_of(path: Path, file: str, notes: Notes) -> str | None:
    """The file's text, or None with a finding, under the name `file`, where it is no text.

    UTF-8 (with or without byte-order mark) and UTF-16 (with one) are read as they say; anything
    else that is text at all is read as Windows-1252, and the finding says so.
    """
    try:
        if path.stat().st_size > LARGEST_BYTES:
            notes.add(
                "stops",
                file,
                0,
                "the file is too large",
                value=f"{path.stat().st_size:,} bytes",
                allowed=f"up to {LARGEST_BYTES:,} bytes",
                mend="split it by site into several folders",
            )
            return None
        raw = path.read_bytes()
    except OSError as trouble:
        notes.add(
            "stops",
            file,
            0,
            "the file cannot be opened",
            value=trouble.strerror or str(trouble),
            mend="close it in other programs and check that you may read it",
        )
        return None
    text = _decoded(file, raw, notes)
    return None if text is None else unicodedata.normalize("NFC", text)


def _decoded(file: str, raw: bytes, notes: Notes) -> str | None:
    for start, what in _NOT_CSV:
        if raw.startswith(start):
            _refuse(notes, file, f"the file {what}")
            return None
    if raw.startswith((codecs.BOM_UTF32_LE, codecs.BOM_UTF32_BE)):
        _refuse(notes, file, "the file is in UTF-32")
        return None
    if raw.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        try:
            return _without_nul(file, raw.decode("utf-16"), notes)
        except UnicodeDecodeError:
            _refuse(notes, file, "the file starts as UTF-16 but breaks off in the middle")
            return None
    if b"\x00" in raw:
        row = raw[: raw.index(b"\x00")].count(b"\n") + 1
        _refuse(
            notes,
            file,
            "the file holds NUL bytes: it is no text, or UTF-16 without a byte-order mark",
            row,
        )
        return None
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as trouble:
        return _windows(file, raw, trouble.start, notes)


def _windows(file: str, raw: bytes, at: int, notes: Notes) -> str | None:
    row = raw[:at].count(b"\n") + 1
    try:
        text = raw.decode("cp1252")
    except UnicodeDecodeError:
        text = "\x00"
    if _NO_TEXT.search(text):
        _refuse(notes, file, "the file is neither UTF-8 nor Windows-1252 text", row)
        return None
    notes.add(
        "asks",
        file,
        row,
        "the file is not UTF-8; it was read as Windows-1252",
        value=text.split("\n")[row - 1].strip(),
        allowed="UTF-8, UTF-16 with byte-order mark",
        mend='look whether this line reads right, and save as "CSV UTF-8" next time',
    )
    return text


def _without_nul(file: str, text: str, notes: Notes) -> str | None:
    if "\x00" in text:
        _refuse(
            notes, file, "the file holds NUL characters", text[: text.index("\x00")].count("\n") + 1
        )
        return None
    return text


def _refuse(notes: Notes, file: str, problem: str, row: int = 0) -> None:
    notes.add(
        "stops",
        file,
        row,
        problem,
        allowed="CSV text in UTF-8, UTF-16 with byte-order mark, or Windows-1252",
        mend='save it as "CSV UTF-8" from the spreadsheet',
    )
