"""A branch's year settled: looked at again, as if it stood already, until a look changes nothing.

Planning is then free to leave alone whatever did not change: a site whose inputs are as they were
would come out as it stands.
"""

from collections.abc import Collection, Sequence, Set
from dataclasses import dataclass, replace
from datetime import date, datetime

from floorcare.ground.schedule.branch_year import Decision, decide_branch, movable_visits
from floorcare.ground.schedule.difference import Difference, difference
from floorcare.ground.schedule.gather import SiteNights
from floorcare.ground.schedule.sites_look import (
    BranchYear,
    SitesLook,
    nights_beside,
    surfaces_by_zone,
)
from floorcare.ground.schedule.standing import as_it_stands
from floorcare.ground.schedule.stay import URGENT_RULES
from floorcare.ground.schedule.what_frees import with_relaxations
from floorcare.ground.trade.visit import ChangeKind, PlanChange, Unplaced, Visit, VisitState

MENDING_LOOKS = 3
"""So many further looks move work once more that a plan has put late or drawn. Assumption."""
MOST_LOOKS = 12
"""A plan is looked at again so often at most until a look changes nothing. Assumption."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SettledYear:
    """A branch's year and the difference it makes.

    beyond : sites nobody looked at whose visits would change; where there are any, the year holds
        only after these have been looked at as well.
    settled : False where the last look allowed still changed something.
    """

    decision: Decision
    found: Difference
    beyond: frozenset[str] = frozenset()
    settled: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Naming:
    """How new visits are named: the installation's UUID, and every visit UUID there ever was."""

    installation: str
    known: Collection[str]
    now: datetime


def settled_year(year: BranchYear, looks: Sequence[SitesLook], naming: Naming) -> SettledYear:
    """Plan a branch's year so that planning it again would keep every visit.

    Parameters
    ----------
    looks : the sites to decide; sites that none of them looked at keep their visits.

    Source: design rule; work that was placed late, or on another night than it was walked for, may
    let a fresh look mend more.
    """
    looked = frozenset().union(*(look.sites for look in looks))
    decision = decide_branch(year, looks)
    found = _difference(decision, naming)
    changed = changed_sites(found.changes)
    if found.empty and year.planned_to == year.last_on:
        return SettledYear(decision=_told(decision), found=found)
    for turn in range(MOST_LOOKS):
        if changed - looked:
            break
        becoming = replace(year, standing=becomes(year.standing, found), planned_to=year.last_on)
        mending: Set[str] = changed if turn < MENDING_LOOKS else frozenset()
        fresh = decide_branch(becoming, looks, mending)
        more = _difference(fresh, naming)
        if more.empty and same_unplaced(fresh.unplaced, decision.unplaced):
            return SettledYear(decision=_told(decision), found=found)
        changed |= changed_sites(more.changes)
        # set against what stands in the store, not against the look before
        decision = replace(
            fresh,
            movable=decision.movable,
            over_before=decision.over_before,
            short=decision.short or fresh.short,
        )
        found = _difference(decision, naming)
    return SettledYear(
        decision=_told(decision), found=found, beyond=changed - looked, settled=False
    )


def _told(decision: Decision) -> Decision:
    """The decision with what crews lack among its findings, and what would free what has no night.

    It is asked of the last look alone: trying changes takes longer than a look.
    """
    unplaced = decision.unplaced
    if decision.left is not None:
        unplaced = with_relaxations(unplaced, decision.left)
    return replace(decision, findings=(*decision.findings, *decision.short), unplaced=unplaced)


def must_be_looked_at(
    year: BranchYear, unplaced: Sequence[Unplaced], known: dict[str, SiteNights]
) -> frozenset[str]:
    """Sites that cannot be left as they stand, whatever changed.

    Parameters
    ----------
    unplaced : what the standing plan could not place; every plan tries again.
    known : nights by site; what is missing is put in.

    A visit has lost its night or a zone its care, or urgent work is late and tries for an earlier
    night at every plan.
    """
    nights, surfaces = nights_beside(year, known), surfaces_by_zone(year)
    found = {one.due.site for one in unplaced} & set(nights)
    for visit in movable_visits(year):
        zones = surfaces[visit.site]
        late = (line for line in visit.lines if visit.night > line.due.latest)
        if (
            as_it_stands(visit, nights[visit.site]) is None
            or any(line.zone not in zones for line in visit.lines)
            or any(line.due.reason.rule in URGENT_RULES for line in late)
        ):
            found.add(visit.site)
    return frozenset(found)


def becomes(standing: Sequence[Visit], found: Difference) -> tuple[Visit, ...]:
    """The visits that stand once a difference is written, by night, site and UUID."""
    after = {visit.uuid: visit for visit in (*standing, *found.altered)}
    stand = (visit for visit in after.values() if visit.state is not VisitState.CANCELLED)
    return tuple(sorted(stand, key=lambda v: (v.night, v.site, v.uuid)))


def changed_sites(changes: Sequence[PlanChange]) -> frozenset[str]:
    """Sites of which some visit was not kept."""
    return frozenset(change.site for change in changes if change.kind is not ChangeKind.KEPT)


def same_unplaced(found: Sequence[Unplaced], before: Sequence[Unplaced]) -> bool:
    """Whether the same work found no night for the same reasons."""
    return sorted(map(unplaced_key, found)) == sorted(map(unplaced_key, before))


def unplaced_key(one: Unplaced) -> tuple[str, date, str, str, str]:
    """What tells one work without a night from another, in the order they are told."""
    return one.due.site, one.due.target, one.due.zone, one.due.work, one.why


def _difference(decision: Decision, naming: Naming) -> Difference:
    return difference(
        decision.stubs,
        decision.movable,
        people=decision.people,
        installation=naming.installation,
        known=naming.known,
        now=naming.now,
    )
