"""What keeps work from a night, and the smallest change that would give it one."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum


class Constraint(StrEnum):
    """What binds where work finds no night."""

    OPEN_NIGHT = "no open night in reach"
    PERMIT = "permit missing"
    ANSWER = "customer's answers"
    NIGHT = "night too short"
    SHIFT = "shift too short"
    TAKEN = "every open night taken"
    CREWS = "no crew capacity"


class RelaxationKind(StrEnum):
    """A change that may free work, in the order they are tried."""

    HOUR = "up to one more hour"
    LATER = "a later night"
    PERMIT = "one more permit"
    CREW = "one more crew"
    RESERVE = "the reserve given up"
    LONGER = "a longer night or shift"
    OPEN = "one more open night"


@dataclass(frozen=True, slots=True, kw_only=True)
class Relaxation:
    """The smallest change that frees a work, tried by placing it again.

    amount, unit : how much: minutes, days after the latest night, permits, crews, or crew-minutes.
    on : the night it would then be done, the last of them where it takes several.
    """

    kind: RelaxationKind
    amount: int
    unit: str
    on: date
