import csv
import dataclasses
import io
from datetime import date

import openpyxl
import pytest

from floorcare.faces.documents.condition_table import (
    answer,
    write_condition_csv,
    write_condition_html,
    write_condition_xlsx,
)
from floorcare.services.sheets import ConditionTable
from tests.golden.sheets import CONDITION

BROKEN, GOOD, ASSUMED = CONDITION.rows


def rows(table: ConditionTable) -> list[dict[str, str]]:
    text = write_condition_csv(table).decode("utf-8-sig")
    return list(csv.DictReader(io.StringIO(text, newline=""), strict=True))


@pytest.mark.parametrize(
    ("kept", "said"),
    [
        (CONDITION.rows, "3 zones; 1 below promise today; 2 measured, 1 assumed."),
        ((GOOD,), "1 zone; none below promise today; 1 measured."),
        ((), "No zones are under care."),
    ],
)
def test_the_first_line_is_the_answer(kept, said):
    assert answer(dataclasses.replace(CONDITION, rows=kept)) == said


def test_figures_are_numbers_and_what_is_not_known_is_empty():
    broken, _, assumed = rows(CONDITION)
    assert (broken["gloss now GU"], broken["promise GU"]) == ("40.4", "42.0")
    assert (broken["share of reference %"], broken["below promise"]) == ("77.0", "yes")
    assert (assumed["gloss now GU"], assumed["area m²"]) == ("", "")
    assert assumed["nights to promise"] == "–"


def test_a_us_branch_reads_square_feet():
    (row,) = rows(dataclasses.replace(CONDITION, rows=(GOOD,), units="US"))
    assert row["area ft²"] == "4520.8"


def test_the_workbook_holds_the_cells_of_the_csv():
    sheet = openpyxl.load_workbook(io.BytesIO(write_condition_xlsx(CONDITION))).active
    header, *body = sheet.iter_rows(values_only=True)
    assert list(header) == list(rows(CONDITION)[0])
    second = dict(zip(header, body[1], strict=True))
    assert second["next night"].date() == date(2026, 3, 4)
    assert (second["nights to promise"], second["gloss now GU"]) == (24, 46.6)


def test_a_zone_named_like_a_formula_is_inert_in_both():
    table = dataclasses.replace(CONDITION, rows=(dataclasses.replace(GOOD, reason="=1+1"),))
    assert rows(table)[0]["why"] == "'=1+1"
    sheet = openpyxl.load_workbook(io.BytesIO(write_condition_xlsx(table))).active
    assert [c.value for c in sheet[2] if c.data_type == "f"] == []
    assert "=1+1" in [c.value for c in sheet[2]]


def test_the_page_says_below_promise_in_words():
    page = write_condition_html(CONDITION).decode()
    assert page.count("below promise</small>") == 1


def test_a_zone_without_an_estimate_has_no_strip():
    page = write_condition_html(CONDITION).decode()
    assert page.count("<svg") == 2
    assert (
        "<svg" not in write_condition_html(dataclasses.replace(CONDITION, rows=(ASSUMED,))).decode()
    )


def test_the_strip_keeps_every_mark_within_its_ends():
    wide = dataclasses.replace(GOOD, low_gu=5.0, high_gu=95.0)
    page = write_condition_html(dataclasses.replace(CONDITION, rows=(wide,))).decode()
    assert "5 to 100&nbsp;GU" in page
    assert 'x1="0.0" y1="8" x2="113.7"' in page


def test_names_are_text_never_markup():
    table = dataclasses.replace(CONDITION, rows=(dataclasses.replace(GOOD, zone_name="<b>x"),))
    assert "<b>x" not in write_condition_html(table).decode()


def test_eighty_zones_stay_below_300_kilobytes():
    table = dataclasses.replace(CONDITION, rows=CONDITION.rows * 27)
    assert len(write_condition_html(table)) < 300_000


def test_no_zones_make_a_page_and_tables_too():
    empty = dataclasses.replace(CONDITION, rows=())
    assert b"No zones are under care." in write_condition_html(empty)
    assert rows(empty) == []
    assert write_condition_xlsx(empty).startswith(b"PK")


def test_a_zone_with_a_chart_beside_the_page_links_to_it():
    drawn = dataclasses.replace(GOOD, chart="chart-MARKET-LÄNGE 1.svg")
    table = dataclasses.replace(CONDITION, rows=(BROKEN, drawn))
    html = write_condition_html(table).decode()
    assert html.count(">chart</a>") == 1
    assert 'href="chart-MARKET-L%C3%84NGE%201.svg"' in html


def test_eighty_zones_with_their_links_are_a_small_page():
    rows = tuple(
        dataclasses.replace(GOOD, zone=f"MARKET/LANE-{n}", chart=f"chart-MARKET-LANE-{n}.svg")
        for n in range(80)
    )
    assert len(write_condition_html(dataclasses.replace(CONDITION, rows=rows))) < 300_000


def test_alarms_stand_under_the_page_and_nowhere_in_the_figures():
    alarm = CONDITION.alarms[0]
    html = write_condition_html(CONDITION).decode()
    assert html.index("</table>") < html.index(alarm.says) < html.index(alarm.mend)
    without = dataclasses.replace(CONDITION, alarms=())
    assert "To look at" not in write_condition_html(without).decode()
    assert write_condition_csv(without) == write_condition_csv(CONDITION)
