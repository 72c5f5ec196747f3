"""The week's visit lists as one page for screen, phone and printer."""

from floorcare.faces.documents.pages import page
from floorcare.faces.documents.visit_list_text import as_text
from floorcare.services.sheets import WeekLists


def write_visit_list_html(lists: WeekLists) -> bytes:
    """The lists as one self-contained HTML page without scripts."""
    return page("visit_list.html", week=as_text(lists, lists.language))
