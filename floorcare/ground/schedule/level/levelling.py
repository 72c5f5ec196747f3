"""Branch-weeks that are over their crews' capacity, levelled by moving visits in their windows.

The placing gives out nights one by one and may send a visit late that would have fitted, had
another moved. Where that happens in a week that is over capacity, the visits that may move there
are looked at together, and the placing is asked again with the nights found.
"""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence, Set
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import groupby

from floorcare.findings import Finding
from floorcare.ground.schedule.level.exactly import level_exactly
from floorcare.ground.schedule.level.greedily import level_greedily
from floorcare.ground.schedule.level.overload import Levelled, Movable, apart, by_code
from floorcare.ground.schedule.place import (
    Placed,
    Wanted,
    fitting,
    night_capacity,
    nights_by_date,
    place,
    placing_order,
    presses,
)
from floorcare.ground.trade.site import Branch
from floorcare.ground.worktime.window import week_of

MOST_EXACT = 300
"""So many visits that may move are levelled exactly together, more greedily. Assumption."""

_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Free:
    """What may be given another night, and what room the rest leaves.

    visits : by code, each with its number among those wanted.
    stays : the night of each other visit that has one.
    """

    visits: tuple[tuple[Movable, int], ...]
    stays: Mapping[int, date]
    room: Mapping[date, int]


def place_levelled(
    wanted: Sequence[Wanted],
    branch: Branch,
    used: Mapping[date, int],
    *,
    single_nights: bool = False,
) -> Placed:
    """Give each visit of a branch a night, and level the weeks that are over its capacity.

    Parameters
    ----------
    wanted, used : as `place` takes them; visits that stand are in `used` and never move.
    single_nights : level also single nights that are over in a week that is not.

    Returns
    -------
    What `place` gives, unless levelling leaves less without a night or late.

    Source: branch-weeks over crews × shift × (1 − reserve), design rule.
    """
    first = place(wanted, branch, used)
    findings = standing_overload(branch, used)
    weeks = _weeks_to_level(wanted, first, branch, used, single_nights)
    free = _free(wanted, first, branch, used, weeks)
    if not free.visits:
        return replace(first, findings=findings)
    visits = [visit for visit, _ in free.visits]
    groups = [(group, levelled(group, free.room)) for group in apart(visits)]
    found = {
        id(visit): on for group, one in groups for visit, on in zip(group, one.nights, strict=True)
    }
    proposed = {number: found[id(visit)] for visit, number in free.visits}
    second = _placed_again(wanted, {**free.stays, **proposed}, branch, used)
    if _left(second, wanted) < _left(first, wanted):
        first = replace(second, over_before=first.over_before)
    return replace(first, findings=(*findings, *_short(branch, [one for _, one in groups], weeks)))


def levelled(visits: Sequence[Movable], room: Mapping[date, int]) -> Levelled:
    """Nights for visits that share nights: exactly where they are few, greedily where many.

    Parameters
    ----------
    visits : in any order.
    room : crew-minutes left on each night.

    Returns
    -------
    Nights in the order of the visits given.
    """
    ordered = by_code(visits)
    level = level_exactly if len(ordered) <= MOST_EXACT else level_greedily
    found = level(ordered, room)
    nights = {id(visit): on for visit, on in zip(ordered, found.nights, strict=True)}
    return replace(found, nights=tuple(nights[id(visit)] for visit in visits))


def standing_overload(branch: Branch, used: Mapping[date, int]) -> tuple[Finding, ...]:
    """What a person should know of nights whose standing visits alone are more than crews can do.

    Parameters
    ----------
    used : crew-minutes already bound on each night.
    """
    # on a weekday without crews a standing round is somebody's own affair
    over = {
        on: minutes - night_capacity(branch, on)
        for on, minutes in used.items()
        if on.weekday() in branch.weekdays and minutes > night_capacity(branch, on)
    }
    if not over:
        return ()
    first = min(over)
    return (
        Finding(
            problem=f"branch {branch.code}: visits that stand and standing rounds take "
            f"{sum(over.values()):,} crew-minutes more than its crews have on "
            f"{len(over)} {'night' if len(over) == 1 else 'nights'}, the first on {first}",
            allowed=f"{max(0, night_capacity(branch, first)):,} crew-minutes on a night",
            mend="release one of its visits, or send one more crew",
            weight="asks",
        ),
    )


def _weeks_to_level(
    wanted: Sequence[Wanted],
    first: Placed,
    branch: Branch,
    used: Mapping[date, int],
    single_nights: bool,
) -> Set[date]:
    """Weeks in which a visit found no room, and which are over capacity as a whole."""
    load: Counter[date] = Counter()
    for on, minutes in used.items():
        load[week_of(on)] += min(minutes, night_capacity(branch, on))
    for one in wanted:
        load[week_of(one.stub.night.on)] += one.load
    week = sum(night_capacity(branch, date.min + day * _DAY) for day in range(7))
    found: set[date] = set()
    for one, night in zip(wanted, first.nights, strict=True):
        if night is not None and night <= one.stub.latest:
            continue
        weeks = _weeks(one.stub.earliest, max(one.stub.latest, one.stub.night.on))
        found |= {w for w in weeks if night is None or single_nights or load[w] > week}
    return found


def _weeks(first: date, last: date) -> Iterable[date]:
    monday = week_of(first)
    while monday <= last:
        yield monday
        monday += 7 * _DAY


