import io
from dataclasses import replace

import pytest
from pypdf import PdfReader

from floorcare.faces.documents.load_out_pdf import write_load_out_pdf
from tests.golden.loads import LOADED, NIGHT


def test_each_night_and_the_week_have_a_page_of_their_own_tagged():
    reader = PdfReader(io.BytesIO(write_load_out_pdf(replace(LOADED, nights=(NIGHT, NIGHT)))))
    assert len(reader.pages) == 3
    assert reader.trailer["/Root"]["/MarkInfo"]["/Marked"]
    said = " ".join(reader.pages[0].extract_text().split())
    assert "Market <Hall> East" in said
    assert "The whole week together" in reader.pages[2].extract_text()


@pytest.mark.parametrize(("units", "size"), [("metric", (595, 842)), ("US", (612, 792))])
def test_the_paper_follows_the_branch(units, size):
    made = write_load_out_pdf(replace(LOADED, units=units))
    box = PdfReader(io.BytesIO(made)).pages[0].mediabox
    assert (round(box.width), round(box.height)) == size
