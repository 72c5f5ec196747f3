from dataclasses import replace
from datetime import date

from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.shut_weeks import (
    ROOM_DAYS,
    SHUT_AHEAD_DAYS,
    SHUT_FACT,
    drawn_before_shut_weeks,
)
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Due
from tests.builders import DAY, TODAY, a_book, a_case, a_due, a_zone

SHUT_FROM, SHUT_TO = date(2026, 4, 6), date(2026, 4, 26)


def shut_in_april(**more: object) -> ZoneCase:
    nights = tuple(
        on
        for on in (TODAY + ahead * DAY for ahead in range(1, 180))
        if not SHUT_FROM <= on <= SHUT_TO and on.weekday() < 5
    )
    return replace(a_case(**more), nights=nights)  # type: ignore[arg-type]


def in_april(work: Work = Work.BURNISH, *, slack: int = 3) -> Due:
    target = date(2026, 4, 15)
    return a_due(work, target=target, earliest=target - slack * DAY, latest=target + slack * DAY)


def test_work_whose_whole_window_is_shut_comes_on_the_last_night_before() -> None:
    (drawn,) = drawn_before_shut_weeks(shut_in_april(), [in_april()])
    friday = date(2026, 4, 3)
    assert (drawn.target, drawn.latest) == (friday, friday)
    assert drawn.earliest == friday - ROOM_DAYS * DAY
    assert drawn.reason.inside == (
        "burnish is due; no night is open to us from 4 April 2026 to 18 April 2026, so it comes "
        "before."
    )
    assert (SHUT_FACT, "2026-04-04") in drawn.reason.facts
    assert drawn.reason.rejected[-1] == ("burnish on 2026-04-15", "no night is open then")


def test_work_that_has_a_night_in_its_window_stays() -> None:
    wide = in_april(slack=12)
    assert drawn_before_shut_weeks(shut_in_april(), [wide]) == (wide,)


def test_what_lies_too_far_back_comes_late_instead() -> None:
    due = in_april()
    last = due.target - (SHUT_AHEAD_DAYS + 1) * DAY
    case = replace(shut_in_april(), nights=(last,))
    assert drawn_before_shut_weeks(case, [due]) == (due,)
    near = replace(case, nights=(last + DAY,))
    assert drawn_before_shut_weeks(near, [due])[0].target == last + DAY
    assert drawn_before_shut_weeks(replace(case, nights=(SHUT_TO + DAY,)), [due]) == (due,)


def test_new_concrete_waits_for_its_age_rather_than_come_before() -> None:
    book = a_book(zone=a_zone(from_on=TODAY, poured_on=date(2026, 3, 10)))
    case = shut_in_april(book=book)
    due = in_april()
    assert drawn_before_shut_weeks(case, [due]) == (due,)


def test_where_the_nights_are_not_known_nothing_moves() -> None:
    due = in_april()
    assert drawn_before_shut_weeks(a_case(), [due]) == (due,)
