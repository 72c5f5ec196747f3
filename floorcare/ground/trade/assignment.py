"""Who goes to a visit: the crew-night a week gave it, with its hours and machines."""

from dataclasses import dataclass
from datetime import date, datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Assignment:
    """A visit, or one crew's part of it, on a crew's night.

    part, parts : which of how many crews that share the visit on its night, 1 of 1 for all of it.
    zones : codes of the zones the part covers; none stands for all of the visit's.
    crew : the crew's code; of a branch without named crews BRANCH-1 and so on.
    on : the branch's own date its night starts on.
    starts_at, ends_at : on site, UTC.
    travel_minutes : drive to it from the branch or the stop before.
    machines : codes of the owned machines it takes.
    held : pinned by the planner: a new week keeps crew and night.
    """

    visit: str
    crew: str
    on: date
    starts_at: datetime
    ends_at: datetime
    part: int = 1
    parts: int = 1
    zones: tuple[str, ...] = ()
    travel_minutes: int = 0
    machines: tuple[str, ...] = ()
    held: bool = False

    def __post_init__(self) -> None:
        if not 1 <= self.part <= self.parts:
            raise ValueError(f"part {self.part} of {self.parts}: allowed 1 to {self.parts}")
        if self.starts_at.tzinfo is None or self.ends_at.tzinfo is None:
            raise ValueError("the instants of an assignment need their zone")
        if self.ends_at < self.starts_at:
            raise ValueError(f"ends {self.ends_at} before it starts, {self.starts_at}")
        if self.travel_minutes < 0:
            raise ValueError(f"{self.travel_minutes} minutes of drive: allowed 0 or more")
