"""A branch's first capacity check: every visit on a night its crews have room for.

Visits that already stood keep their night first; then those that cannot move; then the tightest.
What finds no room in its window comes late, what finds none at all is named with what would help.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta

from floorcare.findings import Finding
from floorcare.ground.schedule.gather import LATE_DAYS, SiteNights, Stub, clock_minutes
from floorcare.ground.trade.site import Branch
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.visit import Unplaced
from floorcare.ground.worktime.site_time import Night

CALL_RULE = "call response"


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """A stub with what its placing needs to know.

    stands_on : the night it stands on in the plan so far, None where it is new.
    load : clock minutes of one crew, travel both ways included.
    """

    stub: Stub
    stands_on: date | None
    load: int
    site: SiteNights
    surfaces: dict[str, Surface]


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """The outcome for one branch.

    over_before, over_after : crew-minutes above the capacity, summed over nights.
    nights : of each visit wanted, None where it was split or found none.
    load : crew-minutes taken on each night, all together.
    findings : what a person should look at, of the branch as a whole.
    """

    stubs: tuple[Stub, ...]
    unplaced: tuple[Unplaced, ...]
    over_before: int
    over_after: int
    nights: tuple[date | None, ...] = field(default=(), compare=False)
    load: Mapping[date, int] = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()


def crew_minutes(branch: Branch) -> int:
    """Crew-minutes a branch has on a night it goes out, the reserve for calls taken off.

    Source: crews × shift × (1 − reserve), design rule.
    """
    return int(branch.crews * branch.shift_minutes * (1.0 - branch.reserve_share))


def night_capacity(branch: Branch, on: date) -> int:
    """Crew-minutes a branch has on one date; none on a weekday without crews.

    Source: as `crew_minutes`.
    """
    if on.weekday() not in branch.weekdays:
        return 0
    return crew_minutes(branch)


def place(wanted: Sequence[Wanted], branch: Branch, used: Mapping[date, int]) -> Placed:
    """Give each visit of a branch a night on which a crew has room.

    Parameters
    ----------
    wanted : the branch's visits in the making.
    used : crew-minutes already bound on each night by visits that stand and by standing rounds.

    Assumption: a crew's night may be shared by several short visits; who drives where is settled
    by the week's plan.
    """
    load: dict[date, int] = dict(used)
    taken: dict[str, set[date]] = {}
    for one in wanted:
        taken.setdefault(one.stub.site, set()).add(one.stub.night.on)
    over_before = _over(branch, _loads(wanted, used))
    stubs: list[Stub] = []
    unplaced: list[Unplaced] = []
    nights: dict[int, date] = {}
    waiting = sorted(wanted, key=placing_order)
    while waiting:
        one = waiting.pop(0)
        stub = one.stub
        moved = _night_for(one, branch, load, taken[stub.site])
        taken[stub.site].discard(stub.night.on)
        if moved is None:
            parts = _split(one)
            # a full visit may hide short works that would find room one by one
            waiting = [*parts, *waiting] if parts else waiting
            unplaced.extend(() if parts else _no_crew(one, branch))
            continue
        taken[stub.site].add(moved.night.on)
        load[moved.night.on] = load.get(moved.night.on, 0) + one.load
        stubs.append(moved)
        nights[id(one)] = moved.night.on
    return Placed(
        stubs=tuple(sorted(stubs, key=lambda s: (s.night.on, s.site, s.night.starts_minute))),
        unplaced=tuple(unplaced),
        over_before=over_before,
        over_after=_over(branch, load),
        nights=tuple(nights.get(id(one)) for one in wanted),
        load=load,
    )


def presses(stub: Stub) -> bool:
    """Whether a visit is placed before all others: a guarded floor, work begun, or a call."""
    rules = {line.due.reason.rule for line in stub.lines}
    return not rules.isdisjoint({"slip guard", "work begun", CALL_RULE})


def placing_order(one: Wanted) -> tuple[bool, bool, bool, date, date, str]:
    """Where a visit comes when nights are given out."""
    kept = one.stands_on is not None and _may_stand(one.stub, one.stands_on)
    fixed = one.stub.earliest == one.stub.latest
    return (
        not presses(one.stub),
        not kept,
        not fixed,
        one.stub.latest,
        one.stub.night.on,
        one.stub.site,
    )


def _split(one: Wanted) -> list[Wanted]:
    """The visit's zones as visits of their own, most pressing first; none where it has but one."""
    zones = sorted({line.zone for line in one.stub.lines})
    if len(zones) == 1:
        return []
    parts = []
    for zone in zones:
        lines = tuple(line for line in one.stub.lines if line.zone == zone)
        minutes = clock_minutes(lines, one.site.people, one.surfaces)
        stub = replace(
            one.stub,
            lines=lines,
            earliest=min(one.stub.night.on, max(line.due.earliest for line in lines)),
            latest=max(one.stub.night.on, min(line.due.latest for line in lines)),
            minutes=minutes,
        )
        load = one.load - one.stub.minutes + minutes
        parts.append(replace(one, stub=stub, stands_on=None, load=load))
    return sorted(parts, key=placing_order)


