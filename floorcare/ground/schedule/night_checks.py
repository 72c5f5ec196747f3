"""Whether one visit can be done on one night: access, permits, length, shift, crews, machines.

What cannot be is told as a finding that stops, with its mend; what is only unwise as one that asks.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from floorcare.findings import Finding
from floorcare.ground.rules.reasons import said
from floorcare.ground.schedule.closings import surface_of
from floorcare.ground.schedule.place import night_capacity
from floorcare.ground.schedule.round_minutes import round_minutes
from floorcare.ground.schedule.sites_look import BranchYear, site_nights, site_time
from floorcare.ground.schedule.travel import Travel
from floorcare.ground.trade.book import SiteBook
from floorcare.ground.trade.equipment import OwnedMachine
from floorcare.ground.trade.site import Branch, TravelLeg
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.visit import Visit, VisitState, needs_of
from floorcare.ground.worktime.night import format_minute, length_minutes
from floorcare.ground.worktime.site_time import Night
from floorcare.ground.worktime.window import WEEKDAY_NAMES

NEAREST = 3
"""So many nights are named that would do."""
LOOK_DAYS = 60
"""They are looked for so many days past the night in question."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NightGround:
    """What a visit's night is checked against.

    year : of the branch that serves the site on that night.
    machines : all of ours.
    """

    year: BranchYear
    machines: tuple[OwnedMachine, ...] = ()

    def book(self, visit: Visit) -> SiteBook:
        """The book of the visit's site."""
        return next(book for book in self.year.books if book.site.code == visit.site)


def night_ground(
    branch: Branch,
    books: Iterable[SiteBook],
    visits: Iterable[Visit],
    surfaces: Mapping[str, Surface],
    *,
    on: date,
    today: date,
    machines: tuple[OwnedMachine, ...] = (),
    legs: Iterable[TravelLeg] = (),
) -> NightGround:
    """What a night of a branch is checked against.

    Parameters
    ----------
    books : of any sites; those the branch serves on that night are taken.
    visits : of any sites, called-off and past ones too.
    legs : typed drives, of any branch.
    """
    # a site nobody serves that night is still to be told so
    mine = tuple(book for book in books if book.site.branch_on(on) in (branch.code, ""))
    sites = {book.site.code for book in mine}
    standing = (
        v
        for v in visits
        if v.site in sites and v.night >= today and v.state is not VisitState.CANCELLED
    )
    year = BranchYear(
        branch=branch,
        books=mine,
        surfaces=surfaces,
        standing=tuple(standing),
        today=today,
        last_on=max(today, on) + timedelta(days=LOOK_DAYS),
        travel=Travel.of(branch.code, legs),
    )
    return NightGround(year=year, machines=machines)


@dataclass(frozen=True, slots=True, kw_only=True)
class NightFound:
    """The stretch of a night a visit may have and the minute it begins; None where it has none."""

    night: Night | None
    starts_minute: int
    findings: tuple[Finding, ...]


def stops(problem: str, mend: str, *, allowed: str = "") -> Finding:
    """Something that cannot be."""
    return Finding(problem=problem, allowed=allowed, mend=mend)


def asks(problem: str, mend: str) -> Finding:
    """Something that can be done and perhaps should not."""
    return Finding(problem=problem, mend=mend, weight="asks")


def find_night(
    ground: NightGround, visit: Visit, on: date, starts_minute: int | None = None
) -> NightFound:
    """The stretch of a night that takes a visit, or why none does.

    Parameters
    ----------
    starts_minute : where the visit is to begin; None for as early as the night allows.
    """
    year, book = ground.year, ground.book(visit)
    nights = site_time(year, book).nights(on, on)
    problem = _closed(year, book, visit, on, bool(nights))
    if problem:
        return NightFound(
            night=None, starts_minute=0, findings=(stops(problem, _nearest(ground, visit, on)),)
        )
    tried = [_tried(night, visit, starts_minute, book.site.time_zone) for night in nights]
    for night, (start, why) in zip(nights, tried, strict=True):
        if not why:
            return NightFound(night=night, starts_minute=start, findings=())
    why = "; ".join(dict.fromkeys(why for _, why in tried))
    return NightFound(
        night=None, starts_minute=0, findings=(stops(why, _nearest(ground, visit, on)),)
    )


