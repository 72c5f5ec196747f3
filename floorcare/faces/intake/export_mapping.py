"""A mapping: what the headings and words of somebody's export mean, kept as a small TOML file."""

import re
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from floorcare.errors import NotUnderstood
from floorcare.faces.intake.notes import Mend, Notes, nearest
from floorcare.ground.trade.reading import GLOSS_GEOMETRIES, SurfaceState
from floorcare.ground.trade.traffic import PASS_WEIGHT

READINGS, TRAFFIC = "readings", "traffic"
Setting = str | int | float
ANY_TEXT: tuple[Setting, ...] = ()
"""Allowed words of a key that takes any text."""

_ROLES_OF_BOTH = ("moment", "date", "time")
_ROLES = {
    READINGS: (
        *("place", "site", "zone", "station", *_ROLES_OF_BOTH),
        *("value", "geometry", "unit", "state", "instrument", "reader", "witness"),
    ),
    TRAFFIC: ("sensor", *_ROLES_OF_BOTH, "count", "in", "out"),
}
_TABLE: Mapping[str, tuple[Setting, ...]] = {
    "separator": ("comma", "semicolon", "tab"),
    "heading_row": ANY_TEXT,
    "decimal": (".", ",", "either"),
    "date_order": ("day first", "month first", "year first"),
}
_LEAVE_OUT = "leave out"
VALUES_MEAN: tuple[Setting, ...] = (*GLOSS_GEOMETRIES, "DOI", "haze", "not read")
SCHEMA: Mapping[str, Mapping[str, Mapping[str, tuple[Setting, ...]] | tuple[Setting, ...]]] = {
    READINGS: {
        "table": _TABLE,
        "columns": dict.fromkeys(_ROLES[READINGS], ANY_TEXT),
        "values": VALUES_MEAN,
        "fixed": {
            "geometry": GLOSS_GEOMETRIES,
            "unit": ("GU",),
            "state": tuple(state.value for state in SurfaceState),
            "instrument": ANY_TEXT,
            "reader": ANY_TEXT,
            "witness": ANY_TEXT,
            "place": ANY_TEXT,
        },
        "places": ANY_TEXT,
        "pattern": {"place": ANY_TEXT},
        "instruments": ANY_TEXT,
        "states": tuple(state.value for state in SurfaceState),
        "answers": {
            "outside": (_LEAVE_OUT,),
            "repeats": ("mean", "first", "last"),
            "other_values": ("replace", "keep stored"),
            "copied": ("take", _LEAVE_OUT),
        },
    },
    TRAFFIC: {
        "table": _TABLE,
        "columns": dict.fromkeys(_ROLES[TRAFFIC], ANY_TEXT),
        "fixed": {"sensor": ANY_TEXT},
        "sensors": ANY_TEXT,
        "kinds": tuple(PASS_WEIGHT),
        "counting": {
            "bucket_minutes": ANY_TEXT,
            "in_and_out": ("add", "halve", "in", "out", "count"),
            "numbers": ("each bucket", "running total"),
            "several_sensors": ("add", "average", "largest"),
            "absent_weekdays": ("zero", "not counted"),
        },
        "answers": {
            "negative": (_LEAVE_OUT,),
            "repeats": ("first", "last", "add"),
            "zero_days": ("take", _LEAVE_OUT),
            "stuck": ("take", _LEAVE_OUT),
            "jumps": ("take", _LEAVE_OUT),
            "counted_before": ("replace", "keep stored"),
        },
    },
}
"""What a mapping may say: by kind and table its keys, or the words that any key may be given."""


@dataclass(frozen=True, slots=True)
class Question:
    """What nobody has answered yet: the table and key of the mapping that would answer it."""

    table: str
    key: str
    choices: tuple[Setting, ...] = ()

    @property
    def _shape(self) -> str:
        shapes = {"places": '"SITE/ZONE/STATION"', "sensors": '"SITE/ZONE"'}
        return shapes.get(self.table, '"…"')

    @property
    def mend(self) -> str:
        """The line of the mapping that answers it."""
        values = [_said(choice) for choice in self.choices] or [self._shape]
        return f"write {_key(self.key)} = {' or '.join(values)} under [{self.table}] of the mapping"

    def or_else(self, mend: Mend) -> Mend:
        """Another mend, and the line of the mapping that would do as well."""
        return lambda search: f"{mend if isinstance(mend, str) else mend(search)}; or {self.mend}"


@dataclass(frozen=True, slots=True)
class ExportMapping:
    """What is known of an export: `tables` by name, each key with its meaning."""

    kind: str
    tables: Mapping[str, Mapping[str, Setting]] = field(default_factory=dict)

    def table(self, name: str) -> Mapping[str, Setting]:
        """All that a table says, empty where it says nothing."""
        return self.tables.get(name, {})

    def get(self, table: str, key: str) -> str:
        """What a key is said to be, "" where it is left open."""
        return str(self.table(table).get(key, ""))

    def with_(self, table: str, key: str, value: Setting) -> "ExportMapping":
        """The same with one thing more."""
        changed = {**self.table(table), key: value}
        return replace(self, tables={**self.tables, table: changed})


