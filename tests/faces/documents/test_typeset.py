import io

import pytest
from pypdf import PdfReader

from floorcare.faces.documents.contract_history_text import as_text
from floorcare.faces.documents.typeset import paper_of, typeset
from tests.golden.contract_sheets import HISTORY


def set_with(heading: str, paper: str = "A4") -> PdfReader:
    words = {**as_text(HISTORY), "heading": heading}
    return PdfReader(io.BytesIO(typeset("contract_history.typ", words, paper=paper)))


def test_people_with_us_units_print_on_letter():
    assert [paper_of(units) for units in ("US", "metric")] == ["Letter", "A4"]
    box = set_with("Halls", paper_of("US")).pages[0].mediabox
    assert (round(box.width), round(box.height)) == (612, 792)


def test_an_unknown_paper_is_refused():
    with pytest.raises(ValueError, match="A4, Letter"):
        typeset("contract_history.typ", {}, paper="A3")


def test_what_is_set_is_tagged_and_declares_pdf_ua():
    reader = set_with("Halls")
    assert reader.trailer["/Root"]["/MarkInfo"]["/Marked"]
    assert b"pdfuaid" in reader.trailer["/Root"]["/Metadata"].get_object().get_data()


@pytest.mark.parametrize("name", ['#panic("x")', "$x$", "*a* _b_", "@ref <l>"])
def test_words_are_never_read_as_typesetting(name):
    assert name in " ".join(set_with(name).pages[0].extract_text().split())


@pytest.mark.parametrize("name", ["Hall\x00\x07\ud800 B", "ホール", "Hall \uffff"])
def test_a_name_no_font_can_show_still_prints(name):
    assert "MARKET/LANE-1" in set_with(name).pages[0].extract_text()


def test_a_fault_in_a_template_is_not_hidden():
    import typst

    with pytest.raises(typst.TypstError, match="title"):
        typeset("contract_history.typ", {}, paper="A4")