def _closed(year: BranchYear, book: SiteBook, visit: Visit, on: date, opens: bool) -> str:
    """Why nobody can be there that night at all, "" where somebody can."""
    site = book.site
    if site.branch_on(on) == "":
        return f"no branch serves {site.code} on {said(on)}"
    if not opens:
        why = site_time(year, book).why_closed(on)
        return f"{site.code} is not open to us on {said(on)}: {why}"
    if on.weekday() not in year.branch.weekdays:
        day = WEEKDAY_NAMES[on.weekday()]
        return f"no crew of branch {year.branch.code} goes out on a {day}"
    zones = {zone.zone.code: zone.zone for zone in book.zones}
    for line in visit.lines:
        ends_on = zones[line.zone].ends_on if line.zone in zones else None
        if ends_on is not None and ends_on < on:
            return f"our care of {site.code}/{line.zone} ends on {said(ends_on)}"
    return ""


def _tried(night: Night, visit: Visit, starts_minute: int | None, zone: str) -> tuple[int, str]:
    """The minute the visit would begin, and why it cannot, "" where it can."""
    window = f"{format_minute(night.starts_minute)} to {format_minute(night.ends_minute)}"
    lacking = sorted(needs_of(visit.lines) - night.permits)
    if lacking:
        return 0, f"the window {window} of {said(night.on)} permits no {' or '.join(lacking)} work"
    if starts_minute is None:
        start = night.starts_minute
    else:
        start = next(
            (m for m in (starts_minute, starts_minute + 1440) if _inside(m, night)), starts_minute
        )
    if not _inside(start, night):
        return 0, f"a start at {format_minute(start)} lies outside the window {window}"
    left = length_minutes(night.on, start, night.ends_minute, zone)
    if night.starts_minute == start:
        left = night.minutes
    if visit.minutes > left:
        begun = f"after a start at {format_minute(start)}" if starts_minute is not None else window
        return 0, f"it takes {visit.minutes} min, and {said(night.on)} has {left} ({begun})"
    return start, ""


def _inside(minute: int, night: Night) -> bool:
    return night.starts_minute <= minute < night.ends_minute


def nearest_nights(ground: NightGround, visit: Visit, on: date) -> tuple[date, ...]:
    """The nights nearest to a date that take the visit as it is, with a crew to spare, rising."""
    year, book = ground.year, ground.book(visit)
    site = site_nights(year, book)
    taken = {v.night for v in year.standing if v.site == visit.site and v.uuid != visit.uuid}
    loads = crew_loads(year, visit.uuid)
    load = visit.minutes + year.round_trip(book.site)
    fitting = {
        night.on
        for night in site.nights
        if needs_of(visit.lines) <= night.permits
        and visit.minutes <= site.room(night)
        and night.on not in taken
        and night.on != on
        and site.answers.takes(night.on, visit.lines)
        and loads.get(night.on, CrewLoad()).all_minutes + load
        <= night_capacity(year.branch, night.on)
    }
    nearest = sorted(fitting, key=lambda night: (abs((night - on).days), night))[:NEAREST]
    return tuple(sorted(nearest))


def _nearest(ground: NightGround, visit: Visit, on: date) -> str:
    nights = nearest_nights(ground, visit, on)
    if not nights:
        return "open a night that takes it, or make the visit shorter"
    return f"take another night; nearest: {', '.join(night.isoformat() for night in nights)}"


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewLoad:
    """Crew-minutes of a branch on a night: what stands, rounds included, and what may move."""

    bound: int = 0
    proposed: int = 0

    @property
    def all_minutes(self) -> int:
        """Both together."""
        return self.bound + self.proposed


def crew_loads(year: BranchYear, without: str = "") -> dict[date, CrewLoad]:
    """A branch's crew-minutes by night, travel included, one visit left out."""
    travel = year.round_trips()
    bound: dict[date, int] = dict(
        round_minutes(
            year.books,
            year.surfaces,
            year.branch,
            today=year.today,
            first=year.today,
            last=year.last_on,
        )
    )
    free: dict[date, int] = {}
    for visit in year.standing:
        if visit.uuid != without:
            side = bound if visit.stands else free
            side[visit.night] = side.get(visit.night, 0) + visit.minutes + travel.get(visit.site, 0)
    return {
        on: CrewLoad(bound=bound.get(on, 0), proposed=free.get(on, 0)) for on in {*bound, *free}
    }


