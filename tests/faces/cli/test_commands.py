from datetime import date, timedelta

import pytest

from floorcare import compose
from floorcare.faces.cli import commands
from tests.faces.cli.folders import TODAY_TEXT, make_folder, with_row
from tests.faces.cli.terminal import floorcare, rows_of


def test_visits_are_those_of_four_weeks_unless_told_otherwise(database, monkeypatch):
    monkeypatch.setattr(compose, "today", lambda: date(2026, 11, 23))
    assert "23 November 2026 to 21 December 2026" in floorcare("visits").out
    shown = floorcare("visits", "--json").json
    assert {row["night"] for row in shown} == {"2026-12-02", "2026-12-14"}
    one_night = floorcare("visits", "--from", "2026-12-02", "--to", "2026-12-02", "--json").json
    assert [row["night"] for row in one_night] == ["2026-12-02"]


def test_visits_of_one_site_or_several(database):
    def sites(*named):
        words = [word for site in named for word in ("--site", site)]
        year = ("--from", TODAY_TEXT, "--to", "2027-11-22", "--json")
        return {row["site"] for row in floorcare("visits", *year, *words).json}

    assert sites("SCHOOL") == {"SCHOOL"}
    assert sites("SCHOOL", "MARKET") == sites() == {"SCHOOL", "MARKET"}


def test_a_span_that_ends_before_it_starts_is_refused(database):
    answer = floorcare("visits", "--from", "2026-12-02", "--to", "2026-12-01")
    assert answer.code == 3
    assert answer.err == "The last night 2026-12-01 lies before the first, 2026-12-02.\n"


def test_lists_are_of_the_week_after_this_one_unless_told_otherwise(
    database, tmp_path, monkeypatch
):
    monkeypatch.setattr(compose, "today", lambda: date(2026, 11, 25))
    monkeypatch.chdir(tmp_path)
    answer = floorcare("lists", "--json")
    assert answer.json["lists"][0]["starts_on"] == "2026-11-30"
    assert sorted(p.name for p in (tmp_path / "out").iterdir()) == [
        f"visits-North-yard-2026-11-30{suffix}" for suffix in (".csv", ".html", ".pdf")
    ]


@pytest.mark.parametrize("day", ["2026-11-30", "2026-12-02", "2026-12-06"])
def test_any_day_of_a_week_names_it(day, database, tmp_path):
    answer = floorcare("lists", "--week", day, "--branch", "NORTH", "--out", tmp_path, "--json")
    (week,) = answer.json["lists"]
    assert week["starts_on"] == "2026-11-30"
    assert [sheet["night"] for sheet in week["sheets"]] == ["2026-12-02"]


def test_floors_are_shown_and_written_only_if_asked(database, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    shown = floorcare("floors", "--today", TODAY_TEXT)
    assert "MARKET/LANE" in shown.out
    assert "Written" not in shown.out
    assert [p.name for p in tmp_path.iterdir()] == ["floorcare.db"]
    told = floorcare("floors", "--today", TODAY_TEXT, "--out", tmp_path / "floors")
    assert told.out.count("Written: ") == 3
    assert len(list((tmp_path / "floors").iterdir())) == 3


def test_one_sites_calendar_can_be_had_alone(database, tmp_path):
    out = tmp_path / "out"
    answer = floorcare("calendars", "--site", "SCHOOL", "--today", TODAY_TEXT, "--out", out)
    assert [p.name for p in out.iterdir()] == ["SCHOOL.ics"]
    assert answer.out.startswith("1 calendar written.")


def test_a_shorter_horizon_ends_earlier(new_database, tmp_path):
    floorcare("load", make_folder(tmp_path / "care"), "--today", TODAY_TEXT)
    answer = floorcare("plan", "--weeks", "10", "--today", TODAY_TEXT, "--json").json
    last = date(2026, 11, 23) + timedelta(weeks=10)
    assert answer["last_on"] == last.isoformat()
    assert max(change["night_after"] for change in answer["changes"]) <= last.isoformat()


def test_plan_names_every_new_visit_only_if_asked(database, tmp_path):
    walks = with_row("routines.csv", "SCHOOL,,walk,every 4 weeks,2026-11-10,us,")
    floorcare("load", make_folder(tmp_path / "care", walks), "--today", TODAY_TEXT)
    short = floorcare("plan", "--dry-run", "--today", TODAY_TEXT)
    assert "  added " not in short.out
    new = int(short.out.partition(" added")[0].rpartition(" ")[2])
    assert new >= 8
    every = floorcare("plan", "--changes", "--dry-run", "--today", TODAY_TEXT)
    assert every.out.count("  added    SCHOOL") == new


def test_a_load_makes_the_database_and_reports_what_it_read(new_database, tmp_path):
    care = make_folder(tmp_path / "care", with_row("shut_days.csv", "SCHOOL,2026-12-29,,concert"))
    answer = floorcare("load", care, "--today", TODAY_TEXT, "--json").json
    assert answer["written"] is True
    assert answer["rows"] == 41
    assert "zones.csv" in answer["files"]
    assert {kind: added for kind, added, _, _ in answer["counts"]}["shut days"] == 2
    assert rows_of(new_database)["shut_day"] == 2
    again = floorcare("load", care, "--today", TODAY_TEXT, "--json").json
    assert again["written"] is False


def test_who_did_it_stands_in_the_history(new_database, tmp_path, monkeypatch):
    monkeypatch.setattr(commands.getpass, "getuser", lambda: "kim")
    floorcare("load", make_folder(tmp_path / "care"), "--today", TODAY_TEXT)

    def nobody() -> str:
        raise OSError("no name in this container")

    monkeypatch.setattr(commands.getpass, "getuser", nobody)
    floorcare("plan", "--today", TODAY_TEXT)
    with compose.opened(str(new_database)) as store, store.work() as work:
        assert [entry.who for entry in work.history()] == ["somebody", "kim"]


def test_upgrade_makes_a_database_and_leaves_a_new_one_alone(new_database):
    made = floorcare("upgrade", "--json").json
    assert made["created"] is True
    again = floorcare("upgrade")
    assert (again.code, again.err) == (0, "")
    assert again.out.startswith("The database is up to date, revision ")
    empty = floorcare("plan", "--today", TODAY_TEXT)
    assert empty.code == 0
    assert "0 visits" in empty.out


@pytest.mark.parametrize("command", ["plan", "floors", "lists", "calendars", "visits"])
def test_a_database_in_which_nothing_was_loaded_yet_is_no_fault(
    command, new_database, tmp_path, monkeypatch
):
    monkeypatch.chdir(tmp_path)
    floorcare("upgrade")
    answer = floorcare(command)
    assert (answer.code, answer.err) == (0, "")


@pytest.mark.parametrize(
    ("words", "option"),
    [
        (("plan",), "--today"),
        (("floors",), "--today"),
        (("calendars",), "--today"),
        (("visits",), "--from"),
        (("visits",), "--to"),
        (("lists",), "--week"),
    ],
)
def test_a_day_that_is_none_is_refused_with_the_right_spelling(words, option, database):
    answer = floorcare(*words, option, "02.12.2026")
    assert answer.code == 3
    assert answer.err == '"02.12.2026" is no day; write it as 2026-03-02.\n'
