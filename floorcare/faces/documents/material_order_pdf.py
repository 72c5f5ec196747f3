"""A material order as tagged PDF, set by typst from the kept template."""

from floorcare.faces.documents.material_order_text import as_text
from floorcare.faces.documents.typeset import paper_of, typeset
from floorcare.services.order_material import OrderSheet


def write_material_order_pdf(sheet: OrderSheet, paper: str = "") -> bytes:
    """The order as PDF/UA-1, the same bytes for the same order.

    Parameters
    ----------
    paper : "A4" or "Letter"; left empty it follows the branch's units.
    """
    return typeset("material_order.typ", as_text(sheet), paper=paper or paper_of(sheet.units))
