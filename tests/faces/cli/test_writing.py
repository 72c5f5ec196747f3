from dataclasses import replace
from datetime import timedelta

import icalendar

from floorcare.faces.cli.writing import (
    write_calendars,
    write_condition_tables,
    write_visit_lists,
    write_zone_charts,
)
from floorcare.faces.documents.catalogue import CONDITION_TABLES, VISIT_LISTS, ZONE_CHARTS
from tests.golden import charts, sheets


def test_each_branchs_lists_are_written_in_every_form_of_the_catalogue(tmp_path):
    other = replace(sheets.WEEK, branch="South: yard")
    paths = write_visit_lists((sheets.WEEK, other), tmp_path)
    day = sheets.WEEK.starts_on.isoformat()
    assert [path.name for path in paths] == [
        f"visits-{branch}-{day}{document.suffix}"
        for branch in (sheets.WEEK.branch.replace(" ", "-"), "South--yard")
        for document in VISIT_LISTS
    ]
    assert paths[0].read_bytes().startswith(b"%PDF-")
    html, table = paths[1].read_bytes(), paths[2].read_bytes()
    assert html == VISIT_LISTS[1].write(sheets.WEEK)
    assert table == VISIT_LISTS[2].write(sheets.WEEK)


def test_each_branchs_condition_table_is_written_in_every_form_of_the_catalogue(tmp_path):
    paths = write_condition_tables((sheets.CONDITION,), tmp_path)
    assert [path.suffix for path in paths] == [d.suffix for d in CONDITION_TABLES]
    assert [path.read_bytes() for path in paths] == [
        d.write(sheets.CONDITION) for d in CONDITION_TABLES
    ]


def test_a_table_cut_down_to_a_site_is_written_beside_the_whole_one(tmp_path):
    whole = write_condition_tables((sheets.CONDITION,), tmp_path)
    part = write_condition_tables((sheets.CONDITION,), tmp_path, only=("MARKET", "LANE-1"))
    assert part[0].name == "floors-Riverside-MARKET-LANE-1-2026-03-02.html"
    assert not {path.name for path in part} & {path.name for path in whole}


def test_every_zones_chart_is_written_and_its_row_names_it(tmp_path):
    table = replace(sheets.CONDITION, charts=(charts.MEASURED, charts.ASSUMED))
    (written,) = write_zone_charts((table,), tmp_path)
    named = {row.zone: row.chart for row in written.rows}
    assert named == {
        "CLINIC/CORRIDOR": "",
        "MARKET/LANE-1": "chart-MARKET-LANE-1.svg",
        "MUSEUM/FOYER": "chart-MUSEUM-FOYER.svg",
    }
    assert written.charts == (), "what is written is not told again"
    svg = (tmp_path / "chart-MARKET-LANE-1.svg").read_bytes()
    assert svg == ZONE_CHARTS[0].write(charts.MEASURED)
    html = write_condition_tables((written,), tmp_path)[0].read_text()
    assert html.count('href="chart-') == 2


def test_zones_whose_codes_make_the_same_file_name_get_a_chart_each(tmp_path):
    codes = ("A-B/C", "A/B-C", "a/b-c")
    rows = tuple(replace(charts.MEASURED.row, zone=code) for code in codes)
    drawn = tuple(replace(charts.MEASURED, row=row) for row in rows)
    tables = tuple(
        replace(sheets.CONDITION, rows=(row,), charts=(chart,))
        for row, chart in zip(rows, drawn, strict=True)
    )
    names = [table.rows[0].chart for table in write_zone_charts(tables, tmp_path)]
    assert len({name.casefold() for name in names}) == 3
    assert all((tmp_path / name).is_file() for name in names)


def test_a_calendar_holds_what_a_subscriber_sees_that_day_and_counts_what_it_left_out(tmp_path):
    first = sheets.CALENDAR.events[0]
    today = first.night
    far = replace(first, uid="far", night=today + timedelta(days=200), proposed=True)
    sheet = replace(sheets.CALENDAR, events=(replace(first, proposed=True), far))
    (written,) = write_calendars((("MARKET/1", sheet),), tmp_path, today=today, proposed=True)
    assert (written.site, written.path.name) == ("MARKET/1", "MARKET-1.ics")
    assert (written.visits, written.left_out) == (1, 1)
    calendar = icalendar.Calendar.from_ical(written.path.read_bytes())
    assert [str(e["UID"]) for e in calendar.walk("VEVENT")] == [f"{first.uid}@{sheet.domain}"]
    (none,) = write_calendars((("MARKET/1", sheet),), tmp_path, today=today, proposed=False)
    assert (none.visits, none.left_out) == (0, 2)
