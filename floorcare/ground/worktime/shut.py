"""Shut days: days on which a site may not be worked, beside public holidays."""

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True, kw_only=True)
class ShutDay:
    """One day or a run of days, both ends included; `why` is shown to people."""

    from_on: date
    to_on: date
    why: str

    def __post_init__(self) -> None:
        if self.to_on < self.from_on:
            raise ValueError(f"shut until {self.to_on}, before it starts {self.from_on}")

    def covers(self, on: date) -> bool:
        """Whether the site is shut on a date.

        >>> week = ShutDay(from_on=date(2026, 12, 24), to_on=date(2027, 1, 1), why="inventory")
        >>> week.covers(date(2027, 1, 1)), week.covers(date(2027, 1, 2))
        (True, False)

        Assumption: both ends are included, as people say "shut from … to …".
        """
        return self.from_on <= on <= self.to_on
