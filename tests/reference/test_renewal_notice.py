"""Notice dates of contracts, after FAR 52.217-9 and a city's cleaning contract.

Source: 48 CFR 52.217-9, law.cornell.edu/cfr/text/48/52.217-9 (60 days unless another number stands
there; the total duration is capped); records.fcgov.com id 8447361 (90 days, and a printed term that
ends before it starts). Clauses were read as excerpts.
"""

from datetime import date

import pytest

from floorcare.ground.trade.contract import (
    NOTICE_DAYS_OFFERED,
    RenewalKind,
    Term,
    notice_on,
)


def a_term(starts_on: date, ends_on: date, days: int, cap_on: date | None = None) -> Term:
    return Term(
        starts_on=starts_on,
        ends_on=ends_on,
        our_notice_days=days,
        their_notice_days=days,
        renewal=RenewalKind.OPTION,
        cap_on=cap_on,
    )


@pytest.mark.parametrize(
    ("ends_on", "days", "speak_on"),
    [
        (date(2027, 9, 30), NOTICE_DAYS_OFFERED, date(2027, 8, 1)),
        (date(2014, 1, 31), 90, date(2013, 11, 2)),
    ],
)
def test_notice_is_counted_back_from_the_end(ends_on: date, days: int, speak_on: date) -> None:
    assert notice_on(ends_on, days) == speak_on
    term = a_term(date(2012, 1, 1), ends_on, days)
    assert (term.our_notice_on, term.their_notice_on) == (speak_on, speak_on)
    assert term.ends_on == ends_on, "giving notice does not move the end"


def test_the_offered_number_of_days_is_the_clause_s_60() -> None:
    assert NOTICE_DAYS_OFFERED == 60


def test_the_printed_term_that_ends_before_it_starts_is_refused() -> None:
    with pytest.raises(ValueError, match="ends 2013-01-31 before it starts 2013-02-01"):
        a_term(date(2013, 2, 1), date(2013, 1, 31), 90)


def test_a_term_beyond_the_total_duration_is_refused() -> None:
    cap = date(2027, 9, 30)
    assert a_term(date(2026, 10, 1), cap, 60, cap).ends_on == cap
    with pytest.raises(ValueError, match="after its cap 2027-09-30"):
        a_term(date(2026, 10, 1), date(2027, 10, 1), 60, cap)
