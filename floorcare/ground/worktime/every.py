"""Rhythms in the words of a spreadsheet ("every 6 weeks", "twice a week") made into rules."""

import re
from datetime import date

from floorcare.ground.worktime.rule_check import INTERVAL_LONGEST, RULE_DAYS, rule_problem
from floorcare.ground.worktime.window import parse_weekdays

UNDERSTOOD = (
    "daily, weekly, monthly, quarterly, yearly; 90 days, every 6 weeks, 3 months; twice a week, "
    "4 times a year; weekdays such as Mo,Th; or an RFC 5545 rule"
)

_CARDINALS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_ORDINALS = {"other": 2, "second": 2, "third": 3, "fourth": 4, "fifth": 5, "sixth": 6}
_NUMBERS = (
    {word: number for number, word in enumerate(_CARDINALS, start=1)}
    | _ORDINALS
    | {"once": 1, "twice": 2, "twelve": 12}
)
_UNITS: dict[str, tuple[int, str]] = {
    "day": (1, "DAILY"),
    "night": (1, "DAILY"),
    "daily": (1, "DAILY"),
    "nightly": (1, "DAILY"),
    "week": (1, "WEEKLY"),
    "weekly": (1, "WEEKLY"),
    "fortnight": (2, "WEEKLY"),
    "fortnightly": (2, "WEEKLY"),
    "month": (1, "MONTHLY"),
    "monthly": (1, "MONTHLY"),
    "quarter": (3, "MONTHLY"),
    "quarterly": (3, "MONTHLY"),
    "halfyear": (6, "MONTHLY"),
    "halfyearly": (6, "MONTHLY"),
    "year": (1, "YEARLY"),
    "yearly": (1, "YEARLY"),
    "annual": (1, "YEARLY"),
    "annually": (1, "YEARLY"),
}
_UNIT = "|".join(sorted(_UNITS, key=len, reverse=True))
_EVERY = re.compile(rf"(every |each )?(?:(\w+) )?({_UNIT})s?\Z")
_TIMES = re.compile(
    r"(once|twice|\w+(?= ?(?:times|x)\b)) ?(?:times |x )?(?:(?:a|an|per|each|every) )?"
    r"(week|month|year)(?:ly)?\Z"
)
_WEEK_PATTERNS: dict[int, tuple[str, ...]] = {
    2: ("MO,TH", "TU,FR", "WE,SA", "WE,SU"),
    3: ("MO,WE,FR", "TU,TH,SA", "TU,TH,SU"),
    4: ("MO,TU,TH,FR", "MO,WE,FR,SA", "MO,WE,FR,SU"),
    5: ("MO,TU,WE,TH,FR", "MO,TU,WE,TH,FR,SA", "MO,TU,WE,TH,FR,SU"),
    6: ("MO,TU,WE,TH,FR,SA", "MO,TU,WE,TH,FR,SU"),
}
"""Days so many times a week falls on; the first that holds the start's weekday is taken."""
_AMBIGUOUS = {
    "biweekly": "twice a week or every 2 weeks",
    "bimonthly": "twice a month or every 2 months",
    "biannual": "twice a year or every 2 years",
    "biannually": "twice a year or every 2 years",
}


