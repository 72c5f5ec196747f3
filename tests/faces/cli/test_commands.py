from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from floorcare import compose
from floorcare.faces.cli import commands
from floorcare.ground.trade.book import Portfolio, TreatmentDone
from floorcare.ground.trade.treatment import Work
from floorcare.services.load_care import load_care
from tests.faces.cli.folders import TODAY_TEXT, altered, make_folder, with_row
from tests.faces.cli.terminal import everything_in, floorcare, rows_of


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
    answer = floorcare("lists", "--today", "2026-12-07", "--json")
    assert answer.json["lists"][0]["starts_on"] == "2026-12-14"


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
    made = {path.suffix for path in (tmp_path / "floors").iterdir()}
    assert made == {".html", ".csv", ".xlsx", ".svg"}
    assert len(list((tmp_path / "floors").glob("chart-*.svg"))) == 3


def test_one_zone_can_be_had_in_full_and_one_site_alone(database, tmp_path):
    zone = ("floors", "--zone", "MARKET/LANE", "--today", TODAY_TEXT)
    told = floorcare(*zone, "--out", tmp_path / "floors")
    assert told.out.startswith("MARKET/LANE, Hall B, Main lane: ")
    assert "× the surface's usual haze" in told.out
    names = sorted(path.name for path in (tmp_path / "floors").iterdir())
    assert names == [
        "chart-MARKET-LANE.svg",
        *(f"floors-North-yard-MARKET-LANE-{TODAY_TEXT}{end}" for end in (".csv", ".html", ".xlsx")),
    ]
    ((row,),) = (table["rows"] for table in floorcare(*zone, "--json").json)
    assert {"haze", "film", "scratch", "haze_times", "wear_times"} <= set(row)
    assert [band["level"] for band in row["bands"]] == [0.5, 0.8, 0.9]
    site = floorcare("floors", "--site", "SCHOOL", "--today", TODAY_TEXT, "--json").json
    assert [row["zone"] for table in site for row in table["rows"]] == ["SCHOOL/AULA"]


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        (("--zone", "MARKET/YARD"), 'Site MARKET has no zone "YARD"; it has EDGE, LANE.'),
        (("--zone", "MARKT/LANE"), 'There is no site "MARKT"; there are MARKET, SCHOOL.'),
        (("--site", "MARKT"), 'There is no site "MARKT"; there are MARKET, SCHOOL.'),
        (("--zone", "MARKET"), 'Site MARKET has no zone ""; it has EDGE, LANE.'),
    ],
)
def test_floors_of_what_nobody_knows_are_refused(asked, told, database):
    answer = floorcare("floors", *asked, "--today", TODAY_TEXT)
    assert (answer.code, answer.out) == (4, "")
    assert told in answer.err


def test_a_look_at_a_changed_folder_tells_the_difference_and_writes_nothing(database, tmp_path):
    changed = altered(
        "zones.csv", "EDGE,Edge,polished_concrete,80.5", "EDGE,Edge,polished_concrete,85"
    )
    care = make_folder(tmp_path / "care", changed)
    before = everything_in(database)
    looked = floorcare("load", care, "--check", "--today", TODAY_TEXT)
    assert looked.code == 0
    assert "only looked, nothing was written" in looked.out
    assert "MARKET/EDGE 2024-12-01: area_m2 80.5 → 85" in looked.out
    json = floorcare("load", care, "--check", "--today", TODAY_TEXT, "--json").json
    assert (json["written"], json["compared"]) == (False, True)
    assert everything_in(database) == before
    loaded = floorcare("load", care, "--today", TODAY_TEXT, "--json").json
    assert loaded["written"] is True
    assert loaded["changes"] == json["changes"]
    assert loaded["counts"] == json["counts"]
    again = floorcare("load", care, "--check", "--today", TODAY_TEXT)
    assert "nothing would change" in again.out


def test_what_was_entered_in_the_program_outranks_the_folder_each_time(database, tmp_path):
    done = TreatmentDone(
        work=Work.RECOAT, done_on=date(2026, 11, 3), share=0.95, visit="5a3c1c0e-7d0b-4f0e-9a52"
    )
    with compose.opened(str(database)) as store:
        with store.work() as work:
            (book,) = work.books(["MARKET"])
        edge = replace(book.zone("EDGE"), done=(done,))
        portfolio = Portfolio(books=(replace(book, zones=(edge,)),))
        load_care(store, portfolio, who="crew", now=datetime(2026, 11, 4, 6, tzinfo=UTC))
    row = with_row("treatments_done.csv", "MARKET,EDGE,recoat,2026-11-03,about,9")
    care = make_folder(tmp_path / "care", row)
    for words in (("--check",), (), ()):
        told = floorcare("load", care, *words, "--today", TODAY_TEXT)
        assert told.code == 0
        assert "1 row of the folder not taken over" in told.out
        assert "kept      MARKET/EDGE recoat 2026-11-03" in told.out
        assert "known stays known, the folder says about" in told.out
    with compose.opened(str(database)) as store, store.work() as work:
        assert work.books(["MARKET"])[0].zone("EDGE").done == (done,)


def test_a_look_without_a_database_makes_none(new_database, tmp_path):
    care = make_folder(tmp_path / "care")
    json = floorcare("load", care, "--check", "--today", TODAY_TEXT, "--json").json
    assert (json["written"], json["compared"], json["changes"]) == (False, False, [])
    assert not new_database.exists()


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


def test_a_row_taken_back_is_kept_in_a_new_database_too_and_left_out_of_everything(
    tmp_path, new_database
):
    heading = "site,zone,kind,per_day,counted,from_on,withdrawn"
    care = make_folder(tmp_path / "care")
    sites = (care / "zones.csv").read_text().splitlines()[1].split(",")
    site, zone = sites[0], sites[2]  # site, area, zone
    rows = f"{site},{zone},foot,2150,yes,2025-07-01,\n{site},{zone},foot,900,yes,2026-01-01,yes\n"
    (care / "traffic.csv").write_text(f"{heading}\n{rows}")
    assert floorcare("load", care, "--today", TODAY_TEXT).code in (0, 1)
    with compose.opened(str(new_database)) as store, store.work() as work:
        (book,) = work.books([site])
        (row,) = book.zone(zone).traffic
    assert (row.per_day, row.to_on) == (2150, None)
    again = floorcare("load", care, "--today", TODAY_TEXT, "--json").json
    assert again["written"] is False


@pytest.mark.parametrize("day", ["0001-01-01", "1999-12-31", "2091-01-01", "9999-12-31"])
@pytest.mark.parametrize(
    "words",
    [
        ("plan", "--today"),
        ("floors", "--today"),
        ("visits", "--from"),
        ("week", "--week"),
        ("lists", "--week"),
        ("calendars", "--today"),
        ("contracts", "--today"),
    ],
)
def test_a_day_no_plan_can_reach_is_refused(words, day, database):
    answer = floorcare(*words, day)
    assert answer.code == 3
    assert answer.err == f"{day} is out of reach; allowed 2000-01-01 to 2090-12-31.\n"
