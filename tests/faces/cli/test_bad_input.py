"""What people really bring: every problem named with place and mend, and nothing written."""

import csv
import io
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from openpyxl import load_workbook

from floorcare.faces.cli import commands, files
from floorcare.store import plans, portfolio
from tests.faces.cli.folders import TODAY_TEXT, TWO_SITES, altered, make_folder, with_row
from tests.faces.cli.terminal import everything_in, floorcare

ZONES = TWO_SITES["zones.csv"]
WITHOUT_TRAFFIC = "\n".join(
    ",".join(cell for at, cell in enumerate(line.split(",")) if at != 6)
    for line in ZONES.splitlines()
)

REFUSED = {
    "a missing column": (
        {"zones.csv": WITHOUT_TRAFFIC},
        (
            "zones.csv, row 1, column traffic",
            "missing",
            "light, moderate",
            'add a column "traffic"',
        ),
    ),
    "UTF-16 without its mark": (
        {"zones.csv": ZONES.encode("utf-16-le")},
        ("zones.csv, row 1", "NUL bytes", "UTF-16 with byte-order mark", 'save it as "CSV UTF-8"'),
    ),
    "a code given twice": (
        with_row("sites.csv", "MARKET,HARBOUR,Other hall,NORTH,Europe/Berlin,,,"),
        ("sites.csv, row 4, column site", '"MARKET"', "row 2", "another code"),
    ),
    "a zone of an unknown site": (
        with_row("zones.csv", "MARKT,HALL,X,X,polished_concrete,100,light,2024-12-01,fresh,"),
        ("zones.csv, row 5, column site", '"MARKT"', "sites.csv", 'write "MARKET"'),
    ),
    "a negative area": (
        altered("zones.csv", "80.5", "-80.5"),
        ("zones.csv, row 3, column area_m2", '"-80.5"', "0.1 to 1,000,000 m²", "correct the sign"),
    ),
    "a reading of 412 GU": (
        with_row("readings.csv", "MARKET,LANE,P1,2026-10-20 21:40,gloss,412,after burnish"),
        ("readings.csv, row 18, column value", '"412"', "0 to 200 GU", "Write 41.2"),
    ),
    "a reading in the future": (
        with_row("readings.csv", "MARKET,LANE,P1,2026-11-24 21:40,gloss,41.2,after burnish"),
        ("readings.csv, row 18, column taken_at", '"2026-11-24 21:40"', "2026-11-23", "correct"),
    ),
    "a term that ends before it starts": (
        altered("promises.csv", "2024-12-01,2028-12-31", "2028-12-31,2024-12-01"),
        ("promises.csv, row 2, column ends_on", '"2024-12-01"', "2028-12-31 or later", "correct"),
    ),
    "an unknown time zone": (
        altered("sites.csv", "Europe/Berlin", "Europe/Berlino"),
        ("sites.csv, row 2, column time_zone", '"Europe/Berlino"', "IANA", "write Europe/Berlin"),
    ),
    "an access window shorter than any work": (
        altered("access_windows.csv", "18:00,23:30", "18:00,18:20"),
        ("access_windows.csv, row 3, column to", '"18:20"', "30 minutes or more", "correct from"),
    ),
    "a name of 100,000 characters": (
        altered("zones.csv", "Main lane", "x" * 100_000),
        (
            "zones.csv, row 2, column name",
            "(100,000 characters)",
            "≤ 120 characters",
            "at most 120",
        ),
    ),
}


@pytest.mark.parametrize(("files_changed", "said"), REFUSED.values(), ids=REFUSED)
@pytest.mark.parametrize("look", [(), ("--check",)], ids=["load", "check"])
def test_it_is_refused_with_its_place_what_is_allowed_and_the_mend(
    files_changed, said, look, new_database, tmp_path
):
    folder = make_folder(tmp_path / "care", files_changed)
    answer = floorcare("load", folder, "--today", TODAY_TEXT, *look)
    assert answer.code == 3
    assert answer.out == ""
    first, *problems = answer.err.splitlines()
    assert first == f"{folder}: 1 problem found; nothing was written."
    (problem,) = problems
    assert len(problem) < 400, "a person reads this"
    for words in said:
        assert words in problem
    assert not new_database.exists()


