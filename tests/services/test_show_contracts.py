from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest

from floorcare.errors import NotKnown
from floorcare.ground.contracts.history import RowKind
from floorcare.ground.contracts.terms import TermState
from floorcare.ground.trade.book import Portfolio
from floorcare.ground.trade.contract import RenewalKind
from floorcare.ground.trade.promise import PromiseKind
from floorcare.ground.trade.treatment import Work
from floorcare.services.load_care import load_care
from floorcare.services.show_contracts import show_contract, show_contracts
from floorcare.store.open import open_store
from floorcare.store.upgrade import create_or_upgrade
from tests.ground.contracts.agreed import (
    DAY,
    FAIR,
    FEES,
    FIRST,
    LAST,
    TODAY,
    a_book,
    a_contract,
    a_term,
)
from tests.services.watched import WatchedStore
from tests.store.sample import LATER, NOW, added, due, plan, portfolio, site_book, visit, with_zone

AFTER = a_term(LAST + DAY, date(2029, 2, 28), renewal=RenewalKind.TENDER)


def bring(store, *contracts, books=None, now=NOW):
    care = portfolio(*(books or (a_book(), with_zone(site_book("SOUTH", "WEST"), promises=()))))
    load_care(store, replace(care, contracts=contracts), who="office", now=now)


def put(store, *visits):
    with store.work(writes=True) as work:
        work.put_plan(
            plan(),
            visits=visits,
            changes=tuple(added(v) for v in visits),
            unplaced=(),
            revisions=work.revisions(),
            who="planner",
            now=NOW,
        )
        work.commit()


@pytest.fixture
def agreed(loaded):
    """The contract of two terms, entered."""
    bring(loaded, a_contract(a_term(), AFTER))
    return loaded


def listed(store, surfaces, today=TODAY):
    return show_contracts(store, surfaces, today=today).terms


def shown(store, surfaces, code="C-1", today=TODAY, **more):
    return show_contract(store, surfaces, code=code, today=today, **more)


# the list


def test_a_term_in_force_stands_with_its_notice_dates_fees_and_promises_today(agreed, surfaces):
    now, after = listed(agreed, surfaces)
    assert (now.contract, now.customer_name, now.currency) == ("C-1", "The Market Halls", "EUR")
    assert (now.starts_on, now.ends_on, now.state) == (FIRST, LAST, TermState.IN_FORCE)
    assert (now.our_notice_on, now.our_notice_in) == (date(2026, 11, 30), 273)
    assert (now.their_notice_on, now.their_notice_in) == (date(2026, 12, 30), 303)
    assert set(now.fees) == set(FEES)
    assert {fee.amount for fee in now.fees} == {Decimal("1850.00"), Decimal("0.125")}
    assert (now.zones, now.standing.guarded) == (1, 1)
    assert now.then == "is followed by the term from 1 March 2027"
    assert (after.state, after.zones, after.standing) == (TermState.NEXT, 1, None)
    assert after.then == "is tendered again"


def test_the_earliest_notice_date_stands_first_and_what_ran_out_after_the_others(loaded, surfaces):
    bring(
        loaded,
        a_contract(a_term(ours=30, theirs=200), code="C-1"),
        a_contract(a_term(ours=201, theirs=30), code="C-2"),
        a_contract(a_term(FIRST, TODAY - DAY), code="C-3"),
    )
    terms = listed(loaded, surfaces)
    assert [t.contract for t in terms] == ["C-2", "C-1", "C-3"]
    assert (terms[2].state, terms[2].standing) == (TermState.ENDED, None)


def test_promises_of_a_contract_nobody_entered_stand_last_under_its_code(loaded, surfaces):
    bring(loaded, a_contract(code="C-2"))
    entered, loose = listed(loaded, surfaces)
    assert (entered.contract, entered.zones) == ("C-2", 0)
    assert (loose.contract, loose.entered, loose.then) == ("C-1", False, "no contract entered")
    assert (loose.starts_on, loose.ends_on) == (date(2024, 1, 1), date(2027, 12, 31))
    assert (loose.our_notice_on, loose.fees, loose.zones) == (None, (), 1)


