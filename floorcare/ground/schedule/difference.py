"""A new plan as a difference from the one that stands: added, moved, merged, dropped, kept.

A visit keeps its identity when it moves; SEQUENCE rises when its day, time, place or state does.
"""

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from uuid import UUID, uuid5

from floorcare.ground.rules.reasons import said
from floorcare.ground.schedule.gather import Stub
from floorcare.ground.trade.visit import (
    Agreement,
    ChangeKind,
    PlanChange,
    Visit,
    VisitLine,
    VisitState,
)

NOTHING_ASKS = "nothing asks for another night"

SAME_VISIT_DAYS = 60
"""A visit moved further than this is another visit. Assumption."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """What becomes of every proposed visit and every new one.

    altered : whole new versions of the visits that are new or changed.
    changes : one for each visit, kept ones included, in order of site and night.
    """

    altered: tuple[Visit, ...]
    changes: tuple[PlanChange, ...]

    @property
    def empty(self) -> bool:
        """True where every visit was kept."""
        return not self.altered


def match(stubs: Sequence[Stub], standing: Sequence[Visit]) -> dict[int, int]:
    """Which standing visit each new one continues; index of stub → index of visit.

    Parameters
    ----------
    stubs, standing : of any sites; only the same site's are paired.

    The same night with the same lines first, then the nearest night with most lines in common.

    Assumption: within 60 days.
    """
    by_site: dict[str, list[int]] = {}
    for v, visit in enumerate(standing):
        by_site.setdefault(visit.site, []).append(v)
    works = [_works(visit.lines) for visit in standing]
    pairs = []
    for s, stub in enumerate(stubs):
        mine = _works(stub.lines)
        for v in by_site.get(stub.site, ()):
            visit = standing[v]
            apart = abs((stub.night.on - visit.night).days)
            if apart <= SAME_VISIT_DAYS and not mine.isdisjoint(works[v]):
                same = apart == 0 and mine == works[v]
                shared = len(mine & works[v])
                pairs.append((not same, apart, -shared, visit.night, visit.uuid, s, v))
    matched: dict[int, int] = {}
    used: set[int] = set()
    for *_, s, v in sorted(pairs):
        if s not in matched and v not in used:
            matched[s] = v
            used.add(v)
    return matched


def difference(
    stubs: Sequence[Stub],
    standing: Sequence[Visit],
    *,
    people: dict[str, int],
    installation: str,
    known: Collection[str],
    now: datetime,
) -> Difference:
    """The new plan set against the proposed visits that stand.

    Parameters
    ----------
    stubs : the new plan's visits, each on its night.
    standing : proposed visits after today that a plan may move.
    people : crew size by site.
    installation : UUID under which new visits are named.
    known : every visit UUID there ever was.
    now : UTC instant of the change.

    Source: name-based UUIDs, RFC 9562 version 5.
    """
    matched = match(stubs, standing)
    altered: list[Visit] = []
    changes: list[PlanChange] = []
    names = set(known)
    for s, stub in enumerate(stubs):
        if s in matched:
            visit, change = _continued(standing[matched[s]], stub, people[stub.site], now)
        else:
            visit, change = _added(stub, people[stub.site], installation, names, now)
            names.add(visit.uuid)
        changes.append(change)
        if change.kind is not ChangeKind.KEPT:
            altered.append(visit)
    left = set(range(len(standing))) - set(matched.values())
    for v in sorted(left):
        visit, change = _ended(standing[v], stubs, now)
        altered.append(visit)
        changes.append(change)
    changes.sort(key=_told_in)
    return Difference(altered=tuple(altered), changes=tuple(changes))


def together(found: Sequence[Difference]) -> Difference:
    """The differences of several branches as one."""
    return Difference(
        altered=tuple(visit for one in found for visit in one.altered),
        changes=tuple(sorted((c for one in found for c in one.changes), key=_told_in)),
    )


def _works(lines: Sequence[VisitLine]) -> frozenset[tuple[str, str]]:
    return frozenset((line.zone, line.work) for line in lines)


def _continued(visit: Visit, stub: Stub, people: int, now: datetime) -> tuple[Visit, PlanChange]:
    new = replace(
        visit,
        night=stub.night.on,
        starts_minute=_start(visit, stub),
        minutes=stub.minutes,
        people=people,
        lines=stub.lines,
    )
    refused = visit.agreement is Agreement.REFUSED and visit.night != new.night
    if refused:
        new = replace(new, agreement=Agreement.NOT_NEEDED)  # another night is another question
    when = (visit.night, visit.starts_minute, visit.minutes)
    same_lines = [_told(line) for line in visit.lines] == [_told(line) for line in stub.lines]
    same_crew = visit.people == people
    if when == (new.night, new.starts_minute, new.minutes) and same_lines and same_crew:
        return visit, _change(ChangeKind.KEPT, visit, visit.night, NOTHING_ASKS)
    moved = visit.night != new.night
    retimed = when != (new.night, new.starts_minute, new.minutes)
    new = replace(new, sequence=visit.sequence + int(retimed), changed_at=now)
    if moved:
        how = ", which was refused" if refused else ""
        why = f"from {said(visit.night)}{how}: {stub.lines[0].due.reason.inside}"
        return new, _change(ChangeKind.MOVED, visit, new.night, why)
    works = _words(_works(stub.lines) ^ _works(visit.lines)) or "minutes, areas or lateness changed"
    return new, _change(ChangeKind.CHANGED, visit, new.night, works)


def _start(visit: Visit, stub: Stub) -> int:
    """The hour a week gave the visit, while it keeps its night and fits there; else the night's."""
    night = stub.night
    given = visit.crew != "" and visit.night == night.on
    if given and night.starts_minute <= visit.starts_minute <= night.ends_minute - stub.minutes:
        return visit.starts_minute
    return night.starts_minute


