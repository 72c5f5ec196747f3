from datetime import date, timedelta

import pytest

from tests.faces.cli.folders import TODAY_TEXT
from tests.faces.cli.terminal import everything_in, floorcare, rows_of

AT = ("--today", TODAY_TEXT)
YEAR = ("--from", TODAY_TEXT, "--to", "2027-11-22")


def second_visit() -> dict:
    return floorcare("visits", *YEAR, "--site", "SCHOOL", "--json").json[1]


def said(night: str) -> str:
    return f"{date.fromisoformat(night):%a %d %b %Y}"


def test_a_day_is_shut_its_visit_told_and_the_next_plan_moves_only_that(database):
    row = second_visit()
    history = rows_of(database)["history_entry"]
    answer = floorcare("shut", "SCHOOL", "--from", row["night"], "--why", "concert", *AT)
    assert (answer.code, answer.err) == (0, "")
    assert answer.out == (
        f"SCHOOL is shut {said(row['night'])}: concert.\n"
        f"  1 visit for the next plan to move: {said(row['night'])}\n"
    )
    assert rows_of(database)["history_entry"] == history + 1
    changes = floorcare("plan", *AT, "--json").json["changes"]
    assert [(c["visit"], c["kind"]) for c in changes if c["kind"] != "kept"] == [
        (row["visit"], "moved")
    ]


def test_a_held_visit_in_it_wants_a_person(database):
    row = second_visit()
    floorcare("visits", "hold", "SCHOOL", row["night"], *AT)
    answer = floorcare("shut", "SCHOOL", "--from", row["night"], "--why", "concert", *AT)
    assert answer.code == 1
    assert (
        f"is held, so no plan moves it: floorcare visits move SCHOOL {row['night']}" in answer.out
    )


def test_shut_days_are_listed_of_one_site_or_all_and_taken_back(database):
    all_of_them = floorcare("shut", *AT)
    assert all_of_them.out.startswith("1 shut stretch from Mon 23 Nov 2026 on.\n  MARKET ")
    floorcare("shut", "SCHOOL", "--from", "2026-12-21", "--to", "2027-01-03", "--why", "yule", *AT)
    (row,) = floorcare("shut", "SCHOOL", *AT, "--json").json
    assert row == {
        "site": "SCHOOL",
        "from_on": "2026-12-21",
        "to_on": "2027-01-03",
        "why": "yule",
    }
    assert (
        "SCHOOL               Mon 21 Dec 2026 to Sun 03 Jan 2027  yule"
        in floorcare("shut", *AT).out
    )
    back = floorcare("shut", "SCHOOL", "--from", "2026-12-21", "--withdraw", *AT)
    assert back.out.startswith("SCHOOL is shut no longer Mon 21 Dec 2026 to Sun 03 Jan 2027 (yule)")
    assert floorcare("shut", "SCHOOL", *AT, "--json").json == []


def test_a_stretch_without_visits_says_so_and_the_same_again_that_it_stood(database):
    row = second_visit()
    quiet = (date.fromisoformat(row["night"]) + timedelta(days=9)).isoformat()
    words = ("shut", "SCHOOL", "--from", quiet, "--why", "yule", *AT)
    assert floorcare(*words).out.endswith("yule.\n  No visit falls in it.\n")
    before = everything_in(database)
    assert "SCHOOL was shut already" in floorcare(*words).out
    assert everything_in(database) == before


@pytest.mark.parametrize(
    ("words", "code", "told"),
    [
        (("SCHOOL", "--why", "x"), 3, "From which day?"),
        (("--from", "2026-12-01"), 3, "Which site?"),
        (("SCHOOL", "--from", "2026-12-01"), 3, "Why is it shut?"),
        (("SCHOOL", "--from", "2026-12-02", "--to", "2026-12-01", "--why", "x"), 3, "lies before"),
        (("SCHOOL", "--from", "2026-12-01", "--withdraw", "--why", "x"), 3, "leave the rest out"),
        (("SCHOOL", "--from", "2026-12-01", "--withdraw"), 4, "begins on 2026-12-01; it has none"),
        (("EAST", "--from", "2026-12-01", "--why", "x"), 4, 'no site "EAST"; there are MARKET'),
        (("EAST",), 4, 'no site "EAST"'),
        (("MARKET", "--from", "2026-12-25", "--why", "x"), 3, "is shut from 2026-12-24 to"),
    ],
)
def test_what_is_not_understood_is_told_and_leaves_no_trace(database, words, code, told):
    before = everything_in(database)
    answer = floorcare("shut", *words, *AT)
    assert (answer.code, answer.out) == (code, "")
    assert told in answer.err
    assert everything_in(database) == before
