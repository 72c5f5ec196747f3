import csv

import pytest

from floorcare.faces.intake.columns import SITES, ZONES
from floorcare.faces.intake.grid import grid_of
from floorcare.faces.intake.notes import Notes


def grid(text, kind=SITES):
    notes = Notes()
    found = grid_of("sites.csv", text, kind, notes)
    rows = list(found.rows) if found else []
    return found, rows, notes.findings()


@pytest.mark.parametrize(("sign", "decimal"), [(",", "."), (";", ","), ("\t", "")])
def test_the_separator_is_found_from_the_heading(sign, decimal):
    text = sign.join(("site", "customer", "name")) + "\n" + sign.join(("A", "B", "C")) + "\n"
    found, rows, findings = grid(text)
    assert found.heading == ("site", "customer", "name")
    assert found.decimal == decimal
    assert rows == [(2, ["A", "B", "C"])]
    assert findings == ()


def test_a_line_that_tells_the_separator_is_obeyed():
    found, rows, _ = grid("sep=;\nsite;name\nA;B\n")
    assert (found.heading_row, found.heading) == (2, ("site", "name"))
    assert rows == [(3, ["A", "B"])]


def test_rows_are_numbered_as_a_spreadsheet_numbers_them():
    found, rows, _ = grid('\n\nsite,name\nA,"two\nlines"\n\nB,C\n')
    assert found.heading_row == 3
    assert [number for number, cells in rows if cells] == [4, 6]


@pytest.mark.parametrize("ends", ["\n", "\r\n", "\r"])
def test_any_line_end_will_do(ends):
    _, rows, findings = grid(ends.join(("site,name", "A,B", "C,D")))
    assert rows == [(2, ["A", "B"]), (3, ["C", "D"])]
    assert findings == ()


def test_a_separator_inside_quotation_marks_is_text():
    _, rows, _ = grid('site,name\nA,"Hall B, north"\n')
    assert rows == [(2, ["A", "Hall B, north"])]


@pytest.mark.parametrize("text", ["", "\n\n", " ,,\n;;\n"])
def test_an_empty_file_is_a_finding(text):
    found, _, (finding,) = grid(text)
    assert found is None
    assert finding.problem == "the file is empty"


def test_a_quotation_mark_never_closed_is_a_finding():
    found, _, (finding,) = grid('site,name\nA,"Hall\nB,C\n')
    assert finding.problem == "a quotation mark is opened and never closed"
    assert finding.row == 2
    assert found.broken == [2]


def test_text_after_a_closing_mark_is_a_finding_and_the_next_row_is_read():
    _, rows, (finding,) = grid('site,name\nA,"Hall" B\nC,D\n')
    assert (finding.problem, finding.row) == ("the row cannot be split into cells", 2)
    assert rows == [(3, ["C", "D"])]


def test_a_cell_beyond_the_limit_is_a_finding_not_a_crash():
    _, rows, (finding,) = grid(f"site,name\nA,{'n' * (csv.field_size_limit() + 1)}\nC,D\n")
    assert "more than 131,072 characters" in finding.problem
    assert rows == [(3, ["C", "D"])]


def test_a_heading_that_cannot_be_split_is_a_finding():
    found, _, findings = grid('site,"name" x\nA,B\n')
    assert found is None
    assert findings[0].row == 1


def test_decimal_commas_do_not_make_a_comma_file_of_a_semicolon_file():
    found, _, _ = grid("site;zone;name;area_m2\nA;B;C;1,5\n", ZONES)
    assert found.decimal == ","
