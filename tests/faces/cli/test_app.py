import subprocess
import sys
from dataclasses import replace

import pytest
from typer.testing import CliRunner

from floorcare import __version__, compose, errors
from floorcare.faces.cli import app as face
from floorcare.faces.cli import commands
from floorcare.faces.cli.app import COMMANDS
from floorcare.ground.trade.book import Portfolio
from floorcare.services import show_visits
from floorcare.services.load_care import load_care
from floorcare.store.open import Store
from tests.faces.cli.folders import TODAY_TEXT, altered, make_folder
from tests.faces.cli.terminal import floorcare

HEAVY = {
    *("sqlalchemy", "numpy", "pandas", "alembic", "scipy", "typst"),
    *("holidays", "icalendar", "jinja2", "openpyxl"),
}


def imported(*words: str) -> set[str]:
    """The packages a fresh interpreter loads for a command."""
    told = subprocess.run(
        [sys.executable, "-X", "importtime", "-m", "floorcare", *words],
        capture_output=True,
        text=True,
        check=True,
    ).stderr
    lines = [line for line in told.splitlines() if line.startswith("import time:")]
    return {line.rpartition("|")[2].strip().partition(".")[0] for line in lines}


@pytest.mark.parametrize("words", [("--help",), ("--version",), ("plan", "--help")])
def test_help_is_quick_because_nothing_heavy_is_imported(words):
    loaded = imported(*words)
    assert {"floorcare", "typer"} <= loaded
    assert loaded & HEAVY == set()


def test_help_names_every_command_with_its_sentence():
    said = CliRunner().invoke(face.app, ["--help"]).output
    at = [said.index(f"\n  {command.__name__} ") for command in COMMANDS]
    assert at == sorted(at), "in the order of the catalogue"


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_explains_itself_and_its_options(command):
    answer = CliRunner().invoke(face.app, [command.__name__, "--help"])
    assert answer.exit_code == 0
    assert command.__doc__ in " ".join(answer.output.split())
    for line in answer.output.splitlines():
        if line.startswith("  --"):
            assert len(line.split(maxsplit=2)) == 3, f"says nothing of itself: {line}"


def test_the_version_is_printed_and_nothing_else():
    answer = floorcare("--version")
    assert (answer.code, answer.out) == (0, f"floorcare {__version__}\n")


def test_as_a_module_it_is_the_same_program():
    told = subprocess.run(
        [sys.executable, "-m", "floorcare", "visits", "--db", "nowhere.db"],
        capture_output=True,
        text=True,
        check=False,
    )
    assert told.returncode == 7
    assert told.stderr.startswith("no database at nowhere.db")


# exit codes


def test_0_what_was_asked_is_done(database):
    assert floorcare("visits", "--from", TODAY_TEXT).code == 0


def test_1_done_but_something_needs_a_person(new_database, tmp_path):
    no_reference = altered("promises.csv", ",58,", ",,")
    answer = floorcare("load", make_folder(tmp_path / "care", no_reference), "--today", TODAY_TEXT)
    assert answer.code == 1
    assert "asks: promises.csv, row 2, column reference_gu" in answer.err
    assert new_database.is_file()


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("visits", "--bogus"), "No such option"),
        (("polish",), "No such command"),
        (("load",), "Missing argument"),
        (("plan", "--weeks", "many"), "valid integer"),
        (("plan", "--weeks", "0"), "greater than or equal to 1"),
    ],
)
def test_2_the_words_were_wrong(words, said):
    answer = floorcare(*words)
    assert (answer.code, answer.out) == (2, "")
    assert said in answer.err
    assert "Traceback" not in answer.err


