import csv
import io
from dataclasses import replace

import pytest

from floorcare.faces.cli.rounds_command import rounds_said, write_round_sheets
from floorcare.faces.cli.telling import NO_BRANCH
from floorcare.faces.documents.catalogue import ROUND_SHEETS
from floorcare.ground.wear.reading_rounds import SITE_MINUTES, ZONE_MINUTES
from floorcare.services.choose_rounds import BUDGET_MINUTES
from tests.faces.cli.folders import TODAY_TEXT
from tests.faces.cli.terminal import everything_in, floorcare
from tests.golden.rounds import ROUND, round_zone


def test_the_account_names_zones_by_site_with_minutes_age_and_why():
    said = rounds_said([ROUND], ()).splitlines()
    assert said[0].startswith("Riverside: 4 zones at 2 sites to read by Monday 2 March 2026")
    assert "  Market Hall East (MARKET), 26 min" in said
    lines = {
        line.split()[0]: " ".join(line.split()[1:]) for line in said if line.startswith("    ")
    }
    assert lines["CLINIC/WARD"] == "never read first reading"
    assert lines["MARKET/DOOR"] == "133 days unread unread for too long"
    assert lines["MARKET/STAGE"] == "12 days unread"
    assert "  Not asked for: 2 zones without a promised look." in said


def test_many_left_unread_are_counted():
    many = tuple(round_zone(f"MARKET/Z{n}", "zone") for n in range(25))
    said = rounds_said([replace(ROUND, left=many)], ())
    assert "MARKET/Z19" in said
    assert "MARKET/Z20" not in said
    assert "… and 5 more" in said


def test_a_planned_visit_is_named_and_one_before_the_day_costs_nothing():
    soon = replace(round_zone("MARKET/SOON", "zone"), planned_on=ROUND.by)
    said = rounds_said([replace(ROUND, read_anyway=(soon,))], ())
    assert "Read on a visit by then, so not counted here:" in said
    assert "40 days unread, visit Mon 2 Mar" in said


def test_nobody_to_plan_for_is_said():
    assert rounds_said([], ()) == NO_BRANCH


def test_sheets_are_written_in_every_form_for_rounds_that_have_zones(tmp_path):
    paths = write_round_sheets([ROUND, replace(ROUND, branch="Empty", sites=())], tmp_path)
    assert [p.name for p in paths] == [
        f"round-Riverside-2026-03-02{d.suffix}" for d in ROUND_SHEETS
    ]
    assert all(path.is_file() for path in paths)


def test_the_command_chooses_shows_writes_only_if_asked_and_changes_nothing(database, tmp_path):
    before = everything_in(database)
    answer = floorcare("rounds", "--today", TODAY_TEXT)
    assert answer.code == 0
    assert answer.out.startswith("North yard: ")
    assert "MARKET/LANE" in answer.out
    assert "Written" not in answer.out
    folder = tmp_path / "round"
    told = floorcare("rounds", "--today", TODAY_TEXT, "--out", folder, "--json").json
    (sheet,) = told["rounds"]
    assert sheet["minutes"] <= sheet["budget_minutes"] == 240
    assert len(told["files"]) == 3
    made = (folder / f"round-North-yard-{TODAY_TEXT}.csv").read_text(encoding="utf-8-sig")
    rows = list(csv.DictReader(io.StringIO(made)))
    assert ("MARKET", "LANE", "P1") in {(r["site"], r["zone"], r["station"]) for r in rows}
    assert {r["value"] for r in rows} == {""}
    assert everything_in(database) == before


def test_no_value_is_shown_anywhere(database, tmp_path):
    # the folder's readings of the lane, and what they round to
    values = [value + off for value in (46.5, 48.0, 50.5) for off in (0.0, 0.6, -0.4)]
    folder = tmp_path / "round"
    answer = floorcare("rounds", "--today", TODAY_TEXT, "--out", folder)
    page = next(folder.glob("*.html")).read_text()
    for text in (answer.out, page.split("<body>")[1], next(folder.glob("*.csv")).read_text()):
        assert not [v for v in values if f"{v:.1f}" in text]
        assert "GU" not in text.replace("Gloss, GU", "")


def test_budget_and_minutes_are_the_users(database):
    told = floorcare(
        *("rounds", "--today", TODAY_TEXT, "--budget", 20, "--zone-minutes", 6),
        *("--site-minutes", 3, "--json"),
    ).json
    (sheet,) = told["rounds"]
    zones = sum(len(site["zones"]) for site in sheet["sites"])
    assert sheet["minutes"] == 6 * zones + 3 * len(sheet["sites"]) <= 20
    small = floorcare("rounds", "--today", TODAY_TEXT, "--budget", 3)
    assert "No zone fits into 3 min; the first takes 12 min." in small.out


def test_the_defaults_are_those_of_the_ground(database):
    (sheet,) = floorcare("rounds", "--today", TODAY_TEXT, "--json").json["rounds"]
    assert sheet["budget_minutes"] == BUDGET_MINUTES
    assert (sheet["zone_minutes"], sheet["site_minutes"]) == (ZONE_MINUTES, SITE_MINUTES)


@pytest.mark.parametrize("by", ["2026-11-22", "2027-11-23", "soon"])
def test_a_day_that_cannot_be_is_refused_with_what_can(database, by):
    answer = floorcare("rounds", "--today", TODAY_TEXT, "--by", by)
    assert answer.code == 3
    assert "allowed 2026-11-23 to 2027-05-24" in answer.err or "write it as" in answer.err


def test_a_site_nobody_knows_is_refused(database):
    answer = floorcare("rounds", "--today", TODAY_TEXT, "--site", "MOON")
    assert answer.code == 4
    assert 'There is no site "MOON"' in answer.err
