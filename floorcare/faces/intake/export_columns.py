"""What every export has: cells by their role, and the moment of a row."""

from collections.abc import Mapping, Sequence

from floorcare.faces.intake.export_dates import (
    ORDERS,
    Clock,
    first_doubtful,
    first_unfit,
    orders_fitting,
    read_clock,
    split_moment,
)
from floorcare.faces.intake.export_mapping import ExportMapping, ExportNotes, Question
from floorcare.faces.intake.export_table import ExportTable
from floorcare.faces.intake.unfit import Unfit, read_once


class Columns:
    """The cells of a row by their role."""

    def __init__(self, table: ExportTable, mapping: ExportMapping) -> None:
        self._at: Mapping[str, int] = {
            role: table.heading.index(str(heading))
            for role, heading in mapping.table("columns").items()
            if heading in table.heading
        }
        self._fixed = {key: str(value) for key, value in mapping.table("fixed").items()}
        self.heading = {role: table.heading[at] for role, at in self._at.items()}

    def has(self, role: str) -> bool:
        """Whether a column holds it."""
        return role in self._at

    def text(self, cells: Sequence[str], role: str) -> str:
        """The cell's text, else what the mapping says of every row, else ""."""
        at = self._at.get(role)
        cell = cells[at].strip() if at is not None else ""
        return cell or self._fixed.get(role, "")


class Moments:
    """Reads the moment of every row in the one order of day and month that fits them all."""

    def __init__(self, columns: Columns, order: str) -> None:
        self._columns = columns
        self._order = order
        self._read: dict[tuple[str, str], Clock | Unfit] = {}

    @property
    def heading(self) -> str:
        """The column that holds the day."""
        return self._columns.heading.get("moment") or self._columns.heading.get("date", "")

    def typed(self, cells: Sequence[str]) -> str:
        """What stands there."""
        return " ".join(filter(None, self._parts(cells)))

    def clock(self, cells: Sequence[str]) -> Clock:
        """The row's day and minute.

        Raises
        ------
        Unfit : it is no moment.
        """
        parts = self._parts(cells)
        return read_once(self._read, parts, lambda: self._clock(parts))

    def _clock(self, parts: tuple[str, str]) -> Clock:
        if not parts[0]:
            raise Unfit("there is no date", "a date", "fill it in")
        return read_clock(*parts, self._order)

    def _parts(self, cells: Sequence[str]) -> tuple[str, str]:
        if self._columns.has("moment"):
            return split_moment(self._columns.text(cells, "moment"))
        on, at = split_moment(self._columns.text(cells, "date"))
        own = self._columns.text(cells, "time")
        # a workbook writes midnight behind every date
        return on, split_moment(own)[1] or own or ("" if at == "00:00:00" else at)


def moments_of(
    table: ExportTable, columns: Columns, mapping: ExportMapping, notes: ExportNotes
) -> tuple[Moments, ExportMapping] | None:
    """The reader of moments, and the mapping with the order it found; None with a question."""
    heading = columns.heading.get("moment") or columns.heading.get("date")
    if heading is None:
        problem = "no column is known to hold the date"
        question = Question("columns", "date", tuple(filter(None, table.heading)))
        notes.ask(question, problem, row=table.heading_row, value=" | ".join(table.heading))
        return None
    order = mapping.get("table", "date_order")
    if not order:
        dates = {split_moment(text)[0]: row for row, text in reversed([*table.cells(heading)])}
        fitting = orders_fitting(dates)
        if len(fitting) != 1:
            found = first_doubtful(dates) if fitting else first_unfit(dates, ORDERS[0])
            found = min(filter(_doubtful, dates), key=dates.__getitem__) if fitting else found
            problem = (
                "day and month can be meant in more than one order, here and in every row"
                if fitting
                else "no one order of day and month fits every row; this one is no day, day first"
            )
            notes.ask(
                Question("table", "date_order", fitting or ORDERS),
                problem,
                row=dates.get(found, 0),
                column=heading,
                value=found,
            )
            return None
        order = fitting[0]
        if [one for one in ORDERS if not first_unfit(dates, one)] == [order]:
            mapping = mapping.with_("table", "date_order", order)
    return Moments(columns, order), mapping


def _doubtful(text: str) -> bool:
    return bool(first_doubtful([text]))
