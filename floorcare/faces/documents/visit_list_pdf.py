"""The week's visit lists as tagged PDF, a page a visit, set by typst from the kept template."""

from floorcare.faces.documents.typeset import paper_of, typeset
from floorcare.faces.documents.visit_list_text import as_text
from floorcare.services.sheets import WeekLists


def write_visit_list_pdf(lists: WeekLists, paper: str = "") -> bytes:
    """The lists as PDF/UA-1, the same bytes for the same lists.

    Parameters
    ----------
    lists : the week.
    paper : "A4" or "Letter"; left empty it follows the branch's units.
    """
    size = paper or lists.paper or paper_of(lists.units)
    return typeset("visit_list.typ", as_text(lists, lists.language), paper=size)
