"""Dues of zones that run by measured wear: the fleet's walk turned into dues with reasons."""

from collections.abc import Mapping, Sequence, Set
from dataclasses import dataclass, replace
from datetime import date, timedelta
from types import MappingProxyType

import numpy as np

from floorcare.findings import Finding, Reason
from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.cost_reason import RULE as LEAST_COST
from floorcare.ground.rules.cost_reason import with_costs
from floorcare.ground.rules.evidence import Evidence, evidence_against
from floorcare.ground.rules.floor import Course, Floor
from floorcare.ground.rules.ladder import least_worthwhile_days, renewed_hold, top_rung
from floorcare.ground.rules.limits import limits_of, routinely_done
from floorcare.ground.rules.reasons import (
    cap_reason,
    evidence_reason,
    promise_reason,
    rejected_rungs,
)
from floorcare.ground.rules.walk import RungTaken, walk
from floorcare.ground.rules.walk_terms import walk_terms
from floorcare.ground.trade.promise import promised_gloss
from floorcare.ground.trade.reading import SurfaceState
from floorcare.ground.trade.surface import NO_EFFECT, Effect, Rung, Surface
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Due
from floorcare.ground.wear.books.from_books import thousand_passes, treatment_masks
from floorcare.ground.wear.books.judged import reading_error
from floorcare.ground.wear.draws import Draws, walk_noise
from floorcare.ground.wear.fleet import Fleet
from floorcare.ground.wear.forecast import first_below
from floorcare.ground.wear.model import Flags, Floats, Whole

NOTHING_BARRED: Mapping[int, Set[Work]] = MappingProxyType({})

NOTHING_PINNED: Mapping[int, Sequence[Due]] = MappingProxyType({})
NO_SLACK: Mapping[int, float] = MappingProxyType({})

READ_STATIONS = 5
"""Stations a reading's error is reckoned for where a promise is turned into gloss. Assumption."""

RULE_OF = MappingProxyType(
    {"promise": "promise at confidence", "escape": "ladder escape", "cost": LEAST_COST}
)
"""The rule of the catalogue behind each rule of the walk that the forecast asks by."""

PASS_TAILS = (0.05, 0.95)
"""The dates named as "likely between" enclose nine futures in ten."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Outlook:
    """What happens to each zone of a fleet if nothing but its routine is done; arrays (Z,).

    promise_gu : NaN where no look is promised.
    seen_haze_kept : share of haze seen in the state the promise refers to.
    early, late : days from today to the first break, 5 % and 95 %; inf beyond the horizon.
    evidence : what the readings say against the last rung.
    """

    promise_gu: Floats
    seen_haze_kept: Floats
    early: Floats
    median: Floats
    late: Floats
    evidence: tuple[Evidence | None, ...]
    course: Course


def wear_rungs(surface: Surface) -> tuple[Rung, ...]:
    """The rungs of the ladder that change wear, mild to aggressive.

    Source: the surface's own data.
    """
    return tuple(
        rung
        for work in surface.ladder
        if (rung := surface.rung(work)) is not None
        and rung.effect != NO_EFFECT
        and work is not Work.CLEAN
    )


def forecast(fleet: Fleet, cases: Sequence[ZoneCase], days: int) -> Outlook:
    """Forecast every zone under routine and standing visits alone.

    Parameters
    ----------
    fleet, cases : the same zones in the same order.
    days : length of the horizon from tomorrow.

    Source: first passage by sampled paths.
    """
    law = fleet.fit.law
    promise, seen, against = _promises(fleet, cases)
    drift, shocks = walk_noise(fleet.draws.count, days, law)
    course = Course(
        law=law,
        thousand_passes=thousand_passes(fleet.books, fleet.today + timedelta(days=1), days),
        treatments=_laid(fleet, cases, days),
        drift=drift,
        shocks=shocks,
        promise_ln=np.log(promise),
        seen_haze_kept=seen,
    )
    passage = _passage(fleet, course, promise)
    return Outlook(
        promise_gu=promise,
        seen_haze_kept=seen,
        early=passage[:, 0],
        median=passage[:, 1],
        late=passage[:, 2],
        evidence=against,
        course=course,
    )


def laid_anew(ahead: Outlook, fleet: Fleet, cases: Sequence[ZoneCase]) -> Outlook:
    """The same outlook with what is laid in these cases, for a walk that goes on from it.

    Its dates stay those of the first look: they are told only of zones of which nothing is laid.

    Source: the outlook's own.
    """
    treatments = _laid(fleet, cases, ahead.course.days)
    return replace(ahead, course=replace(ahead.course, treatments=treatments))


def _laid(
    fleet: Fleet, cases: Sequence[ZoneCase], days: int
) -> tuple[tuple[Work, Effect, Flags], ...]:
    """Routine and what is laid, from tomorrow on."""
    return treatment_masks(
        fleet.books,
        fleet.surface,
        fleet.today + timedelta(days=1),
        days,
        recorded=False,
        extra=[(z, work, on) for z, case in enumerate(cases) for work, on in case.laid],
    )


def _promises(
    fleet: Fleet, cases: Sequence[ZoneCase]
) -> tuple[Floats, Floats, tuple[Evidence | None, ...]]:
    """(Z,) promised gloss, (Z,) haze seen in the promise's state, and what readings say against."""
    burnish = fleet.surface.rung(Work.BURNISH)
    burnish_keeps = burnish.effect.haze_kept if burnish else 1.0
    promise = np.full(len(cases), np.nan)
    seen = np.ones(len(cases))
    against: list[Evidence | None] = []
    # what was promised never moves with what a fleet taught
    reading_sd = reading_error(fleet.surface.law, READ_STATIONS)
    for z, case in enumerate(cases):
        line = case.appearance
        gloss = promised_gloss(line, reading_sd) if line is not None else None
        if line is None or gloss is None:
            against.append(None)
            continue
        promise[z] = gloss
        if line.reference_state is SurfaceState.AFTER_BURNISH:
            seen[z] = burnish_keeps
        against.append(evidence_against(case.book, fleet.surface, fleet.rounds[z], line, gloss))
    return promise, seen, tuple(against)


