"""Notice dates as they reach a calendar, and what renewing a term does, after FAR 52.217-9.

Source: 48 CFR 52.217-9, law.cornell.edu/cfr/text/48/52.217-9: preliminary notice at least 60 days
before the contract expires unless another number is inserted; (a) the notice does not commit
anybody; (b) an exercised option includes the option clause; (c) the total duration is capped.
A city's cleaning contract, records.fcgov.com id 8447361: 90 days. Both read as excerpts.
"""

from dataclasses import replace
from datetime import date

import icalendar
import pytest

from floorcare.faces.feeds.write import write_calendar
from floorcare.ground.contracts.terms import TermDateKind, renewed, term_dates
from floorcare.ground.trade.contract import NOTICE_DAYS_OFFERED, RenewalKind, Term
from floorcare.services.sheets import CalendarEvent
from tests.golden.contract_sheets import CALENDAR, CHANGED


def an_option(
    starts_on: date, ends_on: date, days: int = NOTICE_DAYS_OFFERED, cap_on: date | None = None
) -> Term:
    return Term(
        starts_on=starts_on,
        ends_on=ends_on,
        our_notice_days=days,
        their_notice_days=days,
        renewal=RenewalKind.OPTION,
        cap_on=cap_on,
    )


# (expiry, days, last day for notice): 60 is the clause's own number, 90 the city's
PUBLISHED = [
    (date(2027, 9, 30), 60, date(2027, 8, 1)),
    (date(2014, 1, 31), 90, date(2013, 11, 2)),
]


@pytest.mark.parametrize(("ends_on", "days", "last_day"), PUBLISHED)
def test_the_last_day_for_notice_stands_in_the_calendar_as_that_whole_day(ends_on, days, last_day):
    term = an_option(date(2013, 1, 1), ends_on, days)
    events = tuple(
        CalendarEvent(
            uid=f"date-{number}",
            night=one.on,
            sequence=0,
            changed_at=CHANGED,
            summary=one.kind.value,
        )
        for number, one in enumerate(term_dates(term))
    )
    made = write_calendar(replace(CALENDAR, events=events))
    read = {
        str(event["SUMMARY"]): (event.decoded("DTSTART"), event.decoded("DTEND"))
        for event in icalendar.Calendar.from_ical(made).events
    }
    for kind in (TermDateKind.OUR_NOTICE, TermDateKind.THEIR_NOTICE):
        first, after = read[kind.value]
        assert first == last_day
        assert (after - first).days == 1
    assert read[TermDateKind.END.value][0] == ends_on, "notice does not move the end"


def test_an_exercised_option_carries_the_clause_with_it():
    term = an_option(date(2026, 10, 1), date(2027, 9, 30))
    after = renewed(term)
    assert (after.starts_on, after.ends_on) == (date(2027, 10, 1), date(2028, 9, 30))
    assert replace(after, starts_on=term.starts_on, ends_on=term.ends_on) == term
    assert after.our_notice_on == date(2028, 8, 1)


def test_the_total_duration_refuses_one_option_more():
    # a year and up to four renewals of a year, as the city's contract has it
    term = an_option(date(2013, 2, 1), date(2014, 1, 31), 90, cap_on=date(2018, 1, 31))
    for _ in range(4):
        term = renewed(term)
    assert term.ends_on == date(2018, 1, 31)
    with pytest.raises(ValueError, match="ends 2019-01-31, after its cap 2018-01-31"):
        renewed(term)


def test_the_citys_misprinted_term_is_refused():
    # printed as starting 2013-02-01 and ending 2013-01-31
    with pytest.raises(ValueError, match="ends 2013-01-31 before it starts 2013-02-01"):
        an_option(date(2013, 2, 1), date(2013, 1, 31), 90)
