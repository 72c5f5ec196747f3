"""Bringing rows in by their natural key: what is new is added, what differs is changed.

What the incoming rows do not name stays as it is, with one exception: rows that hold over some days
(`Timed`) give way to a later word about the same days. A stored row that the incoming rows leave
out but whose days they claim ends the day before, or is withdrawn where it starts no earlier.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

from sqlalchemy import Column, Connection, Table, bindparam, insert, select, update

from floorcare.errors import NotUnderstood

_AT_ONCE = 5000
Values = tuple[Any, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PutCount:
    """How many were added, changed and left alone."""

    added: int = 0
    changed: int = 0
    unchanged: int = 0


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
    `new` are columns that are set only when a row is added.
    """

    table: Table
    word: str
    key: tuple[str, ...]
    values: tuple[str, ...]
    parented: bool = True
    timed: Timed | None = None
    new: tuple[tuple[str, Any], ...] = ()

    @property
    def columns(self) -> tuple[str, ...]:
        """The columns an incoming row has: key, then values."""
        return self.key + self.values


@dataclass(frozen=True, slots=True, kw_only=True)
class Merged:
    """What came of it.

    keys : the natural keys of the rows that were added or changed.
    before : for each changed row its key, and what changed from what to what.
    """

    word: str
    count: PutCount
    keys: tuple[Values, ...]
    before: tuple[dict[str, Any], ...]

    @property
    def parents(self) -> set[Any]:
        """What the rows belong to: the first part of their keys."""
        return {key[0] for key in self.keys}


def insert_rows(
    connection: Connection, table: Table, columns: Sequence[str], rows: Sequence[Values]
) -> None:
    """Insert many rows of one column set as fast as the driver takes them."""
    if not rows:
        return
    dialect = connection.dialect
    if not dialect.positional:
        connection.execute(insert(table), [dict(zip(columns, row, strict=True)) for row in rows])
        return
    # About four times as fast as a list of dicts through Core.
    statement = insert(table).values({name: bindparam(name) for name in columns})
    compiled = statement.compile(dialect=dialect)
    order = [list(columns).index(name) for name in compiled.positiontup or ()]
    readied = list(zip(*rows, strict=True))
    for at, name in enumerate(columns):
        ready = table.c[name].type.dialect_impl(dialect).bind_processor(dialect)
        if ready is not None:
            readied[at] = tuple(map(ready, readied[at]))
    ordered = list(zip(*(readied[at] for at in order), strict=True))
    connection.exec_driver_sql(str(compiled), ordered)


def merge(
    connection: Connection, kind: Kind, incoming: Iterable[Values], *, now: datetime
) -> Merged:
    """Bring the incoming rows in; each is key and values in the order of `kind.columns`.

    Raises
    ------
    NotUnderstood : two incoming rows have one key and differ.
    """
    wide = len(kind.key)
    wanted = _by_key(kind, incoming, wide)
    stored = _stored(connection, kind, {key[0] for key in wanted}, wide)
    added = [key + values for key, values in wanted.items() if key not in stored]
    changed: dict[Values, Values] = {
        key: values for key, values in wanted.items() if key in stored and stored[key][1] != values
    }
    unchanged = len(wanted) - len(added) - len(changed)
    if kind.timed is not None:
        changed.update(_giving_way(kind, kind.timed, wanted, stored, now))
    columns = kind.columns + tuple(name for name, _ in kind.new)
    extra = tuple(value for _, value in kind.new)
    insert_rows(connection, kind.table, columns, [row + extra for row in added])
    _change(connection, kind, [(stored[key][0], values) for key, values in changed.items()])
    return Merged(
        word=kind.word,
        count=PutCount(added=len(added), changed=len(changed), unchanged=unchanged),
        keys=(*(row[:wide] for row in added), *changed),
        before=tuple(_difference(kind, key, stored[key][1], new) for key, new in changed.items()),
    )


def in_parts(ids: Iterable[Any]) -> Iterator[list[Any]]:
    """Sorted ids in parts small enough for one statement of any database."""
    ordered = sorted(ids)
    for start in range(0, len(ordered), _AT_ONCE):
        yield ordered[start : start + _AT_ONCE]


def _by_key(kind: Kind, incoming: Iterable[Values], wide: int) -> dict[Values, Values]:
    wanted: dict[Values, Values] = {}
    for row in incoming:
        key, values = row[:wide], row[wide:]
        if wanted.setdefault(key, values) != values:
            named = ", ".join(str(part) for part in key[kind.parented :] if part not in ("", None))
            raise NotUnderstood(f"two {kind.word} named alike differ ({named}); keep one of them")
    return wanted


def _stored(
    connection: Connection, kind: Kind, parents: set[Any], wide: int
) -> dict[Values, tuple[int, Values]]:
    c = kind.table.c
    wanted = [c[name] for name in kind.columns]
    found: dict[Values, tuple[int, Values]] = {}
    for part in in_parts(parents):
        chosen = select(c.id, *wanted).where(c[kind.key[0]].in_(part))
        for row in connection.execute(chosen):
            found[tuple(row[1 : 1 + wide])] = (row[0], tuple(row[1 + wide :]))
    return found


def _giving_way(
    kind: Kind,
    timed: Timed,
    wanted: dict[Values, Values],
    stored: dict[Values, tuple[int, Values]],
    now: datetime,
) -> dict[Values, Values]:
    starts, ends = kind.columns.index(timed.starts), kind.columns.index(timed.ends)
    withdrawn = kind.columns.index("withdrawn_at")
    claimed: dict[Values, list[tuple[date, date]]] = {}
    for key, values in wanted.items():
        row = [*key, *values]
        claimed.setdefault(key[: timed.competes], []).append((row[starts], row[ends] or date.max))
    way: dict[Values, Values] = {}
    for key, (_, values) in stored.items():
        row = [*key, *values]
        if key in wanted or row[withdrawn] is not None:
            continue
        last = row[ends] or date.max
        met = [
            first
            for first, until in claimed.get(key[: timed.competes], ())
            if first <= last and row[starts] <= until
        ]
        if not met:
            continue
        if min(met) > row[starts]:
            row[ends] = min(met) - timedelta(days=1)
        else:
            row[withdrawn] = now
        way[key] = tuple(row[len(kind.key) :])
    return way


def _change(connection: Connection, kind: Kind, rows: list[tuple[int, Values]]) -> None:
    if not rows:
        return
    c: Any = kind.table.c
    new: dict[str, Any] = {name: bindparam(f"new_{name}") for name in kind.values}
    names = [f"new_{name}" for name in kind.values]
    connection.execute(
        update(kind.table).where(c.id == bindparam("row_id")).values(new),
        [{"row_id": row_id, **dict(zip(names, values, strict=True))} for row_id, values in rows],
    )


def _difference(kind: Kind, key: Values, old: Values, new: Values) -> dict[str, Any]:
    pairs = zip(kind.values, old, new, strict=True)
    return {
        "key": {name: _plain(part) for name, part in zip(kind.key, key, strict=True)},
        "changed": {name: [_plain(a), _plain(b)] for name, a, b in pairs if a != b},
    }


def _plain(value: Any) -> Any:
    return value.isoformat() if isinstance(value, (date, datetime)) else value


def ids_by(connection: Connection, *columns: Column[Any]) -> dict[Any, int]:
    """Ids by one column's value, or by a tuple of several."""
    table = columns[0].table
    rows = connection.execute(select(table.c.id, *columns))
    if len(columns) == 1:
        return {row[1]: row[0] for row in rows}
    return {tuple(row[1:]): row[0] for row in rows}
