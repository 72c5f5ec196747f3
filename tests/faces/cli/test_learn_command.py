import pytest

from tests.faces.cli.folders import TODAY_TEXT, make_folder
from tests.faces.cli.terminal import everything_in, floorcare, rows_of

TABLES = ("prior_version", "prior_class", "prior_noise")


def kept(database):
    rows = rows_of(database)
    return [rows[table] for table in TABLES]


def test_learning_writes_one_version_and_a_second_time_says_there_is_nothing_new(database):
    assert kept(database) == [0, 0, 0]
    history = rows_of(database)["history_entry"]
    first = floorcare("learn", "--today", TODAY_TEXT)
    assert (first.code, first.err) == (0, "")
    assert first.out.startswith("Version 1, learned on 23 November 2026 from 3 zones")
    assert kept(database) == [1, 8, 1]
    assert rows_of(database)["history_entry"] == history + 1
    before = everything_in(database)
    again = floorcare("learn", "--today", TODAY_TEXT)
    assert again.out.startswith("Nothing new: ")
    assert everything_in(database) == before


def test_a_dry_run_writes_nothing(database):
    before = everything_in(database)
    answer = floorcare("learn", "--dry-run", "--today", TODAY_TEXT)
    assert answer.code == 0
    assert answer.out.startswith("Dry run: ")
    assert everything_in(database) == before


def test_the_answer_can_be_had_as_json_with_every_class(database):
    answer = floorcare("learn", "--json", "--today", TODAY_TEXT).json
    assert (answer["written"], answer["number"], answer["learned_on"]) == (True, 1, TODAY_TEXT)
    (surface,) = answer["surfaces"]
    assert surface["surface"] == "polished_concrete"
    assert len(surface["classes"]) == 8
    assert sum(c["zones_there"] for c in surface["classes"]) == surface["zones"] == 3
    assert all(c["haze_low"] < c["haze_times"] < c["haze_high"] for c in surface["classes"])
    assert {n["name"] for n in surface["noise"]} >= {"station_sd", "drift_sd"}


def test_a_plan_says_which_version_it_read_and_leaves_it_as_it_is(new_database, tmp_path):
    floorcare("load", make_folder(tmp_path / "care"), "--today", TODAY_TEXT)
    floorcare("learn", "--today", TODAY_TEXT)
    learned = kept(new_database)
    assert floorcare("plan", "--today", TODAY_TEXT).code == 0
    assert kept(new_database) == learned == [1, 8, 1]
    (row,) = [line for line in everything_in(new_database) if line.startswith('INSERT INTO "plan"')]
    assert row.endswith(",1);")


@pytest.mark.parametrize("words", [("--today", "yesterday"), ("--today", "1999-12-31")])
def test_a_day_that_is_none_or_out_of_reach_is_refused(database, words):
    answer = floorcare("learn", *words)
    assert answer.code == 3
    assert kept(database) == [0, 0, 0]
