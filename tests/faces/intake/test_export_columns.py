import pytest

from floorcare.faces.intake.export_columns import Columns, moments_of
from floorcare.faces.intake.export_mapping import ExportMapping, ExportNotes
from floorcare.faces.intake.export_table import ExportTable
from floorcare.faces.intake.unfit import Unfit


def moments(heading, rows, **said):
    cells = tuple((at, list(row)) for at, row in enumerate(rows, start=2))
    table = ExportTable("e.csv", 1, heading, cells)
    mapping = ExportMapping("readings", said)
    notes = ExportNotes("e.csv")
    return moments_of(table, Columns(table, mapping), mapping, notes), notes


BOTH = {"date": "Day", "time": "At"}


def test_cells_come_by_their_role_and_else_from_what_is_fixed():
    table = ExportTable("e.csv", 1, ("Who", "Where"), ())
    said = {"columns": {"reader": "Who"}, "fixed": {"reader": "ANNA", "state": "wet"}}
    columns = Columns(table, ExportMapping("readings", said))
    assert columns.text([" Bo ", ""], "reader") == "Bo"
    assert columns.text(["", ""], "reader") == "ANNA"
    assert columns.text([], "state") == "wet"
    assert (columns.has("state"), columns.text([], "place")) == (False, "")


def test_day_and_time_of_two_columns_are_one_moment():
    found, _ = moments(("Day", "At"), [("13/03/2026", "21:40")], columns=BOTH)
    reader, mapping = found
    assert reader.clock(["13/03/2026", "21:40"]).minute == 1300
    assert reader.typed(["13/03/2026", "21:40"]) == "13/03/2026 21:40"
    assert mapping.get("table", "date_order") == "day first"


def test_a_time_column_that_holds_a_whole_moment_gives_its_time():
    found, _ = moments(("Day", "At"), [("2026-03-13", "1899-12-30 21:40")], columns=BOTH)
    assert found[0].clock(["2026-03-13", "1899-12-30 21:40"]).minute == 1300


def test_an_order_that_cannot_be_told_is_asked_with_the_first_date_in_doubt():
    rows = [("2026-03-04", ""), ("05/05/2026", ""), ("03/04/2026", ""), ("04/05/2026", "")]
    found, notes = moments(("Day", "At"), rows, columns=BOTH)
    (asked,) = notes.findings()
    assert (found, asked.row, asked.column, asked.value) == (None, 4, "Day", "03/04/2026")
    assert notes.questions[0].choices == ("day first", "month first")


def test_the_mapping_answers_the_order():
    said = {"columns": BOTH, "table": {"date_order": "month first"}}
    found, _ = moments(("Day", "At"), [("03/04/2026", "")], **said)
    assert found[0].clock(["03/04/2026", ""]).on.month == 3


def test_dates_no_one_order_fits_are_asked():
    found, notes = moments(("Day", "At"), [("13/04/2026", ""), ("04/13/2026", "")], columns=BOTH)
    assert (found, notes.findings()[0].value) == (None, "04/13/2026")


def test_no_column_of_dates_is_asked():
    found, notes = moments(("Day", "At"), [("", "")])
    assert (found, notes.questions[0].choices) == (None, ("Day", "At"))


def test_a_row_without_a_date_is_unfit_each_time():
    found, _ = moments(("Day", "At"), [("2026-03-04", "")], columns=BOTH)
    for _ in range(2):
        with pytest.raises(Unfit, match="no date"):
            found[0].clock(["", "21:40"])


def test_the_midnight_a_workbook_writes_behind_a_date_is_no_time():
    found, _ = moments(("Day", "At"), [("2026-03-04 00:00:00", "")], columns=BOTH)
    assert found[0].clock(["2026-03-04 00:00:00", ""]).minute == 720
    assert found[0].clock(["2026-03-04 07:30:00", ""]).minute == 450
