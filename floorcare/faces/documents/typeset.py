"""Words set as tagged PDF by typst from a kept template."""

import json
from typing import Literal

from floorcare.faces.documents.pages import TEMPLATES

PAPERS = {"A4": "a4", "Letter": "us-letter"}
_GLYPH_MISSING = "could not be displayed with font"


def paper_of(units: str) -> str:
    """The paper people with these units print on."""
    return "Letter" if units == "US" else "A4"


def typeset(template: str, words: object, *, paper: str) -> bytes:
    """The filled template as PDF/UA-1, the same bytes for the same words.

    Parameters
    ----------
    template : a file of the templates' folder; it reads `words` and `paper` from its inputs.
    words : nested dicts, lists and strings.
    paper : "A4" or "Letter".

    A name in a script that no font on this machine holds cannot be PDF/UA; the document must be
    printed all the same, so it is then tagged PDF with an empty square for each such letter.
    """
    import typst

    if paper not in PAPERS:
        raise ValueError(f"paper {paper!r}: allowed {', '.join(PAPERS)}")
    inputs = {"words": json.dumps(_printable(words)), "paper": PAPERS[paper]}

    def compiled(standard: Literal["ua-1"] | None) -> bytes:
        return typst.compile(
            TEMPLATES / template, format="pdf", sys_inputs=inputs, pdf_standards=standard
        )

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