def _passage(fleet: Fleet, course: Course, promise: Floats) -> Floats:
    """(Z, 3) days to the first break, its early edge, middle and late edge."""
    return first_below(
        fleet.draws,
        course.law,
        course.thousand_passes,
        tuple((effect, mask) for _, effect, mask in course.treatments),
        promise,
        seen_haze_kept=course.seen_haze_kept[:, None],
        quantiles=(PASS_TAILS[0], 0.5, PASS_TAILS[1]),
    ).days


def walked_dues(
    fleet: Fleet,
    cases: Sequence[ZoneCase],
    ahead: Outlook,
    rows: Sequence[int],
    barred: Mapping[int, Set[Work]] = NOTHING_BARRED,
    slack: Mapping[int, float] = NO_SLACK,
    pinned: Mapping[int, Sequence[Due]] = NOTHING_PINNED,
) -> dict[int, tuple[Due, ...]]:
    """The dues of some zones of a fleet, walked over the horizon; keys are the rows given.

    Parameters
    ----------
    rows : zones that run by wear: promised look, policy and readings at hand.
    barred : rungs for which a zone's site has no night at all, by row.
    slack : how much less than q is good enough where a zone's standing dues are laid, by row.
    pinned : dues laid already, by row; later ones do not repeat the first one's reason.

    Source: see `walk`.
    """
    if not rows:
        return {}
    rungs = wear_rungs(fleet.surface)
    index = np.array(rows, dtype=np.int64)
    chosen = [cases[row] for row in rows]
    found = [ahead.evidence[row] for row in rows]
    steps = walk(
        _floor(fleet.draws, index),
        _course_of(ahead.course, index),
        walk_terms(
            fleet,
            chosen,
            found,
            rungs,
            ahead.course.days,
            [barred.get(row, frozenset()) for row in rows],
            np.array([slack.get(row, 0.0) for row in rows]),
        ),
    )
    dues: dict[int, list[Due]] = {row: [] for row in rows}
    for step in steps:
        row = rows[step.zone]
        before = [*pinned.get(row, ()), *dues[row]]
        due = _due(fleet, cases[row], ahead, row, step, rungs, before)
        if due is not None:
            dues[row].append(due)
    return {row: tuple(found) for row, found in dues.items()}


