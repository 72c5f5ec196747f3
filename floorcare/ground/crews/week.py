"""A branch's week: what it is fitted from, which crew goes where when, and what did not fit."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from enum import StrEnum
from zoneinfo import ZoneInfo

from floorcare.ground.schedule.travel import travel_minutes
from floorcare.ground.trade.book import SiteBook
from floorcare.ground.trade.crew import Crew, Worker
from floorcare.ground.trade.equipment import OwnedMachine
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
    crews, workers, machines : of all branches; those of other branches are passed over.
    """

    branch: Branch
    starts_on: date
    books: Mapping[str, SiteBook]
    visits: tuple[Visit, ...]
    surfaces: Mapping[str, Surface]
    crews: tuple[Crew, ...] = ()
    workers: tuple[Worker, ...] = ()
    machines: tuple[OwnedMachine, ...] = ()

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


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewStop:
    """A visit on a crew's night.

    travel_minutes : drive to it from the branch or from the stop before.
    starts_at, ends_at : on site, UTC.
    machines : codes of the owned machines it takes, in the order of its methods.
    """

    visit: Visit
    travel_minutes: int
    starts_at: datetime
    ends_at: datetime
    machines: tuple[str, ...] = ()


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Unfitted:
    """A visit that no crew can take: why not the crew that comes nearest, and its mend.

    crew : code of that crew, "" where the branch has none.
    """

    visit: Visit
    crew: str
    why: str
    mend: str


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekFit:
    """Which crew goes where when.

    nights : every crew-night, also those without a stop, by date and crew.
    unfitted : in order of night and site.
    unchecked : in plain sentences, what was taken for granted because it was not entered.
    """

    nights: tuple[CrewNight, ...]
    unfitted: tuple[Unfitted, ...]
    unchecked: tuple[str, ...]

    def shown(self, week: BranchWeek) -> tuple[CrewNight, ...]:
        """The crew-nights of the week, and the evening before it where that serves its visits."""
        return tuple(
            night
            for night in self.nights
            if week.starts_on <= night.on <= week.last_on
            or (night.on < week.starts_on and any(week.holds(s.visit) for s in night.stops))
        )


def drive_minutes(start: Branch | Site, end: Branch | Site) -> int:
    """Minutes from one place to the next; none between two visits of one site."""
    if isinstance(start, Site) and isinstance(end, Site) and start.code == end.code:
        return 0
    return travel_minutes(start, end)


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
