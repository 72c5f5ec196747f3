"""What a customer said of a night, and how such word came to us."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from floorcare.ground.trade.treatment import Work


class Manner(StrEnum):
    """How word of a visit came to us, or that it was settled in our own office."""

    PHONE = "phone"
    PAPER = "paper"
    MAIL = "mail"
    OFFICE = "office"


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """Word on one visit: by whom, how, on which day, and why."""

    by: str
    how: Manner
    on: date
    why: str = ""


class NightWord(StrEnum):
    """What a customer says of a night: not that one, or rather this one."""

    REFUSED = "refused"
    OFFERED = "offered"


@dataclass(frozen=True, slots=True, kw_only=True)
class NightAnswer:
    """A night that was refused for work on a zone, or offered instead (a counter-night).

    night : the site's own date.
    said_on : the day the customer said so.
    """

    zone: str
    work: Work
    night: date
    word: NightWord
    said_on: date
