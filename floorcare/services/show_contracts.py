"""Contracts by notice date, and one contract's term: what was promised, done and is planned.

Fees stand in these answers alone; what the documents and the calendar print holds none.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from uuid import UUID, uuid5

from floorcare.errors import NotKnown
from floorcare.ground.contracts.history import (
    RhythmCount,
    TermRow,
    WorkCount,
    count_rhythms,
    count_works,
    term_rows,
)
from floorcare.ground.contracts.lines import PromiseRow, promise_rows
from floorcare.ground.contracts.promised import (
    PromiseStanding,
    ZoneKey,
    conditions,
    promise_standing,
    promised_spans,
    promised_zones,
)
from floorcare.ground.contracts.terms import (
    TermDateKind,
    TermState,
    chosen_term,
    renewed,
    shown_terms,
    term_dates,
    term_state,
)
from floorcare.ground.rules.reasons import said
from floorcare.ground.schedule.outlook import ZoneOutlook
from floorcare.ground.trade.book import SiteBook
from floorcare.ground.trade.contract import Contract, Exclusion, FeeLine, RenewalKind, Term
from floorcare.ground.trade.site import Branch
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.visit import Plan, Visit
from floorcare.ground.wear.books.meters import Meters
from floorcare.ground.wear.pooled import Pooled
from floorcare.services.sheets import CalendarEvent, CalendarSheet, Units
from floorcare.store.history import HistoryEntry
from floorcare.store.installations import Installation
from floorcare.store.open import Store

ALL_HISTORY = 1_000_000
"""Entries of the account that are looked through for changes of a contract."""
CONTRACT_WORDS = {"contracts", "terms"}
"""What the account calls the rows a contract's dates come from."""

