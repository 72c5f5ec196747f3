import io
from dataclasses import replace

import pytest
from pypdf import PdfReader

from floorcare.faces.documents.round_sheet_pdf import write_round_sheet_pdf
from tests.golden.rounds import ROUND

A4, LETTER = (595, 842), (612, 792)


def read(sheet=ROUND, **options) -> PdfReader:
    return PdfReader(io.BytesIO(write_round_sheet_pdf(sheet, **options)))


def words(reader: PdfReader) -> str:
    return " ".join(" ".join(page.extract_text() for page in reader.pages).split())


def test_the_same_round_gives_the_same_bytes_tagged_and_titled():
    assert write_round_sheet_pdf(ROUND) == write_round_sheet_pdf(ROUND)
    reader = read()
    assert reader.trailer["/Root"]["/MarkInfo"]["/Marked"]
    assert reader.metadata.title == "Reading round, Riverside: by Monday 2 March 2026"
    assert b"pdfuaid" in reader.trailer["/Root"]["/Metadata"].get_object().get_data()


@pytest.mark.parametrize(
    ("units", "paper", "size"),
    [("metric", "", A4), ("US", "", LETTER), ("US", "A4", A4), ("metric", "Letter", LETTER)],
)
def test_the_paper_follows_the_branch_unless_it_is_named(units, paper, size):
    box = read(replace(ROUND, units=units), paper=paper).pages[0].mediabox
    assert (round(box.width), round(box.height)) == size


def test_the_sheet_names_every_zone_and_station_and_nothing_that_was_read():
    said = words(read())
    for text in (
        "4 zones at 2 sites to read by Monday 2 March 2026; 38 min.",
        "Linden Clinic",
        "Ring at the north gate",
        "MARKET/DOOR",
        "by the <door>",
        "usually read at 60°",
        "Read by",
        "Witness",
    ):
        assert text in said
    assert "unread" not in said
    assert "first reading" not in said


@pytest.mark.parametrize("name", ['#panic("x")', "$x$ *a* `c`", "ホール", "Hall\x00\ud800"])
def test_names_are_words_and_never_typesetting(name):
    sites = (replace(ROUND.sites[0], site_name=name),)
    assert "CLINIC/WARD" in words(read(replace(ROUND, sites=sites)))