def test_all_problems_of_all_files_are_told_at_once_and_as_json(database, tmp_path):
    changed = {}
    for name in ("a code given twice", "a negative area", "a reading of 412 GU"):
        changed.update(REFUSED[name][0])
    before = everything_in(database)
    folder = make_folder(tmp_path / "care", changed)
    answer = floorcare("load", folder, "--today", TODAY_TEXT, "--json")
    assert answer.code == 3
    assert answer.json["written"] is False
    assert [(f["file"], f["row"], f["column"]) for f in answer.json["findings"]] == [
        ("sites.csv", 4, "site"),
        ("zones.csv", 3, "area_m2"),
        ("readings.csv", 18, "value"),
    ]
    assert "3 problems found; nothing was written" in answer.err
    assert everything_in(database) == before


def test_an_empty_folder_is_told_which_files_are_understood(new_database, tmp_path):
    (tmp_path / "empty").mkdir()
    answer = floorcare("load", tmp_path / "empty")
    assert answer.code == 3
    assert str(tmp_path / "empty") in answer.err
    assert "branches.csv" in answer.err
    assert "five-column sheet" in answer.err
    assert not new_database.exists()


def test_a_folder_that_is_not_there_is_named(new_database, tmp_path):
    answer = floorcare("load", tmp_path / "nowhere")
    assert (answer.code, answer.out) == (3, "")
    assert answer.err == f"{tmp_path / 'nowhere'}: there is no such file or folder\n"


@pytest.mark.parametrize(
    "zones",
    [
        ZONES.encode("utf-16"),
        ZONES.replace(",", ";").replace("80.5", "80,5").encode(),
    ],
    ids=["UTF-16 with its mark", "semicolons and decimal commas"],
)
def test_what_spreadsheets_save_is_understood_as_it_was_meant(zones, database, tmp_path):
    before = everything_in(database)
    answer = floorcare(
        "load", make_folder(tmp_path / "care", {"zones.csv": zones}), "--today", TODAY_TEXT
    )
    assert (answer.code, answer.err) == (0, "")
    assert everything_in(database) == before, "the same floors as from plain UTF-8"


def test_windows_1252_is_read_and_asked_about(new_database, tmp_path):
    areas = TWO_SITES["areas.csv"].replace("Hall B", "Große Halle").encode("cp1252")
    folder = make_folder(tmp_path / "care", {"areas.csv": areas})
    answer = floorcare("load", folder, "--today", TODAY_TEXT)
    assert answer.code == 1
    assert "asks: areas.csv, row 2" in answer.err
    assert '"MARKET,HALL,Große Halle"' in answer.err
    assert 'save as "CSV UTF-8"' in answer.err
    assert any("Große Halle" in row for row in everything_in(new_database))


def test_a_window_too_short_for_the_sites_work_is_told_by_the_plan(new_database, tmp_path):
    short = altered("access_windows.csv", "18:00,23:30", "18:00,18:40")
    assert floorcare("load", make_folder(tmp_path / "care", short), "--today", TODAY_TEXT).code == 0
    answer = floorcare("plan", "--today", TODAY_TEXT, "--json")
    assert answer.code == 1
    left = {u["due"]["site"]: u for u in answer.json["unplaced"]}
    assert set(left) == {"SCHOOL"}
    assert "the longest open night has 40" in left["SCHOOL"]["why"]
    assert left["SCHOOL"]["mend"].startswith("lengthen a night (")


def test_a_shut_year_is_asked_about_and_the_plan_says_that_the_site_has_no_night(
    new_database, tmp_path
):
    shut = with_row("shut_days.csv", "SCHOOL,2026-11-01,2028-02-28,rebuilding")
    loaded = floorcare("load", make_folder(tmp_path / "care", shut), "--today", TODAY_TEXT)
    assert loaded.code == 1
    assert "asks: shut_days.csv, row 3" in loaded.err
    assert "SCHOOL may not be worked" in loaded.err
    answer = floorcare("plan", "--today", TODAY_TEXT)
    assert answer.code == 1
    assert "SCHOOL/AULA recoat" in answer.out
    assert "Would help: open the night of " in answer.out
    assert "site SCHOOL has no night open to branch NORTH until 2027-11-22" in answer.err
    assert '"shut: rebuilding"' in answer.err


