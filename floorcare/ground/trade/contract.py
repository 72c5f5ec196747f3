"""Contracts: terms with notice dates, fee lines, exclusions; what was sold besides promises."""

from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from enum import StrEnum

from floorcare.ground.trade.codes import check_currency, check_span

NOTICE_DAYS_OFFERED = 60
"""Offered where a clause leaves the number open. Source: FAR 52.217-9 (48 CFR)."""


class RenewalKind(StrEnum):
    """How a term is followed by another."""

    AUTOMATIC = "automatic"
    ROLLING = "rolling"
    OPTION = "option"
    TENDER = "tender"


class FeeKind(StrEnum):
    """What a fee is paid for."""

    MONTHLY = "fixed monthly"
    PER_VISIT = "per visit"
    PER_WORK = "per work"
    BY_RESULT = "by result"


@dataclass(frozen=True, slots=True, kw_only=True)
class FeeLine:
    """One fee of a term; `work` names the treatment of a per-work fee, `site` "" is all sites."""

    kind: FeeKind
    amount: Decimal
    site: str = ""
    work: str = ""

    def __post_init__(self) -> None:
        if self.amount < 0:
            raise ValueError(f"fee {self.amount}: allowed 0 or more")
        if self.kind is FeeKind.PER_WORK and not self.work:
            raise ValueError("a per-work fee needs its work")


@dataclass(frozen=True, slots=True, kw_only=True)
class Exclusion:
    """Days that do not count against us: cause and evidence, for a zone or a whole site."""

    site: str
    zone: str
    from_on: date
    to_on: date
    cause: str
    evidence: str = ""

    def __post_init__(self) -> None:
        check_span(self.from_on, self.to_on)


@dataclass(frozen=True, slots=True, kw_only=True)
class Term:
    """One period of a contract.

    our_notice_days, their_notice_days : how long before the end each side must speak.
    renewal : how it is followed; `cap_on` the last day any term of the contract may reach.
    """

    starts_on: date
    ends_on: date
    our_notice_days: int
    their_notice_days: int
    renewal: RenewalKind
    cap_on: date | None = None
    fees: tuple[FeeLine, ...] = ()

    def __post_init__(self) -> None:
        if self.ends_on < self.starts_on:
            raise ValueError(f"the term ends {self.ends_on} before it starts {self.starts_on}")
        for days in (self.our_notice_days, self.their_notice_days):
            if not 0 <= days <= 730:
                raise ValueError(f"notice of {days} days: allowed 0 to 730")
        if self.cap_on is not None and self.ends_on > self.cap_on:
            raise ValueError(f"the term ends {self.ends_on}, after its cap {self.cap_on}")

    @property
    def our_notice_on(self) -> date:
        """Last day on which we may give notice."""
        return notice_on(self.ends_on, self.our_notice_days)

    @property
    def their_notice_on(self) -> date:
        """Last day on which the customer may give notice."""
        return notice_on(self.ends_on, self.their_notice_days)


@dataclass(frozen=True, slots=True, kw_only=True)
class Contract:
    """An agreement with a customer and its terms, in order of start."""

    code: str
    customer: str
    name: str
    currency: str
    terms: tuple[Term, ...] = ()
    exclusions: tuple[Exclusion, ...] = ()

    def __post_init__(self) -> None:
        check_currency(self.currency)

    def term_on(self, day: date) -> Term | None:
        """The term in force on that day."""
        return next((t for t in self.terms if t.starts_on <= day <= t.ends_on), None)


def notice_on(ends_on: date, days: int) -> date:
    """Last day on which notice may be given for a term that ends on `ends_on`.

    >>> notice_on(date(2027, 9, 30), 60)
    datetime.date(2027, 8, 1)

    Source: counted back from expiry, FAR 52.217-9: 60 days before 30 September 2027.
    """
    return ends_on - timedelta(days=days)
