"""Work that found no night: what binds, and the smallest change that frees it.

Changes are tried in order of their size, each by gathering and placing the work again beside all
that has a night.
"""

from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, replace
from datetime import date, timedelta

from floorcare.ground.schedule.gather import LATE_DAYS, SiteNights, clock_minutes, gather
from floorcare.ground.schedule.place import Placed, Wanted, night_capacity, place
from floorcare.ground.trade.relaxation import Constraint, Relaxation, RelaxationKind
from floorcare.ground.trade.site import Branch
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.visit import Due, Unplaced, VisitLine
from floorcare.ground.worktime.site_time import Night
from floorcare.ground.worktime.window import week_of

HOUR_MINUTES = 60
MOST_STRETCH_MINUTES = 480
"""A night or a shift is stretched by so much at most. Assumption."""
MOST_NIGHTS_TRIED = 8
"""A change is tried on so many nights at most, the nearest first. Assumption."""
MOST_WORKS_TRIED = 40
"""Changes are tried for so many different works of a branch at most; the others keep the plain
mend of what binds. Assumption."""

_DAY = timedelta(days=1)
_NEW_NIGHT_STARTS = 1320


@dataclass(frozen=True, slots=True, kw_only=True)
class BranchNights:
    """A branch's nights as a plan leaves them.

    sites, surfaces, travel : by site; travel is minutes both ways, surfaces are by zone.
    load : crew-minutes taken on each night.
    taken : nights of each site that have a visit.
    """

    branch: Branch
    sites: Mapping[str, SiteNights]
    surfaces: Mapping[str, Mapping[str, Surface]]
    travel: Mapping[str, int]
    load: Mapping[date, int]
    taken: Mapping[str, Set[date]]


def nights_left(
    branch: Branch,
    sites: Mapping[str, SiteNights],
    surfaces: Mapping[str, Mapping[str, Surface]],
    travel: Mapping[str, int],
    placed: Placed,
) -> BranchNights:
    """The nights that placed visits leave to a branch."""
    taken: dict[str, set[date]] = {}
    for stub in placed.stubs:
        taken.setdefault(stub.site, set()).add(stub.night.on)
    return BranchNights(
        branch=branch, sites=sites, surfaces=surfaces, travel=travel, load=placed.load, taken=taken
    )


def with_relaxations(unplaced: Sequence[Unplaced], left: BranchNights) -> tuple[Unplaced, ...]:
    """The same works, each with what binds and the smallest change found to free it.

    Returns
    -------
    As many as were given, in their order; where no single change frees a work, or too many other
    works were tried, it keeps the mend it had.
    """
    known: dict[object, tuple[Constraint, Relaxation | None, str]] = {}
    told = []
    for one in unplaced:
        due = one.due
        key = (due.site, due.work, due.earliest, due.latest, due.minutes, due.area_m2, due.needs)
        if key not in known and len(known) < MOST_WORKS_TRIED:
            relaxation, mend = _smallest(due, left)
            known[key] = _binding(due, left), relaxation, mend
        if key not in known:
            told.append(replace(one, binds=_binding(due, left)))
            continue
        binds, relaxation, mend = known[key]
        more = mend or f"{one.mend}; no single change that was tried is enough"
        told.append(replace(one, binds=binds, relaxation=relaxation, mend=more))
    return tuple(told)


@dataclass(frozen=True, slots=True)
class _Change:
    """A change to try: the work, its site and its branch with the change made.

    mend : the change in words, `{on}` where the night found is named.
    """

    kind: RelaxationKind
    amount: int
    unit: str
    due: Due
    site: SiteNights
    branch: Branch
    mend: str


def _smallest(due: Due, left: BranchNights) -> tuple[Relaxation | None, str]:
    for change in _changes(due, left):
        on = _night_for(change.due, change.site, change.branch, left)
        if on is not None:
            relaxation = Relaxation(kind=change.kind, amount=change.amount, unit=change.unit, on=on)
            return relaxation, change.mend.replace("{on}", str(on))
    return None, ""


