import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from datetime import date, timedelta

import pytest

from floorcare.faces.documents.zone_chart import WIDTH, write_zone_chart
from floorcare.ground.schedule.course import CourseTick
from floorcare.ground.trade.treatment import TREATMENTS, Work
from floorcare.services.sheets import ZoneChart
from tests.golden.charts import ASSUMED, MEASURED, read
from tests.golden.sheets import MONDAY

SVG = "{http://www.w3.org/2000/svg}"
LARGEST_BYTES = 20_000


def drawn(chart: ZoneChart) -> ET.Element:
    return ET.fromstring(write_zone_chart(chart))


def changed(**course: object) -> ZoneChart:
    return replace(MEASURED, course=replace(MEASURED.course, **course))


def styled(root: ET.Element, style: str) -> list[ET.Element]:
    return [mark for mark in root if style in (mark.get("class") or "").split()]


def heights(root: ET.Element, style: str) -> list[float]:
    """How tall the ticks of one style are, those of the key last."""
    ways = " ".join(mark.get("d") or "" for mark in styled(root, style))
    return [float(tall) for tall in re.findall(r"v([\d.]+)", ways)]


def words(root: ET.Element) -> list[str]:
    return [text.text or "" for text in root.findall(f"{SVG}text")]


def test_the_same_chart_gives_the_same_bytes_and_few_of_them() -> None:
    for chart in (MEASURED, ASSUMED):
        made = write_zone_chart(chart)
        assert made == write_zone_chart(chart)
        assert len(made) < LARGEST_BYTES


def test_a_year_of_work_every_third_night_still_makes_a_small_file() -> None:
    ticks = tuple(
        CourseTick(on=MONDAY + day * timedelta(days=1), work=Work.BURNISH, planned=day > 0)
        for day in range(-364, 183, 3)
    )
    readings = tuple(read(day, 0.5) for day in range(-364, 0, 7))
    assert len(write_zone_chart(changed(ticks=ticks, readings=readings))) < LARGEST_BYTES


def test_it_is_an_image_with_a_name_and_an_account_that_fetches_nothing() -> None:
    root = drawn(MEASURED)
    assert root.get("role") == "img"
    assert root.find(f"{SVG}title").text.startswith("Gloss of MARKET/LANE-1")
    assert "gloss readings" in root.find(f"{SVG}desc").text
    text = write_zone_chart(MEASURED).decode()
    assert not re.search(r"url\(|@import|href|<script|<image", text)
    assert text.count("http") == 1, "the namespace alone"


def test_it_has_a_dark_theme_and_tabular_figures_and_scales_to_any_width() -> None:
    style = drawn(MEASURED).find(f"{SVG}style").text
    assert "prefers-color-scheme: dark" in style
    assert "tabular-nums" in style
    root = drawn(MEASURED)
    assert root.get("width") is None
    assert float(root.get("viewBox").split()[2]) == WIDTH


def test_good_readings_are_dots_those_of_another_state_rings_and_gross_ones_crossed() -> None:
    root = drawn(changed(ticks=()))
    in_key = 1
    assert len(styled(root, "dot")) == 5 + in_key
    assert len(styled(root, "cross")) == 1 + in_key
    crossed_and_other = 2
    assert len(styled(root, "ring")) == crossed_and_other + 2 * in_key


def test_a_higher_reading_is_drawn_higher_and_a_later_one_further_right() -> None:
    low, high = (
        styled(drawn(changed(readings=(read(-100, off),))), "dot")[0] for off in (-2.0, 2.0)
    )
    assert float(high.get("cy")) < float(low.get("cy"))
    early, late = (styled(drawn(changed(readings=(read(d),))), "dot")[0] for d in (-100, -20))
    assert float(early.get("cx")) < float(late.get("cx"))


def test_a_gross_reading_far_off_is_named_at_the_edge_and_squeezes_nothing() -> None:
    plain = styled(drawn(changed(readings=(read(-100),))), "dot")[0]
    with_wild = drawn(changed(readings=(read(-100), read(-50, 90.0, gross=True))))
    assert styled(with_wild, "dot")[0].get("cy") == plain.get("cy")
    assert any(re.fullmatch(r"1\d\d GU", word) for word in words(with_wild))


