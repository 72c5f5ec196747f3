"""Jinja2 pages: each one self-contained file, every word escaped, nothing fetched."""

from pathlib import Path

TEMPLATES = Path(__file__).parent / "templates"


def page(template: str, **words: object) -> bytes:
    """The filled template as UTF-8; a word the template lacks is a fault, not a blank."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    environment = Environment(
        loader=FileSystemLoader(TEMPLATES),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    html = environment.get_template(template).render(**words)
    return html.encode("utf-8", "replace")