@pytest.mark.parametrize(
    ("renewal", "cap_on", "today", "said"),
    [
        (
            RenewalKind.AUTOMATIC,
            None,
            TODAY,
            "renews by itself, to 28 February 2029, unless notice is given",
        ),
        (
            RenewalKind.AUTOMATIC,
            None,
            date(2026, 12, 31),
            "renews by itself, to 28 February 2029: both notice dates have passed",
        ),
        (RenewalKind.ROLLING, None, TODAY, "rolls on until one side gives notice"),
        (
            RenewalKind.OPTION,
            None,
            TODAY,
            "ends unless the option is taken up, to 28 February 2029",
        ),
        (
            RenewalKind.OPTION,
            date(2028, 2, 29),
            TODAY,
            "ends unless the option is taken up, at most to 29 February 2028",
        ),
        (RenewalKind.OPTION, LAST, TODAY, "ends for good: no term may pass 28 February 2027"),
    ],
)
def test_what_follows_a_term_is_said_in_words(renewal, cap_on, today, said, loaded, surfaces):
    bring(loaded, a_contract(a_term(renewal=renewal, cap_on=cap_on)))
    assert listed(loaded, surfaces, today)[0].then == said


def test_nobodys_contract_makes_an_empty_list(surfaces, tmp_path):
    path = tmp_path / "empty.db"
    create_or_upgrade(str(path), NOW)
    store = open_store(str(path))
    try:
        load_care(store, Portfolio(), who="office", now=NOW)
        assert listed(store, surfaces) == ()
        with pytest.raises(NotKnown, match=r'no contract "C-1"; there are none\.'):
            shown(store, surfaces)
    finally:
        store.close()


# one contract


def test_the_term_in_force_is_shown_with_what_was_promised_and_left_out(agreed, surfaces):
    history = shown(agreed, surfaces)
    assert history.summary == listed(agreed, surfaces)[0]
    assert [state for _, _, state in history.terms] == [TermState.IN_FORCE, TermState.NEXT]
    assert history.sites == (("NORTH", "North hall"),)
    kinds = {row.kind for row in history.promises}
    assert kinds >= {PromiseKind.APPEARANCE, PromiseKind.SLIP, PromiseKind.RESPONSE}
    assert history.exclusions == (FAIR,)
    assert history.units == "metric"


def test_the_history_runs_from_what_was_done_to_what_is_planned_in_the_term(agreed, surfaces):
    coming = date(2026, 3, 12)
    put(
        agreed,
        replace(visit("NORTH", coming, due()), uuid="first"),
        replace(visit("NORTH", LAST + 3 * DAY, due()), uuid="beyond"),
    )
    history = shown(agreed, surfaces)
    assert history.planned_to == plan().last_on
    assert history.rows[-1].on == coming
    assert history.rows[-1].kind is RowKind.PLANNED
    (coat,) = (w for w in history.works if w.work is Work.RECOAT)
    assert (coat.done, coat.planned) == (1, 1)
    assert [r.work for r in history.rhythms] == [Work.BURNISH]


def test_another_term_is_had_by_its_first_day(agreed, surfaces):
    history = shown(agreed, surfaces, starts_on=LAST + DAY)
    assert history.summary.starts_on == LAST + DAY
    assert (history.rows, history.exclusions) == ((), ())
    # the older line of this zone runs on into that term
    assert [row.ends_on for row in history.promises] == [date(2027, 12, 31)]