def test_a_name_that_looks_like_a_formula_stays_text_in_every_table(new_database, tmp_path):
    zones = ZONES.replace(",Main lane,", ",=1+1,").replace(",Edge,", ",@SUM(A1),")
    changed = {
        "zones.csv": zones.replace("AULA,Assembly hall", "AULA,-2+3"),
        **altered("areas.csv", "Assembly hall", '"=HYPERLINK(""x"")"'),
        **altered("sites.csv", "ring at the gatehouse", "+1"),
    }
    assert (
        floorcare("load", make_folder(tmp_path / "care", changed), "--today", TODAY_TEXT).code == 0
    )
    floorcare("plan", "--today", TODAY_TEXT)
    out = tmp_path / "out"
    for week in ("2026-12-02", "2026-12-29"):
        assert floorcare("lists", "--week", week, "--out", out).code == 0
    assert floorcare("floors", "--today", TODAY_TEXT, "--out", out).code == 0
    cells = {
        path.name: [
            cell for row in csv.reader(io.StringIO(path.read_text("utf-8-sig"))) for cell in row
        ]
        for path in out.glob("*.csv")
    }
    assert len(cells) == 3
    for name, of_table in cells.items():
        assert not [cell for cell in of_table if cell.startswith(tuple("=+-@"))], name
    inert = {cell for of_table in cells.values() for cell in of_table if cell.startswith("'")}
    assert {"'=1+1", "'@SUM(A1)", "'-2+3", '\'=HYPERLINK("x")'} <= inert
    (workbook,) = out.glob("*.xlsx")
    typed = {
        cell.value: cell.data_type
        for row in load_workbook(workbook).active.iter_rows()
        for cell in row
    }
    assert "f" not in typed.values()
    assert (typed["=1+1"], typed["@SUM(A1)"], typed["-2+3"]) == ("s", "s", "s")


# databases that are not ours, places that may not be written


def other_program(path: Path) -> bytes:
    with closing(sqlite3.connect(path)) as raw:
        raw.execute("CREATE TABLE song (title TEXT)")
        raw.execute("INSERT INTO song VALUES ('Concrete')")
        raw.commit()
    return path.read_bytes()


@pytest.mark.parametrize("command", ["load", "plan", "visits", "floors", "lists", "upgrade"])
def test_another_programs_database_is_refused_and_left_byte_for_byte(command, tmp_path):
    path = tmp_path / "songs.db"
    before = other_program(path)
    care = [make_folder(tmp_path / "care"), "--today", TODAY_TEXT] if command == "load" else []
    answer = floorcare(command, *care, "--db", path)
    assert answer.code == 7
    assert answer.err == (
        f"{path}: is another program's database; nothing was changed, name another file\n"
    )
    assert path.read_bytes() == before
    assert {p.name for p in tmp_path.iterdir()} <= {"songs.db", "care"}


def test_a_file_that_is_no_database_is_refused_and_left_byte_for_byte(tmp_path):
    folder = make_folder(tmp_path / "care")
    before = (folder / "zones.csv").read_bytes()
    answer = floorcare("load", folder, "--today", TODAY_TEXT, "--db", folder / "zones.csv")
    assert answer.code == 7
    assert "is not a SQLite database" in answer.err
    assert (folder / "zones.csv").read_bytes() == before


def test_a_database_under_a_file_is_refused(tmp_path):
    folder = make_folder(tmp_path / "care")
    below = folder / "zones.csv" / "floorcare.db"
    answer = floorcare("load", folder, "--today", TODAY_TEXT, "--db", below)
    assert answer.code == 7
    assert str(below) in answer.err


def test_a_database_in_a_sealed_folder_is_refused(tmp_path, sealed_folder, ordinary_person):
    folder = make_folder(tmp_path / "care")
    taken = floorcare("load", folder, "--check", "--today", TODAY_TEXT)
    assert taken.code == 0
    with ordinary_person():
        answer = floorcare("upgrade", "--db", sealed_folder / "floorcare.db")
    assert answer.code == 7
    assert "right to write the file and its folder" in answer.err
    assert list(sealed_folder.iterdir()) == []


