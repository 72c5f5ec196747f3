"""What the contracts command says: contracts by notice date, or one contract's term.

Fees stand here for the account manager; nothing else that is printed or published holds them.
"""

from collections.abc import Iterable, Sequence
from datetime import date
from decimal import Decimal
from pathlib import Path

from floorcare.faces.documents import contract_history_text
from floorcare.faces.documents.wording import count
from floorcare.ground.contracts.history import RowKind, TermRow
from floorcare.ground.contracts.lines import PromiseRow
from floorcare.ground.contracts.promised import PromiseStanding
from floorcare.ground.contracts.terms import TermState
from floorcare.ground.rules.reasons import said
from floorcare.ground.trade.contract import FeeLine
from floorcare.services.show_contracts import ContractHistory, ContractList, TermSummary

NOTICE_SOON_DAYS = 90
"""Notice dates within so many days are counted in the first line."""
_COUNTS = (
    ("done", "done"),
    ("in part", "part_done"),
    ("planned", "planned"),
    ("nothing reported", "unreported"),
    ("no access", "no_access"),
)
MOST_NIGHTS = 8
"""So many nights before and after today are printed; the documents hold all."""


def contract_list(answer: ContractList) -> str:
    """Every contract's terms, the earliest notice date first."""
    lines = [_answer(answer)]
    for term in answer.terms:
        lines += ["", *_term_lines(term)]
    if any(term.entered for term in answer.terms):
        first = next(term.contract for term in answer.terms if term.entered)
        lines += ["", f"Next: floorcare contracts {first}"]
    return "\n".join(lines)


def _answer(answer: ContractList) -> str:
    codes = {term.contract for term in answer.terms if term.entered}
    if not answer.terms:
        return "No contracts are entered, and no promises name one."
    soon = sum(
        0 <= days <= NOTICE_SOON_DAYS
        for term in answer.terms
        for days in (term.our_notice_in, term.their_notice_in)
        if days is not None
    )
    standing = [term.standing for term in answer.terms if term.standing is not None]
    below = sum(one.below for one in standing)
    parts = [
        _some(len(codes), "contract"),
        f"{_some(soon, 'notice date')} within {NOTICE_SOON_DAYS} days",
        f"{_some(below, 'zone')} below promise today",
    ]
    loose = sum(not term.entered for term in answer.terms)
    if loose:
        parts.append(f"{count(loose, 'code')} without a contract or terms entered")
    return "; ".join(parts) + "."


def _some(number: int, one: str) -> str:
    return count(number, one) if number else f"no {one}"


def _term_lines(term: TermSummary) -> list[str]:
    name = ", ".join(filter(None, (term.customer_name, term.name)))
    span = f"{said(term.starts_on)} to {said(term.ends_on)}, {term.state.value}"
    if not term.entered:
        head = f"  {term.contract}  {name}"
        promises = f"; promises {span}" if term.zones else ""
        return [head, f"    {term.then}{promises}", *_standing_lines(term)]
    lines = [f"  {term.contract}  {name}", f"    term     {span}; {term.then}"]
    if term.our_notice_on and term.their_notice_on:
        sides = sorted(
            (
                (term.our_notice_on, f"ours by {_dated(term.our_notice_on, term.our_notice_in)}"),
                (
                    term.their_notice_on,
                    f"theirs by {_dated(term.their_notice_on, term.their_notice_in)}",
                ),
            )
        )
        lines.append(f"    notice   {'; '.join(words for _, words in sides)}")
    fees = "; ".join(fee_words(fee, term.currency) for fee in term.fees)
    return [*lines, f"    fees     {fees or 'none entered'}", *_standing_lines(term)]


def _dated(on: date, days: int | None) -> str:
    if days is None or days == 0:
        return f"{on:%a %d %b %Y}{' (today)' if days == 0 else ''}"
    away = count(abs(days), "day")
    return f"{on:%a %d %b %Y} ({f'passed {away} ago' if days < 0 else f'in {away}'})"


def money(amount: Decimal, currency: str) -> str:
    """An amount to the digit it was agreed to.

    >>> money(Decimal("12345.60"), "EUR"), money(Decimal("0.125"), "USD")
    ('12,345.60 EUR', '0.125 USD')
    """
    return f"{amount:,f} {currency}"


def fee_words(fee: FeeLine, currency: str) -> str:
    """One fee with what it is paid for.

    >>> from floorcare.ground.trade.contract import FeeKind
    >>> fee = FeeLine(kind=FeeKind.PER_WORK, amount=Decimal("410.50"), site="HALL", work="recoat")
    >>> fee_words(fee, "EUR")
    '410.50 EUR per recoat at HALL'
    """
    what = fee.kind.value if not fee.work else f"per {fee.work}"
    return f"{money(fee.amount, currency)} {what}{f' at {fee.site}' if fee.site else ''}"


