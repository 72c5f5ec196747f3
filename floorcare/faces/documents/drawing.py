"""Plain SVG by hand: marks in, UTF-8 bytes out, every word escaped, the same marks the same bytes.

Coordinates are units of the sheet, y downwards; they are written to a tenth.
"""

import re
from collections.abc import Sequence
from xml.sax.saxutils import escape, quoteattr

Point = tuple[float, float]

LOOSE = 0.15
"""A point this near to the line between its neighbours is left out; nobody could see it."""
_FORBIDDEN = re.compile("[^\t\n\r -\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_NARROW, _WIDE = frozenset("fijlt.,;:'|! "), frozenset("mwMW%@")


class Sheet:
    """One drawing, its marks in the order they lie on one another."""

    def __init__(self) -> None:
        self._marks: list[str] = []

    def text(self, x: float, y: float, words: str, style: str = "") -> None:
        """Words on a baseline."""
        self._mark("text", f'x="{number(x)}" y="{number(y)}"', style, words)

    def line(
        self, x1: float, y1: float, x2: float, y2: float, style: str, *, dash: str = ""
    ) -> None:
        """A straight line; `dash` is its own pattern of strokes and gaps."""
        ends = f'x1="{number(x1)}" y1="{number(y1)}" x2="{number(x2)}" y2="{number(y2)}"'
        self._mark("line", ends + (f' stroke-dasharray="{dash}"' if dash else ""), style)

    def circle(self, x: float, y: float, radius: float, style: str) -> None:
        """A dot or ring."""
        self._mark("circle", f'cx="{number(x)}" cy="{number(y)}" r="{number(radius)}"', style)

    def rect(self, x: float, y: float, width: float, height: float, style: str) -> None:
        """A rectangle by its upper left corner."""
        size = f'width="{number(width)}" height="{number(height)}"'
        self._mark("rect", f'x="{number(x)}" y="{number(y)}" {size}', style)

    def path(self, way: str, style: str) -> None:
        """A path; nothing where the way is empty."""
        if way:
            self._mark("path", f'd="{way}"', style)

    def svg(
        self, width: float, height: float, *, style: str, title: str, description: str
    ) -> bytes:
        """The whole drawing, to be shown at any width."""
        head = (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {number(width)} '
            f'{number(height)}" role="img" aria-labelledby="name account">\n'
            f'<title id="name">{said(title)}</title>\n'
            f'<desc id="account">{said(description)}</desc>\n'
            f"<style>{style}</style>\n"
        )
        return (head + "\n".join(self._marks) + "\n</svg>\n").encode("utf-8")

    def _mark(self, name: str, place: str, style: str, words: str | None = None) -> None:
        worn = f" class={quoteattr(style)}" if style else ""
        inside = "/>" if words is None else f">{said(words)}</{name}>"
        self._marks.append(f"<{name} {place}{worn}{inside}")


def said(words: str) -> str:
    """Words as XML may hold them: escaped, without the characters it forbids.

    >>> said("A < B & C")
    'A &lt; B &amp; C'
    """
    return escape(_FORBIDDEN.sub(" ", words))


def number(value: float) -> str:
    """A coordinate to a tenth, as short as it can be said.

    >>> number(12.04), number(12.25), number(-0.01)
    ('12', '12.2', '0')
    """
    text = f"{value:.1f}".removesuffix(".0")
    return "0" if text == "-0" else text


def line_path(points: Sequence[Point]) -> str:
    """A line through points, without those nobody would miss."""
    return "M" + _along(thinned(points)) if points else ""


def area_path(upper: Sequence[Point], lower: Sequence[Point]) -> str:
    """The area between two lines that run the same way."""
    if not upper:
        return ""
    return f"M{_along(thinned(upper))}L{_along(thinned(lower)[::-1])}Z"


def _along(points: Sequence[Point]) -> str:
    return "L".join(f"{number(x)} {number(y)}" for x, y in points)


def thinned(points: Sequence[Point], loose: float = LOOSE) -> list[Point]:
    """The points without which the line would move by more than `loose`; the ends always.

    Source: Douglas & Peucker, Cartographica 10(2) 1973.
    """
    kept = {0, len(points) - 1}
    stretches = [(0, len(points) - 1)]
    while stretches:
        first, last = stretches.pop()
        (x1, y1), (x2, y2) = points[first], points[last]
        slope = (y2 - y1) / (x2 - x1) if x2 != x1 else 0.0
        off = [abs(points[at][1] - y1 - slope * (points[at][0] - x1)) for at in range(first, last)]
        farthest = max(range(len(off)), key=off.__getitem__, default=0)
        if off and off[farthest] > loose:
            kept.add(first + farthest)
            stretches += [(first, first + farthest), (first + farthest, last)]
    return [points[at] for at in sorted(kept)]


def text_width(words: str, size: float) -> float:
    """How wide words are in a wide serif; too wide in most, which leaves room rather than overlaps.

    Assumption: no font is measured, since nobody knows which one the reader has.
    """
    return size * sum(_letter(letter) for letter in words)


def _letter(letter: str) -> float:
    if letter in _NARROW:
        return 0.36
    if letter in _WIDE:
        return 0.95
    return 0.76 if letter.isupper() else 0.6


def wrapped(words: str, width: float, size: float) -> list[str]:
    """Words in lines no wider than asked, broken at spaces; a longer word stands alone."""
    lines: list[str] = []
    for word in words.split(" "):
        if lines and text_width(f"{lines[-1]} {word}", size) <= width:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return lines
