import io
from dataclasses import replace

import pytest
from pypdf import PdfReader

from floorcare.faces.documents.week_sheet_pdf import write_week_sheet_pdf
from tests.golden.week import MONDAY, PEOPLE, WEEK_SHEET, out, stop

A4_ACROSS, LETTER_ACROSS = (842, 595), (792, 612)


def read(sheet=WEEK_SHEET, **options) -> PdfReader:
    return PdfReader(io.BytesIO(write_week_sheet_pdf(sheet, **options)))


def words(reader: PdfReader) -> str:
    return " ".join(" ".join(page.extract_text() for page in reader.pages).split())


def test_the_same_week_gives_the_same_bytes_tagged_and_titled():
    assert write_week_sheet_pdf(WEEK_SHEET) == write_week_sheet_pdf(WEEK_SHEET)
    reader = read()
    assert reader.trailer["/Root"]["/MarkInfo"]["/Marked"]
    assert reader.metadata.title == "Crews of Riverside: week of Monday 2 March 2026"
    assert b"pdfuaid" in reader.trailer["/Root"]["/Metadata"].get_object().get_data()


@pytest.mark.parametrize(
    ("units", "paper", "size"),
    [("metric", "", A4_ACROSS), ("US", "", LETTER_ACROSS), ("US", "A4", A4_ACROSS)],
)
def test_the_paper_lies_across_and_follows_the_branch(units, paper, size):
    for page in read(replace(WEEK_SHEET, units=units), paper=paper).pages:
        box = page.mediabox
        turned = page.rotation % 180 == 90
        found = (
            (round(box.height), round(box.width))
            if turned
            else (
                round(box.width),
                round(box.height),
            )
        )
        assert found == size


def test_the_sheet_says_who_goes_where_when_and_what_fits_no_crew():
    said = words(read())
    for text in (
        "6 visits on 5 crew-nights this week; 2 fit no crew.",
        *(name for name, _ in PEOPLE.values()),
        "Noor Vale, Paul Amsel, Eva Lind",
        "Market Hall East",
        "takes Scrubber R-SC1",
        "planned 19:00",
        "R-PP1 is with Birch",
        "Mend: a second three-head polisher on Tue 3 March.",
        "they are not checked: wet vacuum",
        "As of the plan of 26 February 2026",
    ):
        assert text in said


@pytest.mark.parametrize(
    "name", ['#panic("x")', "$x$ *a* `c`", "ホール", "Hall\x00\ud800", "x" * 900]
)
def test_names_are_words_and_never_typesetting(name):
    night = out("L", MONDAY, stop("A", name, MONDAY, 1320, 1400), leaves=1300, home=1420)
    said = words(read(replace(WEEK_SHEET, nights=(night,))))
    assert "sets out" in said
    assert name[:3] in said or not name.isascii() or "\x00" in name


def test_an_empty_week_and_a_night_longer_than_a_page_print():
    assert "No visits this week." in words(
        read(replace(WEEK_SHEET, nights=(), unfitted=(), placed=0, crews=(), notes=()))
    )
    many = [stop(f"S{n}", f"Site {n}", MONDAY, 1200 + 40 * n, 1230 + 40 * n) for n in range(30)]
    long = replace(WEEK_SHEET, nights=(out("L", MONDAY, *many, leaves=1190, home=2500),), placed=30)
    reader = read(long)
    assert len(reader.pages) > 2
    assert "Site 29" in words(reader)