def _may_stand(stub: Stub, on: date) -> bool:
    return on == stub.night.on or stub.earliest <= on <= stub.latest


def _loads(wanted: Sequence[Wanted], used: Mapping[date, int]) -> dict[date, int]:
    load = dict(used)
    for one in wanted:
        load[one.stub.night.on] = load.get(one.stub.night.on, 0) + one.load
    return load


def _over(branch: Branch, load: Mapping[date, int]) -> int:
    return sum(max(0, minutes - night_capacity(branch, on)) for on, minutes in load.items())


def _night_for(
    one: Wanted, branch: Branch, load: Mapping[date, int], taken: set[date]
) -> Stub | None:
    """The visit on the first night that suits: where it stood, wished, in its window, late; of the
    late ones first those the customer offered."""
    stub = one.stub
    wished = [stub.night.on]
    if one.stands_on is not None and _may_stand(stub, one.stands_on):
        wished.insert(0, one.stands_on)
    by_date = nights_by_date(one.site)
    inside = sorted(
        (on for on in by_date if stub.earliest <= on <= stub.latest),
        key=lambda on: (abs((on - stub.night.on).days), on),
    )
    last = max(stub.latest, stub.night.on)
    late = [on for on in by_date if last < on <= last + timedelta(days=LATE_DAYS)]
    offered = [on for on in late if any(one.site.answers.wishes(on, w) for w in stub.lines)]
    for on in [*wished, *inside, *offered, *late]:
        if on != stub.night.on and on in taken:
            continue
        if load.get(on, 0) + one.load > _room(stub, branch, on):
            continue
        night = fitting(one, by_date.get(on, ()))
        if night is not None:
            return _on(one, night)
    return None


def nights_by_date(site: SiteNights) -> dict[date, list[Night]]:
    """The site's nights under the date they begin on."""
    by_date: dict[date, list[Night]] = {}
    for night in site.nights:
        by_date.setdefault(night.on, []).append(night)
    return by_date


def fitting(one: Wanted, nights: Iterable[Night]) -> Night | None:
    """The longest of a date's nights that takes the visit, whatever else its crews do."""
    for night in sorted(nights, key=lambda n: -n.minutes):
        fits = one.stub.needs <= night.permits and one.stub.minutes <= one.site.room(night)
        if fits and one.site.answers.takes(night.on, one.stub.lines):
            return night
    return None


def _room(stub: Stub, branch: Branch, on: date) -> int:
    """What a visit may fill of a night; the reserve is kept for the answers to calls."""
    if all(line.due.reason.rule != CALL_RULE for line in stub.lines):
        return night_capacity(branch, on)
    return night_capacity(replace(branch, reserve_share=0.0), on)


def _on(one: Wanted, night: Night) -> Stub:
    """The same visit on another night; lines that come late are marked to be looked at again."""
    lines = tuple(
        line
        if night.on <= line.due.latest or line.due.recheck
        else replace(line, due=replace(line.due, recheck=True))
        for line in one.stub.lines
    )
    return replace(
        one.stub,
        night=night,
        lines=lines,
        minutes=clock_minutes(lines, one.site.people, one.surfaces),
    )


def _no_crew(one: Wanted, branch: Branch) -> list[Unplaced]:
    stub = one.stub
    crew_minutes = night_capacity(branch, stub.night.on)
    why = (
        f"branch {branch.code} has {crew_minutes} crew-minutes on a night and none of the site's "
        f"nights until {max(stub.latest, stub.night.on) + timedelta(days=LATE_DAYS)} has the "
        f"{one.load} it takes left"
    )
    mend = f"one more crew on {stub.night.on.isoformat()}, or {one.load} min of overtime"
    return [Unplaced(due=line.due, why=why, mend=mend) for line in stub.lines]
