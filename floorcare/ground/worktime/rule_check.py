"""What a recurrence rule may say: RFC 5545 by the day, checked part by part."""

import re
from collections.abc import Mapping
from datetime import date

INTERVAL_LONGEST = 1000
FREQUENCIES = ("DAILY", "WEEKLY", "MONTHLY", "YEARLY")
RULE_DAYS = ("MO", "TU", "WE", "TH", "FR", "SA", "SU")

_CLOCK_PARTS = ("BYHOUR", "BYMINUTE", "BYSECOND")
_CLOCK_FREQUENCIES = ("HOURLY", "MINUTELY", "SECONDLY")
_BY_RANGE = {"BYMONTHDAY": 31, "BYYEARDAY": 366, "BYWEEKNO": 53, "BYSETPOS": 366}
_NOT_WITH = {
    "BYWEEKNO": ("DAILY", "WEEKLY", "MONTHLY"),
    "BYYEARDAY": ("DAILY", "WEEKLY", "MONTHLY"),
    "BYMONTHDAY": ("WEEKLY",),
    # by the day or week it would pick from the few days of one interval; BYDAY says that plainly
    "BYSETPOS": ("DAILY", "WEEKLY"),
}
_KNOWN = ("FREQ", "INTERVAL", "COUNT", "UNTIL", "WKST", "BYMONTH", "BYDAY", *_BY_RANGE)
_MONTH_LONGEST = (31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)


def rule_parts(rule: str) -> dict[str, str]:
    """The parts of a rule by name, in capitals.

    >>> rule_parts("freq=weekly;byday=tu")
    {'FREQ': 'WEEKLY', 'BYDAY': 'TU'}

    Source: RFC 5545 3.3.10.
    """
    return dict(_split(rule))


def rule_problem(rule: str) -> str:
    """Why this is no rule by which a routine may recur, or "".

    >>> rule_problem("FREQ=HOURLY")
    'FREQ=HOURLY goes by the clock; a routine recurs DAILY, WEEKLY, MONTHLY or YEARLY'

    Source: RFC 5545 3.3.10, the parts that go by the day; Assumption: INTERVAL up to 1,000, and
    BYSETPOS with months and years only.
    """
    pairs = _split(rule)
    if rule.upper().startswith("RRULE:"):
        return 'write the rule without "RRULE:" before it'
    if any(not name or not text for name, text in pairs):
        return "a rule is written in parts such as FREQ=WEEKLY;BYDAY=TU,FR"
    parts = dict(pairs)
    if len(parts) < len(pairs):
        return "a part stands twice"
    checks = (_frequency_problem, _count_problem, _by_problem, _by_day_problem, _never_problem)
    return next(filter(None, (check(parts) for check in checks)), "")


def _split(rule: str) -> list[tuple[str, str]]:
    pairs = (part.partition("=") for part in rule.upper().split(";"))
    return [(name, text) for name, _, text in pairs]


def _frequency_problem(parts: Mapping[str, str]) -> str:
    freq = parts.get("FREQ", "")
    allowed = "a routine recurs DAILY, WEEKLY, MONTHLY or YEARLY"
    if freq in _CLOCK_FREQUENCIES:
        return f"FREQ={freq} goes by the clock; {allowed}"
    if freq not in FREQUENCIES:
        return (
            f"FREQ={freq[:20]} is not known; {allowed}" if freq else f"FREQ is missing; {allowed}"
        )
    for name in parts:
        if name in _CLOCK_PARTS:
            return f"{name} goes by the clock; the hour is the access window's"
        if name not in _KNOWN:
            return f"{name[:20]} is not known; allowed {', '.join(_KNOWN)}"
        if freq in _NOT_WITH.get(name, ()):
            return f"{name} does not go with FREQ={freq}"
    return ""


def _count_problem(parts: Mapping[str, str]) -> str:
    if "COUNT" in parts and "UNTIL" in parts:
        return "COUNT and UNTIL do not stand together"
    interval = parts.get("INTERVAL", "1")
    if not re.fullmatch(r"[0-9]{1,4}", interval) or not 1 <= int(interval) <= INTERVAL_LONGEST:
        return f"INTERVAL={interval[:20]}: allowed 1 to {INTERVAL_LONGEST:,}"
    count = parts.get("COUNT", "1")
    if not re.fullmatch(r"[0-9]{1,5}", count) or int(count) < 1:
        return f"COUNT={count[:20]}: allowed 1 to 99,999"
    until = parts.get("UNTIL", "20000101")
    try:
        if not re.fullmatch(r"[0-9]{8}", until):
            raise ValueError
        date.fromisoformat(f"{until[:4]}-{until[4:6]}-{until[6:]}")
    except ValueError:
        return f"UNTIL={until[:20]} is no date; write it as 20270331, without a time"
    if parts.get("WKST", "MO") not in RULE_DAYS:
        return f"WKST={parts['WKST'][:20]}: allowed {', '.join(RULE_DAYS)}"
    return ""


def _by_problem(parts: Mapping[str, str]) -> str:
    if "BYMONTH" in parts and not _whole_numbers(parts["BYMONTH"], 1, 12):
        return f"BYMONTH={parts['BYMONTH'][:20]}: allowed 1 to 12"
    for name, highest in _BY_RANGE.items():
        if name in parts and not _whole_numbers(parts[name], -highest, highest):
            return f"{name}={parts[name][:20]}: allowed 1 to {highest} and -1 to -{highest}"
    if "BYSETPOS" in parts and not any(n.startswith("BY") for n in parts if n != "BYSETPOS"):
        return "BYSETPOS picks from another BY part; there is none"
    return ""


def _whole_numbers(text: str, lowest: int, highest: int) -> bool:
    found = text.split(",")
    return all(
        re.fullmatch(r"[+-]?[0-9]{1,3}", n) and int(n) and lowest <= int(n) <= highest
        for n in found
    )


def _by_day_problem(parts: Mapping[str, str]) -> str:
    if "BYDAY" not in parts:
        return ""
    for day in parts["BYDAY"].split(","):
        found = re.fullmatch(r"([+-]?[0-9]{1,2})?(MO|TU|WE|TH|FR|SA|SU)", day)
        if not found or (found[1] and not 1 <= abs(int(found[1])) <= 53):
            return f"BYDAY={day[:20]}: allowed {', '.join(RULE_DAYS)}, or such as 1MO and -1FR"
        by_week = parts["FREQ"] not in ("MONTHLY", "YEARLY") or "BYWEEKNO" in parts
        if found[1] and by_week:
            return f"BYDAY={day} counts within a month or year; here only the weekday may stand"
    return ""


def _never_problem(parts: Mapping[str, str]) -> str:
    """Dateutil would search to the year 9999 for a 30th of February."""
    if "BYMONTH" not in parts or "BYMONTHDAY" not in parts:
        return ""
    longest = max(_MONTH_LONGEST[int(month) - 1] for month in parts["BYMONTH"].split(","))
    if all(abs(int(day)) > longest for day in parts["BYMONTHDAY"].split(",")):
        return f"no month named in BYMONTH has a day {parts['BYMONTHDAY'][:20]}"
    return ""
