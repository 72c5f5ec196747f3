import dataclasses
from dataclasses import replace
from io import BytesIO

import pytest
from pypdf import PdfReader

from floorcare.faces.documents.visit_list_html import write_visit_list_html
from floorcare.faces.documents.visit_list_pdf import write_visit_list_pdf
from floorcare.faces.documents.visit_list_text import answer, as_text, products
from floorcare.services.sheets import SheetQuantity
from floorcare.store.languages import load_texts
from tests.golden.sheets import WEEK


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({}, "3 visits on 2 nights this week; 22 h 5 min of work; 1 could not be placed."),
        ({"unplaced": ()}, "3 visits on 2 nights this week; 22 h 5 min of work."),
        (
            {"sheets": WEEK.sheets[:1], "unplaced": ()},
            "1 visit on 1 night this week; 25 min of work.",
        ),
        ({"sheets": ()}, "No visits this week; 1 could not be placed."),
    ],
)
def test_the_first_line_is_the_answer(changes, said):
    assert answer(dataclasses.replace(WEEK, **changes)) == said


def test_a_product_says_volume_coats_and_whether_it_is_an_estimate():
    protector = SheetQuantity(product="Protector G", litres=4.714, coats=2, estimate=True)
    assert products((protector,), "metric") == [
        "Protector G 4.71 L in 2 coats (estimate: no product sheet entered)"
    ]
    assert products((protector,), "US")[0].startswith("Protector G 1.25 gal")


def test_sentences_of_what_was_not_placed_have_one_full_stop():
    note = dataclasses.replace(WEEK.unplaced[0], why="no night.", mend="another window.")
    (said,) = as_text(dataclasses.replace(WEEK, unplaced=(note,)))["unplaced"]
    assert (said["why"], said["mend"]) == ("no night", "another window")


def test_a_visit_counts_each_zone_once():
    twice = dataclasses.replace(WEEK.sheets[1], zones=WEEK.sheets[1].zones[:1] * 2)
    (visit,) = as_text(dataclasses.replace(WEEK, sheets=(twice,)))["visits"]
    assert visit["zone_count"] == "1"


@pytest.mark.parametrize("language", ["de", "es", "pl"])
def test_a_list_is_written_in_the_readers_language(language):
    texts = load_texts(language)
    plain = as_text(WEEK, language)
    assert plain["language"] == language
    assert plain["week"] == texts.say("list.week", day=texts.day(WEEK.starts_on))
    page = write_visit_list_html(replace(WEEK, language=language)).decode()
    assert f'<html lang="{language}">' in page
    for code in ("head.reopens", "write.signature", "head.cautions"):
        assert texts.by_code[code] in page
    assert ">Reopens<" not in page
    opened = replace(WEEK.sheets[0], access_window="18:30 to 01:00, permits wet", notice="")
    (shown,) = as_text(replace(WEEK, sheets=(opened,)), language)["visits"]
    assert texts.by_code["permit.wet"] in shown["facts"][0][1]
    pdf = PdfReader(BytesIO(write_visit_list_pdf(replace(WEEK, language=language))))
    words = " ".join(p.extract_text() for p in pdf.pages)
    assert texts.by_code["head.closes"] in words
