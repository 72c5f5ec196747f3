import csv
import dataclasses
import io

from floorcare.faces.documents.visit_list_csv import NOT_PLACED, write_visit_list_csv
from floorcare.services.sheets import WeekLists
from tests.golden.sheets import WEEK


def rows(lists: WeekLists) -> list[dict[str, str]]:
    text = write_visit_list_csv(lists).decode("utf-8-sig")
    return list(csv.DictReader(io.StringIO(text, newline=""), strict=True))


def test_every_line_and_every_due_without_a_night_has_its_row():
    made = rows(WEEK)
    lines = [line.zone for sheet in WEEK.sheets for line in sheet.zones]
    assert [row["zone"] for row in made] == [*lines, "CLINIC/CORRIDOR"]


def test_what_could_not_be_placed_says_why_and_its_mend():
    last = rows(WEEK)[-1]
    note = WEEK.unplaced[0]
    assert {name: text for name, text in last.items() if text} == {
        "site": note.site,
        "zone": note.zone,
        "work": note.work,
        "state": NOT_PLACED,
        "why": note.why,
        "mend": note.mend,
    }


def test_times_past_midnight_carry_the_next_date():
    lane = rows(WEEK)[1]
    assert lane["closes"] == "2026-03-04 22:05"
    assert lane["reopens"] == "2026-03-05 04:50"


def test_a_us_branch_reads_square_feet_and_gallons():
    lane = rows(dataclasses.replace(WEEK, units="US"))[1]
    assert lane["area ft²"] == "4520.8"
    assert "1.24 gal" in lane["products"]


def test_only_the_reading_round_names_its_stations():
    made = rows(WEEK)
    assert [row["readings at"] for row in made if row["readings at"]] == ["F1; F2; F3"]


def test_a_site_named_like_a_formula_is_inert():
    sheet = dataclasses.replace(WEEK.sheets[0], site_name="=1+1", access_note="@x")
    made = rows(dataclasses.replace(WEEK, sheets=(sheet,)))
    assert made[0]["site name"] == "'=1+1"
    assert b",=1" not in write_visit_list_csv(dataclasses.replace(WEEK, sheets=(sheet,)))
