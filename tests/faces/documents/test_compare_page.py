"""What the comparison's page and table say."""

import csv
import io
import re
from html import unescape

from floorcare.faces.documents.compare_page import write_compare_csv, write_compare_html
from floorcare.faces.documents.compare_words import MEANING, answer
from tests.golden.comparisons import COMPARED, EMPTY


def test_the_page_answers_in_its_heading_and_marks_where_the_calendar_wins():
    page = write_compare_html(COMPARED).decode()
    assert f"<h1>{answer(COMPARED)}</h1>" in page
    assert '<span class="wins">the calendar wins</span>' in page
    assert page.count('class="wins"') == 1
    assert all(line in unescape(page) for line in MEANING)


def test_the_page_stands_by_itself_and_is_small():
    page = write_compare_html(COMPARED)
    assert len(page) < 300_000
    text = re.sub(r'xmlns="[^"]*"', "", page.decode())
    assert "http" not in text
    assert "<script" not in text
    assert "@page { size: A4" in text


def test_the_picture_says_its_answer_once_on_the_page():
    page = write_compare_html(COMPARED).decode()
    assert page.count('class="head"') == 0
    assert page.count("<svg") == 1


def test_a_page_of_nothing_has_no_picture_and_no_table():
    page = write_compare_html(EMPTY).decode()
    assert "<svg" not in page
    assert "<table>" not in page


def test_the_table_has_a_line_for_every_group_plan_and_currency():
    text = write_compare_csv(COMPARED).decode("utf-8-sig")
    rows = list(csv.DictReader(io.StringIO(text)))
    assert len(rows) == 3 * len(COMPARED.groups)
    first, agreed = rows[0], rows[1]
    assert (first["plan"], first["cost P50"], first["verdict"]) == ("measured wear", "9000", "")
    assert (agreed["plan"], agreed["against measured wear costs more P50"]) == (
        "calendar as agreed",
        "1000",
    )
    assert agreed["verdict"] == "measured wear costs more and keeps more"
    assert first["share of days in promise P90"] == "0.97"
