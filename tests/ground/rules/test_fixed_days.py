from dataclasses import replace
from datetime import date

import pytest

from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.fixed_days import (
    fixed_day_findings,
    on_fixed_days,
    open_fixed_days,
    stands_fast,
)
from floorcare.ground.rules.rhythm import rhythm_dues
from floorcare.ground.trade.routine import Performer, Proof, Routine
from floorcare.ground.trade.treatment import Work
from tests.builders import DAY, TODAY, a_book, a_case

FIRST_TUESDAYS = "FREQ=MONTHLY;BYDAY=1TU"
TUESDAYS = (date(2026, 3, 3), date(2026, 4, 7), date(2026, 5, 5), date(2026, 6, 2))


def first_tuesdays(**more: object) -> Routine:
    own = {"rule": FIRST_TUESDAYS, "promised": True, "starts_on": TODAY - 20 * DAY, **more}
    return Routine(work=Work.BURNISH, performer=Performer.US, proof=Proof.CONFIRMED, **own)  # type: ignore[arg-type]


def a_zone_case(routine: Routine, *shut: date) -> ZoneCase:
    case = a_case(a_book(routines=(routine,), promises=()), days=100)
    nights = tuple(on for on in (TODAY + n * DAY for n in range(1, 101)) if on not in shut)
    return replace(case, nights=nights)


@pytest.mark.parametrize(
    ("rule", "promised", "fixed"),
    [
        (FIRST_TUESDAYS, True, True),
        (FIRST_TUESDAYS, False, False),
        ("FREQ=MONTHLY", True, False),
        ("FREQ=WEEKLY;INTERVAL=2;BYDAY=FR", True, True),
    ],
)
def test_only_promised_weekdays_are_fixed(rule: str, promised: bool, fixed: bool) -> None:
    assert on_fixed_days(first_tuesdays(rule=rule, promised=promised)) is fixed


def test_a_fixed_day_has_no_slack_and_says_so() -> None:
    dues = rhythm_dues(a_zone_case(first_tuesdays()))
    assert [d.target for d in dues] == list(TUESDAYS)
    assert all(d.earliest == d.target == d.latest for d in dues)
    assert all(stands_fast(d) for d in dues)
    loose = rhythm_dues(a_zone_case(first_tuesdays(promised=False)))
    assert not any(stands_fast(d) or d.earliest == d.latest for d in loose)


def test_a_fixed_day_that_is_shut_falls_out_and_is_named() -> None:
    case = a_zone_case(first_tuesdays(), TUESDAYS[1])
    assert [d.target for d in rhythm_dues(case)] == [on for on in TUESDAYS if on != TUESDAYS[1]]
    (found,) = fixed_day_findings(case)
    assert "1 of them are not open to us, the first on 2026-04-07" in found.problem
    assert fixed_day_findings(a_zone_case(first_tuesdays())) == ()


def test_an_agreed_exception_is_no_shut_day() -> None:
    excepted = first_tuesdays(except_on=(TUESDAYS[1],))
    case = a_zone_case(excepted, TUESDAYS[1])
    assert fixed_day_findings(case) == ()
    assert TUESDAYS[1] not in [d.target for d in rhythm_dues(case)]


def test_a_missed_fixed_day_is_not_made_good_on_another() -> None:
    missed = first_tuesdays(starts_on=date(2026, 1, 6))
    assert [d.target for d in rhythm_dues(a_zone_case(missed))] == list(TUESDAYS)


def test_where_the_nights_are_not_known_every_day_counts_as_open() -> None:
    case = a_case(a_book(routines=(first_tuesdays(),), promises=()), days=100)
    assert open_fixed_days(case, [TODAY, *TUESDAYS]) == TUESDAYS
    assert fixed_day_findings(case) == ()
