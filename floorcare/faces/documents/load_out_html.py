"""Load-outs as one page for screen, phone and printer."""

from floorcare.faces.documents.load_out_text import as_text
from floorcare.faces.documents.pages import page
from floorcare.services.load_out_sheet import LoadOutSheet


def write_load_out_html(sheet: LoadOutSheet) -> bytes:
    """The load-outs as one self-contained HTML page without scripts."""
    return page("load_out.html", load=as_text(sheet))
