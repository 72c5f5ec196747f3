"""Readers of single cells: text in, a value of the trade out, or why it does not fit."""

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from typing import Any, TypeVar

from floorcare.faces.intake.dating import (
    DAY_ALLOWED,
    DAY_OF_YEAR_ALLOWED,
    MOMENT_ALLOWED,
    day,
    day_of_year,
    moment,
)
from floorcare.faces.intake.notes import nearest
from floorcare.faces.intake.numeral import possible_amounts, possible_numbers
from floorcare.faces.intake.unfit import Unfit
from floorcare.ground.trade.codes import CODE_LONGEST, NAME_LONGEST, code_problem, name_problem
from floorcare.ground.worktime.night import check_zone, parse_minute
from floorcare.ground.worktime.window import PERMITS, parse_weekdays

NOTE_LONGEST = 500
HIGHEST_AMOUNT = 100_000_000
AMOUNT_DECIMALS = 4
"""As many as any currency of ISO 4217 has."""
Number = TypeVar("Number", float, Decimal)


@dataclass(frozen=True, slots=True)
class Reader:
    """How a column's cells are read.

    read : takes the stripped text and the file's decimal sign; raises `Unfit`.
    allowed : what fits, in words, for findings and for the documentation.
    """

    read: Callable[[str, str], Any]
    allowed: str


def folded(text: str) -> str:
    """A word without case, spaces, hyphens and underscores, as words and headings are compared.

    >>> folded("Re-Polish"), folded("area_m2")
    ('repolish', 'aream2')
    """
    return re.sub(r"[\s_\-–]+", "", text).casefold()


def _code(text: str, _: str) -> str:
    problem = code_problem(text)
    if problem:
        raise Unfit("is not a code", CODE.allowed, f"{problem}; write a short code")
    return text


CODE = Reader(
    _code, f'letters, digits, "-", "_", "."; starts with a letter or digit; ≤ {CODE_LONGEST}'
)


def _codes(text: str, decimal: str) -> tuple[str, ...]:
    return tuple(_code(part, decimal) for part in re.split(r"[\s,;/]+", text) if part)


CODES = Reader(_codes, "codes, separated by spaces")


def _name(text: str, _: str) -> str:
    problem = name_problem(text)
    if problem:
        length = f"; this one has {len(text):,}" if len(text) > NAME_LONGEST else ""
        raise Unfit("cannot be shown as a name", NAME.allowed, f"{problem}{length}")
    return text


NAME = Reader(_name, f"text of one line, ≤ {NAME_LONGEST} characters")


def _note(text: str, _: str) -> str:
    line = re.sub(r"\s+", " ", text)
    if len(line) > NOTE_LONGEST:
        mend = f"this one has {len(line):,} characters; shorten it"
        raise Unfit("is too long", NOTE.allowed, mend)
    if not line.isprintable():
        raise Unfit("holds control characters", NOTE.allowed, "type the text again")
    return line


NOTE = Reader(_note, f"text, ≤ {NOTE_LONGEST} characters; line breaks become spaces")


def number(
    low: float, high: float, unit: str = "", *, percent: bool = False, allowed: str = ""
) -> Reader:
    """A number from `low` to `high`; with `percent`, "20 %" is read as 0.2."""
    allowed = allowed or f"{_plain(low)} to {_plain(high)}{' ' + unit if unit else ''}"

    def read(text: str, decimal: str) -> float:
        shrink = 1.0
        if percent and text.endswith("%"):
            text, shrink = text[:-1].rstrip(), 100.0
        may = [value / shrink for value in possible_numbers(text, decimal)]
        fits = _one_meaning([value for value in may if low <= value <= high], may, allowed)
        if fits is not None:
            return fits
        mend = _out_of_range(may[0], low, high)
        if percent and low <= may[0] / 100 <= high:
            mend = f"write {may[0]:g} % if that is meant"
        raise Unfit("lies outside what is allowed", allowed, mend)

    return Reader(read, allowed)


