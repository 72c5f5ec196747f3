"""Routine: work at a set rhythm, who does it and what proves it."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from floorcare.ground.trade.treatment import Work


class Performer(StrEnum):
    """Who does it."""

    SITE_TEAM = "site team"
    US = "us"
    OTHER = "other"


class Proof(StrEnum):
    """What stands behind the belief that it was done."""

    CONFIRMED = "confirmed"
    REPORTED = "reported"
    ASSUMED = "assumed"
    KNOWN_MISSED = "known missed"


@dataclass(frozen=True, slots=True, kw_only=True)
class Routine:
    """One recurrence rule of one kind of work on one zone.

    rule : an RFC 5545 RRULE value, e.g. "FREQ=WEEKLY;BYDAY=TU,FR".
    starts_on : DTSTART; for work last done about a date, that date.
    ends_on : last day it may fall on, or None.
    except_on : days on which it falls out (EXDATE).
    minutes : person-minutes it takes, None where the surface's rates tell.
    about_days : how many days either side the start is known to.
    promised : the rhythm itself was sold, so it is honoured even where wear asks for less.
    """

    work: Work
    rule: str
    starts_on: date
    performer: Performer
    proof: Proof
    ends_on: date | None = None
    except_on: tuple[date, ...] = ()
    minutes: int | None = None
    about_days: int = 0
    promised: bool = False
