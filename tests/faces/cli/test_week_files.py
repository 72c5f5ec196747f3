from dataclasses import replace

import icalendar

from floorcare.faces.cli.week_files import write_weeks
from floorcare.faces.documents.catalogue import LOAD_OUTS, VISIT_LISTS, WEEK_SHEETS
from floorcare.services.week_sheet import CrewPapers, FittedWeek
from tests.faces.cli.folders import TODAY_TEXT, make_folder
from tests.faces.cli.terminal import everything_in, floorcare
from tests.golden.loads import LOADED
from tests.golden.sheets import CALENDAR, WEEK
from tests.golden.week import WEEK_SHEET

PAPERS = CrewPapers(crew="L", name="Larch", lists=WEEK, calendar=CALENDAR, load_out=LOADED)


def test_a_branchs_sheet_and_each_crews_papers_are_written(tmp_path):
    week = FittedWeek(sheet=WEEK_SHEET, crews=(PAPERS,), load_out=LOADED)
    paths = write_weeks((week,), tmp_path)
    assert [path.name for path in paths] == [
        *(f"week-Riverside-2026-03-02{d.suffix}" for d in WEEK_SHEETS),
        *(f"load-out-Riverside-2026-03-02{d.suffix}" for d in LOAD_OUTS),
        *(f"crew-L-2026-03-02{d.suffix}" for d in VISIT_LISTS),
        "crew-L-2026-03-02.ics",
        "load-out-L-2026-03-02.pdf",
    ]
    assert all(path.is_file() for path in paths)
    assert paths[1].read_bytes() == WEEK_SHEETS[1].write(WEEK_SHEET)
    assert icalendar.Calendar.from_ical(paths[-2].read_bytes()).walk("VEVENT")


def test_a_code_with_odd_signs_makes_a_plain_file_name(tmp_path):
    odd = replace(PAPERS, crew="a/b c")
    paths = write_weeks((FittedWeek(sheet=WEEK_SHEET, crews=(odd,)),), tmp_path)
    assert paths[-2].name == "crew-a-b-c-2026-03-02.ics"


def test_a_week_is_shown_written_only_if_asked_and_changes_nothing(database, tmp_path):
    before = everything_in(database)
    answer = floorcare("week", "--week", "2026-12-02")
    assert answer.code == 0
    assert answer.out.startswith("North yard: 1 visit on 1 crew-night this week; every one")
    assert "No crew is entered for branch NORTH: 6 unnamed crews of 2" in answer.out
    assert "Written" not in answer.out
    folder = tmp_path / "papers"
    told = floorcare("week", "--week", "2026-12-02", "--out", folder, "--json").json
    assert sorted(p.name for p in folder.iterdir()) == sorted(
        path.rpartition("/")[2] for path in told["files"]
    )
    assert len(told["files"]) == 11
    (week,) = told["weeks"]
    ((stop,),) = [n["stops"] for n in week["sheet"]["nights"] if n["stops"]]
    ics = icalendar.Calendar.from_ical((folder / "crew-NORTH-1-2026-11-30.ics").read_bytes())
    (event,) = ics.walk("VEVENT")
    assert str(event["UID"]).partition("@")[0] == stop["uuid"]
    assert everything_in(database) == before


def test_the_week_is_the_next_one_unless_told_otherwise(database):
    told = floorcare("week", "--today", "2026-11-25", "--json").json
    assert [week["sheet"]["starts_on"] for week in told["weeks"]] == ["2026-11-30"]


def test_a_branch_nobody_knows_is_refused(database):
    unknown = floorcare("week", "--branch", "SOUTH")
    assert unknown.code == 4
    assert 'no branch "SOUTH"; there are NORTH.' in unknown.err


def test_a_visit_that_fits_no_crew_leaves_with_one(tmp_path, monkeypatch):
    database = tmp_path / "floorcare.db"
    monkeypatch.setenv("FLOORCARE_DB", str(database))
    crews = {
        "workers.csv": "worker,name,branch\nANN,Ann Quill,NORTH\n",
        "crews.csv": "crew,branch,name\nA,NORTH,Larch\n",
        "crew_members.csv": "crew,worker,from_on\nA,ANN,2024-12-01\n",
        "shifts.csv": "crew,nights,from,to,break_minutes\nA,daily,21:00,06:30,30\n",
    }
    folder = make_folder(tmp_path / "care", crews)
    assert floorcare("load", folder, "--today", TODAY_TEXT).code in (0, 1)
    floorcare("plan", "--today", TODAY_TEXT)
    answer = floorcare("week", "--week", "2026-12-02")
    assert answer.code == 1
    assert "Larch has 1 of the 2 people it takes" in answer.out
    assert "Would help: 1 more worker in Larch" in answer.out
