"""People and what a site asks for: contacts, the program's own people, requirements, calls."""

from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum


@dataclass(frozen=True, slots=True, kw_only=True)
class Contact:
    """A person at a customer, of one site or ("") of all."""

    code: str
    customer: str
    name: str
    site: str = ""
    role: str = ""
    email: str = ""
    phone: str = ""


class Role(StrEnum):
    """What a person may do in the program."""

    ADMIN = "admin"
    PLANNER = "planner"
    CREW = "crew"
    ACCOUNT = "account"
    CUSTOMER = "customer"


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """Somebody who uses the program; `worker` or `contact` say who that is outside it."""

    code: str
    name: str
    role: Role
    email: str = ""
    worker: str = ""
    contact: str = ""


class RequirementKind(StrEnum):
    """What a site may ask for before work."""

    INDUCTION = "induction"
    CERTIFICATE = "certificate"
    PERMIT = "permit"
    INSURANCE = "insurance"


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteRequirement:
    """Something that must be in date to work at a site.

    name : of the qualification each worker must hold, or of the paper the contractor holds.
    each_worker : every worker needs it; else the contractor does, until `expires_on`.
    """

    kind: RequirementKind
    name: str
    each_worker: bool
    expires_on: date | None = None


class CallKind(StrEnum):
    """What a customer reports."""

    STAIN = "stain"
    SPILL = "spill"
    SLIP = "slip"
    DAMAGE = "damage"
    OTHER = "other"


@dataclass(frozen=True, slots=True, kw_only=True)
class CallReceived:
    """A call: what was reported of which zone, when (UTC), by whom, and when it was closed."""

    uuid: str
    site: str
    zone: str
    kind: CallKind
    received_at: datetime
    reported_by: str
    text: str
    spot_m2: float | None = None
    closed_at: datetime | None = None

    def __post_init__(self) -> None:
        if self.received_at.tzinfo is None:
            raise ValueError("the instant of a call needs its zone")
        if self.closed_at is not None and self.closed_at < self.received_at:
            raise ValueError(f"closed {self.closed_at} before it came {self.received_at}")
        if self.spot_m2 is not None and self.spot_m2 < 0:
            raise ValueError(f"spot of {self.spot_m2:g} m²: allowed 0 or more")
