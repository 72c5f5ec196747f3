"""Whether a site that was gathered anew may stay as it stands after all.

A branch's crews may have had no room on the night the gathering asks for. What was put elsewhere
for that, inside its window or late and marked so, is left there: else every plan would move it
about, and a change at one site could move visits of another that nothing asks to move.
"""

from collections import defaultdict
from collections.abc import Sequence
from datetime import date, timedelta

from floorcare.ground.schedule.gather import LATE_DAYS, SiteNights, Stub
from floorcare.ground.schedule.standing import as_it_stands
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Visit, VisitLine

URGENT_RULES = frozenset({"slip guard", "work begun", "call response"})
"""Rules whose work tries for an earlier night at every plan while it is late."""

_Line = tuple[str, Work, int, float | None]


def may_stay(
    stubs: Sequence[Stub], visits: Sequence[Visit], site: SiteNights
) -> tuple[Stub, ...] | None:
    """The standing visits as they stand where they do the very work that was gathered anew.

    Parameters
    ----------
    stubs : the site's visits gathered anew.
    visits : its proposed visits that a plan may move.
    site : its nights.

    Returns
    -------
    None where a visit has lost its night, or the work, its minutes or the nights it may be done on
    differ.
    """
    wanted = defaultdict[_Line, list[tuple[date, Stub, VisitLine]]](list)
    stand = defaultdict[_Line, list[tuple[date, VisitLine]]](list)
    for stub in stubs:
        for line in stub.lines:
            wanted[_same(line)].append((stub.night.on, stub, line))
    for visit in visits:
        for line in visit.lines:
            stand[_same(line)].append((visit.night, line))
    if {key: len(found) for key, found in wanted.items()} != {
        key: len(found) for key, found in stand.items()
    }:
        return None
    for key, found in wanted.items():
        nights = sorted(stand[key], key=lambda pair: pair[0])
        for (_, stub, line), (on, standing) in zip(
            sorted(found, key=lambda one: one[0]), nights, strict=True
        ):
            if not _may_be_done(on, standing, stub, line, site):
                return None
    kept = [as_it_stands(visit, site) for visit in visits]
    return tuple(stub for stub in kept if stub) if all(kept) else None


def _same(line: VisitLine) -> _Line:
    return line.zone, line.work, line.minutes, line.area_m2


def _may_be_done(
    on: date, standing: VisitLine, stub: Stub, line: VisitLine, site: SiteNights
) -> bool:
    """Whether the placing might have put the line there."""
    if on == stub.night.on:
        return True
    if site.answers.wishes(stub.night.on, line) and not site.answers.wishes(on, line):
        return False
    if on <= line.due.latest:
        return on >= min(stub.night.on, line.due.earliest)
    last = max(stub.latest, stub.night.on, line.due.latest) + timedelta(days=LATE_DAYS)
    urgent = line.due.reason.rule in URGENT_RULES
    return standing.due.recheck and not urgent and on <= last
