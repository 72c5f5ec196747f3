from dataclasses import replace
from datetime import timedelta

import icalendar

from floorcare.faces.cli.writing import (
    write_calendars,
    write_condition_tables,
    write_visit_lists,
)
from floorcare.faces.documents.catalogue import CONDITION_TABLES, VISIT_LISTS
from tests.golden import sheets


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
