"""Dues, visits and visit lines, and the account of what a plan changed."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date, datetime
from enum import StrEnum

from floorcare.findings import Reason
from floorcare.ground.trade.relaxation import Constraint, Relaxation
from floorcare.ground.trade.treatment import Work


class VisitState(StrEnum):
    """Where a visit stands."""

    PROPOSED = "proposed"
    HELD = "held"
    STARTED = "started"
    DONE = "done"
    PART_DONE = "part done"
    NO_ACCESS = "no access"
    CANCELLED = "cancelled"


class Commitment(StrEnum):
    """How firmly a visit's time stands: a week may still choose its night."""

    WEEK = "week"
    NIGHT = "night"
    HOUR = "hour"


class Agreement(StrEnum):
    """What the customer has said."""

    NOT_NEEDED = "not needed"
    ASKED = "asked"
    AGREED = "agreed"
    REFUSED = "refused"


class Origin(StrEnum):
    """Where a visit came from."""

    PLAN = "plan"
    CALL = "call"
    CUSTOMER_ORDER = "customer order"
    MAKE_GOOD = "make-good"


@dataclass(frozen=True, slots=True, kw_only=True)
class Due:
    """A zone needs work: earliest useful, target and latest night, and the reason.

    minutes : person-minutes of the work.
    area_m2 : area to be treated, None where the zone's area is not known.
    needs : what the access window must permit.
    recheck : the walk disagreed with the night it was placed on; the next plan mends it.
    """

    site: str
    zone: str
    work: Work
    earliest: date
    target: date
    latest: date
    minutes: int
    area_m2: float | None
    needs: frozenset[str]
    reason: Reason
    recheck: bool = False

    def __post_init__(self) -> None:
        if not self.earliest <= self.target <= self.latest:
            raise ValueError(f"due {self.earliest} ≤ {self.target} ≤ {self.latest} does not hold")


@dataclass(frozen=True, slots=True, kw_only=True)
class VisitLine:
    """One work on one zone. `due` is what it answers."""

    zone: str
    work: Work
    minutes: int
    area_m2: float | None
    due: Due


def stands_firm(state: VisitState, agreement: Agreement, commitment: Commitment) -> bool:
    """True where no plan may move a visit: held, asked or agreed, or already begun."""
    return (
        state is not VisitState.PROPOSED
        or agreement in (Agreement.ASKED, Agreement.AGREED)
        or commitment is not Commitment.WEEK
    )


def needs_of(lines: Iterable[VisitLine]) -> frozenset[str]:
    """What the access window must permit for all these lines."""
    return frozenset().union(*(line.due.needs for line in lines))


@dataclass(frozen=True, slots=True, kw_only=True)
class Visit:
    """A crew at a site on a night, with its lines.

    uuid : permanent; survives every move.
    night : the site's own date the night starts on.
    starts_minute : minute of that date, the site's wall clock; may be 1440 or more (next morning).
    minutes : clock minutes on site, set-up included.
    people : people the minutes are reckoned for.
    sequence : rises when day, time, place or state changes.
    changed_at : UTC instant of the last change.
    crew : code of the crew a week gave it, "" where none did; then its start is only the plan's.
    """

    uuid: str
    site: str
    night: date
    starts_minute: int
    minutes: int
    people: int
    lines: tuple[VisitLine, ...]
    state: VisitState = VisitState.PROPOSED
    commitment: Commitment = Commitment.WEEK
    agreement: Agreement = Agreement.NOT_NEEDED
    origin: Origin = Origin.PLAN
    sequence: int = 0
    changed_at: datetime | None = None
    crew: str = field(default="", compare=False)

    @property
    def stands(self) -> bool:
        """True where no plan may move it: held, asked or agreed, or already begun."""
        return stands_firm(self.state, self.agreement, self.commitment)


class ChangeKind(StrEnum):
    """What a new plan did to a visit."""

    ADDED = "added"
    MOVED = "moved"
    MERGED = "merged"
    CHANGED = "changed"
    DROPPED = "dropped"
    KEPT = "kept"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanChange:
    """One visit's change: nights before and after, and why in one sentence."""

    kind: ChangeKind
    visit: str
    site: str
    night_before: date | None
    night_after: date | None
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Unplaced:
    """A due that found no night: the binding constraint and the smallest relaxation.

    binds, relaxation : the same as data; None where they were not looked for. The store keeps the
        sentences alone, so two that say the same are the same.
    """

    due: Due
    why: str
    mend: str
    binds: Constraint | None = field(default=None, compare=False)
    relaxation: Relaxation | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """One planning run that changed something.

    today, last_on : the day it was made for and the end of its horizon.
    digest : digest of the inputs it was made from.
    prior_version : number of the PriorVersion it read, None where nothing was learned yet.
    """

    made_at: datetime
    made_by: str
    today: date
    last_on: date
    digest: str
    added: int
    moved: int
    merged: int
    changed: int
    dropped: int
    kept: int
    unplaced: int
    prior_version: int | None = None
