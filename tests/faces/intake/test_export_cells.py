import pytest

from floorcare.faces.intake.export_cells import Outside, decimal_of, number_text, read_value
from floorcare.faces.intake.export_mapping import ExportMapping, ExportNotes
from floorcare.faces.intake.export_table import ExportTable
from floorcare.faces.intake.unfit import Unfit


def sign(*cells, **table):
    rows = tuple((at, [cell]) for at, cell in enumerate(cells, start=2))
    notes = ExportNotes("e.csv")
    read = ExportTable("e.csv", 1, ("Value",), rows)
    mapping = ExportMapping("readings", {"table": table})
    return decimal_of(read, ["Value"], mapping, notes), notes


def test_the_decimal_sign_is_the_one_that_is_seen():
    assert sign("41", "40,8")[0] == ","
    assert sign("41.2 GU", "40")[0] == "."
    assert sign("41", "1,234")[0] == ""


def test_both_signs_in_one_file_are_asked_and_answered():
    _, notes = sign("41.2", "40.8", "42,9")
    assert (notes.findings()[0].row, notes.findings()[0].value) == (4, "42,9")
    found, notes = sign("41.2", "42,9", decimal="either")
    assert (found, notes.stops) == ("", False)


@pytest.mark.parametrize(
    ("text", "decimal", "value"),
    [("41,2", ",", 41.2), ("41.2 GU", "", 41.2), ("1,234", ".", 1.234), ("-0", "", 0.0)],
)
def test_a_value_is_the_one_number_that_can_be(text, decimal, value):
    assert read_value(text, decimal, 0, 200) == value


@pytest.mark.parametrize("text", ["", "NaN", "n/a", "forty", "--", "inf"])
def test_what_is_no_value_is_unfit(text):
    with pytest.raises(Unfit):
        read_value(text, ".", 0, 200)


def test_a_number_of_two_meanings_is_unfit_and_names_the_line_that_answers():
    with pytest.raises(Unfit) as wrong:
        read_value("1,234", ".", 0, 5000)
    assert "decimal" in str(wrong.value.mend)


@pytest.mark.parametrize("text", ["412", "-3", "200.1"])
def test_a_number_no_reading_can_have_is_outside(text):
    with pytest.raises(Outside) as wrong:
        read_value(text, ".", 0, 200)
    assert wrong.value.value == float(text)


def test_a_unit_behind_a_number_is_no_part_of_it():
    assert [number_text(t) for t in ("41,2 GU", "60 %", "12ge")] == ["41,2", "60", "12"]