def test_the_bands_stand_widest_first_and_the_promise_is_dashed_with_its_gloss() -> None:
    root = drawn(MEASURED)
    styles = [mark.get("class") for mark in root if mark.tag == f"{SVG}path"]
    assert [s for s in styles if s.startswith("b")] == ["b90", "b80", "b50"]
    assert "promised 45 GU" in words(root)
    assert "reference 56 GU" in words(root)
    assert re.search(r"\.promise \{[^}]*stroke-dasharray", root.find(f"{SVG}style").text)
    (promise,) = styled(root, "promise")
    assert float(promise.get("x2")) < WIDTH - 6, "its term ends before the chart does"


def test_work_stands_in_rows_named_in_words_hardest_first() -> None:
    root = drawn(MEASURED)
    works = [word for word in words(root) if word in {work.value for work in TREATMENTS}]
    assert works == ["re-polish", "recoat", "burnish"]
    part, whole, in_key = heights(root, "planned")
    assert part == whole / 2
    assert whole == in_key
    assert len(heights(root, "about")) == 2, "one, and one in the key"
    assert "13 Apr" in words(root)
    assert "2 a week" in words(root)


def test_a_long_word_of_work_has_room_at_the_left() -> None:
    ticks = (CourseTick(on=MONDAY, work=Work.FULL_RESTORATION, planned=True),)
    root = drawn(changed(ticks=ticks, rhythms=()))
    (label,) = [t for t in root.findall(f"{SVG}text") if t.text == "full restoration"]
    assert label.get("class") == "end"
    assert float(label.get("x")) > 16 * 5


def test_months_and_years_are_named() -> None:
    assert {"May", "Jul", "Jan", "2025", "2026"} <= set(words(drawn(MEASURED)))
    assert "today, 2 March 2026" in words(drawn(MEASURED))


def test_the_key_explains_every_kind_of_mark_that_is_there_and_no_other() -> None:
    full = words(drawn(MEASURED))
    assert {"read after burnish", "read after cleaning", "does not fit the others"} <= set(full)
    assert "5, 8 and 9 in 10 futures" in full
    few = words(drawn(ASSUMED))
    assert "read after burnish" not in few
    assert "5, 8 and 9 in 10 futures" not in few
    assert {"done", "planned"} <= set(few)


def test_a_zone_nobody_read_says_so_and_shows_its_work() -> None:
    root = drawn(ASSUMED)
    assert "not read yet, no gloss promised" in words(root)
    assert not styled(root, "dot")
    promised = drawn(
        replace(ASSUMED, course=replace(ASSUMED.course, promise_gu=44.0, reference_gu=55.0))
    )
    assert "not read yet: runs on its own rhythm and caps" in words(promised)
    assert "promised 44 GU" in words(promised)


def test_a_zone_without_any_work_says_so() -> None:
    root = drawn(changed(ticks=(), rhythms=()))
    assert "no work done in this time, none planned" in words(root)


@pytest.mark.parametrize(
    "hostile", ["<b>&\"'\x07", "=1+1", "x" * 100_000, "Übergang 😀", "\ud800", "a\r\nb"]
)
def test_no_name_breaks_the_drawing(hostile: str) -> None:
    row = replace(MEASURED.row, zone=f"{hostile}/{hostile}", area_name=hostile, zone_name=hostile)
    made = write_zone_chart(replace(MEASURED, row=row))
    assert len(made) < LARGEST_BYTES
    assert ET.fromstring(made).tag == f"{SVG}svg"


def test_a_promise_that_begins_and_ends_inside_the_year_is_drawn_for_its_days_only() -> None:
    root = drawn(changed(promised_from=date(2025, 9, 1), promised_to=date(2026, 5, 1)))
    (promise,) = styled(root, "promise")
    (today,) = styled(root, "today")
    assert float(promise.get("x1")) < float(today.get("x1")) < float(promise.get("x2"))
