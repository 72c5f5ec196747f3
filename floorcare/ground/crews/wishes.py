"""Wishes: each visit of a week with the nights and hours it may have and the crews that may go."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from floorcare.ground.crews.access import Access, access_of
from floorcare.ground.crews.machines import kinds_needed
from floorcare.ground.crews.misfits import paper_misfits, qualification_misfits
from floorcare.ground.crews.roster import Nights
from floorcare.ground.crews.week import DAY, BranchWeek, CrewNight, fixed_start
from floorcare.ground.schedule.answers import SiteAnswers, site_answers
from floorcare.ground.trade.assignment import Assignment
from floorcare.ground.trade.surface import Machine
from floorcare.ground.trade.visit import Visit, VisitState

MOST_OVERTIME = 60
"""Minutes a crew may stay out beyond its shift where that is worth its price. Assumption; the law
and the agreement that bind the branch outrank it."""
REST_MINUTES = 660
"""Minutes between coming back and going out again. Source: eleven hours of daily rest, Directive
2003/88/EC, article 3; local law outranks it."""
BEGUN = (VisitState.STARTED, VisitState.DONE, VisitState.PART_DONE, VisitState.NO_ACCESS)
"""States in which a visit keeps the crew that went."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Chance:
    """One stretch of a night in which a visit may be done.

    night : the site's own date.
    access : the stretch it lies in.
    first, last : earliest and latest start, UTC.
    crews : (crew, date) of the crew-nights that may take it.
    """

    night: date
    access: Access
    first: datetime
    last: datetime
    crews: frozenset[tuple[str, date]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """A visit of the week, or a part of it, with what it may have.

    visit : with the part's lines, minutes and people, on the night of the plan.
    part, parts : which of how many.
    kinds : kinds of machine its methods use.
    now : where it is so far, None where it has no crew yet.
    """

    visit: Visit
    chances: tuple[Chance, ...]
    kinds: tuple[Machine, ...]
    part: int = 1
    parts: int = 1
    now: Assignment | None = None

    @property
    def crews(self) -> frozenset[tuple[str, date]]:
        """Every crew-night that may take it in one way or another."""
        return frozenset().union(*(chance.crews for chance in self.chances))


def wish_of(week: BranchWeek, visit: Visit, nights: Nights) -> Wish:
    """A visit with its chances, in order of time; none where no crew-night may take it.

    Parameters
    ----------
    nights : every crew-night that may serve the week.
    """
    now = next((a for a in week.assigned if a.visit == visit.uuid), None)
    chances: list[Chance] = []
    for on in nights_asked(week, visit):
        there = replace(visit, night=on)
        if not any(paper_misfits(week, there)):
            chances += _chances(week, there, nights, now)
    return Wish(visit=visit, chances=tuple(chances), kinds=kinds_needed(week, visit), now=now)


def nights_asked(week: BranchWeek, visit: Visit) -> tuple[date, ...]:
    """The nights of the week a visit may have, the plan's among them.

    One that stands, is past or belongs to the days beside the week has its own night only. Work on
    the same zone keeps its order: what comes later moves no earlier, what comes first not past it.
    """
    if visit.stands or not week.holds(visit) or _is_past(week, visit.night):
        return (visit.night,)
    first = max(week.starts_on, *(line.due.earliest for line in visit.lines))
    last = week.last_on
    zones = {line.zone for line in visit.lines}
    for other in week.visits:
        if other.site != visit.site or other.uuid == visit.uuid:
            continue
        if zones.isdisjoint(line.zone for line in other.lines):
            continue
        if (other.night, other.uuid) < (visit.night, visit.uuid):
            first = max(first, visit.night)
        else:
            last = min(last, max(visit.night, other.night - DAY))
    answers = _answers(week, visit)
    days = (week.starts_on + step * DAY for step in range(7))
    return tuple(
        on
        for on in days
        if on == visit.night
        or (first <= on <= last and not _is_past(week, on) and answers.takes(on, visit.lines))
    )


def longest_stay(week: BranchWeek, visit: Visit, nights: Iterable[CrewNight]) -> int:
    """The longest any crew could stay at the visit's site in one night, overtime taken off.

    Source: the shift less its break and the drive both ways.
    """
    site = week.site(visit)
    drives = week.drive(week.branch, site) + week.drive(site, week.branch)
    return max((night.longest_minutes - drives for night in nights), default=0)


def may_go(week: BranchWeek, visit: Visit, night: CrewNight) -> bool:
    """Whether a crew-night has the people and papers for a visit on its night.

    Source: people of the visit, and what its site asks of each worker in date that night.
    """
    if night.people < visit.people:
        return False
    return not any(qualification_misfits(week, visit, night))


def hours_of(night: CrewNight) -> tuple[datetime, datetime] | None:
    """From when a crew may be out and by when it must be back, overtime included.

    Source: the shift less its break, or the hours in which unnamed crews go out; None for neither.
    """
    if night.starts_at is None or night.back_by is None:
        return night.within
    return night.starts_at, night.back_by + timedelta(minutes=overtime_of(night))


def overtime_of(night: CrewNight) -> int:
    """Minutes a crew may stay out beyond its shift.

    Source: `MOST_OVERTIME`, none where its rest forbids it.
    """
    return MOST_OVERTIME if night.overtime_allowed else 0


def _is_past(week: BranchWeek, on: date) -> bool:
    return week.today is not None and on <= week.today


def _answers(week: BranchWeek, visit: Visit) -> SiteAnswers:
    return site_answers(
        week.books[visit.site],
        week.visits,
        today=week.today or week.starts_on - DAY,
        keep_notice=False,
    )


def _chances(
    week: BranchWeek, visit: Visit, nights: Nights, now: Assignment | None
) -> Iterable[Chance]:
    site = week.site(visit)
    fixed = fixed_start(visit, site)
    stay = timedelta(minutes=visit.minutes)
    for access in access_of(visit, site):
        first, last = access.opens_at, access.closes_at - stay
        if fixed is not None:
            first, last = max(first, fixed), min(last, fixed)
        if first > last:
            continue
        crews = frozenset(
            key for key, night in nights.items() if _serves(week, visit, night, first, last, now)
        )
        if crews:
            yield Chance(night=visit.night, access=access, first=first, last=last, crews=crews)


def _serves(
    week: BranchWeek,
    visit: Visit,
    night: CrewNight,
    first: datetime,
    last: datetime,
    now: Assignment | None,
) -> bool:
    bound = now is not None and (now.held or visit.state in BEGUN)
    if now is not None and bound and (night.crew, night.on) != (now.crew, now.on):
        return False
    if not may_go(week, visit, night):
        return False
    if not -1 <= (visit.night - night.on).days <= 1:
        return False
    hours = hours_of(night)
    if hours is None:
        return False
    leaves, by = hours
    site = week.site(visit)
    drive = timedelta(minutes=week.drive(week.branch, site))
    home = timedelta(minutes=week.drive(site, week.branch))
    starts = max(first, leaves + drive)
    return starts <= last and starts + timedelta(minutes=visit.minutes) + home <= by