class ExportNotes(Notes):
    """Findings of one export, and the questions among them that a mapping would answer."""

    def __init__(self, file: str) -> None:
        super().__init__([file])
        self.file = file
        self.questions: list[Question] = []

    def ask(
        self, question: Question, problem: str, *, row: int = 0, column: str = "", value: str = ""
    ) -> None:
        """Note a question: nothing is written until the mapping answers it."""
        if question not in self.questions:
            self.questions.append(question)
        self.add(
            "stops",
            self.file,
            row,
            problem,
            column=column,
            value=value,
            allowed=", ".join(str(choice) for choice in question.choices),
            mend=question.mend,
        )

    def leave_out(
        self,
        row: int,
        problem: str,
        *,
        column: str = "",
        value: str = "",
        allowed: str = "",
        mend: Mend = "",
    ) -> None:
        """Note a row that is left out; the others are taken."""
        self.add(
            "asks",
            self.file,
            row,
            f"{problem}; the row is left out",
            column=column,
            value=value,
            allowed=allowed,
            mend=mend,
        )


def read_mapping(path: Path, kind: str) -> ExportMapping:
    """The mapping of a TOML file.

    Raises
    ------
    NotUnderstood : it cannot be opened, is no TOML, is of the other kind, or says what no mapping
        can say; every such line is a finding.
    """
    try:
        said = tomllib.loads(path.read_text(encoding="utf-8-sig"))
    except OSError as trouble:
        raise NotUnderstood(
            f"the mapping cannot be opened ({trouble.strerror})", where=str(path)
        ) from None
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as trouble:
        raise NotUnderstood(f"the mapping is no TOML: {trouble}", where=str(path)) from None
    told = said.pop("kind", kind)
    if told != kind:
        raise NotUnderstood(
            f'this mapping is of {told}, not of {kind}; its first line says kind = "{told}"',
            where=str(path),
        )
    notes = Notes()
    for name, table in said.items():
        _check_table(path.name, kind, name, table, notes)
    if notes.stops:
        raise NotUnderstood(
            "the mapping says what no mapping can say", where=str(path), findings=notes.findings()
        )
    return ExportMapping(kind, said)


def mapping_text(mapping: ExportMapping, questions: Iterable[Question] = ()) -> str:
    """The mapping as TOML; what is still open stands in it as a comment to be filled in."""
    open_keys: dict[str, list[Question]] = {}
    for question in dict.fromkeys(questions):
        open_keys.setdefault(question.table, []).append(question)
    lines = [f'kind = "{mapping.kind}"']
    for name in SCHEMA[mapping.kind]:
        table, asked = mapping.table(name), open_keys.get(name, [])
        if not table and not asked:
            continue
        lines += ["", f"[{name}]"]
        lines += [f"{_key(key)} = {_said(value)}" for key, value in table.items()]
        for question in asked:
            choices = [_said(choice) for choice in question.choices]
            hint = f"  # one of {', '.join(choices)}" if len(choices) > 1 else ""
            first = choices[0] if choices else '""'
            lines.append(f"# {_key(question.key)} = {first}{hint}")
    return "\n".join(lines) + "\n"


def _check_table(file: str, kind: str, name: str, table: object, notes: Notes) -> None:
    schema = SCHEMA[kind].get(name)
    if schema is None or not isinstance(table, dict):
        mend = nearest(name, SCHEMA[kind], "leave it out")
        allowed = ", ".join(SCHEMA[kind])
        notes.add("stops", file, 0, "no such table", value=name, allowed=allowed, mend=mend)
        return
    for key, value in table.items():
        choices = schema.get(key) if isinstance(schema, Mapping) else schema
        column = f"[{name}] {key}"
        if choices is None and isinstance(schema, Mapping):
            mend = nearest(key, schema, "leave it out")
            allowed = ", ".join(schema)
            notes.add("stops", file, 0, "no such key", column=column, allowed=allowed, mend=mend)
        elif not isinstance(value, str | int | float) or isinstance(value, bool):
            notes.add("stops", file, 0, "is no text or number", column=column, value=str(value))
        elif choices and value not in choices:
            allowed = ", ".join(_said(choice) for choice in choices)
            problem = "is not a word known here"
            notes.add(
                *("stops", file, 0, problem), column=column, value=str(value), allowed=allowed
            )


def _key(key: str) -> str:
    return key if re.fullmatch(r"[A-Za-z0-9_-]+", key) else _quoted(key)


def _said(value: Setting) -> str:
    return _quoted(value) if isinstance(value, str) else str(value)


def _quoted(text: str) -> str:
    """A basic string of TOML."""
    marked = text.replace("\\", "\\\\").replace('"', '\\"')
    return '"' + "".join(c if c.isprintable() else f"\\u{ord(c):04x}" for c in marked) + '"'
