"""Crews, workers and shifts: who can go out on a night, with which skills, from when to when."""

from dataclasses import dataclass
from datetime import date

from floorcare.ground.trade.codes import check_span
from floorcare.ground.worktime.night import DAY_MINUTES


@dataclass(frozen=True, slots=True, kw_only=True)
class Qualification:
    """A certificate or training a worker holds; `expires_on` None where it never runs out."""

    name: str
    from_on: date
    expires_on: date | None = None

    def __post_init__(self) -> None:
        check_span(self.from_on, self.expires_on)

    def holds_on(self, day: date) -> bool:
        """Whether it is in date on that day."""
        return self.from_on <= day and (self.expires_on is None or day <= self.expires_on)


@dataclass(frozen=True, slots=True, kw_only=True)
class Absence:
    """Days on which a worker does not come: sick, on leave, at a course."""

    from_on: date
    to_on: date
    why: str = ""

    def __post_init__(self) -> None:
        check_span(self.from_on, self.to_on)


@dataclass(frozen=True, slots=True, kw_only=True)
class Worker:
    """A person of a branch; `languages` are BCP 47 tags, the first is the one of their sheets."""

    code: str
    name: str
    branch: str
    languages: tuple[str, ...] = ("en",)
    qualifications: tuple[Qualification, ...] = ()
    from_on: date = date.min
    to_on: date | None = None
    absences: tuple[Absence, ...] = ()

    def __post_init__(self) -> None:
        check_span(self.from_on, self.to_on)

    def holds(self, name: str, day: date) -> bool:
        """Whether the worker holds a qualification in date on that day."""
        return any(q.name == name and q.holds_on(day) for q in self.qualifications)

    def works_on(self, day: date) -> bool:
        """Whether the worker is with the branch on that day, and not absent."""
        inside = self.from_on <= day and (self.to_on is None or day <= self.to_on)
        return inside and not any(a.from_on <= day <= a.to_on for a in self.absences)


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewMember:
    """A worker's time in a crew."""

    worker: str
    from_on: date
    to_on: date | None = None

    def __post_init__(self) -> None:
        check_span(self.from_on, self.to_on)


@dataclass(frozen=True, slots=True, kw_only=True)
class Shift:
    """A crew's working time on some weekdays; it belongs to the date it starts on.

    starts_minute, ends_minute : wall clock of the branch; at or before the start it ends the next
        morning.
    break_minutes : unpaid break inside it.
    """

    weekdays: frozenset[int]
    starts_minute: int
    ends_minute: int
    break_minutes: int = 0
    from_on: date = date.min
    to_on: date | None = None

    def __post_init__(self) -> None:
        if not self.weekdays or not self.weekdays <= frozenset(range(7)):
            raise ValueError("a shift needs weekdays 0 (Monday) to 6")
        for minute in (self.starts_minute, self.ends_minute):
            if not 0 <= minute <= DAY_MINUTES:
                raise ValueError(f"minute of day {minute}: allowed 0 to {DAY_MINUTES}")
        check_span(self.from_on, self.to_on)
        if not 0 <= self.break_minutes < self.minutes:
            raise ValueError(f"break of {self.break_minutes} min in a shift of {self.minutes}")

    @property
    def last_minute(self) -> int:
        """Nominal end, above 1440 the next morning."""
        if self.ends_minute > self.starts_minute:
            return self.ends_minute
        return self.ends_minute + DAY_MINUTES

    @property
    def minutes(self) -> int:
        """Nominal length, break included."""
        return self.last_minute - self.starts_minute

    def starts_on(self, day: date) -> bool:
        """Whether the crew goes out on the night of that date."""
        inside = self.from_on <= day and (self.to_on is None or day <= self.to_on)
        return inside and day.weekday() in self.weekdays


@dataclass(frozen=True, slots=True, kw_only=True)
class Crew:
    """People who go out together in one van."""

    code: str
    branch: str
    name: str
    members: tuple[CrewMember, ...] = ()
    shifts: tuple[Shift, ...] = ()

    def members_on(self, day: date) -> tuple[str, ...]:
        """Codes of the workers in the crew on that day."""
        return tuple(
            m.worker
            for m in self.members
            if m.from_on <= day and (m.to_on is None or day <= m.to_on)
        )

    def shift_on(self, day: date) -> Shift | None:
        """The shift that starts on that date, None on a free night."""
        return next((s for s in self.shifts if s.starts_on(day)), None)