_SUMMARY = {
    TermDateKind.OUR_NOTICE: "Last day for our notice",
    TermDateKind.THEIR_NOTICE: "Last day for the customer's notice",
    TermDateKind.END: "Term ends",
}
_DESCRIPTION = {
    TermDateKind.OUR_NOTICE: "From the next day on we can no longer give notice for this term.",
    TermDateKind.THEIR_NOTICE: "From the next day on the customer can no longer give it.",
    TermDateKind.END: "This is the last day of the term.",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class TermSummary:
    """One term in a few lines.

    entered : False where no terms were entered; then nothing is known but the span of the promises
        that name the contract, and `then` says what is missing.
    then : what follows the term, in words.
    our_notice_on, their_notice_on : last days on which each side may give notice.
    our_notice_in, their_notice_in : days from today to them, negative once they have passed.
    zones : zones with a promise in this term.
    standing : of the promises today; None for a term that is not in force.
    """

    contract: str
    name: str
    customer: str
    customer_name: str
    entered: bool
    starts_on: date
    ends_on: date
    state: TermState
    then: str = ""
    renewal: RenewalKind | None = None
    our_notice_on: date | None = None
    our_notice_in: int | None = None
    their_notice_on: date | None = None
    their_notice_in: int | None = None
    cap_on: date | None = None
    currency: str = ""
    fees: tuple[FeeLine, ...] = ()
    zones: int = 0
    standing: PromiseStanding | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ContractList:
    """Every contract's terms in force and to come, the earliest notice date first."""

    on: date
    terms: tuple[TermSummary, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ContractHistory:
    """One term of a contract with its history.

    terms : (first day, last day, state) of every term of the contract.
    sites : (code, name) of the sites it makes promises about.
    planned_to : end of the standing plan; what falls due after it is not planned yet.
    calendar : its dates, None where no terms were entered.
    units : what people at its branch read; it decides the paper.
    """

    on: date
    summary: TermSummary
    terms: tuple[tuple[date, date, TermState], ...]
    sites: tuple[tuple[str, str], ...]
    promises: tuple[PromiseRow, ...]
    exclusions: tuple[Exclusion, ...]
    rows: tuple[TermRow, ...]
    works: tuple[WorkCount, ...]
    rhythms: tuple[RhythmCount, ...]
    planned_to: date | None = None
    calendar: CalendarSheet | None = None
    units: Units = "metric"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Care:
    """What is loaded once."""

    installation: Installation
    contracts: tuple[Contract, ...]
    customers: Mapping[str, str]
    branches: tuple[Branch, ...]
    books: tuple[SiteBook, ...]
    visits: tuple[Visit, ...]
    plan: Plan | None
    pooled: Mapping[str, Pooled]
    meters: Meters
    history: tuple[HistoryEntry, ...]


def _load(store: Store, history: int = 0) -> _Care:
    with store.work() as work:
        return _Care(
            installation=work.installation(),
            contracts=work.contracts(),
            customers={c.code: c.name for c in work.customers()},
            branches=work.branches(),
            books=work.books(),
            visits=work.visits(),
            plan=work.standing_plan(),
            pooled=work.pooled(),
            meters=work.meters(),
            history=work.history(history) if history else (),
        )


def show_contracts(store: Store, surfaces: Mapping[str, Surface], *, today: date) -> ContractList:
    """Every contract's terms in force and to come, the earliest notice date first.

    A contract that has run out stands after them with its last term; promises of a contract that
    nobody entered stand last under its code.
    """
    care = _load(store)
    promised = tuple(b for b in care.books if any(zone.promises for zone in b.zones))
    outlooks = _conditions(care, promised, surfaces, today)
    spans = promised_spans(care.books)
    asked = [
        _of_term(contract, term)
        for contract in care.contracts
        for term in shown_terms(contract, today)
    ]
    without = {c.code for c in care.contracts if not c.terms}
    loose = without | (set(spans) - {c.code for c in care.contracts})
    asked += [_without_term(care, code, spans.get(code, (today, today))) for code in loose]
    found = [_summary(care, one, surfaces, outlooks, today) for one in asked]
    return ContractList(on=today, terms=tuple(sorted(found, key=_by_notice)))


def show_contract(
    store: Store,
    surfaces: Mapping[str, Surface],
    *,
    code: str,
    today: date,
    starts_on: date | None = None,
) -> ContractHistory:
    """One contract: the term in force, or the one that starts on a day, with its history.

    Raises
    ------
    NotKnown : there is no such contract, or it has no such term.
    """
    care = _load(store, ALL_HISTORY)
    asked = _asked(care, code, starts_on, today)
    zones = promised_zones(care.books, code, asked.first, asked.last)
    mine = {zone.book.site.code for zone in zones}
    books = tuple(b for b in care.books if b.site.code in mine)
    outlooks = _conditions(care, books, surfaces, today)
    summary = _summary(care, asked, surfaces, outlooks, today)
    rows = term_rows(zones, care.visits, first=asked.first, last=asked.last, today=today)
    contract = asked.contract
    serving = {b.site.branch_on(today) for b in books}
    return ContractHistory(
        on=today,
        summary=summary,
        terms=tuple(
            (t.starts_on, t.ends_on, term_state(t.starts_on, t.ends_on, today))
            for t in (contract.terms if contract else ())
        ),
        sites=tuple((b.site.code, b.site.name) for b in books),
        promises=promise_rows(zones, outlooks, surfaces, today),
        exclusions=tuple(
            e
            for e in (contract.exclusions if contract else ())
            if e.from_on <= asked.last and e.to_on >= asked.first
        ),
        rows=rows,
        works=count_works(rows),
        rhythms=count_rhythms(zones, first=asked.first, last=asked.last, today=today),
        planned_to=care.plan.last_on if care.plan else None,
        calendar=_calendar(care, contract) if contract and contract.terms else None,
        units=next((b.units for b in care.branches if b.code in serving), "metric"),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Asked:
    """A contract's term, or the span of the promises of a contract nobody entered."""

    code: str
    first: date
    last: date
    contract: Contract | None = None
    term: Term | None = None


def _asked(care: _Care, code: str, starts_on: date | None, today: date) -> _Asked:
    contract = next((c for c in care.contracts if c.code == code), None)
    spans = promised_spans(care.books)
    if contract is None and code not in spans:
        known = ", ".join(sorted({c.code for c in care.contracts} | set(spans))) or "none"
        raise NotKnown(f'There is no contract "{code}"; there are {known}.')
    if contract is None or not contract.terms:
        if starts_on is not None:
            raise NotKnown(f"No terms of contract {code} were entered.")
        return _without_term(care, code, spans.get(code, (today, today)))
    term = chosen_term(contract, today, starts_on)
    if term is None:
        starts = ", ".join(str(t.starts_on) for t in contract.terms)
        raise NotKnown(f"Contract {code} has no term from {starts_on}; its terms start: {starts}.")
    return _of_term(contract, term)


def _without_term(care: _Care, code: str, span: tuple[date, date]) -> _Asked:
    contract = next((c for c in care.contracts if c.code == code), None)
    return _Asked(code=code, first=span[0], last=span[1], contract=contract)


def _of_term(contract: Contract, term: Term) -> _Asked:
    return _Asked(
        code=contract.code,
        first=term.starts_on,
        last=term.ends_on,
        contract=contract,
        term=term,
    )


def _conditions(
    care: _Care, books: Sequence[SiteBook], surfaces: Mapping[str, Surface], today: date
) -> dict[ZoneKey, ZoneOutlook]:
    return conditions(care.branches, books, care.visits, surfaces, care.pooled, today, care.meters)


def _summary(
    care: _Care,
    asked: _Asked,
    surfaces: Mapping[str, Surface],
    outlooks: Mapping[ZoneKey, ZoneOutlook],
    today: date,
) -> TermSummary:
    zones = promised_zones(care.books, asked.code, asked.first, asked.last)
    contract, term = asked.contract, asked.term
    state = term_state(asked.first, asked.last, today)
    customers = {contract.customer} if contract else {z.book.site.customer for z in zones}
    ours, theirs = (term.our_notice_on, term.their_notice_on) if term else (None, None)
    return TermSummary(
        contract=asked.code,
        name=contract.name if contract else "",
        customer=", ".join(sorted(customers)),
        customer_name=", ".join(sorted(care.customers.get(c, c) for c in customers)),
        entered=term is not None,
        starts_on=asked.first,
        ends_on=asked.last,
        state=state,
        then=_then(contract, term, today)
        if contract and term
        else f"no {'terms' if contract else 'contract'} entered",
        renewal=term.renewal if term else None,
        our_notice_on=ours,
        our_notice_in=(ours - today).days if ours else None,
        their_notice_on=theirs,
        their_notice_in=(theirs - today).days if theirs else None,
        cap_on=term.cap_on if term else None,
        currency=contract.currency if contract else "",
        fees=term.fees if term else (),
        zones=len(zones),
        standing=promise_standing(zones, outlooks, surfaces, today)
        if state is TermState.IN_FORCE
        else None,
    )


def _by_notice(summary: TermSummary) -> tuple[bool, bool, date, str]:
    notices = [on for on in (summary.our_notice_on, summary.their_notice_on) if on is not None]
    ended = summary.state is TermState.ENDED
    return not summary.entered, ended, min(notices, default=date.max), summary.contract


def _then(contract: Contract, term: Term, today: date = date.min) -> str:
    """What follows a term, in words, as things stand on a day."""
    following = next((t for t in contract.terms if t.starts_on > term.ends_on), None)
    if following is not None:
        return f"is followed by the term from {said(following.starts_on)}"
    if term.renewal is RenewalKind.TENDER:
        return "is tendered again"
    if term.renewal is RenewalKind.ROLLING:
        return "rolls on until one side gives notice"
    if term.cap_on is not None and term.ends_on >= term.cap_on:
        return f"ends for good: no term may pass {said(term.cap_on)}"
    try:
        to = f"to {said(renewed(term).ends_on)}"
    except ValueError:
        to = f"at most to {said(term.cap_on or date.max)}"
    if term.renewal is RenewalKind.OPTION:
        return f"ends unless the option is taken up, {to}"
    if today > max(term.our_notice_on, term.their_notice_on):
        return f"renews by itself, {to}: both notice dates have passed"
    return f"renews by itself, {to}, unless notice is given"


def _calendar(care: _Care, contract: Contract) -> CalendarSheet:
    """The dates of every term; they tell their own changes by the account of what was brought in.

    A date keeps its UID for ever, so a term whose end was moved must rise in SEQUENCE: it is the
    number of times terms of any contract were changed.
    """
    told = [e for e in care.history if CONTRACT_WORDS & set(e.detail.get("counts", {}))]
    changes = sum(
        any(e.detail["counts"].get(word, {}).get("changed") for word in CONTRACT_WORDS)
        for e in told
    )
    changed_at = told[0].at if told else care.installation.made_at
    customer = care.customers.get(contract.customer, contract.customer)
    root = UUID(care.installation.uuid)
    return CalendarSheet(
        name=f"Contract {contract.code}, {customer}",
        domain=care.installation.domain,
        revision=changes,
        revised_at=changed_at,
        as_of=changed_at.date(),
        description="Last days for notice, and the end of each term.",
        events=tuple(
            CalendarEvent(
                uid=str(uuid5(root, f"{contract.code}/{term.starts_on}/{one.kind.value}")),
                night=one.on,
                sequence=changes,
                changed_at=changed_at,
                summary=f"{_SUMMARY[one.kind]}: {contract.code}, {customer}",
                description=(
                    _DESCRIPTION[one.kind],
                    f"{contract.name or contract.code}: the term from {said(term.starts_on)} to "
                    f"{said(term.ends_on)} {_then(contract, term)}.",
                ),
                categories=("contract",),
            )
            for term in contract.terms
            for one in term_dates(term)
        ),
    )
