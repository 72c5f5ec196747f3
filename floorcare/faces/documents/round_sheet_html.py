"""A blind reading sheet as one page for screen, phone and printer."""

from floorcare.faces.documents.pages import page
from floorcare.faces.documents.round_sheet_text import as_text
from floorcare.services.choose_rounds import RoundSheet


def write_round_sheet_html(sheet: RoundSheet) -> bytes:
    """The sheet as one self-contained HTML page without scripts."""
    return page("round_sheet.html", round=as_text(sheet))