@pytest.mark.parametrize(
    "words",
    [
        ("lists", "--week", "2026-12-01"),
        ("calendars", "--today", TODAY_TEXT),
        ("floors", "--today", TODAY_TEXT),
    ],
)
def test_files_under_a_file_are_refused(words, database, tmp_path):
    (tmp_path / "note").write_text("not a folder")
    answer = floorcare(*words, "--out", tmp_path / "note" / "out")
    assert answer.code == 3
    assert str(tmp_path / "note" / "out") in answer.err
    assert "Choose one you may write to" in answer.err


def test_files_into_a_sealed_folder_are_refused(sealed_folder, ordinary_person):
    with ordinary_person():
        answer = floorcare("demo", sealed_folder)
        below = floorcare("demo", sealed_folder / "demo")
    assert (answer.code, below.code) == (3, 3)
    assert answer.err == f"{sealed_folder}: This folder may not be written to. Choose another.\n"
    assert "Choose one you may write to" in below.err
    assert list(sealed_folder.iterdir()) == []


# Ctrl-C


def interrupt(*_: object, **__: object) -> None:
    raise KeyboardInterrupt


def stopped(answer) -> bool:
    return (answer.code, answer.err) == (130, "Stopped; nothing was half-written.\n")


def test_ctrl_c_while_reading_a_folder_writes_nothing(new_database, tmp_path, monkeypatch):
    monkeypatch.setattr(commands, "progress", lambda what: interrupt)
    answer = floorcare("load", make_folder(tmp_path / "care"), "--today", TODAY_TEXT)
    assert stopped(answer)
    assert not new_database.exists()


def test_ctrl_c_while_a_load_is_being_written_undoes_all_of_it(database, tmp_path, monkeypatch):
    changed = {
        **altered("sites.csv", "Market hall", "Old market hall"),
        **with_row("readings.csv", "MARKET,LANE,P1,2026-10-20 21:40,gloss,41.2,after burnish"),
    }
    folder = make_folder(tmp_path / "care", changed)
    before = everything_in(database)
    kept = portfolio.put_readings
    reached = []

    def write_and_stop(*values: object, **named: object) -> None:
        reached.append(kept(*values, **named))
        raise KeyboardInterrupt

    monkeypatch.setattr(portfolio, "put_readings", write_and_stop)
    answer = floorcare("load", folder, "--today", TODAY_TEXT)
    assert stopped(answer)
    assert reached, "the site was renamed and the reading added before the stop"
    assert everything_in(database) == before


def test_ctrl_c_while_planning_writes_nothing(database, monkeypatch):
    before = everything_in(database)
    monkeypatch.setattr(commands, "progress", lambda what: interrupt)
    assert stopped(floorcare("plan", "--today", "2026-11-24"))
    assert everything_in(database) == before


def test_ctrl_c_while_a_plan_is_being_written_undoes_all_of_it(new_database, tmp_path, monkeypatch):
    floorcare("load", make_folder(tmp_path / "care"), "--today", TODAY_TEXT)
    before = everything_in(new_database)
    reached = []

    def stop(connection: object, *_: object) -> None:
        reached.append(connection.exec_driver_sql("SELECT count(*) FROM visit").scalar_one())
        raise KeyboardInterrupt

    with monkeypatch.context() as patched:
        patched.setattr(plans, "put_events", stop)
        assert stopped(floorcare("plan", "--today", TODAY_TEXT))
    assert reached[0] > 10, "the visits stood in the open transaction"
    assert everything_in(new_database) == before
    assert floorcare("plan", "--today", TODAY_TEXT).code == 0, "and the way is free again"


def test_ctrl_c_while_files_are_written_leaves_no_half_of_one(database, tmp_path, monkeypatch):
    out = tmp_path / "out"
    floorcare("calendars", "--today", TODAY_TEXT, "--out", out)
    before = {path.name: path.read_bytes() for path in out.iterdir()}
    monkeypatch.setattr(files.Path, "replace", interrupt)
    assert stopped(floorcare("calendars", "--today", "2027-03-01", "--out", out))
    assert {path.name: path.read_bytes() for path in out.iterdir()} == before