def unkept_promises(
    fleet: Fleet, cases: Sequence[ZoneCase], ahead: Outlook, rows: Sequence[int]
) -> tuple[Finding, ...]:
    """Zones whose promise even the top rung does not keep for long enough.

    Source: the walk's own forecast after the top rung, held against `least_worthwhile_days`.
    """
    if not rows:
        return ()
    rungs = wear_rungs(fleet.surface)
    index = np.array(rows, dtype=np.int64)
    lines = [cases[row].appearance for row in rows]
    confidence = np.array([line.confidence if line else 0.5 for line in lines])
    held = renewed_hold(
        _floor(fleet.draws, index), _course_of(ahead.course, index), rungs, confidence
    )
    top = rungs[top_rung(rungs)]
    least = least_worthwhile_days(rungs)
    return tuple(
        Finding(
            problem=f"the look promised for {'/'.join(cases[row].key)} is out of reach: even after "
            f"a {top.work} it would be kept for {days:.0f} days only",
            value=f"{ahead.promise_gu[row]:.0f} GU",
            allowed=f"{least} days or more",
            mend="promise less, burnish by routine, or read the floor again if this surprises",
            weight="asks",
        )
        for row, days in zip(rows, held.tolist(), strict=True)
        if days < least
    )


def _floor(draws: Draws, index: Whole) -> Floor:
    return Floor(
        zone=np.arange(index.size),
        state=draws.state.rows(index),
        rates=draws.rates.rows(index),
        level=draws.level[index],
        shock=draws.shock[index],
    )


def _course_of(course: Course, index: Whole) -> Course:
    return Course(
        law=course.law,
        thousand_passes=course.thousand_passes[index],
        treatments=tuple((work, effect, mask[index]) for work, effect, mask in course.treatments),
        drift=course.drift,
        shocks=course.shocks,
        promise_ln=course.promise_ln[index],
        seen_haze_kept=course.seen_haze_kept[index],
    )


def _due(
    fleet: Fleet,
    case: ZoneCase,
    ahead: Outlook,
    row: int,
    step: RungTaken,
    rungs: tuple[Rung, ...],
    before: Sequence[Due],
) -> Due | None:
    rung = rungs[step.rung]
    on = fleet.today + timedelta(days=1 + step.day)
    if on > case.last_on:
        return None
    limits = limits_of(case.book, fleet.surface, [rung.work], case.today)[0]
    return case.due(
        rung.work,
        earliest=max(limits.not_before, on - timedelta(days=rung.forward_days)),
        target=on,
        latest=on,
        reason=_reason(fleet, case, ahead, row, step, rungs, before),
    )


def _reason(
    fleet: Fleet,
    case: ZoneCase,
    ahead: Outlook,
    row: int,
    step: RungTaken,
    rungs: tuple[Rung, ...],
    before: Sequence[Due],
) -> Reason:
    """Why a step of the walk is due."""
    rung = rungs[step.rung]
    on = fleet.today + timedelta(days=1 + step.day)
    evidence = ahead.evidence[row]
    line = case.appearance
    if step.rule == "evidence" and evidence is not None:
        return evidence_reason(evidence, case.area)
    if step.rule == "cap":
        limits = limits_of(case.book, fleet.surface, [rung.work], case.today)[0]
        harder = [r.work for r in rungs[step.rung :]]
        planned = [due.target for due in before if due.work in harder]
        last = max(planned, default=limits.last_on)
        cap_on = last + timedelta(days=rung.cap_days or 0) if planned and last else limits.cap_on
        return cap_reason(rung, case.area, last, cap_on or on, case.today)
    # only a reading in the reference's own state may be set against it
    state = line.reference_state if line else None
    rounds = [r for r in fleet.rounds[row] if r.state is state]
    later = [day for day in case.opportunities if day > on]
    by_routine = frozenset(r.work for r in rungs if routinely_done(case.book, r.work, case.today))
    until_next = (later[0] - on).days if later else 0
    at_least_cost = step.rule == "cost"
    reason = promise_reason(
        rung=rung,
        area=case.area,
        rule=RULE_OF[step.rule],
        promise_gu=float(ahead.promise_gu[row]),
        reference_gu=line.reference_gu if line else None,
        last_reading=(rounds[-1].value, rounds[-1].on) if rounds else None,
        passes_between=_between(fleet.today, ahead, row) if not before else None,
        kept_probability=step.kept_probability,
        next_on=later[0] if later else None,
        today=fleet.today,
        rejected=()
        if at_least_cost
        else rejected_rungs(
            rungs, step.rung, step.hold_days, step.rule == "escape", until_next, by_routine
        ),
    )
    if at_least_cost:
        return with_costs(reason, rungs, step, case.costs.currency, by_routine)
    return reason


def _between(today: date, ahead: Outlook, row: int) -> tuple[date | None, date | None]:
    """Dates of the early and the late edge of the break, None beyond the horizon."""
    days = [float(ahead.early[row]), float(ahead.late[row])]
    early, late = (today + timedelta(days=int(d)) if np.isfinite(d) else None for d in days)
    return early, late
