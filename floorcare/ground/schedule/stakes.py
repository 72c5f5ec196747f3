"""What is at stake where a visit leaves the window of its work: which promise, and by how much."""

from datetime import date

from floorcare.findings import Finding
from floorcare.ground.rules.reasons import said
from floorcare.ground.schedule.answers import PRESSING_RULES
from floorcare.ground.schedule.keeping import WALKED_RULES
from floorcare.ground.trade.book import SiteBook
from floorcare.ground.trade.promise import PromiseKind, PromiseLine
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Due, Visit, VisitLine

NO_PROMISE = "no contract promises it; our own rhythm asks for it"


def window_findings(book: SiteBook, visit: Visit, on: date) -> tuple[Finding, ...]:
    """The lines for which a night is too late or too early, each with the promise at stake."""
    found = []
    for line in visit.lines:
        due, what = line.due, f"{line.zone} {line.work}"
        if on > due.latest:
            days = (on - due.latest).days
            found.append(
                Finding(
                    problem=f"{what} is wanted by {said(due.latest)}, and this is "
                    f"{days} day{'s' if days > 1 else ''} later: {at_stake(book, line, on)}",
                    mend=f"take a night by {due.latest.isoformat()}; else the next plan may add "
                    "work before it",
                    weight="asks",
                )
            )
        elif on < due.earliest:
            found.append(
                Finding(
                    problem=f"{what} is of no use before {said(due.earliest)}",
                    mend="the next plan may ask for it again soon after",
                    weight="asks",
                )
            )
    return tuple(found)


def at_stake(book: SiteBook, line: VisitLine, on: date) -> str:
    """Which promise of a contract a line keeps, in words.

    Parameters
    ----------
    on : the promise in force on this day is told.
    """
    zone = book.zone(line.zone)
    kind = _kind(line.due)
    promise = zone.promise_on(on, kind) if zone is not None and kind is not None else None
    return NO_PROMISE if promise is None else _promised(promise)


def _kind(due: Due) -> PromiseKind | None:
    """The kind of promise a due keeps."""
    rule = due.reason.rule
    if rule.startswith("slip") or due.work is Work.SLIP_TEST:
        return PromiseKind.SLIP
    if rule in WALKED_RULES or rule in PRESSING_RULES or due.work is Work.READING_ROUND:
        return PromiseKind.RESPONSE if rule == "call response" else PromiseKind.APPEARANCE
    return PromiseKind.RHYTHM


def _promised(promise: PromiseLine) -> str:
    contract = f"contract {promise.contract} promises"
    match promise.kind:
        case PromiseKind.APPEARANCE:
            of = f" of {promise.reference_gu:g} GU" if promise.reference_gu is not None else ""
            return f"{contract} the look, {1 - promise.loss_share:.0%}{of}"
        case PromiseKind.SLIP:
            return f"{contract} slip resistance, {promise.slip_method} {promise.slip_limit}"
        case PromiseKind.RESPONSE:
            return f"{contract} an answer within {promise.response_hours} hours"
        case PromiseKind.RHYTHM:
            return f"{contract} its rhythm"
