"""What a walk of the ladder has to keep to: limits, caps, evidence and nights as arrays."""

from collections.abc import Sequence, Set
from datetime import date, timedelta

import numpy as np

from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.cheapest import rung_costs
from floorcare.ground.rules.evidence import Evidence
from floorcare.ground.rules.limits import coats_since_film_came_off, limits_of, routinely_done
from floorcare.ground.rules.slip import slip_guard
from floorcare.ground.rules.walk import NEVER, WalkTerms
from floorcare.ground.trade.surface import Rung
from floorcare.ground.trade.treatment import Work
from floorcare.ground.wear.fleet import Fleet
from floorcare.ground.wear.model import Floats, Whole

CAP_WAITS_DAYS = 42
"""A calendar cap waits so long for work that is planned anyway. Assumption."""


def walk_terms(
    fleet: Fleet,
    cases: Sequence[ZoneCase],
    evidence: Sequence[Evidence | None],
    rungs: tuple[Rung, ...],
    days: int,
    barred: Sequence[Set[Work]],
    slack: Floats,
) -> WalkTerms:
    """The limits, caps, evidence and nights of some zones, laid out by day and rung.

    Parameters
    ----------
    cases : (Z,) the zones of the walk, in its order.
    evidence : (Z,) what the readings say against each zone's last rung.
    days : length of the horizon from tomorrow.
    barred : (Z,) rungs for which a zone's site has no night at all.
    slack : (Z,) how much less than q is good enough while standing dues are laid.

    Source: own; the rules themselves are in `limits`, `slip` and `evidence`.
    """
    works = [rung.work for rung in rungs]
    tomorrow = fleet.today + timedelta(days=1)
    opportunity = np.zeros((len(cases), days), dtype=bool)
    allowed = np.zeros((len(cases), len(rungs)), dtype=np.int64)
    cap_day = np.full((len(cases), len(rungs)), NEVER)
    forced = np.full(len(cases), -1)
    for z, case in enumerate(cases):
        for on in case.opportunities:
            opportunity[z, (on - tomorrow).days] = True
        allowed[z], cap_day[z] = _limit_days(case, rungs, barred[z], tomorrow)
        if slip_guard(case.book, fleet.today) is not None:
            allowed[z] = NEVER
        forced[z] = _forced_by(evidence[z], works, {work for work, _ in case.laid})
    cheapest = np.array([case.cheapest for case in cases], dtype=bool)
    return WalkTerms(
        rungs=rungs,
        opportunity=opportunity,
        confidence=np.array([c.appearance.confidence if c.appearance else 0.5 for c in cases])
        - slack,
        allowed_from=allowed,
        cap_day=cap_day,
        cap_days=np.array([rung.cap_days or NEVER for rung in rungs]),
        forced=forced,
        coats=np.array([coats_since_film_came_off(c.book) for c in cases]),
        coat_limit=fleet.surface.coat_limit,
        escape_share=fleet.surface.escape_share,
        cheapest=cheapest,
        cost=rung_costs(cases, fleet.surface, rungs) if cheapest.any() else None,
    )


def _limit_days(
    case: ZoneCase, rungs: tuple[Rung, ...], barred: Set[Work], tomorrow: date
) -> tuple[Whole, Whole]:
    """(R,) first day each rung is allowed on, and the day its cap comes."""
    works = [rung.work for rung in rungs]
    allowed = np.full(len(rungs), NEVER)
    cap_day = np.full(len(rungs), NEVER)
    for r, limits in enumerate(limits_of(case.book, case.surface, works, case.today)):
        if limits.work not in barred and not routinely_done(case.book, limits.work, case.today):
            allowed[r] = (limits.not_before - tomorrow).days
        if limits.cap_on is not None:
            cap_day[r] = (limits.cap_on - tomorrow).days
    _hold_caps_for(case, rungs, cap_day, tomorrow)
    return allowed, cap_day


def _forced_by(evidence: Evidence | None, works: Sequence[Work], laid: Set[Work]) -> int:
    """Index of the rung the readings ask for, -1 for none."""
    if evidence is None or evidence.rung not in works:
        return -1
    asked = works.index(evidence.rung)
    # a visit that stands for it, or for a harder rung, answers the evidence
    return -1 if laid & set(works[asked:]) else asked


def _hold_caps_for(case: ZoneCase, rungs: tuple[Rung, ...], cap_day: Whole, tomorrow: date) -> None:
    """Let a cap wait for a rung that is laid already, if it comes soon after."""
    works = [rung.work for rung in rungs]
    for work, on in case.laid:
        if work not in works:
            continue
        day = (on - tomorrow).days
        for r in range(works.index(work) + 1):
            if day <= cap_day[r] + CAP_WAITS_DAYS < NEVER:
                cap_day[r] = day + (rungs[r].cap_days or NEVER)
