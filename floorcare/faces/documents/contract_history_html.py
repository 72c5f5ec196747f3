"""A contract's term as one page for screen, phone and printer."""

from floorcare.faces.documents.contract_history_text import as_text
from floorcare.faces.documents.pages import page
from floorcare.services.show_contracts import ContractHistory


def write_contract_history_html(history: ContractHistory) -> bytes:
    """The history as one self-contained HTML page without scripts."""
    return page("contract_history.html", history=as_text(history))