def _night_for(due: Due, site: SiteNights, branch: Branch, left: BranchNights) -> date | None:
    """The last night the work takes when it is gathered and placed alone, None without one."""
    surfaces = dict(left.surfaces[due.site])
    stubs, without = gather([due], site, surfaces)
    if without or not stubs:
        return None
    wanted = [
        Wanted(
            stub=stub,
            stands_on=None,
            load=stub.minutes + left.travel[due.site],
            site=site,
            surfaces=surfaces,
        )
        for stub in stubs
    ]
    placed = place(wanted, branch, left.load)
    if placed.unplaced:
        return None
    return max(stub.night.on for stub in placed.stubs)


def _free(due: Due, left: BranchNights) -> SiteNights:
    site, taken = left.sites[due.site], left.taken.get(due.site, frozenset())
    return replace(site, nights=tuple(n for n in site.nights if n.on not in taken))


def _reach(due: Due, site: SiteNights) -> tuple[Night, ...]:
    last = due.latest + LATE_DAYS * _DAY
    return tuple(n for n in site.nights if due.earliest <= n.on <= last)


def _whole(due: Due) -> VisitLine:
    return VisitLine(
        zone=due.zone, work=due.work, minutes=due.minutes, area_m2=due.area_m2, due=due
    )


def _binding(due: Due, left: BranchNights) -> Constraint:
    """The first constraint that keeps the work from every night in reach."""
    site = left.sites[due.site]
    reach = _reach(due, site)
    permitting = [n for n in reach if due.needs <= n.permits]
    if not reach:
        return Constraint.OPEN_NIGHT
    if not permitting:
        return Constraint.PERMIT
    if not any(site.answers.takes(n.on, (_whole(due),)) for n in permitting):
        return Constraint.ANSWER
    surfaces = dict(left.surfaces[due.site])
    if not gather([due], site, surfaces)[0]:
        minutes = clock_minutes((_whole(due),), site.people, surfaces)
        longest = max(n.minutes for n in permitting)
        return Constraint.SHIFT if site.visit_minutes < min(minutes, longest) else Constraint.NIGHT
    if not gather([due], _free(due, left), surfaces)[0]:
        return Constraint.TAKEN
    return Constraint.CREWS


def _changes(due: Due, left: BranchNights) -> Iterator[_Change]:
    """The changes in order of their size."""
    site = _free(due, left)
    yield from _longer(due, site, left, 1, HOUR_MINUTES, RelaxationKind.HOUR)
    yield from _later(due, site, left)
    yield from _permits(due, site, left)
    yield from _crews(due, site, left)
    open_to_calls = replace(left.branch, reserve_share=0.0)
    yield _Change(
        RelaxationKind.RESERVE,
        night_capacity(open_to_calls, _a_night(left.branch))
        - night_capacity(left.branch, _a_night(left.branch)),
        "crew-minutes",
        due,
        _whole_shift(site, left, due),
        open_to_calls,
        "give up the reserve for calls on {on}",
    )
    yield from _longer(
        due, site, left, HOUR_MINUTES + 1, MOST_STRETCH_MINUTES, RelaxationKind.LONGER
    )
    yield from _opened(due, site, left)


def _a_night(branch: Branch) -> date:
    return date.min + min(branch.weekdays, default=0) * _DAY


def _whole_shift(site: SiteNights, left: BranchNights, due: Due) -> SiteNights:
    longest = left.branch.shift_minutes - left.travel[due.site]
    return replace(site, visit_minutes=max(site.visit_minutes, longest))


def _longer(
    due: Due, site: SiteNights, left: BranchNights, least: int, most: int, kind: RelaxationKind
) -> Iterator[_Change]:
    """One night, or one shift, longer by just what the work lacks there."""
    minutes = clock_minutes((_whole(due),), site.people, left.surfaces[due.site])
    permitting = [n for n in _reach(due, site) if due.needs <= n.permits]
    short = [(minutes - site.room(n), n.on, n) for n in permitting]
    for lacking, on, night in sorted(
        (each for each in short if least <= each[0] <= most), key=lambda each: each[:2]
    )[:MOST_NIGHTS_TRIED]:
        longer = max(0, minutes - night.minutes)
        shift = max(0, minutes - site.visit_minutes)
        stretched = replace(
            night, ends_minute=night.ends_minute + longer, minutes=night.minutes + longer
        )
        branch = left.branch
        if branch.shift_minutes + shift > 960:
            continue
        said = [f"lengthen a night ({on}) by {longer} min"] if longer else []
        said += [f"lengthen a crew's shift on {on} by {shift} min"] if shift else []
        yield _Change(
            kind,
            lacking,
            "minutes",
            due,
            replace(site, nights=(stretched,), visit_minutes=site.visit_minutes + shift),
            replace(branch, shift_minutes=branch.shift_minutes + shift),
            " and ".join(said),
        )


