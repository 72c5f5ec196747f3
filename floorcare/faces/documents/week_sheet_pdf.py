"""A branch's week as tagged PDF in landscape, set by typst from the kept template."""

from floorcare.faces.documents.typeset import paper_of, typeset
from floorcare.faces.documents.week_sheet_text import as_text
from floorcare.services.week_sheet import WeekSheet


def write_week_sheet_pdf(sheet: WeekSheet, paper: str = "") -> bytes:
    """The week as PDF/UA-1, the same bytes for the same week.

    Parameters
    ----------
    sheet : the week of one branch.
    paper : "A4" or "Letter"; left empty it follows the branch's units.
    """
    return typeset(
        "week_sheet.typ", as_text(sheet), paper=paper or sheet.paper or paper_of(sheet.units)
    )
