"""Codes: the short human names of things, written SITE/ZONE/STATION."""

import re
from datetime import date

CODE_LONGEST = 40
NAME_LONGEST = 120
_CODE = re.compile(r"[A-Za-z0-9][A-Za-z0-9_.\-]*\Z")


def code_problem(code: str) -> str:
    """Why this is no code, or "" if it is one.

    >>> code_problem("NORTH-1")
    ''
    >>> code_problem("Hall B")
    'a code is letters, digits, "-", "_" and "." and starts with a letter or digit'
    """
    if not code:
        return "a code is missing"
    if len(code) > CODE_LONGEST:
        return f"a code has at most {CODE_LONGEST} characters"
    if not _CODE.match(code):
        return 'a code is letters, digits, "-", "_" and "." and starts with a letter or digit'
    return ""


def name_problem(name: str) -> str:
    """Why this cannot be shown as a name, or "".

    >>> name_problem("Hall B, north")
    ''
    """
    if not name.strip():
        return "a name is missing"
    if len(name) > NAME_LONGEST:
        return f"a name has at most {NAME_LONGEST} characters"
    if not all(c.isprintable() for c in name):
        return "a name has no control characters or line breaks"
    return ""


def check_span(from_on: date, to_on: date | None) -> None:
    """Refuse days that run backwards.

    Raises
    ------
    ValueError : it ends before it starts.
    """
    if to_on is not None and to_on < from_on:
        raise ValueError(f"ends {to_on} before it starts {from_on}")


def check_currency(currency: str) -> None:
    """Refuse what cannot be an ISO 4217 code.

    Raises
    ------
    ValueError : not three capital letters.
    """
    if len(currency) != 3 or not (currency.isascii() and currency.isalpha() and currency.isupper()):
        raise ValueError(f"currency {currency!r}: allowed an ISO 4217 code")
