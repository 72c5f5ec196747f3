"""Load-outs as tagged PDF, a page a crew-night, set by typst from the kept template."""

from floorcare.faces.documents.load_out_text import as_text
from floorcare.faces.documents.typeset import paper_of, typeset
from floorcare.services.load_out_sheet import LoadOutSheet


def write_load_out_pdf(sheet: LoadOutSheet, paper: str = "") -> bytes:
    """The load-outs as PDF/UA-1, the same bytes for the same load-outs.

    Parameters
    ----------
    paper : "A4" or "Letter"; left empty it follows the branch's units.
    """
    return typeset("load_out.typ", as_text(sheet), paper=paper or paper_of(sheet.units))
