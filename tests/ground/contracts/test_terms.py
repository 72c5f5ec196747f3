from dataclasses import replace
from datetime import date

import pytest

from floorcare.ground.contracts.terms import (
    TermDateKind,
    TermState,
    chosen_term,
    renewed,
    shown_terms,
    term_dates,
    term_state,
)
from floorcare.ground.trade.contract import RenewalKind
from tests.ground.contracts.agreed import DAY, FIRST, LAST, TODAY, a_contract, a_term

BEFORE = a_term(date(2023, 3, 1), FIRST - DAY)
NOW = a_term()
AFTER = a_term(LAST + DAY, date(2029, 2, 28))


@pytest.mark.parametrize(
    ("today", "state"),
    [
        (FIRST - DAY, TermState.NEXT),
        (FIRST, TermState.IN_FORCE),
        (LAST, TermState.IN_FORCE),
        (LAST + DAY, TermState.ENDED),
    ],
)
def test_the_first_and_the_last_day_belong_to_the_term(today, state):
    assert term_state(FIRST, LAST, today) is state


def test_the_term_in_force_and_those_to_come_are_shown():
    contract = a_contract(BEFORE, NOW, AFTER)
    assert shown_terms(contract, TODAY) == (NOW, AFTER)
    assert shown_terms(contract, AFTER.starts_on) == (AFTER,)


def test_a_contract_that_ran_out_shows_its_last_term_and_one_without_terms_none():
    assert shown_terms(a_contract(BEFORE, NOW), LAST + DAY) == (NOW,)
    assert shown_terms(replace(a_contract(), terms=()), TODAY) == ()


def test_without_a_day_the_term_in_force_is_meant_and_with_one_the_term_that_starts_on_it():
    contract = a_contract(BEFORE, NOW, AFTER)
    assert chosen_term(contract, TODAY) == NOW
    assert chosen_term(contract, BEFORE.starts_on - DAY) == BEFORE
    assert chosen_term(contract, TODAY, BEFORE.starts_on) == BEFORE
    assert chosen_term(contract, TODAY, BEFORE.starts_on + DAY) is None


def test_a_terms_dates_stand_in_order_whoever_must_speak_first():
    assert [(d.kind, d.on) for d in term_dates(NOW)] == [
        (TermDateKind.OUR_NOTICE, date(2026, 11, 30)),
        (TermDateKind.THEIR_NOTICE, date(2026, 12, 30)),
        (TermDateKind.END, LAST),
    ]
    theirs_first = a_term(ours=30, theirs=120)
    first = term_dates(theirs_first)[0]
    assert (first.kind, first.on) == (TermDateKind.THEIR_NOTICE, date(2026, 10, 31))


def test_a_renewed_term_begins_the_day_after_and_is_as_long():
    assert renewed(NOW) == replace(NOW, starts_on=LAST + DAY, ends_on=date(2029, 2, 28))
    leap = renewed(a_term(date(2023, 3, 1), date(2024, 2, 29)))
    assert (leap.starts_on, leap.ends_on) == (date(2024, 3, 1), date(2025, 2, 28))
    odd = renewed(a_term(date(2024, 11, 25), date(2027, 11, 30)))
    assert (odd.starts_on, odd.ends_on) == (date(2027, 12, 1), date(2030, 11, 30))
    short = renewed(a_term(date(2026, 1, 10), date(2026, 1, 31)))
    assert (short.starts_on, short.ends_on) == (date(2026, 2, 1), date(2026, 2, 22))


def test_a_renewed_term_keeps_the_cap_and_is_refused_beyond_it():
    capped = a_term(renewal=RenewalKind.OPTION, cap_on=date(2029, 2, 28))
    once = renewed(capped)
    assert once.cap_on == once.ends_on
    with pytest.raises(ValueError, match="after its cap 2029-02-28"):
        renewed(once)
