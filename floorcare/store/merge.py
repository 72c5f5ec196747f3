"""Bringing rows in by their natural key: what is new is added, what differs is changed.

What the incoming rows do not name stays as it is, with one exception: rows that hold over some days
(`Timed`) give way to a later word about the same days. A stored row that the incoming rows leave
out but whose days they claim ends the day before, or is withdrawn where it starts no earlier.

A row that was entered in the program outranks the folder: a folder's row that differs is not
applied, and one whose days reach into those of the program's row ends the day before.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Any

from sqlalchemy import (
    Column,
    ColumnElement,
    Connection,
    Table,
    bindparam,
    insert,
    literal,
    null,
    select,
    update,
)

from floorcare.errors import NotUnderstood
from floorcare.store.columns import FOLDER
from floorcare.store.kind import (
    Kind,
    Merged,
    PutCount,
    RowChange,
    Timed,
    Values,
    Writer,
)
from floorcare.store.sorting import Stands, sort_out

__all__ = [
    "Kind",
    "Merged",
    "PutCount",
    "RowChange",
    "Timed",
    "Values",
    "Writer",
    "ids_by",
    "in_parts",
    "insert_rows",
    "merge",
]

_AT_ONCE = 5000


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
    writer: Writer, kind: Kind, incoming: Iterable[Values], back: Mapping[Values, str] | None = None
) -> Merged:
    """Bring the incoming rows in; each is key and values in the order of `kind.columns`.

    Parameters
    ----------
    back : keys of rows to withdraw, each with the place to name where there is no such row. One
        that comes in as well is kept for the account, withdrawn.

    Raises
    ------
    NotKnown : a row to withdraw is neither stored nor comes in.
    NotUnderstood : two incoming rows have one key and differ, or a row cannot be as it is.
    """
    wanted = _by_key(kind, incoming)
    taken_back = back or {}
    stored, ids = _stored(writer.connection, kind, {key[0] for key in (*wanted, *taken_back)})
    out = sort_out(writer, kind, wanted, stored, taken_back)
    _add(writer, kind, out.added)
    _change(writer, kind, [(ids[key], new) for key, new in out.changed.items()])
    return Merged(
        kind=kind,
        count=PutCount(
            added=len(out.added),
            changed=len(out.changed),
            unchanged=out.unchanged,
            outranked=len(out.differences) - len(out.changed),
        ),
        rows=tuple(
            key + new.values for part in (out.added, out.changed) for key, new in part.items()
        ),
        added=tuple(out.added),
        differences=tuple(out.differences),
    )


def in_parts(ids: Iterable[Any]) -> Iterator[list[Any]]:
    """Sorted ids in parts small enough for one statement of any database."""
    ordered = sorted(ids)
    for start in range(0, len(ordered), _AT_ONCE):
        yield ordered[start : start + _AT_ONCE]


def ids_by(connection: Connection, *columns: Column[Any]) -> dict[Any, int]:
    """Ids by one column's value, or by a tuple of several."""
    table = columns[0].table
    rows = connection.execute(select(table.c.id, *columns))
    if len(columns) == 1:
        return {row[1]: row[0] for row in rows}
    return {tuple(row[1:]): row[0] for row in rows}


def _by_key(kind: Kind, incoming: Iterable[Values]) -> dict[Values, Values]:
    wide = len(kind.key)
    wanted: dict[Values, Values] = {}
    for row in incoming:
        key, values = row[:wide], row[wide:]
        if wanted.setdefault(key, values) != values:
            raise NotUnderstood(
                f"two {kind.word} named alike differ ({_named(kind, key)}); keep one of them"
            )
        _refuse_impossible(kind, row)
    return wanted


def _named(kind: Kind, key: Values) -> str:
    return ", ".join(str(part) for part in key[kind.parented :] if part not in ("", None))


def _refuse_impossible(kind: Kind, row: Values) -> None:
    if not kind.order and not kind.least_zero:
        return
    of = dict(zip(kind.columns, row, strict=True))
    wrong = [
        f"ends {of[then]} before it starts {of[one]}"
        for one, then in pairwise(kind.order)
        if of[then] is not None and of[then] < of[one]
    ]
    wrong += [
        f"{name.replace('_', ' ')} {of[name]:g}: allowed 0 or more"
        for name in kind.least_zero
        if of[name] is not None and of[name] < 0
    ]
    if wrong:
        named = _named(kind, row[: len(kind.key)])
        raise NotUnderstood(wrong[0], where=f"{kind.word} {named}")


def _stored(
    connection: Connection, kind: Kind, parents: set[Any]
) -> tuple[dict[Values, Stands], dict[Values, int]]:
    c, wide = kind.table.c, len(kind.key)
    wanted: list[ColumnElement[Any]] = [c[name] for name in kind.columns]
    wanted.append(c.withdrawn_at if kind.withdraws else null().label("withdrawn_at"))
    wanted.append(c.origin if kind.ranks else literal(FOLDER).label("origin"))
    found: dict[Values, Stands] = {}
    ids: dict[Values, int] = {}
    for part in in_parts(parents):
        chosen = select(c.id, *wanted).where(c[kind.key[0]].in_(part)).order_by(c.id)
        for row_id, *row in connection.execute(chosen):
            key = tuple(row[:wide])
            ids[key] = row_id
            found[key] = Stands(tuple(row[wide:-2]), row[-2], row[-1])
    return found, ids


def _marks(writer: Writer, kind: Kind, new: Stands) -> tuple[tuple[str, ...], Values]:
    """The columns beside key and values that say whose word the row is, and what they hold."""
    if not kind.withdraws:
        return (), ()
    if not kind.ranks:
        return ("withdrawn_at",), (new.withdrawn_at,)
    by = writer.who if new.withdrawn_at is not None else ""
    return ("withdrawn_at", "origin", "withdrawn_by"), (new.withdrawn_at, new.origin, by)


def _add(writer: Writer, kind: Kind, added: Mapping[Values, Stands]) -> None:
    if not added:
        return
    names, _ = _marks(writer, kind, next(iter(added.values())))
    columns = (*kind.columns, *(name for name, _ in kind.new), *names)
    extra = tuple(value for _, value in kind.new)
    insert_rows(
        writer.connection,
        kind.table,
        columns,
        [(*key, *new.values, *extra, *_marks(writer, kind, new)[1]) for key, new in added.items()],
    )


def _change(writer: Writer, kind: Kind, changed: list[tuple[int, Stands]]) -> None:
    if not changed:
        return
    names = kind.values + _marks(writer, kind, changed[0][1])[0]
    new: dict[str, Any] = {name: bindparam(f"new_{name}") for name in names}
    lines = []
    for row_id, stands in changed:
        values = stands.values + _marks(writer, kind, stands)[1]
        lines.append(
            {"row_id": row_id} | {f"new_{n}": v for n, v in zip(names, values, strict=True)}
        )
    c: Any = kind.table.c
    writer.connection.execute(
        update(kind.table).where(c.id == bindparam("row_id")).values(new), lines
    )
