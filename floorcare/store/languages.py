"""Languages: what crews read, by code, from one TOML file a language.

English stands in `languages/en.toml`, with the cautions of `cautions.toml` and the names the
surfaces give their own steps, machines, tools and products. A language that lacks a text is read
in English there. `docs/languages.md` says how a language is added.
"""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from functools import cache
from pathlib import Path
from string import Formatter
from typing import Any

from floorcare.errors import NotUnderstood
from floorcare.ground.worktime.window import WEEKDAY_NAMES
from floorcare.store.surface_sheet import Sheet
from floorcare.store.surfaces import load_cautions

LANGUAGES_FOLDER = Path(__file__).parent.parent / "languages"
SURFACES_FOLDER = Path(__file__).parent.parent / "surfaces"
_SURFACE_PARTS = (
    ("steps", "step"),
    ("machines", "machine"),
    ("tools", "tool"),
    ("materials", "product"),
)
ENGLISH = "en"
MONTHS = (
    *("january", "february", "march", "april", "may", "june", "july"),
    *("august", "september", "october", "november", "december"),
)
"""Last words of the codes of the months, January first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Texts:
    """What is printed for people, in one language.

    language : BCP 47 tag of the file the texts are from.
    by_code : text of every code, e.g. "work.recoat"; English where the language lacks one.
    """

    language: str
    by_code: Mapping[str, str]

    def say(self, code: str, **fields: object) -> str:
        """The text of a code with its fields filled in.

        Raises
        ------
        KeyError : there is no such code, or a field of its text was not given.
        """
        return self.by_code[code].format(**fields)

    def name(self, code: str, otherwise: str) -> str:
        """The text of a code, or the word given where nobody translated it."""
        return self.by_code.get(code, otherwise)

    def part(self, table: str) -> dict[str, str]:
        """Every text of one table by the last word of its code."""
        start = f"{table}."
        return {c.removeprefix(start): t for c, t in self.by_code.items() if c.startswith(start)}

    def count(self, noun: str, number: int) -> str:
        """A number with its noun in the form the language wants."""
        form = "one" if number == 1 else "many"
        few = number % 10 in (2, 3, 4) and number % 100 not in (12, 13, 14)
        if few and "few" in self.by_code["language.plural"]:
            form = "few"
        return self.say(f"count.{noun}.{form}", number=self.number(number))

    def number(self, value: float, places: int = 0) -> str:
        """A number with the language's own decimal and thousands marks."""
        marks = {",": self.by_code["number.thousands"], ".": self.by_code["number.decimal"]}
        return "".join(marks.get(sign, sign) for sign in f"{value:,.{places}f}")

    def weekday(self, day: date, *, short: bool = False) -> str:
        """The day's weekday."""
        name = WEEKDAY_NAMES[day.weekday()].lower()
        return self.by_code[f"weekday{'_short' if short else ''}.{name}"]

    def day(self, day: date, form: str = "in_full") -> str:
        """The day as "in_full", "short" for a column, or "plain" without its weekday."""
        short = form == "short"
        return self.say(
            f"date.{form}",
            weekday=self.weekday(day, short=short),
            day=day.day,
            month=self.by_code[f"month{'_short' if short else ''}.{MONTHS[day.month - 1]}"],
            year=day.year,
        )


PHRASES = ("work.", "state.", "caution.", "surface.")
"""Codes whose English stands in sheets as a whole and can be looked up by it."""


@cache
def phrase_book(tag: str) -> Mapping[str, str]:
    """What a reader of this language reads for an English name, step or caution.

    Nothing for English itself; a name that only a contractor's own surface has stays as it is.
    """
    texts = load_texts(tag)
    if texts.language == ENGLISH:
        return {}
    english = {**load_texts(ENGLISH).by_code, **surface_names()}
    return {
        text: texts.by_code[code]
        for code, text in english.items()
        if code.startswith(PHRASES) and code in texts.by_code
    }


@cache
def surface_names() -> Mapping[str, str]:
    """English names of every shipped surface's steps, machines, tools and products, by code."""
    names: dict[str, str] = {}
    for path in sorted(SURFACES_FOLDER.glob("*.toml")):
        sheet = tomllib.loads(path.read_text(encoding="utf-8"))
        for part, word in _SURFACE_PARTS:
            for code, row in sheet.get(part, {}).items():
                names[f"surface.{path.stem}.{word}.{code}"] = row["name"]
    return names


def shipped_languages(folder: Path | None = None) -> tuple[str, ...]:
    """Tags of the languages there is a file for, English first."""
    tags = {path.stem for path in (folder or LANGUAGES_FOLDER).glob("*.toml")}
    return (ENGLISH, *sorted(tags - {ENGLISH}))


def language_for(tag: str, folder: Path | None = None) -> str:
    """The shipped language that serves a reader of this BCP 47 tag: de-AT is read in de.

    English where none does.

    Source: RFC 4647, section 3.4, lookup: subtags are taken away from the end.
    """
    shipped = {known.casefold(): known for known in shipped_languages(folder)}
    parts = tag.casefold().replace("_", "-").split("-")
    while parts:
        if (found := shipped.get("-".join(parts))) is not None:
            return found
        parts.pop()
        if parts and len(parts[-1]) == 1:
            parts.pop()
    return ENGLISH


@cache
def load_texts(tag: str = ENGLISH, folder: Path | None = None) -> Texts:
    """The texts for a reader of this language, with English where they lack one.

    Raises
    ------
    NotUnderstood : the language's file or the English one cannot be read.
    """
    folder = folder or LANGUAGES_FOLDER
    language = language_for(tag, folder)
    english = own_texts(folder / f"{ENGLISH}.toml") | {
        f"caution.{code}": text for code, text in load_cautions().items()
    }
    own = {} if language == ENGLISH else own_texts(folder / f"{language}.toml")
    return Texts(language=language, by_code=english | own)


def own_texts(path: Path) -> dict[str, str]:
    """The texts of one file by code.

    Raises
    ------
    NotUnderstood : the file is no TOML, or holds what is no text or has an unpaired brace.
    """
    sheet = Sheet(path.name)
    try:
        read = path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as trouble:
        raise NotUnderstood(f"the language file cannot be read: {trouble}") from trouble
    texts = dict(_flat(sheet, sheet.parsed(read), ""))
    if sheet.findings:
        raise NotUnderstood("the language cannot be read", findings=tuple(sheet.findings))
    return texts


def fields_of(text: str) -> frozenset[str]:
    """Names of the fields a text has.

    >>> sorted(fields_of("{from} to {to}"))
    ['from', 'to']
    """
    return frozenset(name for _, name, _, _ in Formatter().parse(text) if name is not None)


def _flat(sheet: Sheet, table: Mapping[str, Any], above: str) -> list[tuple[str, str]]:
    found: list[tuple[str, str]] = []
    for key, value in table.items():
        code = f"{above}.{key}" if above else key
        if isinstance(value, dict):
            found += _flat(sheet, value, code)
        elif not isinstance(value, str) or not value:
            sheet.find(code, "a text is wanted", value=str(value), mend="write it in quotes")
        else:
            try:
                fields_of(value)
            except ValueError:
                sheet.find(code, "a brace without its pair", value=value, mend="close the brace")
            found.append((code, value))
    return found
