from dataclasses import replace
from datetime import date, timedelta

import icalendar
import pytest

from floorcare import compose
from floorcare.faces.cli.contract_files import write_contract_history
from floorcare.faces.documents.catalogue import CONTRACT_HISTORIES
from floorcare.ground.trade.book import Portfolio
from floorcare.services.load_care import load_care
from tests.faces.cli.folders import TODAY, TODAY_TEXT
from tests.faces.cli.terminal import floorcare
from tests.golden.contract_sheets import HISTORY, LAST
from tests.ground.contracts.agreed import a_contract, a_term

STARTS = date(2024, 12, 1)


def test_the_history_is_written_in_every_form_of_the_catalogue_with_its_calendar(tmp_path):
    paths = write_contract_history(HISTORY, tmp_path)
    assert [path.name for path in paths] == [
        *(f"contract-K-7-2025-01-01{document.suffix}" for document in CONTRACT_HISTORIES),
        "contract-K-7.ics",
    ]
    calendar = icalendar.Calendar.from_ical(paths[-1].read_bytes())
    ends = {str(e["SUMMARY"]).split(":")[0]: e.decoded("DTSTART") for e in calendar.events}
    assert ends["Term ends"] == LAST


def test_a_contract_nobody_entered_has_no_calendar(tmp_path):
    paths = write_contract_history(replace(HISTORY, calendar=None), tmp_path)
    assert {path.suffix for path in paths} == {d.suffix for d in CONTRACT_HISTORIES}


# the command


@pytest.fixture
def agreed(database):
    """The planned database with the contract that its promise names, and its next term."""
    first = a_term(STARTS, date(2026, 12, 31))
    after = a_term(date(2027, 1, 1), date(2028, 12, 31))
    contract = replace(
        a_contract(*(replace(term, fees=term.fees[:1]) for term in (first, after)), code="K-1"),
        customer="HARBOUR",
        exclusions=(),
    )
    with compose.opened(str(database)) as store:
        load_care(store, Portfolio(contracts=(contract,)), who="office", now=compose.now())
    return database


def contracts(*words):
    return floorcare("contracts", *words, "--today", TODAY_TEXT)


def test_a_promise_without_a_contract_is_listed_under_its_code(database):
    answer = contracts()
    assert answer.code == 0
    assert answer.out.startswith("no contract; ")
    assert "no contract entered; promises 1 December 2024 to 31 December 2028" in answer.out


def test_contracts_are_listed_with_their_fees_in_words_and_as_json(agreed):
    assert "1,850.00 EUR fixed monthly" in contracts().out
    terms = contracts("--json").json["terms"]
    assert [(t["contract"], t["state"], t["zones"]) for t in terms] == [
        ("K-1", "in force", 1),
        ("K-1", "next", 1),
    ]
    assert terms[0]["fees"][0]["amount"] == "1850.00"
    assert terms[0]["our_notice_in"] == (date(2026, 10, 2) - TODAY).days


def test_one_contract_shows_its_term_and_writes_only_if_asked(agreed, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    shown = contracts("K-1")
    assert shown.out.startswith("K-1: ")
    assert "MARKET/LANE" in shown.out
    assert [p.name for p in tmp_path.iterdir()] == ["floorcare.db"]
    out = tmp_path / "out"
    answer = contracts("K-1", "--out", out, "--json").json
    assert {path.name for path in out.iterdir()} == {
        *(f"contract-K-1-2024-12-01{document.suffix}" for document in CONTRACT_HISTORIES),
        "contract-K-1.ics",
    }
    assert len(answer["files"]) == 4
    assert answer["history"]["rows"][0]["site"] == "MARKET"


def test_no_written_file_holds_a_price(agreed, tmp_path):
    contracts("K-1", "--out", tmp_path / "out")
    for path in (tmp_path / "out").iterdir():
        if path.suffix != ".pdf":
            text = path.read_text(encoding="utf-8")
            assert "1850" not in text
            assert "1,850" not in text


def test_another_term_has_another_file_and_the_same_calendar(agreed, tmp_path):
    contracts("K-1", "--out", tmp_path / "now")
    contracts("K-1", "--term", "2027-01-01", "--out", tmp_path / "next")
    assert (tmp_path / "next" / "contract-K-1-2027-01-01.csv").is_file()
    first, second = (tmp_path / when / "contract-K-1.ics" for when in ("now", "next"))
    assert first.read_bytes() == second.read_bytes()


def test_the_calendar_is_the_same_a_year_later(agreed, tmp_path):
    contracts("K-1", "--out", tmp_path / "now")
    later = (TODAY + timedelta(days=365)).isoformat()
    floorcare("contracts", "K-1", "--today", later, "--out", tmp_path / "later")
    first, second = (tmp_path / when / "contract-K-1.ics" for when in ("now", "later"))
    assert first.read_bytes() == second.read_bytes()


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (("--out", "x"), 3, "are of one contract; name it"),
        (("--term", "2027-01-01"), 3, "are of one contract; name it"),
        (("K-1", "--term", "soon"), 3, '"soon" is no day'),
        (("K-1", "--term", "2027-01-02"), 4, "K-1 has no term from 2027-01-02"),
        (("K-2",), 4, 'There is no contract "K-2"; there are K-1.'),
    ],
)
def test_what_cannot_be_answered_is_refused_with_what_can(words, code, said, agreed):
    answer = contracts(*words)
    assert (answer.code, answer.out) == (code, "")
    assert said in answer.err
