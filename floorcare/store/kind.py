"""What the bringing in of rows is told by: kinds of rows, who writes, and what came of it."""

from dataclasses import dataclass, field
from datetime import date, datetime
from decimal import Decimal
from typing import Any, Literal, NamedTuple

from sqlalchemy import Connection, Table

from floorcare.store.columns import FOLDER

Values = tuple[Any, ...]
What = Literal["added", "changed", "ended", "withdrawn", "outranked"]


@dataclass(frozen=True, slots=True, kw_only=True)
class RowChange:
    """One difference, in people's words.

    kind : the kind's word, such as "readings".
    key : which row, such as "NORTH/LANE recoat 2026-03-02".
    what : "outranked" is what the folder says and the program knows otherwise; it is not applied.
    fields : (column, text before, text after) of each that differs; none for an added row.
    """

    kind: str
    key: str
    what: What
    fields: tuple[tuple[str, str, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PutCount:
    """How many were added, changed (ended and withdrawn ones included), left alone, outranked.

    changes : what they were, at most 500 of a kind, added ones last.
    """

    added: int = 0
    changed: int = 0
    unchanged: int = 0
    outranked: int = 0
    changes: tuple[RowChange, ...] = field(default=(), compare=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Writer:
    """Who writes: on which connection, when, and whether a folder is speaking or the program."""

    connection: Connection
    who: str
    now: datetime
    origin: str = FOLDER


@dataclass(frozen=True, slots=True, kw_only=True)
class Timed:
    """Rows that hold over some days.

    starts, ends : the columns of the first and last day.
    competes : so many leading columns of the key name what one row at a time may hold.
    """

    starts: str
    ends: str
    competes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """One kind of row: its table, its word for people, its natural key and its values.

    The first column of the key is the parent's id, except where `parented` says there is none.
    `new` are columns that are set only when a row is added. `order` names columns whose days must
    not run backwards, `least_zero` those that are never negative. A row whose `visit` column is
    filled was entered in the program, whoever speaks.
    """

    table: Table
    word: str
    key: tuple[str, ...]
    values: tuple[str, ...]
    parented: bool = True
    timed: Timed | None = None
    new: tuple[tuple[str, Any], ...] = ()
    order: tuple[str, ...] = ()
    least_zero: tuple[str, ...] = ()
    visit: str = ""

    @property
    def columns(self) -> tuple[str, ...]:
        """The columns an incoming row has: key, then values."""
        return self.key + self.values

    @property
    def withdraws(self) -> bool:
        """Whether its rows can be taken back."""
        return "withdrawn_at" in self.table.c

    @property
    def ranks(self) -> bool:
        """Whether it is kept where a row was entered, and by whom it was taken back."""
        return "origin" in self.table.c


class Difference(NamedTuple):
    """One row that was not left alone: its key and (column, before, after) of what differs."""

    what: What
    key: Values
    pairs: tuple[tuple[str, Any, Any], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Merged:
    """What came of it.

    rows : the rows, key and values, that were added or changed, as they now stand.
    added : the keys of those that were added.
    differences : every row but the added ones, in the order in which they were made.
    """

    kind: Kind
    count: PutCount
    rows: tuple[Values, ...]
    added: tuple[Values, ...]
    differences: tuple[Difference, ...]

    @property
    def keys(self) -> tuple[Values, ...]:
        """The natural keys of the rows that were added or changed."""
        return tuple(row[: len(self.kind.key)] for row in self.rows)

    @property
    def parents(self) -> set[Any]:
        """What the rows belong to: the first part of their keys."""
        return {row[0] for row in self.rows}

    @property
    def before(self) -> tuple[dict[str, Any], ...]:
        """For each changed row its key, and what changed from what to what, for the history."""
        return tuple(
            {
                "key": dict(zip(self.kind.key, map(_plain, one.key), strict=True)),
                "changed": {name: [_plain(old), _plain(new)] for name, old, new in one.pairs},
            }
            for one in self.differences
            if one.what != "outranked"
        )

    def ever(self, column: str) -> set[Any]:
        """Every value of a column that a row concerned has now or had before."""
        at = self.kind.columns.index(column)
        found = {row[at] for row in self.rows}
        for one in self.differences:
            found.update(old for name, old, _ in one.pairs if name == column)
        return found - {None}


def _plain(value: Any) -> Any:
    if isinstance(value, Decimal):
        return str(value)
    return value.isoformat() if isinstance(value, (date, datetime)) else value
