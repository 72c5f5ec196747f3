import pytest

from floorcare.faces.intake.export_columns import Columns
from floorcare.faces.intake.export_mapping import ExportMapping, ExportNotes
from floorcare.faces.intake.export_table import ExportTable
from floorcare.faces.intake.export_unsaid import (
    angle_of,
    ask_for_rest,
    ask_for_unit,
    value_columns,
)
from floorcare.faces.intake.unfit import Unfit
from floorcare.ground.trade.reading import Measure


def asked(heading, row, **said):
    table = ExportTable("e.csv", 1, heading, ((2, list(row)),))
    mapping, notes = ExportMapping("readings", said), ExportNotes("e.csv")
    columns = Columns(table, mapping)
    values = value_columns(table, columns, mapping, notes)
    ask_for_unit(table, columns, values, mapping, notes)
    ask_for_rest(table, columns, values, notes)
    return {f"{q.table}.{q.key}" for q in notes.questions}, values


PLACED = {"place": "Spot"}
STATE = {"state": "wet"}


def test_columns_of_values_carry_their_angle_or_measure():
    said = {"values": {"60° (GU)": 60, "DOI": "DOI", "Old": "not read"}}
    _, values = asked(("60° (GU)", "DOI", "Old"), ("1", "2", "3"), **said)
    assert [(c.measure, c.geometry_deg) for c in values] == [(Measure.GLOSS, 60), (Measure.DOI, 0)]


def test_all_said_nothing_is_asked():
    said = {"columns": PLACED, "values": {"60° (GU)": 60}, "fixed": STATE}
    assert asked(("Spot", "60° (GU)"), ("A", "41"), **said)[0] == set()


@pytest.mark.parametrize(
    ("heading", "value", "questions"),
    [
        ("60°", "41", {"fixed.unit"}),
        ("60° (%)", "41", {"fixed.unit"}),
        ("60°", "41 GU", set()),
        ("60° (GU)", "41", set()),
    ],
)
def test_a_unit_that_is_not_named_is_asked(heading, value, questions):
    said = {"columns": PLACED, "values": {heading: 60}, "fixed": STATE}
    assert asked(("Spot", heading), ("A", value), **said)[0] == questions


def test_a_column_of_units_is_read_and_percent_in_it_asked():
    said = {"columns": {**PLACED, "unit": "Unit"}, "values": {"60°": 60}, "fixed": STATE}
    assert asked(("Spot", "60°", "Unit"), ("A", "41", "GE"), **said)[0] == set()
    assert asked(("Spot", "60°", "Unit"), ("A", "41", "%"), **said)[0] == {"fixed.unit"}
    said["fixed"] = {**STATE, "unit": "GU"}
    assert asked(("Spot", "60°", "Unit"), ("A", "41", "%"), **said)[0] == set()


def test_angle_state_and_place_are_asked_where_nothing_says_them():
    questions, _ = asked(("Value GU",), ("41",), columns={"value": "Value GU"})
    assert questions == {"fixed.geometry", "fixed.state", "columns.place"}


def test_no_values_at_all_are_asked():
    assert asked(("Spot",), ("A",), columns=PLACED)[0] == {"columns.value"}


@pytest.mark.parametrize(("text", "angle"), [("60", 60), ("20°", 20), ("85 degrees", 85)])
def test_an_angle_is_read_out_of_a_cell(text, angle):
    assert angle_of(text) == angle


@pytest.mark.parametrize("text", ["75", "6", "sixty", "60/20"])
def test_another_angle_is_refused(text):
    with pytest.raises(Unfit):
        angle_of(text)