def _one_meaning(fits: list[Number], may: list[Number], allowed: str) -> Number | None:
    """The number of those that fit, None where none does; refuses two meanings and no number."""
    if len(fits) > 1:
        plain = [f"{value:g}" if value < 1000 else f"{value:.0f}" for value in fits]
        mend = f"write {plain[1]}, or {plain[0]}0"
        raise Unfit(f"can mean {plain[0]} or {plain[1]}", allowed, mend)
    if not may:
        raise Unfit("is not a number", allowed, "write the number alone, without a unit")
    return fits[0] if fits else None


def _amount(text: str, decimal: str) -> Decimal:
    may = list(possible_amounts(text, decimal))
    fits = _one_meaning([each for each in may if 0 <= each <= HIGHEST_AMOUNT], may, AMOUNT.allowed)
    if fits is None:
        mend = _out_of_range(float(may[0]), 0, HIGHEST_AMOUNT)
        raise Unfit("lies outside what is allowed", AMOUNT.allowed, mend)
    if fits != round(fits, AMOUNT_DECIMALS):
        raise Unfit("has more decimals than any price", AMOUNT.allowed, "round it")
    return fits


AMOUNT = Reader(
    _amount, f"0 to {HIGHEST_AMOUNT:,}, up to {AMOUNT_DECIMALS} decimals, without the currency"
)


def _plain(value: float) -> str:
    return f"{value:,.10g}"


def _out_of_range(value: float, low: float, high: float) -> str:
    if value < 0 <= low:
        return "correct the sign"
    if value > high and low <= value / 10 <= high:
        return f"was a decimal point lost? Write {value / 10:g} if so"
    return "correct the number"


def whole(low: int, high: int, unit: str = "") -> Reader:
    """A whole number from `low` to `high`."""
    number_reader = number(low, high, unit)

    def read(text: str, decimal: str) -> int:
        value = number_reader.read(text, decimal)
        if value != int(value):
            raise Unfit("is not a whole number", number_reader.allowed, "round it")
        return int(value)

    return Reader(read, f"whole number, {number_reader.allowed}")


def one_of(words: Iterable[str], also: dict[str, str] | None = None) -> Reader:
    """One of some words, compared without case, spaces and hyphens; `also` adds other spellings."""
    known = {folded(word): word for word in words}
    spelled = known | {folded(other): word for other, word in (also or {}).items()}
    allowed = ", ".join(known.values())

    def read(text: str, _: str) -> str:
        found = spelled.get(folded(text))
        if found is None:
            mend = nearest(text, [*known.values(), *(also or {})], "write one of the allowed words")
            raise Unfit("is not a word known here", allowed, mend)
        return found

    return Reader(read, allowed)


def member(kind: type[StrEnum], also: dict[str, str] | None = None) -> Reader:
    """A member of an enumeration by its word; `also` gives other spellings of these words."""
    words = one_of([each.value for each in kind], also)
    return Reader(lambda text, decimal: kind(words.read(text, decimal)), words.allowed)


def _yes(text: str, _: str) -> bool:
    if folded(text) not in _YES_NO:
        raise Unfit("is neither yes nor no", YES_NO.allowed, "write yes or no")
    return _YES_NO[folded(text)]


_YES_NO = {"yes": True, "y": True, "true": True, "1": True} | {
    "no": False,
    "n": False,
    "false": False,
    "0": False,
}
YES_NO = Reader(_yes, "yes, no")

DAY = Reader(lambda text, _: day(text), DAY_ALLOWED)
MOMENT = Reader(lambda text, _: moment(text), MOMENT_ALLOWED)
DAY_OF_YEAR = Reader(lambda text, _: day_of_year(text), DAY_OF_YEAR_ALLOWED)
DAYS = Reader(
    lambda text, _: tuple(sorted({day(part) for part in re.split(r"[\s,;]+", text) if part})),
    "dates such as 2026-12-24, separated by spaces",
)


def mend_told(problem: str) -> str:
    """The mend out of a problem the ground tells as "what is wrong; what would do".

    >>> mend_told('"UK" is not known; did you mean GB?')
    'write GB if that is meant'
    """
    said, _, hint = problem.partition("; ")
    mend = (hint or said).rstrip(".?")
    if mend.startswith("did you mean "):
        return f"write {mend.removeprefix('did you mean ')} if that is meant"
    return mend


