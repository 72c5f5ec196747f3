"""A contract's term as tagged PDF, set by typst from the kept template."""

from floorcare.faces.documents.contract_history_text import as_text
from floorcare.faces.documents.typeset import paper_of, typeset
from floorcare.services.show_contracts import ContractHistory


def write_contract_history_pdf(history: ContractHistory, paper: str = "") -> bytes:
    """The history as PDF/UA-1, the same bytes for the same history.

    Parameters
    ----------
    history : one term of a contract.
    paper : "A4" or "Letter"; left empty it follows the branch's units.
    """
    return typeset("contract_history.typ", as_text(history), paper=paper or paper_of(history.units))
