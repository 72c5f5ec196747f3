"""The week's visit lists as tagged PDF, a page a visit, set by typst from the kept template."""

import json
from pathlib import Path
from typing import Literal

from floorcare.faces.documents.visit_list_text import as_text
from floorcare.services.sheets import WeekLists

TEMPLATE = Path(__file__).parent / "templates" / "visit_list.typ"
PAPERS = {"A4": "a4", "Letter": "us-letter"}
_GLYPH_MISSING = "could not be displayed with font"


def write_visit_list_pdf(lists: WeekLists, paper: str = "") -> bytes:
    """The lists as PDF/UA-1, the same bytes for the same lists.

    Parameters
    ----------
    lists : the week.
    paper : "A4" or "Letter"; left empty it follows the branch's units.

    A name in a script that no font on this machine holds cannot be PDF/UA; the list must be
    printed all the same, so it is then tagged PDF with an empty square for each such letter.
    """
    import typst

    chosen = paper or ("Letter" if lists.units == "US" else "A4")
    if chosen not in PAPERS:
        raise ValueError(f"paper {paper!r}: allowed {', '.join(PAPERS)}")
    inputs = {"week": json.dumps(_printable(as_text(lists))), "paper": PAPERS[chosen]}

    def compiled(standard: Literal["ua-1"] | None) -> bytes:
        return typst.compile(TEMPLATE, format="pdf", sys_inputs=inputs, pdf_standards=standard)

    try:
        return compiled("ua-1")
    except typst.TypstError as trouble:
        if _GLYPH_MISSING not in str(trouble):
            raise
        return compiled(None)


def _printable(plain: object) -> object:
    """The same without control characters and lone surrogates, which have no glyph and no UTF-8."""
    if isinstance(plain, str):
        kept = (c if c.isprintable() or not _is_control(c) else " " for c in plain)
        return "".join(kept)
    if isinstance(plain, dict):
        return {key: _printable(value) for key, value in plain.items()}
    if isinstance(plain, list):
        return [_printable(part) for part in plain]
    return plain


def _is_control(character: str) -> bool:
    code = ord(character)
    return code < 0x20 or 0x7F <= code < 0xA0 or 0xD800 <= code < 0xE000
