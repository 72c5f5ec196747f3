"""Whether a site's standing visits still answer everything that is due there.

A site whose visits do is left alone, so a change somewhere else, or a new day, moves nothing at
it; only what its visits cannot know yet, beyond the horizon they were planned to, is added.
"""

from collections.abc import Iterable, Mapping, Sequence, Set
from dataclasses import replace
from datetime import date, timedelta

from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.schedule.gather import SiteNights, Stub, gather
from floorcare.ground.schedule.keeping import WALKED_RULES, standing_dues, still_good
from floorcare.ground.schedule.uprooted import on_another_night
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.visit import Due, Visit, VisitLine, needs_of
from floorcare.ground.worktime.site_time import Night

EDGE_DAYS = 14
"""So close to the old horizon's end its plan could not see everything yet. Assumption."""
BACKED_EARLY_DAYS, BACKED_LATE_DAYS = 45, 60
"""A line this far from any due of its kind is no longer wanted. Assumption."""


def kept_site(
    cases: Sequence[ZoneCase],
    dues: Mapping[tuple[str, str], tuple[Due, ...]],
    by_wear: Set[tuple[str, str]],
    visits: Sequence[Visit],
    site: SiteNights,
    planned_to: date | None,
) -> tuple[tuple[Stub, ...], tuple[Due, ...]] | None:
    """The site's visits as they stand, and the dues to add to them; None where it is planned anew.

    Parameters
    ----------
    cases : the site's zones.
    dues : every due of each zone, looked at afresh.
    by_wear : zones whose ladder is walked by measured wear.
    visits : the site's proposed visits that a plan may move.
    planned_to : end of the horizon they were planned to, None where there is no plan.

    Assumption: the days named above and in `keeping`.
    """
    if planned_to is None or not visits:
        return None
    found = [(visit, as_it_stands(visit, site)) for visit in visits]
    stubs = [stub for _, stub in found if stub is not None]
    uprooted = [visit for visit, stub in found if stub is None]
    if any(visit.people != site.people for visit in uprooted) or (not stubs and len(visits) > 1):
        return None
    surfaces = {case.book.zone.code: case.surface for case in cases}
    if not {line.zone for visit in visits for line in visit.lines} <= set(surfaces):
        return None
    added: list[Due] = []
    # what lost its night looks for another, and moves nothing else
    for visit in sorted(uprooted, key=lambda v: (v.night, v.uuid)):
        stub = on_another_night(visit, site, {one.night.on for one in stubs})
        if stub is not None:
            stubs.append(stub)
        elif any(line.minutes < line.due.minutes for line in visit.lines):
            return None
        else:
            added.extend(replace(line.due, recheck=False) for line in visit.lines)
    for case in cases:
        missing = _missing(
            case, dues[case.key], case.key in by_wear, visits, site, surfaces, planned_to
        )
        if missing is None:
            return None
        added.extend(missing)
    return tuple(stubs), tuple(added)


def _missing(
    case: ZoneCase,
    dues: tuple[Due, ...],
    by_wear: bool,
    visits: Sequence[Visit],
    site: SiteNights,
    surfaces: Mapping[str, Surface],
    planned_to: date,
) -> list[Due] | None:
    """Dues of one zone that its visits need not answer yet; None where they fail to answer one."""
    owed = [d for d in dues if d.reason.rule != "slip retest"]
    walked = [d for d in owed if by_wear and d.reason.rule in WALKED_RULES]
    rest = [d for d in owed if d not in walked]
    lines = [(v.night, p) for v in visits for p in v.lines if p.zone == case.book.zone.code]
    ends_on = case.ends_on or date.max
    if not _all_backed(lines, owed) or any(night > ends_on for night, _ in lines):
        return None
    open_still = [d for d in rest if not _answered(d, lines, case.surface)]
    hopeless = [d for d in walked if not _has_night(d, site, surfaces)]
    ahead = [d for d in walked if d not in hopeless]
    begun = {d.work for d in rest if d.reason.rule == "work begun"}
    stands = standing_dues(visits, *case.key, begun, case.ends_on)
    if stands and not still_good(stands, ahead, case.today):
        return None
    seen_to = planned_to - timedelta(days=EDGE_DAYS)
    if stands:
        seen_to = max(planned_to, stands[-1][1].target)
    if not stands and any(d.target <= seen_to for d in ahead):
        return None
    if any(d.target <= planned_to and _has_night(d, site, surfaces) for d in open_still):
        return None
    return [*open_still, *hopeless, *(d for d in ahead if d.target > seen_to)]


def as_it_stands(visit: Visit, site: SiteNights) -> Stub | None:
    """The visit on its own night, None where that night no longer takes it."""
    needs = needs_of(visit.lines)
    for night in site.nights:
        if (
            night.on == visit.night
            and night.starts_minute == visit.starts_minute
            and needs <= night.permits
            and visit.minutes <= site.room(night)
            and visit.people == site.people
            and site.answers.takes(night.on, visit.lines)
        ):
            return _stub_of(visit, night)
    return None


def _stub_of(visit: Visit, night: Night) -> Stub:
    return Stub(
        site=visit.site,
        night=night,
        lines=visit.lines,
        earliest=night.on,
        latest=night.on,
        minutes=visit.minutes,
    )


def _has_night(due: Due, site: SiteNights, surfaces: Mapping[str, Surface]) -> bool:
    return bool(gather([due], site, surfaces)[0])


def _answered(due: Due, lines: Iterable[tuple[date, VisitLine]], surface: Surface) -> bool:
    """Whether a standing line, or a harder rung on the same zone, does what is due."""
    rank = surface.rung_index(due.work)
    for night, line in lines:
        inside = due.earliest <= night <= due.latest or (line.due.recheck and night > due.latest)
        if not inside and not (line.work is due.work and _is_part(line, due)):
            continue
        if line.work is due.work:
            if _is_part(line, due) or line.minutes == due.minutes:
                return True
        elif surface.rung_index(line.work) > rank >= 0:
            return True
    return False


def _is_part(line: VisitLine, due: Due) -> bool:
    """Whether the line is one of several nights of a work too long for one."""
    return line.minutes < line.due.minutes and line.due.minutes == due.minutes


def _all_backed(lines: Iterable[tuple[date, VisitLine]], owed: Sequence[Due]) -> bool:
    """Whether every line is still wanted about then; walked ones are judged by `keeping`."""
    for night, line in lines:
        if line.due.reason.rule in WALKED_RULES or line.due.reason.rule == "slip retest":
            continue
        if not any(
            due.work is line.work
            and due.earliest - timedelta(days=BACKED_EARLY_DAYS) <= night
            and night <= due.latest + timedelta(days=BACKED_LATE_DAYS)
            for due in owed
        ):
            return False
    return True
