"""Sentences of sheets in another language: known by the English they were written from.

A sheet is filled once, in English; a crew reads it in its own language. Our own sentences are found
again by their text with its fields; what a person typed, or a rule reasoned, stays as it is.
"""

import re
from collections.abc import Mapping
from datetime import date
from functools import cache, partial

from floorcare.store.languages import ENGLISH, MONTHS, Texts, fields_of, load_texts, phrase_book

SENTENCES = (
    "visit.window",
    "visit.told",
    "visit.ask_first",
    "visit.reopening",
    "visit.tested",
    "state.late",
    "list.the_plan",
    "list.no_plan",
)
"""Codes of the sentences a sheet may hold."""
_DAY = re.compile(r"(\d{1,2}) ([A-Z][a-z]+) (\d{4})")


def respoken(said: str, texts: Texts) -> str:
    """The same in the reader's language, sentence by sentence; unknown ones as they were.

    >>> respoken("The customer is told 5 days ahead.", load_texts("de"))
    'Der Kunde wird 5 Tage vorher benachrichtigt.'
    """
    if texts.language == ENGLISH:
        return said
    for code, pattern in _patterns():
        said = pattern.sub(partial(_said, code, texts), said)
    return said


def _said(code: str, texts: Texts, found: re.Match[str]) -> str:
    # the names of groups end in a stroke: "from" alone is a word of the program's language
    fields = {name.rstrip("_"): text for name, text in found.groupdict().items()}
    told = {name: _field(name, text, texts) for name, text in fields.items()}
    return texts.say(code, **told)


def _field(name: str, text: str, texts: Texts) -> str:
    """A field in the reader's language: a day, what an access permits, or as it is."""
    if (day := _day(text)) is not None:
        return texts.day(day, "plain")
    if name == "what":
        permits = texts.part("permit")
        words = {english: permits[code] for code, english in _permits().items()}
        return ", ".join(words.get(one, one) for one in text.split(", "))
    return text


def _day(text: str) -> date | None:
    found = _DAY.fullmatch(text)
    month = _months().get(found[2]) if found is not None else None
    if found is None or month is None:
        return None
    return date(int(found[3]), month, int(found[1]))


@cache
def _months() -> Mapping[str, int]:
    names = load_texts(ENGLISH).part("month")
    return {names[code]: number for number, code in enumerate(MONTHS, start=1)}


@cache
def _permits() -> Mapping[str, str]:
    return load_texts(ENGLISH).part("permit")


@cache
def _patterns() -> tuple[tuple[str, re.Pattern[str]], ...]:
    """Each sentence as what finds it: its own words, and its fields as short as can be."""
    english = load_texts(ENGLISH).by_code
    found = []
    for code in SENTENCES:
        text = english[code]
        pattern = re.escape(text)
        for field in fields_of(text):
            group = rf"(?P<{field}_>{_shape(field)})"
            pattern = pattern.replace(re.escape("{" + field + "}"), group)
        found.append((code, re.compile(pattern)))
    return tuple(found)


def _shape(field: str) -> str:
    """What a field of a sentence looks like."""
    permit = "|".join(re.escape(english) for english in _permits().values())
    shapes = {
        "from": r"\d\d:\d\d",
        "to": r"\d\d:\d\d",
        "days": r"\d+",
        "day": _DAY.pattern,
        "what": rf"(?:{permit})(?:, (?:{permit}))*",
    }
    return shapes.get(field, r".+?")


def state_respoken(state: str, texts: Texts) -> str:
    """A visit's state, each part of it in the reader's language."""
    book = phrase_book(texts.language)
    return ", ".join(book.get(one, respoken(one, texts)) for one in state.split(", "))
