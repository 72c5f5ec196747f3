import dataclasses
import re
from html.parser import HTMLParser

from floorcare.faces.documents.visit_list_html import write_visit_list_html
from tests.golden.sheets import HALL_VISIT, WEEK

VOID = {"meta", "br"}
MARKUP = "<script>alert(1)</script>\"'&<img src=x onerror=y>"


class Reader(HTMLParser):
    """Tags in order, the text, and whether every tag that opened was closed."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.words: list[str] = []
        self.open: list[str] = []

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        self.words.append(data)


def read(page: bytes) -> Reader:
    reader = Reader()
    reader.feed(page.decode())
    reader.close()
    assert reader.open == []
    return reader


def test_the_first_heading_is_the_answer():
    page = write_visit_list_html(WEEK).decode().replace("\u00a0", " ")
    assert re.findall(r"<h1>(.*?)</h1>", page) == [
        "3 visits on 2 nights this week; 22 h 5 min of work; 1 could not be placed."
    ]


def test_the_page_is_whole_in_itself_and_runs_nothing():
    page = write_visit_list_html(WEEK)
    reader = read(page)
    names = {name for name, _ in reader.tags}
    assert names.isdisjoint({"script", "link", "img", "iframe", "object", "form"})
    links = [attrs[key] for _, attrs in reader.tags for key in ("href", "src") if key in attrs]
    assert all(link.startswith("#") for link in links)
    assert not re.search(rb"https?://|url\(|@import", page)


def test_every_link_of_the_page_leads_somewhere():
    reader = read(write_visit_list_html(WEEK))
    ids = [attrs["id"] for _, attrs in reader.tags if "id" in attrs]
    assert len(set(ids)) == len(ids)
    links = {attrs["href"][1:] for _, attrs in reader.tags if "href" in attrs}
    assert len(links) == 3
    assert links <= set(ids)


def test_names_are_text_never_markup():
    line = dataclasses.replace(HALL_VISIT.zones[0], zone_name=MARKUP, reason_inside=MARKUP)
    sheet = dataclasses.replace(
        HALL_VISIT, site_name=MARKUP, access_note=MARKUP, cautions=(MARKUP,), zones=(line,)
    )
    reader = read(write_visit_list_html(dataclasses.replace(WEEK, sheets=(sheet,))))
    assert {"script", "img"}.isdisjoint(name for name, _ in reader.tags)
    assert "".join(reader.words).count(MARKUP) == 6


def test_a_proposed_visit_differs_in_words_and_line_style():
    page = write_visit_list_html(WEEK).decode()
    assert page.count('class="visit moves"') == 1
    assert ">proposed<" in page


def test_places_for_readings_stand_on_a_reading_round_only():
    page = write_visit_list_html(WEEK).decode()
    assert page.count("<h3>Readings</h3>") == 1
    assert all(f"<td>{station}</td>" in page for station in ("F1", "F2", "F3"))


def test_a_crews_whole_week_stays_below_300_kilobytes():
    busy = dataclasses.replace(WEEK, sheets=WEEK.sheets * 16)
    assert len(write_visit_list_html(busy)) < 300_000


def test_a_week_without_visits_is_a_page_too():
    page = write_visit_list_html(dataclasses.replace(WEEK, sheets=(), routines=(), unplaced=()))
    assert b"<h1>No visits this week.</h1>" in page


def test_a_lone_surrogate_does_not_stop_the_page():
    sheet = dataclasses.replace(HALL_VISIT, site_name="Hall \ud800")
    read(write_visit_list_html(dataclasses.replace(WEEK, sheets=(sheet,))))
