"""One TOML sheet under reading: its figures with their sources, and everything wrong with it."""

import math
import tomllib
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import Any, Literal

from floorcare.findings import Finding
from floorcare.ground.units.area import m2_from_ft2, m2_per_l_from_ft2_per_gal, m_from_inch


def _as_is(figure: float) -> float:
    return figure


def _one_more(parts: float) -> float:
    return parts + 1.0


UNITS: dict[str, dict[str, Callable[[float], float]]] = {
    "m2/h": {"m2/h": _as_is, "ft2/h": m2_from_ft2},
    "m2/L": {"m2/L": _as_is, "ft2/gal": m2_per_l_from_ft2_per_gal},
    "m2": {"m2": _as_is, "ft2": m2_from_ft2},
    "m": {"m": _as_is, "in": m_from_inch},
    # 1:N is read both ways in the trade, so the file says which.
    "parts in all": {"parts to parts": _one_more, "part in parts": _as_is},
}
"""For each unit the ground works in, the units a file may use."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Number:
    """What a figure may be: its range, its unit, and what holds where it is missing."""

    low: float = 0.0
    high: float
    unit: str = ""
    whole: bool = False
    default: float | None = None
    optional: bool = False


SHARE = Number(high=1.0)
DAYS = Number(high=36_500, whole=True)
COUNT = Number(high=10_000, whole=True)


@dataclass(slots=True)
class Sheet:
    """A file under reading; `findings` grows as its parts are taken."""

    file: str
    findings: list[Finding] = field(default_factory=list)

    def find(
        self,
        place: str,
        problem: str,
        *,
        value: str = "",
        allowed: str = "",
        mend: str = "",
        weight: Literal["stops", "asks"] = "stops",
    ) -> None:
        """Note a problem and its place."""
        self.findings.append(
            Finding(
                problem=problem,
                file=self.file,
                column=place,
                value=value,
                allowed=allowed,
                mend=mend,
                weight=weight,
            )
        )

    def parsed(self, text: str) -> dict[str, Any]:
        """The text's tables; empty, with a finding, where it is no TOML."""
        try:
            return tomllib.loads(text)
        except tomllib.TOMLDecodeError as error:
            self.find("", f"no TOML: {error}", mend="mend the line it names")
            return {}

    def only(self, table: dict[str, Any], allowed: Iterable[str], place: str) -> None:
        """Note every key that means nothing here."""
        known = tuple(allowed)
        for key in table:
            if key not in known:
                self.find(
                    _at(place, key),
                    "this key means nothing here",
                    value=key,
                    allowed=", ".join(known),
                    mend="mend or remove it",
                )

    def table(self, parent: dict[str, Any], key: str, place: str) -> dict[str, Any]:
        """The table under that key; empty, with a finding, where there is none."""
        found = parent.get(key)
        if isinstance(found, dict):
            return found
        self.find(_at(place, key), "a table is missing here", mend="add it")
        return {}

    def tables(self, parent: dict[str, Any], key: str) -> list[tuple[str, dict[str, Any]]]:
        """The tables under that key with their names, in the order of the file."""
        whole = self.table(parent, key, "")
        return [(name, self.table(whole, name, key)) for name in whole]

    def list_of_tables(self, parent: dict[str, Any], key: str) -> list[dict[str, Any]]:
        """The `[[key]]` tables, none where the key is left out."""
        found = parent.get(key, [])
        if isinstance(found, list) and all(isinstance(table, dict) for table in found):
            return found
        self.find(key, f"this is no list of tables [[{key}]]", mend="write it so")
        return []

    def text(self, table: dict[str, Any], key: str, place: str, *, needed: bool = True) -> str:
        """The text under that key, "" where it may be left out."""
        found = table.get(key, "")
        if not isinstance(found, str):
            self.find(_at(place, key), "this is no text", value=str(found), mend="put it in quotes")
            return ""
        if needed and not found.strip():
            self.find(_at(place, key), "a text is missing here", mend="add it")
        return found.strip()

    def flag(self, table: dict[str, Any], key: str, place: str) -> bool:
        """Whether the key says true; false where it is left out."""
        found = table.get(key, False)
        if not isinstance(found, bool):
            self.find(
                _at(place, key), "neither yes nor no", value=str(found), allowed="true, false"
            )
            return False
        return found

    def codes(
        self, table: dict[str, Any], key: str, place: str, *, allowed: tuple[str, ...]
    ) -> tuple[str, ...]:
        """The list of names under that key, each of them allowed."""
        found = table.get(key, [])
        if not isinstance(found, list) or not all(isinstance(name, str) for name in found):
            self.find(_at(place, key), "this is no list of names", mend='write ["one", "two"]')
            return ()
        for name in found:
            if name not in allowed:
                self.find(
                    _at(place, key),
                    "not known in this file",
                    value=name,
                    allowed=", ".join(allowed),
                    mend="mend the name",
                )
        return tuple(name for name in found if name in allowed)

    def source_of(self, table: dict[str, Any], key: str) -> str:
        """Where the figure under that key comes from."""
        found = table.get(key)
        source = found.get("source", "") if isinstance(found, dict) else ""
        return source if isinstance(source, str) else ""

    def numbers(
        self, table: dict[str, Any], rules: dict[str, Number], place: str
    ) -> dict[str, Any]:
        """Every figure the rules name, in the ground's units, None where it may be left out."""
        return {key: self._number(table, key, rule, place) for key, rule in rules.items()}

    def _number(self, table: dict[str, Any], key: str, rule: Number, place: str) -> float | None:
        place = _at(place, key)
        if key not in table:
            if rule.default is not None or rule.optional:
                return rule.default
            self.find(place, "a figure is missing here", mend='add { value = …, source = "…" }')
            return rule.low
        found = table[key]
        if not isinstance(found, dict):
            self.find(
                place,
                "a figure without its source",
                value=str(found),
                mend='write { value = …, source = "…" }',
            )
            return rule.low
        self.only(found, ("value", "unit", "source"), place)
        if not self.source_of(table, key).strip():
            self.find(place, "a figure without its source", mend='name the source, or "Assumption"')
        figure = self._figure(found.get("value"), place, rule)
        return self._converted(figure, found.get("unit", ""), place, rule)

    def _figure(self, value: object, place: str, rule: Number) -> float:
        if isinstance(value, bool) or not isinstance(value, (int, float)):
            self.find(place, "no number", value=str(value), mend="give value = a number")
            return rule.low
        if not math.isfinite(value) or (rule.whole and value != int(value)):
            self.find(place, "no whole number" if rule.whole else "no number", value=str(value))
            return rule.low
        return float(value)

    def _converted(self, figure: float, unit: object, place: str, rule: Number) -> float:
        units = UNITS.get(rule.unit)
        if units is not None:
            if not isinstance(unit, str) or unit not in units:
                self.find(
                    place,
                    "the unit is missing or not known",
                    value=str(unit),
                    allowed=", ".join(units),
                    mend="name the unit",
                )
                return rule.low
            figure = units[unit](figure)
        if not rule.low <= figure <= rule.high:
            self.find(
                place,
                "out of range",
                value=f"{figure:g} {rule.unit}".strip(),
                allowed=f"{rule.low:g} to {rule.high:g} {rule.unit}".strip(),
            )
            return rule.low
        return figure


def _at(place: str, key: str) -> str:
    return f"{place}.{key}" if place else key
