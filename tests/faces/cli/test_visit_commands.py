import re
from datetime import date, timedelta
from pathlib import Path

import pytest
import typer.main
from typer.testing import CliRunner

from floorcare.faces.cli import app as face
from floorcare.faces.cli.visit_commands import SUBCOMMANDS
from tests.faces.cli.folders import TODAY_TEXT
from tests.faces.cli.terminal import everything_in, floorcare, rows_of

DOCS = Path(__file__).resolve().parents[3] / "docs" / "commands.md"
AT = ("--today", TODAY_TEXT)
YEAR = ("--from", TODAY_TEXT, "--to", "2027-11-22")


def listed(*words):
    return floorcare("visits", *YEAR, *words, "--json").json


def recoat(at: int = 0) -> dict:
    """A recoat of the school's assembly hall, by its place in the year."""
    found = [row for row in listed("--site", "SCHOOL") if "AULA recoat" in row["work"]]
    return found[at]


def night_after(row: dict, days: int) -> str:
    return (date.fromisoformat(row["night"]) + timedelta(days=days)).isoformat()


def change(word: str, row: dict, *words):
    return floorcare("visits", word, row["site"], row["night"], *words, *AT)


def test_with_no_word_behind_it_visits_are_listed_with_their_version(database):
    assert floorcare("visits", *YEAR).out.splitlines()[0].endswith("to 22 November 2027.")
    row = recoat()
    assert (row["state"], row["commitment"], row["agreement"]) == ("proposed", "week", "not needed")
    assert row["version"] == 1


def test_a_visit_is_moved_told_in_one_line_and_kept_by_the_next_plan(database):
    row = recoat(1)
    to = night_after(row, 1)
    history = rows_of(database)["history_entry"]
    answer = change("move", row, "--to", to, "--at", "18:30", "--why", "fair")
    assert (answer.code, answer.err) == (0, "")
    assert re.search(r"^SCHOOL moved from .* to .* 18:30; held, so no plan moves it\.$", answer.out)
    assert rows_of(database)["history_entry"] == history + 1
    assert floorcare("plan", *AT).code == 0
    (kept,) = [r for r in listed() if r["visit"] == row["visit"]]
    assert (kept["night"], kept["starts"], kept["commitment"]) == (to, "18:30", "hour")


def test_what_cannot_be_leaves_with_5_the_mend_and_no_trace(database):
    row, before = recoat(), everything_in(database)
    saturday = night_after(row, 5 - date.fromisoformat(row["night"]).weekday())
    answer = change("move", row, "--to", saturday, "--sure")
    assert (answer.code, answer.out) == (5, "")
    assert "cannot be moved; nothing was changed." in answer.err
    assert "no access window on Saturdays. Mend: take another night; nearest: " in answer.err
    told = change("move", row, "--to", saturday, "--json")
    assert told.code == 5
    assert (told.json["written"], told.json["findings"][0]["weight"]) == (False, "stops")
    assert everything_in(database) == before


def test_what_is_unwise_wants_sure(database):
    row, before = recoat(), everything_in(database)
    late = night_after(row, 42)
    unsure = change("move", row, "--to", late)
    assert unsure.code == 5
    assert "--sure does it." in unsure.err
    assert "asks: AULA recoat is wanted by" in unsure.err
    assert everything_in(database) == before
    sure = change("move", row, "--to", late, "--sure")
    assert sure.code == 0
    assert "asks: AULA recoat is wanted by" in sure.err


def test_hold_and_release_take_the_id_s_beginning_too(database):
    row = recoat()
    held = floorcare("visits", "hold", row["visit"][:8], "--hour", *AT, "--json")
    assert (held.json["state"], held.json["commitment"]) == ("held", "hour")
    again = change("hold", row, "--hour")
    assert (again.code, "it is held already" in again.err) == (5, True)
    free = change("release", row)
    assert free.out == f"SCHOOL {said(row['night'])} 18:00 is held no longer; " + (
        "the next plan may move it.\n"
    )


def said(night: str) -> str:
    return f"{date.fromisoformat(night):%a %d %b %Y}"


def test_the_whole_thread_plan_ask_refuse_and_plan_again(database, tmp_path):
    row = recoat(1)
    offer = night_after(row, 2)
    asked = change("ask", row, "--by", "Caretaker", "--how", "mail")
    assert asked.out.endswith("Caretaker was asked; asked, so no plan moves it.\n")
    refused = change("refuse", row, "--by", "Caretaker", "--instead", offer, "--why", "concert")
    assert (refused.code, refused.err) == (0, "")
    assert refused.out.endswith(
        f"Caretaker refused; the next plan looks for another night.\n  instead: {said(offer)}\n"
    )
    assert f"{row['minutes']:>4} min  SCHOOL               proposed, refused: " in (
        floorcare("visits", *YEAR).out
    )
    plan = floorcare("plan", *AT, "--changes")
    assert f"moved    SCHOOL             {said(row['night']):>16} → {said(offer)}" in plan.out
    (moved,) = [r for r in listed() if r["visit"] == row["visit"]]
    assert (moved["night"], moved["agreement"], moved["version"]) == (offer, "not needed", 4)
    agreed = floorcare("visits", "agree", "SCHOOL", offer, "--by", "Caretaker", *AT)
    assert agreed.code == 0
    shown = calendar_of(row["visit"], offer, tmp_path)
    assert f"DTSTART:{offer.replace('-', '')}T" in shown
    assert "SEQUENCE:4" in shown
    assert "STATUS:CONFIRMED" in shown
    account = floorcare("why", row["visit"], *AT).out
    assert re.search(r"refused for .* by Caretaker \(phone, .*\), entered by .*: concert", account)
    assert re.search(r"asked for .* of Caretaker \(mail, ", account)