def by_ground(reads: Callable[[str], Any], problem: str, allowed: str) -> Reader:
    """A reader of the ground; its ValueError says what is wrong, then "; " and the mend."""

    def read(text: str, _: str) -> Any:
        try:
            return reads(text)
        except ValueError as trouble:
            raise Unfit(problem, allowed, mend_told(str(trouble))) from None

    return Reader(read, allowed)


def _zone_name(text: str) -> str:
    check_zone(text)
    return text


TIME_ZONE = by_ground(
    _zone_name, "is not a time zone", "IANA name such as Europe/Berlin or America/Chicago"
)
WEEKDAYS = by_ground(parse_weekdays, "names no weekdays", "weekdays such as Mo-Fr, Sa,Su or daily")
CLOCK = by_ground(parse_minute, "is not a time of day", "00:00 to 24:00")


def _permits(text: str, decimal: str) -> frozenset[str]:
    parts = re.split(r"\s*(?:[,;/+&]|\band\b)\s*", text)
    return frozenset(_PERMIT.read(part, decimal) for part in parts if part)


_PERMIT = one_of(PERMITS, {"noise": "loud", "noisy": "loud", "fuel": "fuel machine"})
PERMITS_GIVEN = Reader(_permits, f"one or more of {', '.join(PERMITS)}, separated by commas")


def _country(text: str, _: str) -> str:
    if not re.fullmatch("[A-Za-z]{2}", text):
        raise Unfit("is not a country code", COUNTRY.allowed, "write two letters such as US or DE")
    return text.upper()


COUNTRY = Reader(_country, "ISO 3166-1 code of two letters")
REGION = Reader(lambda text, _: text, "ISO 3166-2 code after the dash, such as BY or CA")


def _currency(text: str, _: str) -> str:
    if not re.fullmatch("[A-Za-z]{3}", text):
        raise Unfit("is not a currency code", CURRENCY.allowed, "write such as USD or EUR")
    return text.upper()


CURRENCY = Reader(_currency, "ISO 4217 code of three letters")


def _email(text: str, _: str) -> str:
    if len(text) > EMAIL_LONGEST or not _EMAIL.fullmatch(text):
        raise Unfit(
            "is no e-mail address", EMAIL.allowed, "write one address, such as kim@example.com"
        )
    return text


EMAIL_LONGEST = 254
"""Source: RFC 5321 4.5.3.1, a path of 256 octets with its angle brackets."""
_EMAIL = re.compile(r"[^@\s,;<>\"]+@[^@\s,;<>\".]+(?:\.[^@\s,;<>\".]+)+")
EMAIL = Reader(_email, f"one address with an @, ≤ {EMAIL_LONGEST} characters")


def _languages(text: str, _: str) -> tuple[str, ...]:
    tags = tuple(part for part in re.split(r"[\s,;]+", text) if part)
    for tag in tags:
        if not _LANGUAGE.fullmatch(tag):
            raise Unfit(
                "holds no language tag", LANGUAGES.allowed, "write tags such as de or pt-BR"
            )
    return tuple(dict.fromkeys(_cased(tag) for tag in tags))


def _cased(tag: str) -> str:
    """A language tag as it is usually written: language small, script as a name, region large."""
    first, *rest = tag.split("-")
    shape = {2: str.upper, 4: str.capitalize}
    return "-".join((first.lower(), *(shape.get(len(part), str.lower)(part) for part in rest)))


_LANGUAGE = re.compile("[A-Za-z]{2,3}(?:-[A-Za-z0-9]{2,8})*")
LANGUAGES = Reader(
    _languages, "BCP 47 tags such as en or pt-BR, separated by spaces; first their own"
)


def _uuid(text: str, _: str) -> str:
    if not _UUID.fullmatch(text):
        raise Unfit("is no UUID", UUID.allowed, "write it whole, or let a spreadsheet make one")
    return text.lower()


_UUID = re.compile("[0-9A-Fa-f]{8}(?:-[0-9A-Fa-f]{4}){3}-[0-9A-Fa-f]{12}")
UUID = Reader(_uuid, "UUID such as 6f1d2c1e-7a51-4c53-9a0e-2f3b6f0c9d11")
