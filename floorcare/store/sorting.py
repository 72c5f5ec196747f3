"""Which of the incoming rows are new, which change what is stored, and which are outranked."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from typing import NamedTuple

from floorcare.errors import NotKnown
from floorcare.store.columns import FOLDER, PROGRAM
from floorcare.store.kind import Difference, Kind, Timed, Values, What, Writer


class Stands(NamedTuple):
    """A row as it is stored, or is to be: its values, when it was taken back, where entered."""

    values: Values
    withdrawn_at: datetime | None = None
    origin: str = FOLDER


@dataclass(slots=True, kw_only=True)
class Sorted:
    """What is to be written, by key, and every difference but the added rows."""

    added: dict[Values, Stands] = field(default_factory=dict)
    changed: dict[Values, Stands] = field(default_factory=dict)
    differences: list[Difference] = field(default_factory=list)
    unchanged: int = 0

    def change(self, kind: Kind, key: Values, old: Stands, new: Stands) -> None:
        """Note a row that is to be changed."""
        self.changed[key] = new
        pairs = _pairs(kind, old, new)
        self.differences.append(Difference(_what(kind, old, new, pairs), key, pairs))

    def outrank(self, kind: Kind, key: Values, stands: Stands, says: Values) -> None:
        """Note what the folder says and the program knows otherwise."""
        pairs = _pairs(kind, stands, stands._replace(values=says))
        self.differences.append(Difference("outranked", key, pairs))


def sort_out(
    writer: Writer,
    kind: Kind,
    wanted: Mapping[Values, Values],
    stored: Mapping[Values, Stands],
    back: Mapping[Values, str],
) -> Sorted:
    """Sort the incoming rows out against the stored ones.

    Parameters
    ----------
    wanted : incoming values by key.
    stored : what stands, by key.
    back : keys of rows to withdraw, with the place to name where there is no such row.

    Raises
    ------
    NotKnown : a row to withdraw is neither stored nor comes in.
    """
    out = Sorted()
    named = {key: values for key, values in wanted.items() if key not in back}
    if kind.timed is not None and kind.ranks and writer.origin == FOLDER:
        named = _clipped(kind, kind.timed, named, stored, out)
    for key, values in named.items():
        new = Stands(values, None, _origin(writer, kind, values))
        old = stored.get(key)
        if old is None:
            out.added[key] = new
        elif old.origin == PROGRAM and new.origin == FOLDER:
            if old == Stands(values, None, PROGRAM):
                out.unchanged += 1
            else:
                out.outrank(kind, key, old, values)
        elif old == new:
            out.unchanged += 1
        else:
            out.change(kind, key, old, new)
    for key, where in back.items():
        _withdraw(writer, kind, key, where, wanted, stored, out)
    if kind.timed is not None:
        _give_way(writer, kind, kind.timed, {*back, *wanted}, named, stored, out)
    return out


def _origin(writer: Writer, kind: Kind, values: Values) -> str:
    if not kind.ranks:
        return FOLDER
    if kind.visit and values[kind.values.index(kind.visit)]:
        return PROGRAM
    return writer.origin


def _withdraw(
    writer: Writer,
    kind: Kind,
    key: Values,
    where: str,
    wanted: Mapping[Values, Values],
    stored: Mapping[Values, Stands],
    out: Sorted,
) -> None:
    old = stored.get(key)
    if old is None:
        if key not in wanted:
            raise NotKnown("there is no such row to withdraw", where=where)
        values = wanted[key]
        out.added[key] = Stands(values, writer.now, _origin(writer, kind, values))
    elif old.withdrawn_at is not None:
        out.unchanged += 1
    elif old.origin == PROGRAM and writer.origin == FOLDER:
        pairs = (("withdrawn_at", None, writer.now),)
        out.differences.append(Difference("outranked", key, pairs))
    else:
        out.change(kind, key, old, old._replace(withdrawn_at=writer.now))


def _days(kind: Kind, timed: Timed, key: Values, values: Values) -> tuple[date, date]:
    row = key + values
    starts, ends = kind.columns.index(timed.starts), kind.columns.index(timed.ends)
    return row[starts], row[ends] or date.max


def _ending(kind: Kind, timed: Timed, values: Values, last: date) -> Values:
    at = kind.values.index(timed.ends)
    return (*values[:at], last, *values[at + 1 :])


def _clipped(
    kind: Kind,
    timed: Timed,
    named: Mapping[Values, Values],
    stored: Mapping[Values, Stands],
    out: Sorted,
) -> dict[Values, Values]:
    """The folder's rows, ended the day before a row of the program's begins."""
    firm: dict[Values, list[tuple[Values, Stands]]] = {}
    for key, row in stored.items():
        if row.origin == PROGRAM and row.withdrawn_at is None:
            firm.setdefault(key[: timed.competes], []).append((key, row))
    kept = {}
    for key, values in named.items():
        first, last = _days(kind, timed, key, values)
        met = []
        for other, row in firm.get(key[: timed.competes], ()):
            starts, ends = _days(kind, timed, other, row.values)
            if other != key and first <= ends and starts <= last:
                met.append((starts, row))
        begins, stands = min(met, key=lambda one: one[0], default=(date.max, None))
        if stands is None:
            kept[key] = values
        elif begins > first:
            kept[key] = _ending(kind, timed, values, begins - timedelta(days=1))
        else:
            out.outrank(kind, key, stands, values)
    return kept


def _give_way(
    writer: Writer,
    kind: Kind,
    timed: Timed,
    spoken_of: set[Values],
    named: Mapping[Values, Values],
    stored: Mapping[Values, Stands],
    out: Sorted,
) -> None:
    """End or withdraw the stored rows whose days the incoming ones claim."""
    claimed: dict[Values, list[tuple[date, date]]] = {}
    for key, values in named.items():
        claimed.setdefault(key[: timed.competes], []).append(_days(kind, timed, key, values))
    for key, old in stored.items():
        if key in spoken_of or old.withdrawn_at is not None:
            continue
        if old.origin == PROGRAM and writer.origin == FOLDER:
            continue
        first, last = _days(kind, timed, key, old.values)
        met = [
            begins
            for begins, until in claimed.get(key[: timed.competes], ())
            if begins <= last and first <= until
        ]
        if not met:
            continue
        if min(met) > first:
            ended = _ending(kind, timed, old.values, min(met) - timedelta(days=1))
            out.change(kind, key, old, old._replace(values=ended))
        else:
            out.change(kind, key, old, old._replace(withdrawn_at=writer.now))


def _pairs(kind: Kind, old: Stands, new: Stands) -> tuple[tuple[str, object, object], ...]:
    names = (*kind.values, "withdrawn_at", "origin")
    before = (*old.values, old.withdrawn_at, old.origin)
    after = (*new.values, new.withdrawn_at, new.origin)
    return tuple((n, a, b) for n, a, b in zip(names, before, after, strict=True) if a != b)


def _what(
    kind: Kind, old: Stands, new: Stands, pairs: tuple[tuple[str, object, object], ...]
) -> What:
    if new.withdrawn_at is not None and old.withdrawn_at is None:
        return "withdrawn"
    if len(pairs) == 1 and pairs[0][0] in ("to_on", "ends_on"):
        _, before, after = pairs[0]
        timed = kind.timed is not None and isinstance(before, date) and isinstance(after, date)
        if after is not None and (before is None or (timed and after < before)):  # type: ignore[operator]
            return "ended"
    return "changed"
