"""The command line as a person meets it: words in, exit code and both streams out."""

import io
import json
import sqlite3
import sys
from contextlib import closing, redirect_stderr, redirect_stdout
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from unittest.mock import patch

import pytest

from floorcare.faces.cli.app import run


@dataclass(frozen=True)
class Answer:
    code: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        return json.loads(self.out, parse_constant=_refused)


def _refused(constant: str) -> None:
    raise AssertionError(f"{constant} is no JSON")


def floorcare(*words: object) -> Answer:
    """Run `floorcare` with these words, through the exit codes."""
    out, err = io.StringIO(), io.StringIO()
    argv = ["floorcare", *(str(word) for word in words)]
    with (
        patch.object(sys, "argv", argv),
        redirect_stdout(out),
        redirect_stderr(err),
        pytest.raises(SystemExit) as left,
    ):
        run()
    assert isinstance(left.value.code, int)
    return Answer(left.value.code, out.getvalue(), err.getvalue())


def rows_of(database: Path) -> dict[str, int]:
    """How many rows every table of a database file holds."""
    with closing(sqlite3.connect(database)) as raw:
        tables = raw.execute("SELECT name FROM sqlite_master WHERE type = 'table'").fetchall()
        return {
            name: raw.execute(f'SELECT count(*) FROM "{name}"').fetchone()[0] for (name,) in tables
        }


def everything_in(database: Path) -> list[str]:
    """Every row of every table, as text."""
    with closing(sqlite3.connect(database)) as raw:
        return list(raw.iterdump())
