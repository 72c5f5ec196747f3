import io
from dataclasses import replace

import pytest
from pypdf import PdfReader

from floorcare.faces.documents.material_order_pdf import write_material_order_pdf
from tests.golden.loads import ORDERED


@pytest.mark.parametrize(("units", "size"), [("metric", (595, 842)), ("US", (612, 792))])
def test_a_branch_has_one_tagged_page_on_its_own_paper(units, size):
    reader = PdfReader(io.BytesIO(write_material_order_pdf(replace(ORDERED, units=units))))
    (page,) = reader.pages
    assert (round(page.mediabox.width), round(page.mediabox.height)) == size
    assert reader.trailer["/Root"]["/MarkInfo"]["/Marked"]
    said = " ".join(page.extract_text().split())
    for text in ("protector <thin>", "219.00 EUR", "Not reckoned", "Life of pads and diamonds"):
        assert text in said