def test_a_contract_nobody_entered_has_a_history_and_no_calendar(loaded, surfaces):
    bring(loaded)
    history = shown(loaded, surfaces)
    assert not history.summary.entered
    assert history.rows
    assert (history.calendar, history.terms) == (None, ())
    with pytest.raises(NotKnown, match=r"No terms of contract C-1 were entered\."):
        shown(loaded, surfaces, starts_on=FIRST)


def test_what_is_not_known_is_named_with_what_is(agreed, surfaces):
    with pytest.raises(NotKnown, match=r'There is no contract "C-9"; there are C-1\.'):
        shown(agreed, surfaces, code="C-9")
    with pytest.raises(
        NotKnown, match=r"no term from 2025-03-02; its terms start: 2025-03-01, 2027-03-01\."
    ):
        shown(agreed, surfaces, starts_on=FIRST + DAY)


def test_a_contract_without_terms_is_not_forgotten(loaded, surfaces):
    bring(
        loaded,
        *(replace(a_contract(code=code), terms=(), exclusions=()) for code in ("C-1", "C-2")),
    )
    first, second = listed(loaded, surfaces)
    assert (first.contract, first.name, first.entered) == ("C-1", "Care of the halls", False)
    assert (first.then, first.zones) == ("no terms entered", 1)
    assert (second.contract, second.zones, second.standing.evidence) == ("C-2", 0, ())
    history = shown(loaded, surfaces, code="C-2")
    assert (history.rows, history.promises, history.calendar) == ((), (), None)


# its calendar


def events_of(store, surfaces):
    sheet = shown(store, surfaces).calendar
    return sheet, {(e.night, e.summary.split(":")[0]): e for e in sheet.events}


def test_the_calendar_holds_both_notice_dates_and_the_end_of_every_term(agreed, surfaces):
    sheet, events = events_of(agreed, surfaces)
    assert sorted(events) == [
        (date(2026, 11, 30), "Last day for our notice"),
        (date(2026, 12, 30), "Last day for the customer's notice"),
        (LAST, "Term ends"),
        (date(2028, 11, 30), "Last day for our notice"),
        (date(2028, 12, 30), "Last day for the customer's notice"),
        (date(2029, 2, 28), "Term ends"),
    ]
    assert all(e.starts_at is None and not e.proposed for e in sheet.events)
    assert sheet.name == "Contract C-1, The Market Halls"
    with agreed.work() as work:
        assert sheet.domain == work.installation().domain


def test_the_calendar_holds_no_price_and_does_not_change_with_the_day(agreed, surfaces):
    sheet, _ = events_of(agreed, surfaces)
    assert "1850" not in repr(sheet)
    assert "0.125" not in repr(sheet)
    later = shown(agreed, surfaces, today=TODAY + timedelta(days=300)).calendar
    assert later == sheet


def test_a_moved_end_keeps_its_events_and_raises_their_sequence(agreed, surfaces):
    before, _ = events_of(agreed, surfaces)
    assert {(e.sequence, e.changed_at) for e in before.events} == {(0, NOW)}
    bring(agreed, a_contract(a_term(ends_on=LAST - 30 * DAY), AFTER), now=LATER)
    after, events = events_of(agreed, surfaces)
    assert {e.uid for e in after.events} == {e.uid for e in before.events}
    assert {(e.sequence, e.changed_at) for e in after.events} == {(1, LATER)}
    assert (LAST - 30 * DAY, "Term ends") in events
    assert after.revision > before.revision


def test_what_changes_no_contract_changes_no_calendar(agreed, surfaces):
    before, _ = events_of(agreed, surfaces)
    bring(agreed, books=(with_zone(a_book(), readings=()),), now=LATER)
    assert events_of(agreed, surfaces)[0] == before


def test_it_reads_one_moment_and_writes_nothing(agreed, surfaces):
    watched = WatchedStore(agreed)
    show_contracts(watched, surfaces, today=TODAY)
    show_contract(watched, surfaces, code="C-1", today=TODAY)
    assert (watched.blocks, watched.commits) == ([False, False], 0)
