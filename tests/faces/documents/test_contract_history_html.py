import dataclasses
import re

from floorcare.faces.documents.contract_history_html import write_contract_history_html
from tests.golden.contract_sheets import HISTORY, LOOSE, ROWS


def page(**changes: object) -> str:
    return write_contract_history_html(dataclasses.replace(HISTORY, **changes)).decode()


def test_the_first_heading_is_the_answer_and_the_sites_are_sections():
    made = page()
    assert re.findall(r"<h1>(.*?)</h1>", made) == [
        "1 treatment, 2 reading rounds and 1 slip test done; 2 treatments planned to 31 December "
        "2026; nothing reported of 1."
    ]
    assert "<h2>Market Hall East <small>MARKET</small></h2>" in made
    assert made.count("<p>Nothing in this term.</p>") == 1


def test_what_is_only_planned_stands_in_a_table_of_its_own_kind():
    made = page()
    planned = made.split('<table class="folds nights planned"')[1].split("</table>")[0]
    assert "Wed 4 Mar 2026" in planned
    assert "Mon 2 Jun 2025" not in planned


def test_names_are_text_never_markup():
    row = dataclasses.replace(ROWS[0], zone_name="<b>x")
    assert "<b>x" not in page(rows=(row,))


def test_the_page_fetches_nothing_and_runs_nothing():
    made = page()
    assert not re.search(r"<script|src=|https?://", made)


def test_an_empty_term_of_a_contract_nobody_entered_makes_a_page():
    made = page(summary=LOOSE, works=(), rhythms=(), promises=(), exclusions=(), rows=(), sites=())
    assert "Nothing was done in this term" in made
    assert "<table" not in made


def test_three_years_of_a_large_contract_stay_below_300_kilobytes():
    assert len(page(rows=ROWS * 100)) < 300_000
