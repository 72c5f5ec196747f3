"""What a new week changes: for every visit its crew, night and hour before and after."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime
from uuid import UUID, uuid5

from floorcare.ground.crews.week import BranchWeek, CrewNight, CrewStop, WeekFit, minute_of
from floorcare.ground.trade.assignment import Assignment
from floorcare.ground.trade.visit import Commitment, Visit, VisitState


@dataclass(frozen=True, slots=True, kw_only=True)
class Placing:
    """Where a visit stands in a week: crew codes, the site's own night, and its start there."""

    crews: tuple[str, ...]
    night: date
    starts_minute: int


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekChange:
    """What becomes of one visit; before or after None where it has no crew."""

    visit: str
    site: str
    before: Placing | None
    after: Placing | None

    @property
    def kinds(self) -> tuple[str, ...]:
        """What is another: "crew", "night", "hour", or "placed" and "left out"."""
        if self.before is None:
            return () if self.after is None else ("placed",)
        if self.after is None:
            return ("left out",)
        pairs = (
            ("crew", self.before.crews, self.after.crews),
            ("night", self.before.night, self.after.night),
            ("hour", self.before.starts_minute, self.after.starts_minute),
        )
        return tuple(kind for kind, one, other in pairs if one != other)


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekEdit:
    """A week as it is to be kept.

    altered : whole new versions of visits whose night or hour is another, and of those that came
        from cutting a large one.
    assignments : of all visits of the week that have a crew.
    cleared : UUIDs of visits that had a crew and have none now.
    changes : every visit that differs, in order of site and night.
    """

    branch: str
    starts_on: date
    altered: tuple[Visit, ...]
    assignments: tuple[Assignment, ...]
    cleared: tuple[str, ...]
    changes: tuple[WeekChange, ...]

    @property
    def empty(self) -> bool:
        """Whether the week is kept as it stands already."""
        return not self.changes


def week_edit(
    week: BranchWeek, fit: WeekFit, *, now: datetime, hold: Collection[str] = ()
) -> WeekEdit:
    """What is to be written so that a week is kept as it was fitted.

    A visit cut over several nights keeps its identity on the first of them; each other night is
    a visit of its own, named after the one it came from.

    Parameters
    ----------
    now : UTC instant of the change.
    hold : UUIDs of visits to be pinned to what they have in the fit.
    """
    had: dict[str, list[Assignment]] = {}
    for one in week.assigned:
        had.setdefault(one.visit, []).append(one)
    stops: dict[str, list[tuple[CrewNight, CrewStop]]] = {}
    for night in fit.nights:
        for stop in night.stops:
            stops.setdefault(stop.visit.uuid, []).append((night, stop))
    altered: list[Visit] = []
    assignments: list[Assignment] = []
    changes: list[WeekChange] = []
    for visit in week.visits:
        if not week.holds(visit):
            continue
        mine = stops.get(visit.uuid, [])
        new, given = _kept_as(week, visit, mine, now, hold=visit.uuid in hold)
        altered += [one for one in new if one != visit]
        assignments += given
        told = had.get(visit.uuid, ())
        change = WeekChange(
            visit=visit.uuid,
            site=visit.site,
            before=_placing(visit, told),
            after=_placing(new[0], given),
        )
        if change.kinds or not _alike(told, given):
            changes.append(change)
    have = {one.visit for one in assignments}
    return WeekEdit(
        branch=week.branch.code,
        starts_on=week.starts_on,
        altered=tuple(altered),
        assignments=tuple(assignments),
        cleared=tuple(
            v.uuid for v in week.visits if week.holds(v) and v.uuid in had and v.uuid not in have
        ),
        changes=tuple(sorted(changes, key=lambda c: (c.site, _night_of(c), c.visit))),
    )


def _kept_as(
    week: BranchWeek,
    visit: Visit,
    mine: list[tuple[CrewNight, CrewStop]],
    now: datetime,
    *,
    hold: bool,
) -> tuple[list[Visit], list[Assignment]]:
    """The visit as it is kept, cut where its parts lie on several nights, and who goes."""
    if not mine:
        return [visit], []
    by_night: dict[date, list[tuple[CrewNight, CrewStop]]] = {}
    for night, stop in sorted(mine, key=lambda pair: pair[1].starts_at):
        by_night.setdefault(stop.visit.night, []).append((night, stop))
    placed = {(line.zone, line.work) for _, stop in mine for line in stop.visit.lines}
    left = tuple(line for line in visit.lines if (line.zone, line.work) not in placed)
    kept, given = [], []
    for at, (on, pairs) in enumerate(sorted(by_night.items())):
        lines = tuple(line for _, stop in pairs for line in stop.visit.lines)
        if not at and len(by_night) == 1:
            lines = visit.lines if not left else (*lines, *left)
        first = pairs[0][1]
        one = replace(
            visit,
            uuid=visit.uuid if not at else str(uuid5(UUID(visit.uuid), on.isoformat())),
            night=on,
            starts_minute=minute_of(on, first.starts_at, week.site(visit).time_zone),
            minutes=max(s.visit.minutes for _, s in pairs),
            people=max(s.visit.people for _, s in pairs),
            lines=lines,
        )
        if hold:
            one = replace(one, state=VisitState.HELD, commitment=Commitment.NIGHT)
        if one != visit:
            one = replace(one, sequence=visit.sequence + 1 if not at else 0, changed_at=now)
        kept.append(one)
        given += [
            _assignment(one, night, stop, part=n, parts=len(pairs), hold=hold)
            for n, (night, stop) in enumerate(pairs, start=1)
        ]
    return kept, given


def _assignment(
    visit: Visit, night: CrewNight, stop: CrewStop, *, part: int, parts: int, hold: bool
) -> Assignment:
    return Assignment(
        visit=visit.uuid,
        crew=night.crew,
        on=night.on,
        starts_at=stop.starts_at,
        ends_at=stop.ends_at,
        part=part,
        parts=parts,
        zones=tuple(dict.fromkeys(line.zone for line in stop.visit.lines)) if parts > 1 else (),
        travel_minutes=stop.travel_minutes,
        machines=stop.machines,
        held=stop.held or hold,
    )


def _placing(visit: Visit, given: Iterable[Assignment]) -> Placing | None:
    """Where a visit stands with these assignments, None where none is its own."""
    mine = sorted((a for a in given if a.visit == visit.uuid), key=lambda a: a.part)
    if not mine:
        return None
    return Placing(
        crews=tuple(one.crew for one in mine),
        night=visit.night,
        starts_minute=visit.starts_minute,
    )


def _alike(had: Iterable[Assignment], given: Iterable[Assignment]) -> bool:
    """Whether crews, hours, drives and machines are the same to the last."""

    def told(some: Iterable[Assignment]) -> list[Assignment]:
        return sorted(some, key=lambda a: (a.visit, a.part))

    return told(had) == told(given)


def _night_of(change: WeekChange) -> date:
    placing = change.after or change.before
    return placing.night if placing is not None else date.min


def disturbed(changes: Iterable[WeekChange]) -> Mapping[str, int]:
    """How many visits that had a crew already got another crew, night or hour, or lost theirs."""
    counts = {"crew": 0, "night": 0, "hour": 0, "left out": 0}
    for change in changes:
        for kind in change.kinds:
            if kind in counts:
                counts[kind] += 1
    return counts
