import dataclasses
import io

import pytest
from pypdf import PdfReader

from floorcare.faces.documents.visit_list_pdf import write_visit_list_pdf
from floorcare.services.sheets import WeekLists
from tests.golden.sheets import HALL_VISIT, LONG_VISIT, WEEK

A4 = (595, 842)
LETTER = (612, 792)


def read(lists: WeekLists, **options: str) -> PdfReader:
    return PdfReader(io.BytesIO(write_visit_list_pdf(lists, **options)))


def words(reader: PdfReader) -> str:
    return " ".join(" ".join(page.extract_text() for page in reader.pages).split())


def with_name(name: str) -> WeekLists:
    return dataclasses.replace(WEEK, sheets=(dataclasses.replace(HALL_VISIT, site_name=name),))


def test_the_same_lists_give_the_same_bytes():
    assert write_visit_list_pdf(WEEK) == write_visit_list_pdf(WEEK)
    assert read(WEEK).metadata.creation_date is None


def test_the_list_is_tagged_titled_and_declares_pdf_ua():
    reader = read(WEEK)
    assert reader.trailer["/Root"]["/MarkInfo"]["/Marked"]
    assert reader.trailer["/Root"]["/Lang"] == "en"
    assert reader.metadata.title == "Visit lists, Riverside: week of Monday 2 March 2026"
    assert b"pdfuaid" in reader.trailer["/Root"]["/Metadata"].get_object().get_data()


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_week_takes_one_page_and_each_visit_of_up_to_six_lines_another(paper):
    reader = read(WEEK, paper=paper)
    assert len(LONG_VISIT.zones) == 6
    assert len(reader.pages) == 1 + len(WEEK.sheets)


@pytest.mark.parametrize(
    ("units", "paper", "size"),
    [("metric", "", A4), ("US", "", LETTER), ("US", "A4", A4), ("metric", "Letter", LETTER)],
)
def test_the_paper_follows_the_branch_unless_it_is_named(units, paper, size):
    box = read(dataclasses.replace(WEEK, units=units), paper=paper).pages[0].mediabox
    assert (round(box.width), round(box.height)) == size


def test_an_unknown_paper_is_refused():
    with pytest.raises(ValueError, match="A4, Letter"):
        write_visit_list_pdf(WEEK, paper="A3")


def test_the_list_says_all_that_the_crew_needs():
    said = words(read(WEEK))
    for text in (
        "3 visits on 2 nights this week; 22 h 5 min of work; 1 could not be placed.",
        "Ring at the north gate",
        "Thu 04:50",
        "burnisher, 700 mm",
        "Protector G 4.71 L (estimate: no product sheet entered)",
        "29 CFR 1910.22",
        "CLINIC/CORRIDOR, re-polish:",
        "one night from 20:00 to 02:00",
        "F3",
        "Signature",
        "come before anything on this list",
    ):
        assert text in said


def test_a_us_visit_is_in_square_feet_and_gallons():
    sheets = tuple(dataclasses.replace(sheet, units="US") for sheet in WEEK.sheets)
    said = words(read(dataclasses.replace(WEEK, units="US", sheets=sheets)))
    assert "4,521 ft²" in said
    assert "1.24 gal" in said
    assert "m²" not in said


@pytest.mark.parametrize("name", ['#panic("x")', "$x$", "*a* _b_ `c`", '"; #set', "@ref <l>"])
def test_words_are_never_read_as_typesetting(name):
    assert name in words(read(with_name(name)))


@pytest.mark.parametrize("name", ["Hall\x00\x07\ud800 B", "ホール", "Hall \uffff", "x" * 5000])
def test_a_name_no_font_can_show_still_prints(name):
    assert "MARKET" in words(read(with_name(name)))


def test_a_week_without_visits_prints():
    empty = dataclasses.replace(WEEK, sheets=(), unplaced=(), routines=(), as_of="")
    reader = read(empty)
    assert len(reader.pages) == 1
    assert "No visits this week." in words(reader)
