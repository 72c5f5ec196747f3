"""Findings and reasons: what is wrong, and what was decided and why, as data."""

from dataclasses import dataclass
from typing import Literal

Fact = tuple[str, str | float | int | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One problem, with its place and its mend.

    Attributes
    ----------
    problem : what is wrong, in one sentence without the value.
    file, row, column : where it stands; row is the line number a spreadsheet shows, 0 if none.
    value : the offending text, shortened by `shown` for people.
    allowed : what would be accepted.
    mend : what to do about it.
    weight : "stops" (nothing is written) or "asks" (taken in, a person should look).
    """

    problem: str
    file: str = ""
    row: int = 0
    column: str = ""
    value: str = ""
    allowed: str = ""
    mend: str = ""
    weight: Literal["stops", "asks"] = "stops"

    def __str__(self) -> str:
        place = self.file
        if self.row:
            place += f", row {self.row}"
        if self.column:
            place += f", column {self.column}"
        parts = [f"{place}: {self.problem}" if place else self.problem]
        if self.value:
            parts[0] += f" (found {shown(self.value)})"
        if self.allowed:
            parts.append(f"Allowed: {self.allowed}.")
        if self.mend:
            parts.append(f"Mend: {self.mend}.")
        return parts[0].rstrip(".") + ". " + " ".join(parts[1:]) if parts[1:] else parts[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class Reason:
    """Why something is due, moved or refused.

    Attributes
    ----------
    rule : the rule's name as it stands in the rules catalogue.
    inside : the sentence for the contractor.
    customer : the sentence for the customer; says what is done and why it is due.
    facts : the numbers and dates the rule looked at, as (name, value) pairs.
    rejected : (alternative, why not) pairs.
    """

    rule: str
    inside: str
    customer: str
    facts: tuple[Fact, ...] = ()
    rejected: tuple[tuple[str, str], ...] = ()


def shown(value: str, *, longest: int = 60) -> str:
    """The value in quotes, cut to a readable length, control characters made visible.

    >>> shown("Hall B")
    '"Hall B"'
    """
    clean = "".join(c if c.isprintable() else "\N{SYMBOL FOR SUBSTITUTE FORM TWO}" for c in value)
    if len(clean) > longest:
        clean = f"{clean[: longest - 1]}… ({len(value):,} characters)"
    return f'"{clean}"'
