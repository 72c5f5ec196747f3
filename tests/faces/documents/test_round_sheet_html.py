import re
from dataclasses import replace

from floorcare.faces.documents.round_sheet_html import write_round_sheet_html
from tests.golden.rounds import ROUND


def html(sheet=ROUND) -> str:
    return write_round_sheet_html(sheet).decode()


def test_the_page_is_one_file_that_fetches_nothing_and_runs_nothing():
    page = html()
    assert not re.search(r"<script|<link|src=|https?:|url\(|@import", page)
    assert len(page) < 300_000


def test_every_station_has_empty_boxes_for_value_angle_state_and_meter():
    rows = re.findall(r'<tr role="row"><td.*?</tr>', html())
    assert len(rows) == 5 + 2 + 1 + 1
    for row in rows:
        assert row.count("<b></b>") == 2
        assert row.count('<b class="short"></b>') == 1
        assert row.count("<i></i>") == 2
        assert not re.search(r"\d\d", re.sub(r"<[^>]*>", "", row))


def test_every_word_is_escaped():
    page = html()
    assert "by the &lt;door&gt;" in page
    assert "<door>" not in page


def test_a_round_of_450_stations_stays_small():
    many = replace(ROUND, sites=ROUND.sites * 50)
    assert len(html(many)) < 300_000