def test_3_input_cannot_be_read(database):
    answer = floorcare("visits", "--from", "March")
    assert (answer.code, answer.err) == (3, '"March" is no day; write it as 2026-03-02.\n')


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("visits", "--site", "NOWHERE"), "There is no site NOWHERE."),
        (("calendars", "--site", "NOWHERE", "--out", "unmade"), "There is no site NOWHERE."),
        (("lists", "--branch", "SOUTH", "--out", "unmade"), 'no branch "SOUTH"; there are NORTH.'),
    ],
)
def test_4_there_is_no_such_thing(words, said, database, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    answer = floorcare(*words)
    assert answer.code == 4
    assert said in answer.err
    assert not (tmp_path / "unmade").exists()


def test_5_a_rule_forbids_it(database, monkeypatch):
    def forbid(*_: object, **__: object) -> None:
        raise errors.NotAllowed("skipped visits would cut the invoice", where="contract K-1")

    monkeypatch.setattr(show_visits, "show_visits", forbid)
    answer = floorcare("visits")
    assert answer.code == 5
    assert answer.err == "contract K-1: skipped visits would cut the invoice\n"


def test_6_somebody_changed_it_meanwhile_and_once_more(new_database, tmp_path, monkeypatch):
    floorcare("load", make_folder(tmp_path / "care"), "--today", TODAY_TEXT)
    with compose.opened(str(new_database)) as store:
        _interfere_at_every_read(store, monkeypatch)
        answer = floorcare("plan", "--today", TODAY_TEXT)
    assert answer.code == 6
    assert answer.err.startswith("branch NORTH: colleague changed it at ")
    assert floorcare("visits", "--from", TODAY_TEXT, "--to", "2027-11-23").out.startswith(
        "0 visits"
    )


def _interfere_at_every_read(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whenever a plan decides, a colleague renames a site."""
    turns = []

    def tell(done: int, total: int) -> None:
        if done == 0:
            turns.append(done)
            with store.work() as work:
                branches, customers, (book, *_) = work.branches(), work.customers(), work.books()
            renamed = replace(book, site=replace(book.site, name=f"Hall {len(turns)}"))
            brought = Portfolio(customers=customers, branches=branches, books=(renamed,))
            load_care(store, brought, who="colleague", now=compose.now())

    monkeypatch.setattr(commands, "progress", lambda what: tell)


def test_7_there_is_no_database(tmp_path):
    answer = floorcare("plan", "--db", tmp_path / "none.db")
    assert answer.code == 7
    assert "`floorcare load FOLDER`" in answer.err
    assert not (tmp_path / "none.db").exists()


def test_70_is_our_fault_and_says_so(database, monkeypatch):
    def break_down(*_: object, **__: object) -> None:
        raise ZeroDivisionError("a night of no minutes")

    monkeypatch.setattr(show_visits, "show_visits", break_down)
    answer = floorcare("visits")
    assert answer.code == 70
    assert "ZeroDivisionError: a night of no minutes" in answer.err
    assert answer.err.endswith("This is a fault in floorcare; please report the lines above.\n")


def test_130_is_ctrl_c(database, monkeypatch):
    def stop(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(show_visits, "show_visits", stop)
    answer = floorcare("visits")
    assert (answer.code, answer.out) == (130, "")
    assert answer.err == "Stopped; nothing was half-written.\n"


def test_when_the_reader_has_gone_there_is_no_complaint(database):
    words = [sys.executable, "-m", "floorcare", "visits", "--from", TODAY_TEXT, "--json"]
    with subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as told:
        told.stdout.close()  # as `head` does once it has its lines
        assert told.stderr.read() == ""
    assert told.returncode == 0


def test_names_from_everywhere_are_printed_whatever_the_terminal_speaks(database):
    told = subprocess.run(
        [sys.executable, "-m", "floorcare", "visits", "--site", "Große Halle 大厅"],
        capture_output=True,
        check=False,
        env={"FLOORCARE_DB": str(database), "PYTHONIOENCODING": "ascii"},
    )
    assert told.returncode == 4
    assert told.stderr.decode("utf-8") == "There is no site Große Halle 大厅.\n"
