"""Small sets, lists and reasons as one text column each, the same text for the same content."""

import json
from collections.abc import Iterable
from datetime import date

from floorcare.findings import Reason


def words_text(words: Iterable[str]) -> str:
    """Words as comma text, sorted.

    >>> words_text({"wet", "loud"})
    'loud,wet'
    """
    return ",".join(sorted(words))


def words_of(text: str) -> frozenset[str]:
    """Words out of comma text."""
    return frozenset(text.split(",")) if text else frozenset()


def numbers_text(numbers: Iterable[int]) -> str:
    """Whole numbers as comma text, sorted.

    >>> numbers_text({4, 0, 10})
    '0,4,10'
    """
    return ",".join(str(number) for number in sorted(numbers))


def numbers_of(text: str) -> frozenset[int]:
    """Whole numbers out of comma text."""
    return frozenset(int(number) for number in text.split(",")) if text else frozenset()


def codes_text(codes: Iterable[str]) -> str:
    """Codes as comma text in the order given; a code has no comma."""
    return ",".join(codes)


def codes_of(text: str) -> tuple[str, ...]:
    """Codes out of comma text, in their order."""
    return tuple(text.split(",")) if text else ()


def dates_text(days: Iterable[date]) -> str:
    """Dates as comma text in the order given."""
    return ",".join(day.isoformat() for day in days)


def dates_of(text: str) -> tuple[date, ...]:
    """Dates out of comma text, in their order."""
    return tuple(date.fromisoformat(day) for day in text.split(",")) if text else ()


def reason_text(reason: Reason) -> str:
    """A reason as JSON text."""
    return json.dumps(
        {
            "rule": reason.rule,
            "inside": reason.inside,
            "customer": reason.customer,
            "facts": reason.facts,
            "rejected": reason.rejected,
        },
        ensure_ascii=False,
        allow_nan=False,
    )


def reason_of(text: str) -> Reason:
    """A reason out of JSON text."""
    parts = json.loads(text)
    return Reason(
        rule=parts["rule"],
        inside=parts["inside"],
        customer=parts["customer"],
        facts=tuple((name, value) for name, value in parts["facts"]),
        rejected=tuple((other, why) for other, why in parts["rejected"]),
    )
