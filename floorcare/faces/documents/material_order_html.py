"""A material order as one page for screen, phone and printer."""

from floorcare.faces.documents.material_order_text import as_text
from floorcare.faces.documents.pages import page
from floorcare.services.order_material import OrderSheet


def write_material_order_html(sheet: OrderSheet) -> bytes:
    """The order as one self-contained HTML page without scripts."""
    return page("material_order.html", order=as_text(sheet))