def crew_findings(ground: NightGround, visit: Visit, on: date) -> tuple[Finding, ...]:
    """Whether the branch's crews have room for the visit that night."""
    year, branch = ground.year, ground.year.branch
    travel = year.round_trip(ground.book(visit).site)
    load = visit.minutes + travel
    there = crew_loads(year, visit.uuid).get(on, CrewLoad())
    whole = branch.crews * branch.shift_minutes
    if there.bound + load > whole:
        return (
            stops(
                f"branch {branch.code} has {whole} crew-minutes that night; what stands takes "
                f"{there.bound} and this visit {load}",
                f"{_nearest(ground, visit, on)}; or send one more crew",
            ),
        )
    found = []
    if load > branch.shift_minutes:
        over = load - branch.shift_minutes
        found.append(
            asks(
                f"with the drive it is {over} min longer than a shift", "pay overtime, or split it"
            )
        )
    kept = night_capacity(branch, on)
    if there.bound + load > kept:
        found.append(
            asks(
                f"it takes {there.bound + load - kept} min of that night's reserve for calls",
                _nearest(ground, visit, on),
            )
        )
    elif there.all_minutes + load > kept:
        others = sorted({v.site for v in _proposed_beside(year, visit, on)})
        found.append(
            asks(
                f"the night is full: the next plan will look for another for {', '.join(others)}",
                _nearest(ground, visit, on),
            )
        )
    return tuple(found)


def _proposed_beside(year: BranchYear, visit: Visit, on: date) -> Iterator[Visit]:
    for other in year.standing:
        if other.night == on and other.uuid != visit.uuid and not other.stands:
            yield other


def machine_findings(ground: NightGround, visit: Visit, on: date) -> tuple[Finding, ...]:
    """Kinds of machine the visit needs of which none is left that night.

    A kind of which the branch never had a machine is not looked for.
    """
    year = ground.year
    beside = [v for v in year.standing if v.night == on and v.uuid != visit.uuid]
    found = []
    for kind in _kinds(ground, visit):
        owned = _owned(ground, kind, visit.site)
        ready = [m for m in owned if m.works_on(on) and _near(m, ground, visit, on)]
        wanted = sorted({v.site for v in beside if kind in _kinds(ground, v)})
        name = next(s.machines[kind].name for s in year.surfaces.values() if kind in s.machines)
        if owned and not ready:
            found.append(asks(f"no {name} is in order and at hand that night", "see to one first"))
        elif owned and len(wanted) >= len(ready):
            found.append(
                asks(
                    f"{', '.join(wanted)} needs a {name} too that night; {len(ready)} in order",
                    "let one crew do them one after the other, or take another night",
                )
            )
    return tuple(found)


def _kinds(ground: NightGround, visit: Visit) -> tuple[str, ...]:
    zones = {zone.zone.code: zone for zone in ground.book(visit).zones}
    kinds = {
        step.machine
        for line in visit.lines
        if line.zone in zones
        and (rung := surface_of(zones[line.zone], visit, ground.year.surfaces).rung(line.work))
        for step in rung.steps
        if step.machine
    }
    return tuple(sorted(kinds))


def _owned(ground: NightGround, kind: str, site: str) -> Sequence[OwnedMachine]:
    branch = ground.year.branch.code
    return [
        machine
        for machine in ground.machines
        if machine.kind == kind
        and any(place.branch == branch or place.site == site for place in machine.places)
    ]


def _near(machine: OwnedMachine, ground: NightGround, visit: Visit, on: date) -> bool:
    place = machine.place_on(on)
    return place is not None and (
        place.branch == ground.year.branch.code or place.site == visit.site
    )


def fallen_in(
    visits: Iterable[Visit], ground: NightGround, first: date, last: date
) -> tuple[Visit, ...]:
    """Visits of a site from the night before `first` to `last` that their night no longer takes.

    A night that would run into a shut day ends at its midnight, so the one before counts too.
    """
    return tuple(
        visit
        for visit in visits
        if first - timedelta(days=1) <= visit.night <= last
        and find_night(ground, visit, visit.night, visit.starts_minute).night is None
    )
