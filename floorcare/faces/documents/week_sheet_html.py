"""A branch's week as one page for screen, phone and printer."""

from floorcare.faces.documents.pages import page
from floorcare.faces.documents.week_sheet_text import as_text
from floorcare.services.week_sheet import WeekSheet


def write_week_sheet_html(sheet: WeekSheet) -> bytes:
    """The week as one self-contained HTML page without scripts."""
    return page("week_sheet.html", week=as_text(sheet))
