import xml.etree.ElementTree as ET
from itertools import pairwise
from math import exp

import pytest

from floorcare.faces.documents.drawing import (
    Sheet,
    area_path,
    line_path,
    number,
    said,
    text_width,
    thinned,
    wrapped,
)

SVG = "{http://www.w3.org/2000/svg}"


def drawn(sheet: Sheet, **words: str) -> ET.Element:
    named = {"style": "", "title": "A name", "description": "An account.", **words}
    return ET.fromstring(sheet.svg(400, 100, **named))


def test_a_drawing_is_an_image_with_a_name_and_an_account() -> None:
    root = drawn(Sheet(), title="Lane A & B", description="All of <it>.")
    assert (root.get("viewBox"), root.get("role")) == ("0 0 400 100", "img")
    title, account = root.find(f"{SVG}title"), root.find(f"{SVG}desc")
    assert (title.text, account.text) == ("Lane A & B", "All of <it>.")
    assert root.get("aria-labelledby").split() == [title.get("id"), account.get("id")]


def test_marks_lie_on_one_another_in_the_order_they_were_made() -> None:
    sheet = Sheet()
    sheet.line(0, 1, 2.25, 3, "axis", dash="1 2")
    sheet.circle(1, 2, 3, "dot")
    sheet.rect(1, 2, 3, 4, "planned")
    sheet.path("M0 0L1 1", "gloss")
    sheet.path("", "nothing")
    sheet.text(5, 6, "Hall B", "small end")
    marks = list(drawn(sheet))[3:]
    assert [mark.tag.removeprefix(SVG) for mark in marks] == [
        *("line", "circle", "rect", "path", "text")
    ]
    line, *_, text = marks
    assert (line.get("x2"), line.get("stroke-dasharray"), line.get("class")) == (
        *("2.2", "1 2", "axis"),
    )
    assert (text.text, text.get("class")) == ("Hall B", "small end")


def test_no_words_can_become_marks_or_break_the_file() -> None:
    hostile = "</text><script>alert(1)</script>\x00\x1b\ud800"
    sheet = Sheet()
    sheet.text(0, 0, hostile, 'a" onload="x')
    root = drawn(sheet, title=hostile, description=hostile)
    assert root.find(f".//{SVG}script") is None
    (text,) = root.findall(f"{SVG}text")
    assert set(text.attrib) == {"x", "y", "class"}
    assert text.text == "</text><script>alert(1)</script>   "
    assert said("a < b & c") == "a &lt; b &amp; c"


@pytest.mark.parametrize(
    ("value", "text"), [(12.04, "12"), (12.26, "12.3"), (-0.01, "0"), (-3.5, "-3.5"), (0, "0")]
)
def test_a_coordinate_is_as_short_as_it_can_be(value: float, text: str) -> None:
    assert number(value) == text


def test_points_on_a_line_are_left_out_and_corners_are_kept() -> None:
    straight = [(float(x), 2.0 * x) for x in range(50)]
    assert thinned(straight) == [straight[0], straight[-1]]
    corner = [*straight, (50.0, 0.0), (51.0, 0.0)]
    assert thinned(corner) == [straight[0], straight[-1], (50.0, 0.0), (51.0, 0.0)]
    upright = [(0.0, 5.0), (1.0, 5.0), (1.0, 9.0), (2.0, 9.0)]
    assert thinned(upright) == upright


def test_a_thinned_curve_lies_nowhere_further_off_than_allowed() -> None:
    curve = [(float(x), 100.0 * exp(-x / 40)) for x in range(200)]
    kept = thinned(curve, 0.5)
    assert 4 < len(kept) < 30
    for (x1, y1), (x2, y2) in pairwise(kept):
        between = [(x, y) for x, y in curve if x1 <= x <= x2]
        assert max(abs(y - y1 - (y2 - y1) * (x - x1) / (x2 - x1)) for x, y in between) <= 0.5


def test_paths_run_along_their_points_and_an_area_comes_back() -> None:
    assert line_path([]) == area_path([], []) == ""
    assert line_path([(0, 0), (1, 1), (2, 0)]) == "M0 0L1 1L2 0"
    assert area_path([(0, 0), (4, 0)], [(0, 3), (4, 5)]) == "M0 0L4 0L4 5L0 3Z"


def test_words_are_wrapped_at_spaces_and_none_is_lost() -> None:
    words = "49 GU today (47 to 51 with 90 %); promised 49; measured"
    lines = wrapped(words, 150, 10)
    assert len(lines) > 1
    assert " ".join(lines) == words
    assert all(text_width(line, 10) <= 150 for line in lines)
    assert wrapped("x" * 100, 50, 10) == ["x" * 100]


def test_wide_letters_take_more_room_than_narrow_ones() -> None:
    assert text_width("ill", 10) < text_width("nan", 10) < text_width("MWM", 10)
    assert text_width("nan", 20) == pytest.approx(2 * text_width("nan", 10))
