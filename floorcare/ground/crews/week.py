"""A branch's week: what it is fitted from, which crew goes where when, and what did not fit."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from enum import StrEnum
from zoneinfo import ZoneInfo

from floorcare.findings import Finding
from floorcare.ground.schedule.travel import BY_MAP, Travel
from floorcare.ground.trade.assignment import Assignment
from floorcare.ground.trade.book import SiteBook
from floorcare.ground.trade.crew import Crew, Worker
from floorcare.ground.trade.equipment import OwnedMachine, Rate
from floorcare.ground.trade.site import Branch, Site
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.visit import Commitment, Visit
from floorcare.ground.worktime.night import DAY_MINUTES, instant
from floorcare.ground.worktime.window import WEEKDAY_NAMES

DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True, kw_only=True)
class BranchWeek:
    """What a branch's week is fitted from.

    starts_on : its first day.
    books : the sites by code, those of every visit at least.
    visits : none called off, of the nights from a day before the week to a day after it: a shift
        that begins on Sunday evening also serves what may be worked from one on Monday morning.
    crews, workers, machines, rates : of all branches; those of other branches are passed over.
    travel : the branch's drives.
    assigned : who goes where so far; what is held there stays, the rest is kept as far as it can.
    today : nights up to it are past and keep what they have; None where nothing is past.
    """

    branch: Branch
    starts_on: date
    books: Mapping[str, SiteBook]
    visits: tuple[Visit, ...]
    surfaces: Mapping[str, Surface]
    crews: tuple[Crew, ...] = ()
    workers: tuple[Worker, ...] = ()
    machines: tuple[OwnedMachine, ...] = ()
    rates: tuple[Rate, ...] = ()
    travel: Travel = BY_MAP
    assigned: tuple[Assignment, ...] = ()
    today: date | None = None

    @property
    def last_on(self) -> date:
        """The week's last day."""
        return self.starts_on + 6 * DAY

    @property
    def own_crews(self) -> tuple[Crew, ...]:
        """The branch's crews by code; none where no crew was entered for it."""
        mine = (crew for crew in self.crews if crew.branch == self.branch.code)
        return tuple(sorted(mine, key=lambda crew: crew.code))

    def site(self, visit: Visit) -> Site:
        """The site of a visit."""
        return self.books[visit.site].site

    def holds(self, visit: Visit) -> bool:
        """Whether the visit's night lies in the week itself."""
        return self.starts_on <= visit.night <= self.last_on

    def drive(self, start: Branch | Site, end: Branch | Site) -> int:
        """Minutes from one place to the next; none between two visits of one site."""
        return self.travel.minutes(start, end)


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewStop:
    """A visit on a crew's night.

    travel_minutes : drive to it from the branch or from the stop before.
    starts_at, ends_at : on site, UTC.
    machines : codes of the owned machines it takes, in the order of its methods.
    part, parts : which of how many crews that share the visit; its visit has that part's lines.
    held : the planner pinned it to this crew and night.
    """

    visit: Visit
    travel_minutes: int
    starts_at: datetime
    ends_at: datetime
    machines: tuple[str, ...] = ()
    part: int = 1
    parts: int = 1
    held: bool = False

    @property
    def zones(self) -> tuple[str, ...]:
        """Codes of the zones of a part, none where it is all of its visit."""
        if self.parts == 1:
            return ()
        return tuple(dict.fromkeys(line.zone for line in self.visit.lines))


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewNight:
    """A crew out on one night.

    on : the branch's own date its shift starts on.
    workers : who goes, by code; nobody is named where no crew was entered.
    people : how many go.
    starts_at, ends_at : the shift, UTC; both None where the shift was not entered: then the night
        begins with the drive to the first visit and lasts `longest_minutes` at most.
    longest_minutes : true minutes from leaving the branch to being back, the break taken off.
    stops : in order of time; home_minutes is the drive back from the last.
    break_minutes, break_at : the break of the shift, and when it begins; None without a stop or
        where no break was entered.
    within : from when to when it may be out where it has no hours of its own, UTC.
    overtime_allowed : whether it may stay out beyond its shift; its next night may forbid that.
    """

    crew: str
    name: str
    on: date
    people: int
    longest_minutes: int
    workers: tuple[Worker, ...] = ()
    starts_at: datetime | None = None
    ends_at: datetime | None = None
    stops: tuple[CrewStop, ...] = ()
    home_minutes: int = 0
    break_minutes: int = 0
    break_at: datetime | None = None
    within: tuple[datetime, datetime] | None = None
    overtime_allowed: bool = True

    @property
    def leaves_at(self) -> datetime:
        """When it must leave the branch for its first stop."""
        return self.stops[0].starts_at - timedelta(minutes=self.stops[0].travel_minutes)

    @property
    def home_at(self) -> datetime:
        """When it is back at the branch from its last stop."""
        return self.stops[-1].ends_at + timedelta(minutes=self.home_minutes)

    @property
    def back_by(self) -> datetime | None:
        """The shift's end less its break, None where no shift was entered."""
        if self.starts_at is None:
            return None
        return self.starts_at + timedelta(minutes=self.longest_minutes)

    @property
    def overtime_minutes(self) -> int:
        """Minutes it is out beyond its shift, the break counted as part of it."""
        if not self.stops:
            return 0
        if self.ends_at is None:
            out = (self.home_at - self.leaves_at) // timedelta(minutes=1)
            return max(0, out - self.longest_minutes)
        ends = self.home_at
        if self.break_at is not None and self.break_at >= self.home_at:
            ends += timedelta(minutes=self.break_minutes)
        return max(0, (ends - self.ends_at) // timedelta(minutes=1))

    def meets(self, other: "CrewNight") -> bool:
        """Whether two shifts overlap, so that nothing can serve both."""
        if self.starts_at is None or self.ends_at is None:
            return False
        if other.starts_at is None or other.ends_at is None:
            return False
        return self.starts_at < other.ends_at and other.starts_at < self.ends_at


class MisfitKind(StrEnum):
    """What keeps a crew from a visit, the most easily mended first."""

    TIME = "time"
    MACHINE = "machine"
    QUALIFICATION = "qualification"
    PEOPLE = "people"
    PAPER = "paper"
    SHIFT = "shift"
    ACCESS = "access"


@dataclass(frozen=True, slots=True, kw_only=True)
class Misfit:
    """One thing that keeps a crew from a visit, and what would mend it.

    short : how much is lacking, in minutes, people, machines or papers.
    """

    kind: MisfitKind
    short: int
    why: str
    mend: str


class Cause(StrEnum):
    """What a visit without a crew comes down to."""

    NO_CREW_NIGHT = "no crew-night may take it"
    CLASH = "it clashes with what is held"
    CAPACITY = "the crews that may take it are full"


@dataclass(frozen=True, slots=True, kw_only=True)
class Unfitted:
    """A visit that no crew can take: why not the crew that comes nearest, and its mend.

    crew : code of that crew, "" where the branch has none.
    cause : what it comes down to.
    nearest : the nearest change that would place it, with what it would take.
    """

    visit: Visit
    crew: str
    why: str
    mend: str
    cause: "Cause | None" = None
    nearest: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekFit:
    """Which crew goes where when.

    nights : every crew-night, also those without a stop, by date and crew.
    unfitted : in order of night and site.
    unchecked : in plain sentences, what was taken for granted because it was not entered.
    cost : what drives and overtime come to, in hundredths of the branch's currency.
    stopped_by : what ended the search; "" where none was needed.
    findings : what of crews, machines and visits a person should look at.
    """

    nights: tuple[CrewNight, ...]
    unfitted: tuple[Unfitted, ...]
    unchecked: tuple[str, ...]
    cost: int = 0
    stopped_by: str = ""
    findings: tuple[Finding, ...] = ()

    def shown(self, week: BranchWeek) -> tuple[CrewNight, ...]:
        """The crew-nights of the week, and those beside it that serve its visits."""
        return tuple(
            night
            for night in self.nights
            if week.starts_on <= night.on <= week.last_on
            or any(week.holds(stop.visit) for stop in night.stops)
        )


def fixed_start(visit: Visit, site: Site) -> datetime | None:
    """The UTC instant at which a visit must begin where its hour is agreed, else None."""
    if visit.commitment is not Commitment.HOUR:
        return None
    return instant(visit.night, visit.starts_minute, site.time_zone)


def minute_of(on: date, at: datetime, zone: str) -> int:
    """What the wall clock of a zone shows at an instant, as a minute of a date.

    >>> from datetime import UTC
    >>> minute_of(date(2026, 3, 2), datetime(2026, 3, 3, 1, 30, tzinfo=UTC), "Europe/Berlin")
    1590
    """
    local = at.astimezone(ZoneInfo(zone))
    return (local.date() - on).days * DAY_MINUTES + local.hour * 60 + local.minute


def night_said(on: date) -> str:
    """A night as reasons say it.

    >>> night_said(date(2026, 3, 3))
    'Tue 3 March'
    """
    return f"{WEEKDAY_NAMES[on.weekday()][:3]} {on.day} {on:%B}"
