"""Recurrence of routines: RFC 5545 rules by the day, expanded by dateutil.

A routine recurs by days; the hour is the site's access window's business. So rules with a time in
them are refused, and so is UNTIL with a time: RFC 5545 3.3.10 asks that UNTIL be of the start's
kind, and the start of a routine is a date. Words become rules in `every.py`.
"""

import math
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from functools import lru_cache
from itertools import islice

from dateutil.rrule import rrulestr

from floorcare.ground.worktime.rule_check import rule_parts, rule_problem

DAYS_OF_FREQ = {"DAILY": 1, "WEEKLY": 7}
MONTHS_OF_FREQ = {"MONTHLY": 1, "YEARLY": 12}
_GAP_SAMPLE = 480


@dataclass(frozen=True, slots=True, kw_only=True)
class Recurrence:
    """Dates at a set rhythm.

    rule : value of an RFC 5545 RRULE, by the day, such as "FREQ=WEEKLY;BYDAY=TU,FR".
    starts_on : DTSTART; the rhythm is counted from it.
    ends_on : last date, None for no end.
    except_on : dates that fall out (EXDATE).
    """

    rule: str
    starts_on: date
    ends_on: date | None = None
    except_on: tuple[date, ...] = ()

    def __post_init__(self) -> None:
        problem = rule_problem(self.rule)
        if problem:
            raise ValueError(f'rule "{self.rule[:80]}": {problem}')
        if self.ends_on is not None and self.ends_on < self.starts_on:
            raise ValueError(f"ends {self.ends_on} before it starts {self.starts_on}")

    def dates(self, first: date, last: date) -> tuple[date, ...]:
        """The dates from `first` to `last`, both included, in order.

        Source: RFC 5545 3.3.10 and 3.8.5, expanded by dateutil; a start that does not fit its own
        rule is not counted as a date.
        """
        if self.ends_on is not None:
            last = min(last, self.ends_on)
        if last < max(first, self.starts_on):
            return ()
        found = _expanded(self.rule, self.starts_on, first, last)
        return tuple(day for day in found if day not in self.except_on)


@lru_cache(maxsize=4096)
def _expanded(rule: str, starts_on: date, first: date, last: date) -> tuple[date, ...]:
    """A rule's dates; zones of a site share their rules, and a plan asks again and again."""
    start = _start_near(first, starts_on, rule)
    found = rrulestr(_completed(rule, start), dtstart=_midnight(start)).between(
        _midnight(first), _midnight(last), inc=True
    )
    return tuple(moment.date() for moment in found)


@lru_cache(maxsize=1024)
def typical_gap_days(rule: str, starts_on: date = date(2001, 1, 1)) -> float:
    """Mean days from one date of a rule to the next, were it never to end.

    >>> typical_gap_days("FREQ=WEEKLY;BYDAY=TU,FR"), typical_gap_days("FREQ=MONTHLY")
    (3.5, 30.4375)

    Raises
    ------
    ValueError : a rule that is refused, or one that gives less than two dates.

    Source: arithmetic over the first 480 gaps of the rule's RFC 5545 expansion.
    """
    problem = rule_problem(rule)
    if problem:
        raise ValueError(f'rule "{rule[:80]}": {problem}')
    endless = ";".join(
        f"{k}={v}" for k, v in rule_parts(rule).items() if k not in ("COUNT", "UNTIL")
    )
    expansion = rrulestr(_completed(endless, starts_on), dtstart=_midnight(starts_on))
    found = list(islice(expansion, _GAP_SAMPLE + 1))
    if len(found) < 2:
        raise ValueError(f'rule "{rule[:80]}" from {starts_on} gives less than two dates')
    return (found[-1] - found[0]).days / (len(found) - 1)


def _midnight(on: date) -> datetime:
    return datetime.combine(on, time())


def _completed(rule: str, starts_on: date) -> str:
    """BYWEEKNO alone means the start's weekday (RFC 5545 3.3.10); dateutil takes all seven."""
    parts = rule_parts(rule)
    if "BYWEEKNO" in parts and "BYDAY" not in parts:
        return f"{rule};BYDAY={('MO', 'TU', 'WE', 'TH', 'FR', 'SA', 'SU')[starts_on.weekday()]}"
    return rule


def _start_near(first: date, starts_on: date, rule: str) -> date:
    """A later start with the same expansion from `first` on, so that old rules stay quick.

    It keeps the rule's phase (whole intervals) and the weekday or the day of the year. A rule with
    COUNT must be counted from its true start.
    """
    parts = rule_parts(rule)
    freq, interval = parts["FREQ"], int(parts.get("INTERVAL", "1"))
    if "COUNT" in parts:
        return starts_on
    if freq in DAYS_OF_FREQ:
        step_days = DAYS_OF_FREQ[freq] * interval
        steps = max(0, (first - starts_on).days // step_days)
        return starts_on + timedelta(days=steps * step_days)
    # whole leap cycles, so that a 29th of February finds itself again
    step_years = math.lcm(MONTHS_OF_FREQ[freq] * interval, 48) // 12
    for steps in range((first.year - 1 - starts_on.year) // step_years, 0, -1):
        try:
            return starts_on.replace(year=starts_on.year + steps * step_years)
        except ValueError:
            continue  # 2100 has no 29th of February; the cycle before it has one
    return starts_on
