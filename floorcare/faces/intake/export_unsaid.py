"""What a meter's export leaves unsaid: unit, angle, state and place are asked, never guessed."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from floorcare.faces.intake.export_columns import Columns
from floorcare.faces.intake.export_headings import unit_in, unit_spelt
from floorcare.faces.intake.export_mapping import (
    ExportMapping,
    ExportNotes,
    Question,
    Setting,
)
from floorcare.faces.intake.export_table import ExportTable
from floorcare.faces.intake.readers import folded
from floorcare.faces.intake.unfit import Unfit
from floorcare.ground.trade.reading import GLOSS_GEOMETRIES, Measure, SurfaceState

_MEASURES: Mapping[str, Measure] = {"DOI": Measure.DOI, "haze": Measure.HAZE}


class ValueColumn(NamedTuple):
    """A column of values; geometry 0 where another column names it, or there is none."""

    at: int
    heading: str
    measure: Measure
    geometry_deg: int


def value_columns(
    table: ExportTable, columns: Columns, mapping: ExportMapping, notes: ExportNotes
) -> list[ValueColumn]:
    """The columns that hold values; asked where there is none."""
    wide = [
        _value_column(table.heading.index(heading), heading, meant)
        for heading, meant in mapping.table("values").items()
        if heading in table.heading and meant != "not read"
    ]
    if wide:
        return wide
    if columns.has("value"):
        heading = columns.heading["value"]
        return [_value_column(table.heading.index(heading), heading, 0)]
    if not notes.stops:
        question = Question("columns", "value", tuple(filter(None, table.heading)))
        notes.ask(question, "no column is known to hold the value", row=table.heading_row)
    return []


def _value_column(at: int, heading: str, meant: Setting) -> ValueColumn:
    measure = _MEASURES.get(str(meant), Measure.GLOSS)
    return ValueColumn(at, heading, measure, int(meant) if measure is Measure.GLOSS else 0)


def ask_for_unit(
    table: ExportTable,
    columns: Columns,
    values: Sequence[ValueColumn],
    mapping: ExportMapping,
    notes: ExportNotes,
) -> None:
    """Ask where gloss is not said to be in gloss units."""
    if mapping.get("fixed", "unit"):
        return
    question = Question("fixed", "unit", ("GU",))
    if columns.has("unit"):
        heading = columns.heading["unit"]
        for row, text in table.cells(heading):
            if unit_spelt(text) != "GU":
                problem = "this unit may be gloss units or a share of something else"
                notes.ask(question, problem, row=row, column=heading, value=text)
                return
        return
    for column in values:
        if column.measure is Measure.GLOSS and unit_in(column.heading) != "GU":
            first = next(table.cells(column.heading), (table.heading_row, ""))
            if unit_in(first[1]) == "GU":
                continue
            problem = (
                "percent may be gloss units or a share of something else"
                if "%" in column.heading + first[1]
                else "the unit of the values is not named"
            )
            notes.ask(question, problem, row=first[0], column=column.heading, value=first[1])
            return


def ask_for_rest(
    table: ExportTable, columns: Columns, values: Sequence[ValueColumn], notes: ExportNotes
) -> None:
    """Ask where neither a column nor the mapping says the geometry, the state or the place."""
    row = table.heading_row
    unsaid = [c for c in values if c.measure is Measure.GLOSS and not c.geometry_deg]
    if unsaid and not columns.has("geometry") and not columns.text((), "geometry"):
        question = Question("fixed", "geometry", GLOSS_GEOMETRIES)
        problem = "nothing says at which angle the gloss was read"
        notes.ask(question, problem, row=row, column=unsaid[0].heading)
    if values and not columns.has("state") and not columns.text((), "state"):
        question = Question("fixed", "state", tuple(state.value for state in SurfaceState))
        notes.ask(question, "nothing says in which state the floor was read", row=row)
    placed = columns.has("place") or (columns.has("zone") and columns.has("site"))
    if not placed and not columns.text((), "place"):
        question = Question("columns", "place", tuple(filter(None, table.heading)))
        notes.ask(question, "no column is known to hold the place", row=row)


def angle_of(typed: str) -> int:
    """The angle a cell names: 20, 60 or 85.

    >>> angle_of("60°"), angle_of("85 deg")
    (60, 85)

    Raises
    ------
    Unfit : it names none of them.
    """
    plain = folded(typed).removesuffix("degrees").removesuffix("deg").removesuffix("grad")
    angle = plain.removesuffix("°").removesuffix(".0")
    if angle not in map(str, GLOSS_GEOMETRIES):
        raise Unfit("is no angle gloss is read at here", "20, 60, 85", "correct it")
    return int(angle)
