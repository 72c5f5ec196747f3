"""Values of an export: the decimal sign the file writes, and numbers in their range."""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from floorcare.faces.intake.export_mapping import ExportMapping, ExportNotes, Question
from floorcare.faces.intake.export_table import ExportTable
from floorcare.faces.intake.numeral import possible_numbers
from floorcare.faces.intake.readers import folded
from floorcare.faces.intake.unfit import Unfit

NO_VALUE = frozenset({"", "nan", "na", "n/a", "#n/a", "null", "none", ".", "inf", "over", "err"})
_UNIT_BEHIND = re.compile(r"\s*(?:GU|GE|%)\Z", re.IGNORECASE)
_POINT = re.compile(r"-?[0-9]*\.(?:[0-9]{1,2}|[0-9]{4,})\Z")
_COMMA = re.compile(r"-?[0-9]*,(?:[0-9]{1,2}|[0-9]{4,})\Z")


@dataclass(frozen=True, slots=True)
class Outside(Exception):
    """A number no reading can have."""

    value: float


def number_text(text: str) -> str:
    """The number alone, without a unit behind it.

    >>> number_text("41,2 GU")
    '41,2'
    """
    return _UNIT_BEHIND.sub("", text.strip())


def decimal_of(
    table: ExportTable, headings: Iterable[str], mapping: ExportMapping, notes: ExportNotes
) -> str:
    """The decimal sign: the mapping's, else the one that is seen; both seen are asked about."""
    told = mapping.get("table", "decimal")
    if told:
        return "" if told == "either" else told
    seen: dict[str, tuple[int, str, str]] = {}
    for heading in headings:
        for row, text in table.cells(heading):
            plain = number_text(text)
            sign = "." if _POINT.match(plain) else "," if _COMMA.match(plain) else ""
            if sign:
                seen.setdefault(sign, (row, heading, text))
    if len(seen) == 2:
        row, heading, text = max(seen.values())
        question = Question("table", "decimal", ("either", ".", ","))
        problem = "decimal points and decimal commas both stand in this file"
        notes.ask(question, problem, row=row, column=heading, value=text)
    return next(iter(seen), "")


def read_value(text: str, decimal: str, low: float, high: float) -> float:
    """The number of a cell.

    Raises
    ------
    Outside : it lies outside low to high.
    Unfit : there is none, or it can mean two.
    """
    plain = number_text(text)
    if folded(plain) in NO_VALUE:
        raise Unfit("there is no value", "a number", "read again, or leave the row out")
    may = possible_numbers(plain, decimal)
    if not may:
        raise Unfit("is not a number", "a number", "correct the cell")
    fits = sorted({value for value in may if low <= value <= high})
    if len(fits) > 1:
        mend = 'write decimal = "." or decimal = "," under [table] of the mapping'
        raise Unfit(f"can mean {fits[0]:g} or {fits[1]:g}", "a number", mend)
    if not fits:
        raise Outside(may[0])
    return fits[0]