def _standing_lines(term: TermSummary) -> list[str]:
    if not term.zones:
        return ["    promise  none in this term"]
    zones = count(term.zones, "zone")
    if term.standing is None:
        return [f"    promise  {zones}"]
    return [f"    promise  {zones}: {standing_words(term.standing)}"]


def standing_words(standing: PromiseStanding) -> str:
    """How promises stand today, and what is known of their floors."""
    parts = [f"{standing.below or 'none'} below promise"]
    if standing.guarded:
        parts.append(f"{standing.guarded} guarded for slip")
    if standing.slip_unknown:
        parts.append(f"{standing.slip_unknown} never tested for slip, so not known to keep it")
    known = ", ".join(f"{number} {kind}" for kind, number in standing.evidence)
    return "; ".join(filter(None, (", ".join(parts), known)))


def contract_history(history: ContractHistory, paths: Sequence[Path]) -> str:
    """One term: the answer, its terms and promises, and the nights around today."""
    summary = history.summary
    lines = [f"{summary.contract}: {contract_history_text.answer(history)}", ""]
    lines += _term_lines(summary)
    others = [t for t in history.terms if t[0] != summary.starts_on]
    if others:
        told = "; ".join(f"{said(a)} to {said(b)} ({state.value})" for a, b, state in others)
        lines.append(f"    others   {told}")
    lines += [
        f"    excluded {said(e.from_on)} to {said(e.to_on)}, "
        f"{e.site}{'/' + e.zone if e.zone else ''}: {e.cause or 'no cause given'}"
        for e in history.exclusions
    ]
    lines += ["", *_promise_lines(history.promises, summary.state)]
    lines += ["", *_work_lines(history)]
    lines += ["", *_night_lines(history)]
    written = [f"Written: {path}" for path in paths]
    return "\n".join([*lines, "", *(written or ["All nights, and the dates: --out FOLDER"])])


def _promise_lines(rows: Sequence[PromiseRow], state: TermState) -> list[str]:
    if not rows:
        return ["  No promises in this term."]
    lines = [f"  {'promise':34}{'promised':42}{'last read':>22}{'now':>6}  evidence"]
    for row in rows:
        now = f"{row.gloss_gu:.0f}" if row.gloss_gu is not None else "–"
        if row.kind.value != "appearance":
            now = ""
        read = f"{row.read}, {row.read_on:%d %b %Y}" if row.read_on else row.read
        marks = [row.evidence]
        if row.is_below and state is TermState.IN_FORCE:
            marks.append("below promise")
        if row.is_guarded:
            marks.append("guarded for slip")
        told = ", ".join(filter(None, marks))
        lines.append(
            f"  {row.zone[:33]:34}{row.promised[:41]:42}{read:>22}{now:>6}  {told}".rstrip()
        )
        if row.reference_gu is not None:
            on = f" on {said(row.reference_on)}" if row.reference_on else ""
            lines.append(
                f"    reference {row.reference_gu:g} GU{on}, {row.reference_state}; policy "
                f"{row.policy}, confidence {row.confidence:.0%}"
            )
    return lines


def _work_lines(history: ContractHistory) -> list[str]:
    if not history.works and not history.rhythms:
        return ["  Nothing done or planned."]
    counts = [c for c in _COUNTS if any(getattr(w, c[1]) for w in history.works)]
    lines = ["  " + f"{'work':20}" + "".join(f"{name:>{len(name) + 3}}" for name, _ in counts)]
    lines += [
        f"  {w.work.value:20}"
        + "".join(f"{getattr(w, column):>{len(name) + 3},}" for name, column in counts)
        for w in history.works
    ]
    lines += [
        f"  {r.work.value} at {r.site} by {r.performer.value}, {r.proof.value}: "
        f"{count(r.so_far, 'day')} so far, {r.to_come:,} to come, {count(r.zones, 'zone')}"
        for r in history.rhythms
    ]
    return lines


def _night_lines(history: ContractHistory) -> list[str]:
    """The last nights with something done, and the next with something planned."""
    past = _nights(r for r in history.rows if r.kind is not RowKind.PLANNED)[-MOST_NIGHTS:]
    coming = _nights(r for r in history.rows if r.kind is RowKind.PLANNED)[:MOST_NIGHTS]
    lines = []
    if past:
        lines += ["  Last nights:", *past]
    if coming:
        lines += ["  Next nights:", *coming]
    return lines or ["  No night in this term."]


def _nights(rows: Iterable[TermRow]) -> list[str]:
    """A line for each site and night."""
    nights: dict[tuple[date, str], dict[str, int]] = {}
    for row in rows:
        works = nights.setdefault((row.on, row.site), {})
        word = row.work.value
        if row.kind in (RowKind.UNREPORTED, RowKind.NO_ACCESS):
            word = f"{word} ({row.kind.value})"
        works[word] = works.get(word, 0) + 1
    return [
        f"    {on:%a %d %b %Y}  {site:16}"
        + ", ".join(f"{work} {count(n, 'zone')}" for work, n in works.items())
        for (on, site), works in sorted(nights.items())
    ]
