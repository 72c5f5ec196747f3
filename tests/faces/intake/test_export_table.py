import pandas as pd
import pytest

from floorcare.faces.intake.export_headings import role_of
from floorcare.faces.intake.export_mapping import ExportMapping, ExportNotes
from floorcare.faces.intake.export_table import read_table


def table_of(tmp_path, text, name="e.csv", **table):
    path = tmp_path / name
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    notes = ExportNotes(name)
    mapping = ExportMapping("readings", {"table": table})
    return read_table(path, mapping, lambda h: bool(role_of("readings", h)), notes), notes


@pytest.mark.parametrize(
    ("text", "separator"),
    [
        ("Sample,Date\nA,2026-03-02\n", "comma"),
        ("Sample;Date\nA;41,2\n", "semicolon"),
        ("Sample\tDate\nA\t41,2\n", "tab"),
    ],
)
def test_the_separator_is_the_one_that_makes_headings_known(tmp_path, text, separator):
    table, notes = table_of(tmp_path, text)
    assert (table.separator, table.heading, notes.findings()) == (
        separator,
        ("Sample", "Date"),
        (),
    )


def test_lines_above_the_heading_are_passed_over_and_rows_keep_their_number(tmp_path):
    table, _ = table_of(tmp_path, "Round of March; hall\n\nSample;Date\nA;2026\n\nB;2026\n")
    assert (table.heading_row, [row for row, _ in table.rows]) == (3, [4, 6])


def test_a_separator_line_is_obeyed_as_a_line(tmp_path):
    table, _ = table_of(tmp_path, "sep=;\nSample;Date\nA;2026\n")
    assert (table.heading_row, table.heading) == (2, ("Sample", "Date"))


def test_a_separator_that_cannot_be_told_is_asked(tmp_path):
    table, notes = table_of(tmp_path, "a,b;c\n1,2;3\n")
    assert table is None
    assert (notes.questions[0].key, notes.questions[0].choices) == (
        "separator",
        ("comma", "semicolon"),
    )
    table, _ = table_of(tmp_path, "a,b;c\n1,2;3\n", separator="semicolon")
    assert table.heading == ("a,b", "c")


def test_the_mapping_may_say_where_the_heading_stands(tmp_path):
    text = "Sample,Date\nPlace,When\nA,2026\n"
    assert table_of(tmp_path, text, heading_row=2)[0].heading == ("Place", "When")
    table, notes = table_of(tmp_path, text, heading_row=9)
    assert (table, notes.stops) == (None, True)


def test_an_unquoted_decimal_comma_leaves_its_row_out(tmp_path):
    table, notes = table_of(tmp_path, "Sample,Value\nA,41,2\nB,40.8\n")
    assert [row for row, _ in table.rows] == [3]
    assert (notes.stops, notes.findings()[0].row, notes.findings()[0].value) == (
        False,
        2,
        "A | 41 | 2",
    )


@pytest.mark.parametrize(
    "text", ["just words\nmore words\n", "", "\n\n", "Sample,Date\n", b"%PDF-1"]
)
def test_what_is_no_table_is_told(tmp_path, text):
    table, notes = table_of(tmp_path, text)
    assert (table, notes.stops) == (None, True)


def test_an_open_quotation_mark_is_told_with_its_row(tmp_path):
    _, notes = table_of(tmp_path, 'Sample,Date\nA,"2026\n')
    assert 2 in [finding.row for finding in notes.findings()]
    assert notes.stops


def test_a_workbook_is_a_table_too(tmp_path):
    sheet = pd.DataFrame([["Sample", "Date"], ["A", "2026-03-02"]])
    sheet.to_excel(tmp_path / "e.xlsx", header=False, index=False)
    table, _ = table_of(tmp_path, (tmp_path / "e.xlsx").read_bytes(), "e.xlsx")
    assert (table.heading, list(table.cells("Date"))) == (("Sample", "Date"), [(2, "2026-03-02")])
    assert list(table.cells("none")) == []
