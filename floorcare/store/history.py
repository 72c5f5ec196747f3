"""The append-only account of what happened."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, Row, insert, select

from floorcare.store import rows


@dataclass(frozen=True, slots=True, kw_only=True)
class HistoryEntry:
    """One thing that happened: when, by whom, what in a few words, and its figures."""

    at: datetime
    who: str
    what: str
    detail: Mapping[str, Any]


def record(connection: Connection, entry: HistoryEntry) -> None:
    """Add an entry; none is ever changed."""
    detail = json.dumps(dict(entry.detail), ensure_ascii=False, sort_keys=True)
    connection.execute(
        insert(rows.history_entry).values(
            at=entry.at, who=entry.who, what=entry.what, detail=detail
        )
    )


def entry_from_row(row: Row[Any]) -> HistoryEntry:
    """The entry of a row."""
    return HistoryEntry(at=row.at, who=row.who, what=row.what, detail=json.loads(row.detail))


def history_of(connection: Connection, limit: int) -> tuple[HistoryEntry, ...]:
    """The latest entries, newest first."""
    entry = rows.history_entry
    found = connection.execute(select(entry).order_by(entry.c.id.desc()).limit(limit))
    return tuple(map(entry_from_row, found))
