"""The commands of the week on the sample: shown, kept, changed by hand, and refused with a mend."""

import shutil
from datetime import date
from pathlib import Path

import pytest

from floorcare.faces.cli.week_commands import SUBCOMMANDS
from tests.faces.cli.terminal import everything_in, floorcare, rows_of

WEEK = ("--week", "2026-11-30", "--branch", "TARNHILL", "--today", "2026-11-23")
TODAY = ("--today", "2026-11-23")
MUSEUM = ("MUSEUM", "2026-12-01")


@pytest.fixture
def sample(demo, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of the sample's database, which the commands take without being told."""
    copy = Path(shutil.copy(demo.database, tmp_path / "floorcare.db"))
    monkeypatch.setenv("FLOORCARE_DB", str(copy))
    return copy


def kept(sample: Path) -> list[dict]:
    """The week written; its crew-nights with stops."""
    assert floorcare("week", *WEEK, "--write").code in (0, 1)
    return nights()


def nights() -> list[dict]:
    (week,) = floorcare("week", *WEEK, "--json").json["weeks"]
    return [night for night in week["sheet"]["nights"] if night["stops"]]


def crew_of(site: str) -> tuple[str, str]:
    return next(
        (night["crew"], stop["night"])
        for night in nights()
        for stop in night["stops"]
        if stop["site"] == site
    )


def test_a_week_is_only_shown_until_it_is_written(sample):
    before = everything_in(sample)
    answer = floorcare("week", *WEEK)
    assert "not kept; --write keeps them." in answer.out
    assert "MUSEUM" in answer.out
    assert everything_in(sample) == before


def test_a_written_week_is_one_line_of_history_and_comes_out_the_same(sample):
    rows = rows_of(sample)
    first = kept(sample)
    now = rows_of(sample)
    assert now["history_entry"] == rows["history_entry"] + 1
    assert now["assignment"] == sum(len(night["stops"]) for night in first)
    before = everything_in(sample)
    again = floorcare("week", *WEEK, "--write")
    assert "change" not in again.out
    assert nights() == first
    assert everything_in(sample) == before


def test_hours_of_a_written_week_are_those_of_the_visits_and_calendars(sample, tmp_path):
    stop = next(s for night in kept(sample) for s in night["stops"] if s["site"] == "MUSEUM")
    assert stop["planned_minute"] == stop["starts_minute"]
    (row,) = [
        row
        for row in floorcare(
            "visits", "--from", "2026-11-30", "--to", "2026-12-06", "--site", "MUSEUM", "--json"
        ).json
        if row["visit"] == stop["uuid"]
    ]
    assert row["night"] == stop["night"]
    floorcare("calendars", "--site", "MUSEUM", "--out", tmp_path, *TODAY)
    assert (tmp_path / "MUSEUM.ics").exists()


def test_a_visit_is_given_to_another_night_of_its_week_and_held_there(sample):
    kept(sample)
    crew, night = crew_of("MUSEUM")
    answer = floorcare("week", "assign", "MUSEUM", night, "--crew", crew, "--write", *TODAY)
    assert answer.code in (0, 1), answer.err
    again = next(s for n in nights() for s in n["stops"] if s["site"] == "MUSEUM")
    assert again["held"]
    assert again["stands"], "a plan leaves it too"


def test_what_cannot_be_is_refused_with_why_and_what_would_help(sample):
    before = everything_in(sample)
    answer = floorcare("week", "assign", *MUSEUM, "--crew", "T1", *TODAY)
    assert answer.code == 5
    assert "MUSEUM cannot be done by T1 on 2026-12-01" in answer.err
    assert "Would help:" in answer.err
    nobody = floorcare("week", "assign", *MUSEUM, "--crew", "T9", *TODAY)
    assert 'no crew "T9"; there are T1, T2, T3' in nobody.err
    assert everything_in(sample) == before


def test_a_visit_of_another_week_is_moved_by_the_plans_own_command(sample):
    answer = floorcare("week", "move", *MUSEUM, "--to", "2026-12-09", *TODAY)
    assert answer.code == 5
    assert "floorcare visits move" in answer.err


def test_a_visit_is_held_with_its_crew_and_let_go_again(sample):
    early = floorcare("week", "hold", *MUSEUM, *TODAY)
    assert early.code == 5
    assert "has no crew yet: write its week first" in early.err
    kept(sample)
    _, night = crew_of("MUSEUM")
    held = floorcare("week", "hold", "MUSEUM", night, *TODAY)
    assert (held.code, "is held with crew" in held.out) == (0, True)
    assert next(s for n in nights() for s in n["stops"] if s["site"] == "MUSEUM")["held"]
    free = floorcare("week", "hold", "MUSEUM", night, "--release", "--json", *TODAY)
    assert free.json["held"] is False
    assert not next(s for n in nights() for s in n["stops"] if s["site"] == "MUSEUM")["held"]


def test_a_sick_call_shows_the_difference_and_is_kept_only_when_written(sample):
    first = kept(sample)
    night = next(n for n in first if n["crew"] == "T1")
    on = night["on"]
    before = everything_in(sample)
    shown = floorcare("week", "absent", "W-INES", "--from", on, *TODAY)
    assert "not kept; --write keeps them." in shown.out
    assert everything_in(sample) == before
    floorcare("week", "absent", "W-INES", "--from", on, "--why", "sick", "--write", *TODAY)
    assert rows_of(sample)["worker_absence"] >= 1
    later = next((n for n in nights() if n["crew"] == "T1" and n["on"] == on), None)
    assert later is None, "one of two is left, and every visit takes two"


def test_a_machine_down_leaves_its_visits_to_another_or_names_them(sample):
    kept(sample)
    answer = floorcare(
        "week", "down", "T-PP1", "--from", "2026-11-30", "--to", "2026-12-06", *TODAY
    )
    assert answer.code == 1
    assert "CONCOURSE" in answer.out
    unknown = floorcare("week", "down", "T-XX", "--from", "2026-11-30", *TODAY)
    assert 'no machine "T-XX"' in unknown.err


def test_an_overrun_pushes_what_comes_after_it(sample):
    kept(sample)
    _, night = crew_of("MUSEUM")
    answer = floorcare("week", "overrun", "MUSEUM", night, "--minutes", "20", *TODAY)
    assert answer.code in (0, 1)
    assert "MUSEUM" in answer.out
    wrong = floorcare("week", "overrun", "MUSEUM", night, "--minutes", "0", *TODAY)
    assert wrong.code == 5
    assert "0 min over: allowed 1 to 720" in wrong.err


def test_papers_are_written_on_the_paper_asked_for(sample, tmp_path):
    from pypdf import PdfReader

    for paper, width in (("letter", 792), ("a4", 842)):
        floorcare("week", *WEEK, "--out", tmp_path / paper, "--paper", paper)
        (sheet,) = (tmp_path / paper).glob("week-*.pdf")
        assert round(float(PdfReader(sheet).pages[0].mediabox.width)) == width
        assert list((tmp_path / paper).glob("load-out-*.pdf"))
    wrong = floorcare("week", *WEEK, "--out", tmp_path, "--paper", "a3")
    assert '"a3" is no paper here; allowed a4 and letter' in wrong.err


def test_options_before_the_word_and_impossible_numbers_are_refused(sample):
    assert "Options go behind the word" in floorcare("week", "--write", "hold", *MUSEUM).err
    assert "allowed 1 or more" in floorcare("week", *WEEK, "--steps", "0").err
    span = floorcare("week", "absent", "X", "--from", "2026-12-02", "--to", "2026-12-01", *TODAY)
    assert "lies before the first" in span.err


def test_every_word_has_its_own_help():
    assert [one.__name__.split("_")[0] for one in SUBCOMMANDS] == [
        "move",
        "assign",
        "hold",
        "absent",
        "down",
        "overrun",
    ]
    assert date(2026, 11, 30).weekday() == 0
