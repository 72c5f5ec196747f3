from dataclasses import replace
from xml.etree import ElementTree as ET

from floorcare.faces.documents.compare_picture import RIGHT, picture, write_compare_svg
from floorcare.faces.documents.compare_words import answer
from tests.golden.comparisons import COMPARED, group

SVG = "{http://www.w3.org/2000/svg}"


def drawn(compared=COMPARED):
    return ET.fromstring(write_compare_svg(compared))


def marked(sheet, style, tag="line"):
    return [mark for mark in sheet.iter(f"{SVG}{tag}") if mark.get("class") == style]


def test_each_plan_has_a_mark_and_bars_of_its_own_line_style():
    sheet = drawn()
    for style in ("wear", "agreed", "hindsight"):
        assert len(marked(sheet, style)) == 3  # two bars and the key
    assert len(marked(sheet, "full", "circle")) == 1
    assert len(marked(sheet, "hollow", "circle")) == len(marked(sheet, "hollow", "rect")) == 1
    css = sheet.find(f"{SVG}style").text
    assert css.count("stroke-dasharray") == 2


def test_what_costs_more_lies_farther_right_and_what_keeps_more_higher():
    sheet = drawn()
    (wear,), (agreed,) = marked(sheet, "full", "circle"), marked(sheet, "hollow", "circle")
    assert float(wear.get("cx")) > float(agreed.get("cx"))
    assert float(wear.get("cy")) < float(agreed.get("cy"))


def test_bars_run_from_one_future_in_ten_to_nine_in_ten():
    across, upright, _ = marked(drawn(), "wear")
    (mark,) = marked(drawn(), "full", "circle")
    x, y = float(mark.get("cx")), float(mark.get("cy"))
    left, right = float(across.get("x1")), float(across.get("x2"))
    assert left < x < right
    assert abs((x - left) - (right - x)) < 0.2
    assert float(upright.get("y2")) < y < float(upright.get("y1"))


def test_nothing_is_drawn_outside_the_sheet():
    sheet = drawn()
    width, height = map(float, sheet.get("viewBox").split()[2:])
    for mark in sheet.iter(f"{SVG}line"):
        assert 0 <= float(mark.get("x1")) <= float(mark.get("x2")) <= RIGHT < width
        assert 0 <= float(mark.get("y1")) <= height


def test_the_answer_heads_the_picture_unless_the_page_has_told_it():
    told = " ".join(text.text for text in marked(drawn(), "head", "text"))
    assert told == answer(COMPARED)
    assert b'class="head"' not in picture(COMPARED, headed=False)
    assert answer(COMPARED) in drawn().find(f"{SVG}desc").text


def test_several_currencies_have_a_panel_each():
    panels = tuple(
        group("currency", code, (9000, 8000, 14000), (0.95, 0.88, 0.95), (None, None))
        for code in ("EUR", "USD")
    )
    sheet = drawn(replace(COMPARED, groups=(COMPARED.groups[0], *panels)))
    assert len(marked(sheet, "full", "circle")) == 2


def test_plans_that_cost_nothing_are_drawn_too():
    free = group("all", "", (0, 0, 0), (1.0, 1.0, 1.0), (None, None))
    assert len(marked(drawn(replace(COMPARED, groups=(free,))), "full", "circle")) == 1