def _free(
    wanted: Sequence[Wanted],
    first: Placed,
    branch: Branch,
    used: Mapping[date, int],
    weeks: Set[date],
) -> _Free:
    stays = {n: on for n, on in enumerate(first.nights) if on is not None}
    free = {
        n
        for n, one in enumerate(wanted)
        if not presses(one.stub)
        and (
            week_of(stays[n]) in weeks
            if n in stays and stays[n] <= one.stub.latest
            else any(w in weeks for w in _weeks(one.stub.earliest, one.stub.latest))
        )
    }
    nights_kept: dict[str, set[date]] = {}
    for n, one in enumerate(wanted):
        taken = {one.stub.night.on} if n in free else {one.stub.night.on, stays.get(n, date.min)}
        nights_kept.setdefault(one.stub.site, set()).update(taken)
    found: list[tuple[Movable, int]] = []
    for n in sorted(free):
        visit = _movable(wanted[n], branch, nights_kept[wanted[n].stub.site])
        if visit is not None:
            found.append((visit, n))
    for _, n in found:
        stays.pop(n, None)
    taken_up = Counter(used)
    for n, on in stays.items():
        taken_up[on] += wanted[n].load
    nights = {on for visit, _ in found for on in visit.nights}
    room = {on: max(0, night_capacity(branch, on) - taken_up[on]) for on in sorted(nights)}
    found.sort(key=lambda pair: (pair[0].code, pair[0].home, pair[0].load, pair[0].nights))
    return _Free(visits=tuple(found), stays=stays, room=room)


def _movable(one: Wanted, branch: Branch, taken: Set[date]) -> Movable | None:
    """The visit with the nights it may take, none of them another visit's of its site."""
    stub = one.stub
    nights = tuple(
        on
        for on, beginning in sorted(nights_by_date(one.site).items())
        if (stub.earliest <= on <= stub.latest and on not in taken) or on == stub.night.on
        if one.load <= night_capacity(branch, on) and fitting(one, beginning) is not None
    )
    if not nights:
        return None
    home = one.stands_on if one.stands_on in nights else stub.night.on
    if home not in nights:
        home = min(nights, key=lambda on: (abs((on - stub.night.on).days), on))
    lines = ",".join(f"{line.zone}/{line.work}" for line in stub.lines)
    return Movable(
        code=f"{stub.site}/{stub.night.on}/{lines}",
        site=stub.site,
        load=one.load,
        nights=nights,
        home=home,
    )


def _placed_again(
    wanted: Sequence[Wanted], nights: Mapping[int, date], branch: Branch, used: Mapping[date, int]
) -> Placed:
    """Every visit on its night as long as the crews have room there; then the rest."""
    load = Counter(used)
    settled: list[Wanted] = []
    left: list[Wanted] = []
    for n, one in sorted(enumerate(wanted), key=lambda pair: placing_order(pair[1])):
        on = nights.get(n)
        night = None if on is None else fitting(one, nights_by_date(one.site).get(on, ()))
        # a call may use the reserve: whatever night the placing gave it, it keeps
        fits = on is not None and (
            presses(one.stub) or load[on] + one.load <= night_capacity(branch, on)
        )
        if on is None or night is None or not fits:
            left.append(one)
            continue
        load[on] += one.load
        settled.append(replace(one, stub=replace(one.stub, night=night), stands_on=None))
    stand = place(settled, branch, used)
    taken: dict[str, set[date]] = {}
    for stub in stand.stubs:
        taken.setdefault(stub.site, set()).add(stub.night.on)
    rest = place([_beside(one, taken) for one in left], branch, stand.load)
    stubs = sorted(
        (*stand.stubs, *rest.stubs), key=lambda s: (s.night.on, s.site, s.night.starts_minute)
    )
    return replace(rest, stubs=tuple(stubs), unplaced=(*stand.unplaced, *rest.unplaced), nights=())


def _beside(one: Wanted, taken: Mapping[str, Set[date]]) -> Wanted:
    others = taken.get(one.stub.site, set())
    nights = tuple(n for n in one.site.nights if n.on not in others)
    return replace(one, site=replace(one.site, nights=nights))


def _left(placed: Placed, wanted: Sequence[Wanted]) -> tuple[int, int]:
    """What levelling is there to lessen: minutes without a night, then crew-minutes late."""
    travel = {one.stub.site: one.load - one.stub.minutes for one in wanted}
    return (
        sum(one.due.minutes for one in placed.unplaced),
        sum(s.minutes + travel[s.site] for s in placed.stubs if s.night.on > s.latest),
    )


def _short(branch: Branch, groups: Sequence[Levelled], weeks: Set[date]) -> tuple[Finding, ...]:
    """What no levelling can take away, with how near to the least it came."""
    over = sum(one.over_minutes for one in groups)
    if not over:
        return ()
    bound, before = (
        sum(one.bound_minutes for one in groups),
        sum(one.over_before for one in groups),
    )
    how = f"no choice of nights comes below {bound:,}"
    runs = list(_runs(sorted(weeks)))
    when = " and ".join(f"{a} to {b + 6 * _DAY}" for a, b in runs[:3])
    more = f" and {len(runs) - 3} more times" if len(runs) > 3 else ""
    return (
        Finding(
            problem=f"branch {branch.code} lacks {over:,} crew-minutes for what is due from "
            f"{when}{more}; before levelling it was {before:,}, and {how}",
            allowed="crews × shift less the reserve for calls",
            mend="one more crew in those weeks, or later latest nights; what comes late is marked",
            weight="asks",
        ),
    )


def _runs(mondays: Sequence[date]) -> Iterable[tuple[date, date]]:
    """First and last Monday of each run of weeks on end."""
    numbered = enumerate(mondays)
    for _, run in groupby(numbered, key=lambda pair: pair[1] - pair[0] * 7 * _DAY):
        whole = [monday for _, monday in run]
        yield whole[0], whole[-1]