def every_to_rule(text: str, starts_on: date | None = None) -> str:
    """The recurrence rule people mean by words such as "every 6 weeks".

    Parameters
    ----------
    text : the words; an RFC 5545 rule passes as it is.
    starts_on : the date the rhythm is counted from. On a day that short months lack the rule takes
        their last day instead: from 31 January, "monthly" is the last day of each month.

    >>> every_to_rule("every 6 weeks"), every_to_rule("twice a week")
    ('FREQ=WEEKLY;INTERVAL=6', 'FREQ=WEEKLY;BYDAY=MO,TH')
    >>> every_to_rule("monthly", date(2026, 1, 31))
    'FREQ=MONTHLY;BYMONTHDAY=28,29,30,31;BYSETPOS=-1'

    Raises
    ------
    ValueError : words that are not understood, naming those that are.

    Source: RFC 5545 3.3.10 (a month without the day has no date, hence the day from the end);
    Assumption: which weekdays "twice a week" falls on.
    """
    words = re.sub(r"[\s_-]+", " ", text.strip().casefold()).replace("half year", "halfyear")
    if "freq" in words and "=" in words:
        rule = text.strip().upper()
    else:
        rule = _times(words, starts_on) or _every(words, starts_on) or _weekly_on(text)
    if not rule:
        may = _AMBIGUOUS.get(words.replace(" ", ""))
        what = f"may mean {may}; write which" if may else "is no rhythm understood here"
        raise ValueError(f'"{text[:40]}" {what}. Understood: {UNDERSTOOD}')
    problem = rule_problem(rule)
    if problem:
        raise ValueError(f'"{text[:80]}": {problem}')
    return rule


def _every(words: str, starts_on: date | None) -> str:
    found = _EVERY.match(words)
    if not found:
        return ""
    word = found[2] or "one"
    # "third week" alone may be a week of the month, and "twice daily" is no rhythm by the day
    needs_every = word in _ORDINALS
    number = 0 if (needs_every and not found[1]) or word == "twice" else _number(word)
    factor, freq = _UNITS[found[3]]
    return _rule(freq, number * factor, starts_on) if number else ""


def _times(words: str, starts_on: date | None) -> str:
    found = _TIMES.match(words)
    if not found:
        return ""
    number, unit = _number(found[1]), found[2]
    if number == 1:
        return _rule(_UNITS[unit][1], 1, starts_on)
    if unit == "week" and number == 7:
        return "FREQ=DAILY"
    if unit == "week" and number in _WEEK_PATTERNS:
        return f"FREQ=WEEKLY;BYDAY={_week_pattern(number, starts_on)}"
    if unit == "month" and number == 2:
        # half a month apart, on days every month has
        day = min((starts_on.day - 1) % 15 + 1, 13) if starts_on else 1
        return f"FREQ=MONTHLY;BYMONTHDAY={day},{day + 15}"
    if unit == "year" and number and 12 % number == 0:
        return _rule("MONTHLY", 12 // number, starts_on)
    return ""


def _weekly_on(text: str) -> str:
    try:
        days = parse_weekdays(re.sub(r"(?i)^\s*(every|each|on)\s+", "", text))
    except ValueError:
        return ""
    return f"FREQ=WEEKLY;BYDAY={','.join(RULE_DAYS[day] for day in sorted(days))}"


def _number(word: str) -> int:
    """The number a word stands for, 0 where it stands for none."""
    if re.fullmatch(r"[0-9]{1,4}", word):
        return int(word) if int(word) <= INTERVAL_LONGEST else 0
    return _NUMBERS.get(word, 0)


def _week_pattern(number: int, starts_on: date | None) -> str:
    patterns = _WEEK_PATTERNS[number]
    if starts_on is None:
        return patterns[0]
    weekday = RULE_DAYS[starts_on.weekday()]
    return next((p for p in patterns if weekday in p.split(",")), patterns[0])


def _rule(freq: str, interval: int, starts_on: date | None) -> str:
    """Every so many days, weeks, months or years; late days fall on short months' last day."""
    day = starts_on.day if starts_on else 1
    leap_day = starts_on is not None and (starts_on.month, day) == (2, 29)
    late = ""
    if (freq == "MONTHLY" and day > 28) or (freq == "YEARLY" and leap_day):
        late = f";BYMONTHDAY={','.join(str(d) for d in range(28, day + 1))};BYSETPOS=-1"
    if freq == "YEARLY" and late:
        freq, interval = "MONTHLY", 12 * interval
    return f"FREQ={freq}{f';INTERVAL={interval}' if interval > 1 else ''}{late}"
