"""A blind reading sheet as tagged PDF, set by typst from the kept template."""

from floorcare.faces.documents.round_sheet_text import as_text
from floorcare.faces.documents.typeset import paper_of, typeset
from floorcare.services.choose_rounds import RoundSheet


def write_round_sheet_pdf(sheet: RoundSheet, paper: str = "") -> bytes:
    """The sheet as PDF/UA-1, the same bytes for the same round.

    Parameters
    ----------
    paper : "A4" or "Letter"; left empty it follows the branch's units.
    """
    return typeset("round_sheet.typ", as_text(sheet), paper=paper or paper_of(sheet.units))
