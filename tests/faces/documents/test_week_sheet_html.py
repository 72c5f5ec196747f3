import re
from dataclasses import replace

from floorcare.faces.documents.week_sheet_html import write_week_sheet_html
from tests.golden.week import MONDAY, WEEK_SHEET, out, stop


def html(sheet=WEEK_SHEET) -> str:
    return write_week_sheet_html(sheet).decode()


def test_the_page_is_one_file_that_fetches_nothing_and_runs_nothing():
    page = html()
    assert not re.search(r"<script|<link|src=|https?:|url\(|@import", page)
    assert len(page) < 300_000


def test_every_row_of_a_night_has_its_cells_in_the_order_of_the_crews():
    (monday, *_) = re.findall(r"<tbody.*?</tbody>", html(), re.DOTALL)
    rows = re.findall(r"<tr.*?</tr>", monday, re.DOTALL)
    assert len(rows) == 13
    spans = [int(n) for row in rows for n in re.findall(r'rowspan="(\d+)"', row)]
    # three columns filled from the first row to the last
    assert sum(spans) == 3 * len(rows)
    assert "Museum of Tides" in rows[1]
    assert "Parcel Depot South" in rows[6]


def test_a_footnote_and_its_night_are_linked():
    page = html()
    assert 'href="#note-1"' in page
    assert 'id="note-1"' in page
    assert "<strong>Eastholm College, Tue 3 Mar:</strong> re-polish GYM." in page
    assert "No three-head polisher is free" in page


def test_state_is_said_in_words_as_well_as_by_line():
    page = html()
    assert 'class="moves"' in page
    assert "proposed, may still move" in page
    assert "held, agreed" in page


def test_every_word_is_escaped():
    name = '<script>alert("x")</script>'
    night = out("L", MONDAY, stop("A", name, MONDAY, 1320, 1400), leaves=1300, home=1420)
    assert "<script>" not in html(replace(WEEK_SHEET, nights=(night,)))


def test_an_empty_week_is_a_page_too():
    empty = replace(WEEK_SHEET, nights=(), unfitted=(), placed=0, notes=(), as_of="")
    assert "No visits this week." in html(empty)