def _told_in(change: PlanChange) -> tuple[str, date, str]:
    """The order in which changes are told."""
    return change.site, change.night_after or change.night_before or date.min, change.visit


def _told(line: VisitLine) -> tuple[str, str, int, float | None, bool]:
    # what a list shows of a line; that it comes late now, or no longer, is a change
    return line.zone, line.work, line.minutes, line.area_m2, line.due.recheck


def _words(works: frozenset[tuple[str, str]]) -> str:
    return ", ".join(f"{zone} {work}" for zone, work in sorted(works))


def _added(
    stub: Stub, people: int, installation: str, names: Collection[str], now: datetime
) -> tuple[Visit, PlanChange]:
    first_due = min(line.due.target for line in stub.lines)
    name = f"{stub.site}|{first_due.isoformat()}|{_words(_works(stub.lines))}"
    uuid, again = str(uuid5(UUID(installation), name)), 1
    while uuid in names:
        # the same work fell due on the same night before and was dropped: it is another visit
        again += 1
        uuid = str(uuid5(UUID(installation), f"{name}|{again}"))
    visit = Visit(
        uuid=uuid,
        site=stub.site,
        night=stub.night.on,
        starts_minute=stub.night.starts_minute,
        minutes=stub.minutes,
        people=people,
        lines=stub.lines,
        changed_at=now,
    )
    change = PlanChange(
        kind=ChangeKind.ADDED,
        visit=uuid,
        site=stub.site,
        night_before=None,
        night_after=visit.night,
        why=stub.lines[0].due.reason.inside,
    )
    return visit, change


def _ended(visit: Visit, stubs: Sequence[Stub], now: datetime) -> tuple[Visit, PlanChange]:
    elsewhere = [
        stub
        for stub in stubs
        if stub.site == visit.site
        and _works(visit.lines) <= _works(stub.lines)
        and abs((stub.night.on - visit.night).days) <= SAME_VISIT_DAYS
    ]
    gone = replace(visit, state=VisitState.CANCELLED, sequence=visit.sequence + 1, changed_at=now)
    if elsewhere:
        into = min(elsewhere, key=lambda s: (abs((s.night.on - visit.night).days), s.night.on))
        why = f"its work is done with the visit of {said(into.night.on)}"
        return gone, _change(ChangeKind.MERGED, visit, None, why)
    return gone, _change(ChangeKind.DROPPED, visit, None, "its work is no longer due")


def _change(kind: ChangeKind, visit: Visit, night: date | None, why: str) -> PlanChange:
    return PlanChange(
        kind=kind,
        visit=visit.uuid,
        site=visit.site,
        night_before=visit.night,
        night_after=night,
        why=why,
    )
