"""Jinja2 pages: each one self-contained file, every word escaped, nothing fetched."""

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from jinja2 import Environment

TEMPLATES = Path(__file__).parent / "templates"


def page(template: str, **words: object) -> bytes:
    """The filled template as UTF-8; a word the template lacks is a fault, not a blank."""
    html = _environment().get_template(template).render(**words)
    return html.encode("utf-8", "replace")


@cache
def _environment() -> "Environment":
    """One for all pages, so that a template is read and compiled once."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    return Environment(
        loader=FileSystemLoader(TEMPLATES),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
