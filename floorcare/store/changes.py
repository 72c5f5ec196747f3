"""The difference a load makes, row by row, in people's words."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from sqlalchemy import Connection, Select, select

from floorcare.ground.worktime.window import WEEKDAY_NAMES
from floorcare.store import contract_rows, crew_rows, equipment_rows, people_rows, rows
from floorcare.store.kind import Kind, Merged, PutCount, RowChange, Values
from floorcare.store.texts import numbers_of

MOST = 500
"""So many changes of a kind are told one by one; all are counted. Assumption."""

Names = dict[str, Mapping[int, str]]
_ENDS = {"leaves": "from", "reaches": "to"}
"""A drive's places; no code is the branch itself."""


def told(connection: Connection, merged: Iterable[Merged]) -> dict[str, PutCount]:
    """By kind, how many were added, changed, left alone and outranked, and which they were."""
    names: Names = {}
    return {
        one.kind.word: replace(one.count, changes=_changes(connection, one, names))
        for one in merged
    }


def _changes(connection: Connection, merged: Merged, names: Names) -> tuple[RowChange, ...]:
    kind = merged.kind
    differences = merged.differences[:MOST]
    added = merged.added[: MOST - len(differences)]
    if not differences and not added:
        return ()
    for column in (*kind.key, *kind.values):
        if column in _NAMED and column not in names:
            found = connection.execute(_NAMED[column]())
            names[column] = {row[0]: " ".join(str(part) for part in row[1:]) for row in found}
    listed = [
        RowChange(
            kind=kind.word,
            key=key_text(kind, one.key, names),
            what=one.what,
            fields=tuple(
                (_spoken(name), field_text(name, old, names), field_text(name, new, names))
                for name, old, new in one.pairs
            ),
        )
        for one in differences
    ]
    listed += [
        RowChange(kind=kind.word, key=key_text(kind, key, names), what="added") for key in added
    ]
    return tuple(listed)


def key_text(kind: Kind, key: Values, names: Names) -> str:
    """A row's key as people write it: SITE/ZONE/STATION, then what tells it from its neighbours."""
    said = ""
    for name, value in zip(kind.key, key, strict=True):
        part = field_text(name, value, names)
        joint = "/" if name in ("code", "station_id") else " "
        if name == "zone_id":
            # An exclusion names its site beside its zone: said once is enough.
            said = said.removesuffix(part.partition("/")[0]).rstrip()
        said += f"{joint}{part}" if said and part else part
    return said


def field_text(column: str, value: Any, names: Names) -> str:
    """A value as people read it, "" for none; an id is told as the code behind it."""
    if value is None or value == date.min:
        return ""
    if column in names:
        return names[column].get(value, "")
    match value:
        case bool():
            return "yes" if value else "no"
        case int() if column.endswith("_minute"):
            return f"{value // 60:02d}:{value % 60:02d}"
        case int() if column == "geometry_deg":
            return f"{value}°" if value else ""
        case str() if column in _ENDS:
            return f"{_ENDS[column]} {value or 'the branch'}"
        case str() if column == "weekdays":
            return ",".join(WEEKDAY_NAMES[day][:3] for day in sorted(numbers_of(value)))
        case datetime():
            return f"{value:%Y-%m-%d %H:%M} UTC"
        case date():
            return value.isoformat()
        case float():
            return f"{value:.10g}"
        case Decimal():
            return f"{value:f}"
    return str(value)


def _spoken(column: str) -> str:
    spoken = {"withdrawn_at": "withdrawn"}.get(column, column)
    return spoken.removesuffix("_id")


def _codes(table: Any) -> Callable[[], Select[Any]]:
    return lambda: select(table.c.id, table.c.code)


def _zones() -> Select[Any]:
    zone, site = rows.zone, rows.site
    return select(zone.c.id, site.c.code + "/" + zone.c.code).join(site)


def _terms() -> Select[Any]:
    term, contract = contract_rows.term, contract_rows.contract
    return select(term.c.id, contract.c.code, term.c.starts_on).join(contract)


_NAMED: dict[str, Callable[[], Select[Any]]] = {
    "customer_id": _codes(rows.customer),
    "branch_id": _codes(rows.branch),
    "site_id": _codes(rows.site),
    "area_id": _codes(rows.area),
    "zone_id": _zones,
    "station_id": _codes(rows.station),
    "worker_id": _codes(crew_rows.worker),
    "crew_id": _codes(crew_rows.crew),
    "contact_id": _codes(people_rows.contact),
    "machine_id": _codes(equipment_rows.machine),
    "instrument_id": _codes(equipment_rows.instrument),
    "first_id": _codes(equipment_rows.instrument),
    "second_id": _codes(equipment_rows.instrument),
    "contract_id": _codes(contract_rows.contract),
    "term_id": _terms,
}
"""How each column that holds an id is told."""
