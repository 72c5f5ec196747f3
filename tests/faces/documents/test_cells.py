import csv
import io
from datetime import date

import openpyxl
import pytest

from floorcare.faces.documents.cells import csv_bytes, inert, xlsx_bytes

FORMULAS = [
    *("=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "\n=1", "  =1"),
    *("＝1+1", "＠SUM(A1)", '=HYPERLINK("http://a.example")', "=1+1|cmd", "\x00=1"),
]


@pytest.mark.parametrize("text", FORMULAS)
def test_a_cell_that_looks_like_a_formula_comes_out_inert(text):
    (_, (cell,)) = csv.reader(io.StringIO(csv_bytes(("zone",), [(text,)]).decode("utf-8-sig")))
    assert cell.startswith("'")
    assert inert(text) == cell


@pytest.mark.parametrize("text", ["Hall B", "a=1", "–", "10-12", "", "'", "é", "2026-03-02"])
def test_other_text_stays_as_it_is(text):
    assert inert(text) == text


def test_numbers_stay_numbers_below_nought_too():
    assert csv_bytes(("a", "b", "c"), [(-5, -1.5, None)]) == "\ufeffa,b,c\r\n-5,-1.5,\r\n".encode()


def test_csv_follows_rfc_4180_and_says_that_it_is_utf_8():
    made = csv_bytes(("zone", "why"), [("A", 'say "no", twice\nor more')])
    assert made == '\ufeffzone,why\r\nA,"say ""no"", twice\nor more"\r\n'.encode()


@pytest.mark.parametrize("text", FORMULAS)
def test_a_workbook_holds_text_never_a_formula(text):
    made = xlsx_bytes("Condition", ("zone",), [(text,)], date(2026, 3, 2))
    cell = openpyxl.load_workbook(io.BytesIO(made))["Condition"]["A2"]
    assert cell.data_type == "s"


def test_a_workbook_holds_numbers_dates_and_gaps_as_themselves():
    made = xlsx_bytes("Condition", ("a", "b", "c"), [(41.2, date(2026, 3, 2), None)], date.min)
    sheet = openpyxl.load_workbook(io.BytesIO(made))["Condition"]
    first, second, third = sheet[2]
    assert (first.value, second.value.date(), third.value) == (41.2, date(2026, 3, 2), None)
    assert second.is_date


def test_a_workbook_has_the_same_bytes_twice():
    one, two = (xlsx_bytes("T", ("a",), [("x",)], date(2026, 3, 2)) for _ in range(2))
    assert one == two
    properties = openpyxl.load_workbook(io.BytesIO(one)).properties
    assert properties.modified.date() == properties.created.date() == date(2026, 3, 2)
