import io
import json
import sys
from dataclasses import dataclass
from datetime import UTC, date, datetime
from decimal import Decimal
from math import inf, nan
from pathlib import Path

import pytest

from floorcare.errors import NotUnderstood
from floorcare.faces.cli.telling import MOST_FINDINGS, as_json, progress, say_findings, say_trouble
from floorcare.findings import Finding
from floorcare.ground.trade.visit import VisitState

ASKS = Finding(problem="no reference", file="promises.csv", row=2, weight="asks")
STOPS = Finding(problem="negative area", file="zones.csv", row=3, value="-80.5")


def test_an_error_is_told_with_every_finding_behind_it_on_the_error_stream(capsys):
    say_trouble(NotUnderstood("2 problems found.", where="care", findings=(ASKS, STOPS)))
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err.splitlines() == [
        "care: 2 problems found.",
        '  zones.csv, row 3: negative area (found "-80.5")',
        "  asks: promises.csv, row 2: no reference",
    ]


def test_what_stops_comes_first_and_too_many_are_counted(capsys):
    many = [ASKS] * (MOST_FINDINGS + 5) + [STOPS]
    say_findings(many)
    lines = capsys.readouterr().err.splitlines()
    assert "negative area" in lines[0]
    assert len(lines) == MOST_FINDINGS + 1
    assert lines[-1] == "  … and 6 more"


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_progress_is_one_line_that_a_person_watches_and_ends(monkeypatch):
    screen = Terminal()
    monkeypatch.setattr(sys, "stderr", screen)
    tell = progress("planning branches")
    tell(0, 2)
    tell(1, 2)
    assert "\n" not in screen.getvalue()
    tell(2, 2)
    assert screen.getvalue().split("\r") == [
        "",
        "planning branches: 0 of 2",
        "planning branches: 1 of 2",
        "planning branches: 2 of 2\n",
    ]


def test_where_nobody_watches_progress_is_silent(capsys):
    progress("planning branches")(1, 2)
    assert capsys.readouterr().err == ""


@dataclass(frozen=True)
class Answer:
    night: date
    at: datetime
    state: VisitState
    needs: frozenset[str]
    path: Path
    rows: tuple[tuple[str, int], ...]
    early: float
    none: str | None = None


def test_any_answer_becomes_json_in_plain_words():
    answer = Answer(
        night=date(2026, 12, 2),
        at=datetime(2026, 11, 23, 14, tzinfo=UTC),
        state=VisitState.HELD,
        needs=frozenset({"wet", "loud"}),
        path=Path("out/Süd.csv"),
        rows=(("sites", 2),),
        early=inf,
    )
    text = as_json({"answer": answer, 7: True})
    assert "Süd" in text
    assert json.loads(text) == {
        "answer": {
            "night": "2026-12-02",
            "at": "2026-11-23T14:00:00+00:00",
            "state": "held",
            "needs": ["loud", "wet"],
            "path": str(Path("out/Süd.csv")),
            "rows": [["sites", 2]],
            "early": None,
            "none": None,
        },
        "7": True,
    }


@pytest.mark.parametrize("value", [inf, -inf, nan])
def test_what_json_has_no_number_for_is_null(value):
    assert json.loads(as_json([value])) == [None]


@pytest.mark.parametrize(
    ("amount", "text"), [("1850.00", "1850.00"), ("0.125", "0.125"), ("1E+3", "1000")]
)
def test_money_is_text_to_the_digit(amount, text):
    assert json.loads(as_json({"amount": Decimal(amount)})) == {"amount": text}
