"""Recurrence against the examples printed in RFC 5545 3.8.5.3 and the cases of libical.

Source: RFC 5545 (B. Desruisseaux, IETF 2009), 20 of its 39 examples; libical
src/test/icalrecur_test.txt (d31d57c), 73 of its 146 cases, taken where a second library agrees.

A routine recurs by the day. Rules that go by the clock are out of scope and must be refused. Where
an example has DTSTART with a time and UNTIL in UTC, UNTIL becomes the last date on which the
event's own hour is not past it, as its date form would be written.
"""

import json
import re
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from floorcare.ground.worktime.recurrence import Recurrence
from floorcare.ground.worktime.rule_check import rule_problem

BY_THE_CLOCK_RFC = {"rfc5545-3.8.5.3-33", "rfc5545-3.8.5.3-35"}
"""Every 3 hours, every hour and a half."""
BY_THE_CLOCK_LIBICAL = {
    f"libical-{number:03d}"
    for number in (49, 51, 63, 69, 75, 79, 83, 85, 115, 117, 119, 121, 127, 137, 139)
}


def load(path: Path) -> list[dict[str, Any]]:
    return json.loads(path.read_text(encoding="utf-8"))


def moment(text: str) -> datetime:
    """A DATE or DATE-TIME as printed, naive; a date is its midnight."""
    return datetime.fromisoformat(text.rstrip("Z"))


def by_the_day(rule: str, dtstart: str, zone: str | None) -> str:
    """The rule with UNTIL as a date."""
    found = re.search(r"UNTIL=(\d{8}T\d{6}Z?)", rule)
    if not found:
        return rule
    until = moment(found[1])
    if zone is not None and found[1].endswith("Z"):
        until = until.replace(tzinfo=UTC).astimezone(ZoneInfo(zone)).replace(tzinfo=None)
    last = until.date()
    if moment(dtstart).time() > until.time():
        last -= timedelta(days=1)
    return rule.replace(found[1], f"{last:%Y%m%d}")


def dates_of(texts: list[str]) -> tuple[date, ...]:
    return tuple(moment(text).date() for text in texts)


def test_examples_of_the_standard(reference_folder: Path) -> None:
    examples = load(reference_folder / "icalendar/rfc5545_rrule_examples.json")
    assert len(examples) == 20
    refused, checked = set(), 0
    for example in examples:
        for rule in example["rrules"]:
            if "goes by the clock" in rule_problem(rule):
                refused.add(example["id"])
                continue
            expected = dates_of(example["expected"])
            recurrence = Recurrence(
                rule=by_the_day(rule, example["dtstart"], example["tzid"]),
                starts_on=moment(example["dtstart"]).date(),
                except_on=dates_of(example["exdate"] or []),
            )
            horizon = expected[-1] if example["open_ended"] else expected[-1].replace(year=2030)
            assert recurrence.dates(date(1990, 1, 1), horizon) == expected, example["id"]
            checked += 1
    assert refused == BY_THE_CLOCK_RFC
    assert checked == 20  # 18 examples, two of them with two rules each


def test_until_with_a_time_is_refused_as_the_standard_asks_of_a_date(
    reference_folder: Path,
) -> None:
    # RFC 5545 3.3.10: UNTIL has the value type of DTSTART, and a routine starts on a date.
    examples = load(reference_folder / "icalendar/rfc5545_rrule_examples.json")
    rules = [r for e in examples for r in e["rrules"] if re.search(r"UNTIL=\d{8}T", r)]
    daily = [rule for rule in rules if "HOURLY" not in rule]
    assert len(daily) == 5
    assert all("without a time" in rule_problem(rule) for rule in daily)


def test_cases_of_libical(reference_folder: Path) -> None:
    cases = load(reference_folder / "icalendar/libical_recur_cases.json")
    assert len(cases) == 73
    refused, checked = set(), 0
    for case in cases:
        if "goes by the clock" in rule_problem(case["rrule"]):
            refused.add(case["id"])
            continue
        if not case["dateutil_agrees"]:
            continue
        rule = by_the_day(case["rrule"], case["dtstart"], None)
        expected = dates_of(case["instances"])
        starts_on = moment(case["dtstart"]).date()
        recurrence = Recurrence(rule=rule, starts_on=starts_on)
        assert recurrence.dates(starts_on, date(2060, 1, 1)) == expected, case["id"]
        checked += 1
    assert refused == BY_THE_CLOCK_LIBICAL
    assert checked == 47


# Source: RFC 5545 3.3.10: an invalid date such as 30 February is left out, not moved.
def test_a_month_without_the_day_has_no_date() -> None:
    monthly = Recurrence(rule="FREQ=MONTHLY", starts_on=date(2026, 1, 31))
    assert monthly.dates(date(2026, 1, 1), date(2026, 6, 30)) == (
        date(2026, 1, 31),
        date(2026, 3, 31),
        date(2026, 5, 31),
    )
