import re
from pathlib import Path

import pytest
from jinja2 import UndefinedError

from floorcare.faces.documents.pages import TEMPLATES, page


def test_a_word_the_template_needs_and_does_not_get_is_a_fault():
    with pytest.raises(UndefinedError):
        page("visit_list.html", week={"title": "only a title"})


def palette(block: str) -> dict[str, tuple[int, ...]]:
    found = re.findall(r"--(\w+): #([0-9a-f]{3,6});", block)
    wide = {name: h if len(h) == 6 else "".join(c * 2 for c in h) for name, h in found}
    return {name: tuple(int(h[at : at + 2], 16) for at in (0, 2, 4)) for name, h in wide.items()}


def luminance(rgb: tuple[int, ...]) -> float:
    """Source: WCAG 2.2, definition of relative luminance."""
    parts = [c / 255 for c in rgb]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


CSS = (Path(TEMPLATES) / "timetable.css").read_text()
THEMES = re.findall(r":root \{(.*?)\}", CSS, re.S)


@pytest.mark.parametrize("theme", range(3))
@pytest.mark.parametrize("ink", ["ink", "faint", "plum"])
def test_text_has_the_contrast_of_wcag_aa_in_each_theme(theme, ink):
    colours = palette(THEMES[theme])
    light, dark = sorted((luminance(colours[ink]), luminance(colours["paper"])), reverse=True)
    assert (light + 0.05) / (dark + 0.05) >= 4.5
