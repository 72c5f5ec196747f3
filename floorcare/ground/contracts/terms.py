"""Terms in time: which are in force, when each side must speak, what follows."""

from dataclasses import dataclass, replace
from datetime import date, timedelta
from enum import StrEnum

from dateutil.relativedelta import relativedelta

from floorcare.ground.trade.contract import Contract, Term


class TermState(StrEnum):
    """Where a term stands on a day."""

    IN_FORCE = "in force"
    NEXT = "next"
    ENDED = "ended"


class TermDateKind(StrEnum):
    """A date of a term that somebody must not miss."""

    OUR_NOTICE = "our notice"
    THEIR_NOTICE = "their notice"
    END = "end"


@dataclass(frozen=True, slots=True, kw_only=True)
class TermDate:
    """One such date; the day itself is still in time."""

    kind: TermDateKind
    on: date


def term_state(starts_on: date, ends_on: date, today: date) -> TermState:
    """Where a term stands on a day; its first and last day belong to it.

    Source: arithmetic; terms are days both included.
    """
    if today < starts_on:
        return TermState.NEXT
    return TermState.IN_FORCE if today <= ends_on else TermState.ENDED


def shown_terms(contract: Contract, today: date) -> tuple[Term, ...]:
    """The term in force and those to come; where there is neither, the one that ended last.

    Assumption: a contract that ran out is still shown, since somebody may have forgotten it.
    """
    coming = tuple(t for t in contract.terms if t.ends_on >= today)
    return coming or contract.terms[-1:]


def chosen_term(contract: Contract, today: date, starts_on: date | None = None) -> Term | None:
    """The term that starts on a day; without one that in force, else the next, else the last.

    Assumption: what runs now is what is asked about.
    """
    if starts_on is not None:
        return next((t for t in contract.terms if t.starts_on == starts_on), None)
    return next(iter(shown_terms(contract, today)), None)


def term_dates(term: Term) -> tuple[TermDate, ...]:
    """The last days for notice of either side and the end, in order of date.

    Source: notice is counted back from expiry and does not move it, FAR 52.217-9.
    """
    dates = (
        TermDate(kind=TermDateKind.OUR_NOTICE, on=term.our_notice_on),
        TermDate(kind=TermDateKind.THEIR_NOTICE, on=term.their_notice_on),
        TermDate(kind=TermDateKind.END, on=term.ends_on),
    )
    return tuple(sorted(dates, key=lambda d: d.on))


def renewed(term: Term) -> Term:
    """The term that would follow under the same clause: as long again, notice days and fees alike.

    Raises
    ------
    ValueError : it would reach beyond the cap on all terms together.

    Source: an exercised option carries the option clause with it and the total duration is capped,
    FAR 52.217-9. Assumption: as long in whole months; in days where there is not one.
    """
    starts_on = term.ends_on + timedelta(days=1)
    lasted = relativedelta(starts_on, term.starts_on)
    months = 12 * lasted.years + lasted.months
    length = relativedelta(months=months) if months else lasted
    return replace(term, starts_on=starts_on, ends_on=starts_on + length - timedelta(days=1))
