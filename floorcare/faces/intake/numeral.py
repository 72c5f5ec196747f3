"""Numbers as people type them, with a decimal point or comma; never guessed where two fit."""

import re
from decimal import Decimal

_GROUPING_SPACES = str.maketrans("", "", "\u0020\u00a0\u202f\u2009'\u2019")
_GROUPED_BY_SPACE = re.compile(r"[0-9]{1,3}(?:[\u0020\u00a0\u202f\u2009'\u2019][0-9]{3})+(?![0-9])")
_PLAIN = re.compile(r"[0-9]+\Z")
_ONE_SIGN = re.compile(r"([0-9]*)([.,])([0-9]+)\Z")
_GROUPED = re.compile(
    r"[0-9]{1,3}(?:,[0-9]{3})+(?:\.[0-9]+)?\Z|[0-9]{1,3}(?:\.[0-9]{3})+(?:,[0-9]+)?\Z"
)


def possible_numbers(text: str, decimal: str) -> tuple[float, ...]:
    """Every number the text can stand for: none, one, or two where a sign has two meanings.

    Parameters
    ----------
    text : what was typed.
    decimal : the sign the file writes before decimals, "." or ","; "" where that is not known.

    >>> possible_numbers("1,234.5", "."), possible_numbers("1.234,5", ".")
    ((1234.5,), (1234.5,))
    >>> possible_numbers("1,5", ";"), possible_numbers("1,234", ",")
    ((1.5,), (1.234,))
    >>> possible_numbers("1,234", ".")
    (1.234, 1234.0)
    """
    return tuple(float(numeral) for numeral in _numerals(text, decimal))


def possible_amounts(text: str, decimal: str) -> tuple[Decimal, ...]:
    """Every amount the text can stand for, to the last decimal that was typed.

    >>> possible_amounts("1.234,50", ","), possible_amounts("0.1", ".")
    ((Decimal('1234.50'),), (Decimal('0.1'),))
    """
    return tuple(Decimal(numeral) for numeral in _numerals(text, decimal))


def _numerals(text: str, decimal: str) -> tuple[str, ...]:
    """Every numeral, with a decimal point and without groups, the text can stand for."""
    clean = text.strip().replace("\N{MINUS SIGN}", "-")
    sign = "-" if clean.startswith("-") else ""
    clean = clean[1:] if clean[:1] in ("-", "+") else clean
    if _GROUPED_BY_SPACE.match(clean):
        clean = clean.translate(_GROUPING_SPACES)
    if _PLAIN.match(clean):
        return (sign + clean,)
    one = _ONE_SIGN.match(clean)
    if one:
        whole, mark, rest = one.groups()
        as_decimal = f"{sign}{whole or '0'}.{rest}"
        groups = len(rest) == 3 and 1 <= len(whole) <= 3 and not whole.startswith("0")
        if mark == decimal or not groups:
            return (as_decimal,)
        return (as_decimal, sign + whole + rest)
    if _GROUPED.match(clean):
        last = max(clean.rfind("."), clean.rfind(","))
        mark = clean[last]
        other = "," if mark == "." else "."
        if other in clean:
            return (sign + clean.replace(other, "").replace(mark, "."),)
        return (sign + clean.replace(mark, ""),)
    return ()
