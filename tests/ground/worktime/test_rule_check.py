import pytest

from floorcare.ground.worktime.rule_check import rule_parts, rule_problem


@pytest.mark.parametrize(
    "rule",
    [
        "FREQ=DAILY",
        "FREQ=DAILY;INTERVAL=90",
        "freq=weekly;byday=tu,fr",
        "FREQ=WEEKLY;INTERVAL=2;BYDAY=MO;WKST=SU",
        "FREQ=MONTHLY;BYDAY=1MO,-1FR",
        "FREQ=MONTHLY;BYMONTHDAY=28,29,30,31;BYSETPOS=-1",
        "FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=29",
        "FREQ=YEARLY;BYWEEKNO=20;BYDAY=MO",
        "FREQ=YEARLY;BYYEARDAY=1,-1;COUNT=10",
        "FREQ=DAILY;UNTIL=20270331",
    ],
)
def test_a_rule_by_the_day_passes(rule: str) -> None:
    assert rule_problem(rule) == ""


@pytest.mark.parametrize(
    ("rule", "says"),
    [
        ("", "written in parts"),
        ("weekly", "written in parts"),
        ("FREQ=DAILY;", "written in parts"),
        ("RRULE:FREQ=DAILY", 'without "RRULE:"'),
        ("FREQ=DAILY;FREQ=WEEKLY", "stands twice"),
        ("INTERVAL=2", "FREQ is missing"),
        ("FREQ=NIGHTLY", "FREQ=NIGHTLY is not known"),
        ("FREQ=SECONDLY", "goes by the clock"),
        ("FREQ=DAILY;BYHOUR=9", "BYHOUR goes by the clock"),
        ("FREQ=DAILY;RSCALE=GREGORIAN", "RSCALE is not known"),
        ("FREQ=DAILY;INTERVAL=0", "allowed 1 to 1,000"),
        ("FREQ=DAILY;INTERVAL=-1", "allowed 1 to 1,000"),
        ("FREQ=DAILY;INTERVAL=1001", "allowed 1 to 1,000"),
        ("FREQ=DAILY;INTERVAL=99999999999999999999", "allowed 1 to 1,000"),
        ("FREQ=DAILY;INTERVAL=１", "allowed 1 to 1,000"),
        ("FREQ=DAILY;COUNT=0", "allowed 1 to 99,999"),
        ("FREQ=DAILY;COUNT=2;UNTIL=20270331", "do not stand together"),
        ("FREQ=DAILY;UNTIL=20270331T120000Z", "without a time"),
        ("FREQ=DAILY;UNTIL=20270230", "is no date"),
        ("FREQ=WEEKLY;WKST=XX", "WKST=XX"),
        ("FREQ=WEEKLY;BYDAY=XX", "BYDAY=XX"),
        ("FREQ=WEEKLY;BYDAY=", "written in parts"),
        ("FREQ=WEEKLY;BYDAY=1MO", "here only the weekday"),
        ("FREQ=YEARLY;BYWEEKNO=20;BYDAY=1MO", "here only the weekday"),
        ("FREQ=MONTHLY;BYDAY=0MO", "BYDAY=0MO"),
        ("FREQ=MONTHLY;BYDAY=54MO", "BYDAY=54MO"),
        ("FREQ=WEEKLY;BYMONTHDAY=1", "BYMONTHDAY does not go with FREQ=WEEKLY"),
        ("FREQ=MONTHLY;BYWEEKNO=1", "BYWEEKNO does not go with FREQ=MONTHLY"),
        ("FREQ=MONTHLY;BYYEARDAY=1", "BYYEARDAY does not go with FREQ=MONTHLY"),
        ("FREQ=WEEKLY;BYDAY=MO;BYSETPOS=1", "BYSETPOS does not go with FREQ=WEEKLY"),
        ("FREQ=MONTHLY;BYSETPOS=1", "picks from another BY part"),
        ("FREQ=MONTHLY;BYMONTHDAY=0", "allowed 1 to 31 and -1 to -31"),
        ("FREQ=MONTHLY;BYMONTHDAY=32", "allowed 1 to 31 and -1 to -31"),
        ("FREQ=YEARLY;BYMONTH=13", "allowed 1 to 12"),
        ("FREQ=YEARLY;BYMONTH=1,,2", "allowed 1 to 12"),
        ("FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30", "no month named in BYMONTH has a day 30"),
        ("FREQ=DAILY;BYMONTH=4,6;BYMONTHDAY=31", "no month named in BYMONTH has a day 31"),
    ],
)
def test_what_is_wrong_with_a_rule_is_said(rule: str, says: str) -> None:
    assert says in rule_problem(rule)


def test_a_very_long_rule_is_answered_shortly() -> None:
    for rule in ("FREQ=" + "X" * 100_000, "FREQ=DAILY;BYMONTH=" + "1," * 50_000 + "x"):
        assert 0 < len(rule_problem(rule)) < 200


def test_parts_are_read_in_capitals() -> None:
    assert rule_parts("freq=daily;Interval=2") == {"FREQ": "DAILY", "INTERVAL": "2"}