def calendar_of(uuid: str, on: str, folder: Path) -> str:
    """The event of a visit in its site's calendar of the week before, agreed visits only."""
    week_before = (date.fromisoformat(on) - timedelta(days=7)).isoformat()
    words = ("--site", "SCHOOL", "--agreed-only", "--out", folder, "--today", week_before)
    assert floorcare("calendars", *words).code == 0
    (path,) = folder.glob("*.ics")
    text = path.read_text("utf-8")
    (event,) = [e for e in text.split("BEGIN:VEVENT") if f"UID:{uuid}@" in e]
    return event


def test_a_counter_night_that_cannot_be_is_kept_and_asked_about(database):
    row = recoat(1)
    saturday = night_after(row, 5 - date.fromisoformat(row["night"]).weekday())
    answer = change("refuse", row, "--by", "Caretaker", "--instead", saturday)
    assert answer.code == 1
    assert "asks: SCHOOL is not open to us on" in answer.err
    assert rows_of(database)["night_answer"] == 2


def test_a_visit_called_off_names_what_goes_back_to_the_rules(database):
    row = recoat()
    answer = change("cancel", row, "--why", "hall let")
    assert answer.code == 0
    assert "is called off; calendars show it called off until seven days after" in answer.out
    assert "back to the rules: AULA recoat, wanted by" in answer.out
    assert row["visit"] not in {r["visit"] for r in listed()}
    (off,) = [r for r in listed("--cancelled") if r["visit"] == row["visit"]]
    assert off["state"] == "cancelled"
    again = change("hold", row)
    assert again.code == 5
    assert "the visit is cancelled" in again.err


def test_a_stale_edit_leaves_with_6_who_and_when(database):
    row = recoat()
    change("hold", row)
    answer = change("move", row, "--to", night_after(row, 1), "--version", row["version"])
    assert answer.code == 6
    assert re.search(r"changed it at \d\d:\d\d UTC on .* \(held\); it is version 2", answer.err)


@pytest.mark.parametrize(
    ("words", "code", "told"),
    [
        (("hold", "AULA"), 3, "name it by site and night"),
        (("hold", "SCHOOL"), 4, 'There is no visit "SCHOOL"; name it by site'),
        (("hold", "NOWHERE", "2026-12-03"), 4, "NOWHERE has no visit on 2026-12-03"),
        (("hold", "ffffff"), 4, 'There is no visit "ffffff"'),
        (("move", "SCHOOL", "2026-12-03"), 2, "Missing option '--to'"),
        (("move", "SCHOOL", "2026-12-03", "--to", "soon"), 3, '"soon" is no day'),
        (("move", "A", "2026-12-03", "--to", "2026-12-04", "--at", "ten"), 3, "no time of day"),
        (("ask", "SCHOOL", "2026-12-03"), 3, "Who was asked? Write --by CONTACT."),
        (("agree", "SCHOOL", "2026-12-03"), 3, "Who agreed? Write --by CONTACT."),
        (("refuse", "SCHOOL", "2026-12-03"), 3, "Who refused? Write --by CONTACT."),
        (("cancel", "SCHOOL", "2026-12-03"), 3, "Why is it called off?"),
        (("hold", "SCHOOL", "2026-12-03", "--how", "pigeon"), 3, "allowed phone, paper, mail"),
        (("hold", "SCHOOL", "2026-12-03", "--on", "2027-01-01"), 3, "has not come yet"),
        (("--site", "SCHOOL", "hold", "SCHOOL", "2026-12-03"), 3, "Options go behind the word"),
        (("polish",), 2, "No such command 'polish'"),
    ],
)
def test_what_is_not_understood_is_told_with_its_mend(database, words, code, told):
    before = everything_in(database)
    own = () if code == 2 or words[0] == "--site" else AT
    answer = floorcare("visits", *words, *own)
    assert (answer.code, answer.out) == (code, "")
    assert told in answer.err
    assert everything_in(database) == before


def test_every_word_explains_itself_in_its_order_and_stands_in_the_documentation():
    known = typer.main.get_command(face.app).commands["visits"].commands
    names = [command.__name__.removesuffix("_visit") for command in SUBCOMMANDS]
    assert list(known) == names
    section = DOCS.read_text("utf-8").partition("\n## floorcare visits\n")[2].split("\n## ")[0]
    for name in names:
        assert f"\n### floorcare visits {name}\n" in f"\n{section}", name
        help_text = CliRunner().invoke(face.app, ["visits", name, "--help"]).output
        assert "Usage:" in help_text
        for parameter in known[name].params:
            for option in parameter.opts:
                if option.startswith("-"):
                    assert f"`{option}`" in section, f"{name} {option}"
