"""Saying things on a terminal: findings, troubles, progress, JSON."""

import dataclasses
import json
import sys
from collections.abc import Callable, Iterable
from datetime import date, datetime
from decimal import Decimal
from enum import Enum
from math import isfinite
from pathlib import Path

import typer

from floorcare.errors import FloorcareError
from floorcare.findings import Finding

MOST_FINDINGS = 40
"""More than this are counted, not printed; --json gives all of them."""

NO_BRANCH = "No branch is entered yet. Next: floorcare load FOLDER"
"""What there is to say where there is nobody to plan for."""


def say_trouble(error: FloorcareError) -> None:
    """An error, and every finding behind it, on the error stream."""
    typer.echo(str(error), err=True)
    say_findings(error.findings)


def say_findings(findings: Iterable[Finding]) -> None:
    """Findings one a line, what stops first."""
    ordered = sorted(findings, key=lambda f: f.weight != "stops")
    for finding in ordered[:MOST_FINDINGS]:
        typer.echo(f"  {'asks: ' if finding.weight == 'asks' else ''}{finding}", err=True)
    if len(ordered) > MOST_FINDINGS:
        typer.echo(f"  … and {len(ordered) - MOST_FINDINGS} more", err=True)


def progress(what: str) -> Callable[[int, int], None]:
    """A teller of (done, total) on one line of the error stream; silent where nobody watches."""
    if not sys.stderr.isatty():
        return lambda done, total: None  # noqa: ARG005

    def tell(done: int, total: int) -> None:
        end = "\n" if done >= total else ""
        sys.stderr.write(f"\r{what}: {done:,} of {total:,}{end}")
        sys.stderr.flush()

    return tell


def as_json(answer: object) -> str:
    """Any frozen answer as JSON text: dates in ISO form, words of enums, infinity as null."""
    return json.dumps(_plain(answer), ensure_ascii=False, indent=2, sort_keys=False)


def _plain(value: object) -> object:
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {f.name: _plain(getattr(value, f.name)) for f in dataclasses.fields(value)}
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, datetime | date):
        return value.isoformat()
    if isinstance(value, dict):
        return {str(key): _plain(each) for key, each in value.items()}
    if isinstance(value, frozenset | set):
        return sorted(str(_plain(each)) for each in value)
    if isinstance(value, tuple | list):
        return [_plain(each) for each in value]
    if isinstance(value, Path):
        return str(value)
    if isinstance(value, Decimal):
        return f"{value:f}"  # money to the digit, which a JSON number may not keep
    if isinstance(value, float) and not isfinite(value):
        return None
    return value