def _later(due: Due, site: SiteNights, left: BranchNights) -> Iterator[_Change]:
    last = due.latest + LATE_DAYS * _DAY
    after = [n.on for n in site.nights if n.on > last and due.needs <= n.permits]
    for on in sorted(set(after))[:MOST_NIGHTS_TRIED]:
        yield _Change(
            RelaxationKind.LATER,
            (on - due.latest).days,
            "days",
            replace(due, latest=on),
            replace(site, nights=tuple(n for n in site.nights if n.on <= on)),
            left.branch,
            f"let it wait until {{on}}, {(on - due.latest).days} days late",
        )


def _permits(due: Due, site: SiteNights, left: BranchNights) -> Iterator[_Change]:
    reach = _reach(due, site)
    lacking = [(sorted(due.needs - n.permits), n) for n in reach if not due.needs <= n.permits]
    lacking.sort(key=lambda each: (len(each[0]), abs((each[1].on - due.target).days), each[1].on))
    for missing, night in lacking[:MOST_NIGHTS_TRIED]:
        named = " and ".join(missing)
        yield _Change(
            RelaxationKind.PERMIT,
            len(missing),
            "permits",
            due,
            replace(site, nights=(replace(night, permits=night.permits | due.needs),)),
            left.branch,
            f"have the access window of {{on}} permit {named}",
        )
    if lacking:
        every = sorted(frozenset().union(*(missing for missing, _ in lacking)))
        yield _Change(
            RelaxationKind.PERMIT,
            len(every),
            "permits",
            due,
            replace(site, nights=tuple(replace(n, permits=n.permits | due.needs) for n in reach)),
            left.branch,
            f"have the access windows of all its nights until {{on}} permit {' and '.join(every)}",
        )


def _crews(due: Due, site: SiteNights, left: BranchNights) -> Iterator[_Change]:
    if left.branch.crews >= 500:
        return
    stronger = replace(left.branch, crews=left.branch.crews + 1)
    whole, reach = _whole_shift(site, left, due), _reach(due, site)
    weeks: dict[date, list[Night]] = {}
    for night in reach:
        weeks.setdefault(week_of(night.on), []).append(night)
    nearest = sorted(weeks, key=lambda monday: (monday + 6 * _DAY < due.target, monday))
    for monday in nearest[:MOST_NIGHTS_TRIED]:
        yield _Change(
            RelaxationKind.CREW,
            1,
            "crews",
            due,
            replace(whole, nights=tuple(weeks[monday])),
            stronger,
            f"one more crew in the week of {monday}, on {{on}}",
        )
    yield _Change(
        RelaxationKind.CREW,
        1,
        "crews",
        due,
        replace(whole, nights=reach),
        stronger,
        "one more crew until {on}",
    )


def _opened(due: Due, site: SiteNights, left: BranchNights) -> Iterator[_Change]:
    """A night of its own on a date on which the site has none."""
    surfaces = left.surfaces[due.site]
    minutes = clock_minutes((_whole(due),), site.people, surfaces)
    known = {n.on for n in left.sites[due.site].nights}
    days = (due.latest - due.earliest).days + LATE_DAYS
    dates = (due.earliest + day * _DAY for day in range(days + 1))
    closed = [on for on in dates if on.weekday() in left.branch.weekdays and on not in known]
    closed.sort(key=lambda on: (on > due.latest, abs((on - due.target).days), on))
    for on in closed[:MOST_NIGHTS_TRIED]:
        night = Night(
            on=on,
            starts_minute=_NEW_NIGHT_STARTS,
            ends_minute=_NEW_NIGHT_STARTS + minutes,
            minutes=minutes,
            permits=due.needs,
        )
        yield _Change(
            RelaxationKind.OPEN,
            minutes,
            "minutes",
            due,
            replace(site, nights=(night,)),
            left.branch,
            f"open the night of {{on}} for {minutes} min",
        )
