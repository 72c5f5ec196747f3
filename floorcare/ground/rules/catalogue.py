"""Every rule, one line each, in reading order; a due's reason names one of them."""

from dataclasses import dataclass

from floorcare.findings import Finding
from floorcare.ground.rules.calls import call_dues, call_findings
from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.coats import coat_findings, within_coat_limit
from floorcare.ground.rules.contradictions import promise_findings
from floorcare.ground.rules.fixed_days import fixed_day_findings
from floorcare.ground.rules.rhythm import cap_dues, rhythm_dues
from floorcare.ground.rules.rounds import round_dues
from floorcare.ground.rules.seasons import drawn_before_seasons, season_dues
from floorcare.ground.rules.sequence import spaced
from floorcare.ground.rules.shut_weeks import drawn_before_shut_weeks
from floorcare.ground.rules.slip import (
    first_test_due,
    guard_dues,
    retest_due,
    slip_findings,
    slip_guard,
)
from floorcare.ground.rules.unfinished import unfinished_dues
from floorcare.ground.trade.promise import PromiseKind
from floorcare.ground.trade.reading import Measure
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Due


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """A rule's name as reasons carry it, and what it says."""

    name: str
    says: str


RULES: tuple[Rule, ...] = (
    Rule(
        name="promise at confidence",
        says="Nothing is due while the promise holds until the next opportunity with the wanted "
        "confidence; then the mildest rung that keeps it for its worthwhile hold.",
    ),
    Rule(
        name="ladder escape",
        says="When a coat would live less than a quarter of a re-polish's life, re-polish.",
    ),
    Rule(
        name="least cost",
        says="Under the policy cheapest, the rung whose days cost least before a renewal; "
        "refused where the fee is per visit.",
    ),
    Rule(
        name="evidence outranks forecast",
        says="A reading after a rung, still below the promise, climbs to the next rung.",
    ),
    Rule(
        name="set rhythm",
        says="A promised rhythm keeps its dates; our own runs on from when it was last done, and "
        "is the rule for zones without readings.",
    ),
    Rule(name="calendar cap", says="Each rung comes back at the latest after its cap."),
    Rule(name="reading round", says="A promised look is read once a quarter."),
    Rule(
        name="slip guard",
        says="Below its slip limit a zone is guarded: cleaning and a retest, no gloss treatment; "
        "after two failed retests the least treatment that restores slip.",
    ),
    Rule(
        name="work begun",
        says="A treatment begun on part of a zone is finished on the nights that follow.",
    ),
    Rule(name="slip retest", says="A treatment that changes the surface is followed by a test."),
    Rule(
        name="slip unknown",
        says="Promised slip that was never tested is not kept but unknown: it is tested.",
    ),
    Rule(
        name="call response",
        says="A stain, a spill or damage opens a spot repair within the promised response, grown "
        "by a margin to blend; a slip opens a slip test.",
    ),
    Rule(
        name="season",
        says="A coat due early in the grit season is laid before it; a deep scrub follows its end.",
    ),
    Rule(
        name="coat limit",
        says="So many protector coats may lie on a floor; then the film comes off before the next.",
    ),
    Rule(
        name="shut weeks",
        says="What falls while the site is shut to us is drawn to the last open night before.",
    ),
    Rule(
        name="minimum age",
        says="New concrete and a fresh densifier are waited for, whatever asks for the work.",
    ),
    Rule(
        name="surface prohibitions",
        says="A method that uses what its surface forbids is not planned, and is named.",
    ),
    Rule(
        name="fixed days",
        says="A promised rhythm that names weekdays allows no substitutions.",
    ),
)

CAPPED: tuple[Work, ...] = (Work.RECOAT, Work.REPOLISH)
"""Rungs whose calendar caps serve zones that do not run by wear."""


def calendar_dues(case: ZoneCase, *, by_wear: bool) -> tuple[Due, ...]:
    """Every due of a zone that needs no forecast, in rising target.

    Parameters
    ----------
    by_wear : the zone's ladder is walked by measured wear, so its caps are taken there.

    Source: the rules of the catalogue.
    """
    begun = unfinished_dues(case)
    going_on = {due.work for due in begun}
    rhythm = (*begun, *(d for d in rhythm_dues(case) if d.work not in going_on))
    guard = slip_guard(case.book, case.today)
    calls = call_dues(case, guarded=guard is not None)
    if guard is not None:
        # the veto: nothing that makes gloss while the floor is slippery
        rhythm = tuple(d for d in rhythm if _allowed_when_guarded(case, d.work))
        later = (*rhythm, *season_dues(case, rhythm), *round_dues(case))
        return (*calls, *guard_dues(case, guard), *drawn_before_shut_weeks(case, later))
    if not by_wear:
        known = tuple(w for w in CAPPED if case.surface.rung(w) is not None)
        rhythm = (*rhythm, *cap_dues(case, known, rhythm))
    rhythm = within_coat_limit(case, drawn_before_seasons(case, rhythm))
    later = (*rhythm, *season_dues(case, rhythm), *first_test_due(case), *round_dues(case))
    return (*calls, *spaced(case, drawn_before_shut_weeks(case, later)))


def with_retests(case: ZoneCase, dues: tuple[Due, ...]) -> tuple[Due, ...]:
    """The dues with a slip test behind each one that changes the surface, where slip is watched.

    Slip is watched where it is promised or was ever tested.
    Source: retest after a change of the surface, common practice, no source.
    """
    watched = case.book.promise_on(case.today, PromiseKind.SLIP) is not None or any(
        r.measure is Measure.SLIP for r in case.book.readings
    )
    if not watched:
        return dues
    tests = [
        retest_due(case, due)
        for due in dues
        if (rung := case.surface.rung(due.work)) is not None and rung.changes_surface
    ]
    return tuple(sorted((*dues, *tests), key=lambda d: (d.target, d.work)))


def case_findings(case: ZoneCase, dues: tuple[Due, ...]) -> tuple[Finding, ...]:
    """What a person must decide about a zone before its plan can be trusted.

    Parameters
    ----------
    dues : every due of the zone.

    Source: the rules of the catalogue.
    """
    return (
        *promise_findings(case),
        *slip_findings(case),
        *coat_findings(case, dues),
        *fixed_day_findings(case),
        *call_findings(case),
        *barred_visits(case),
    )


def barred_visits(case: ZoneCase) -> tuple[Finding, ...]:
    """Treatments that stand on a guarded zone though its slip bars them: a person must decide.

    Source: the slip guard of the catalogue.
    """
    guard = slip_guard(case.book, case.today)
    if guard is None:
        return ()
    barred = {
        (treatment.done_on, treatment.work)
        for treatment in case.standing
        if not _allowed_when_guarded(case, treatment.work)
    }
    return tuple(
        Finding(
            problem=f"{'/'.join(case.key)} is guarded for slip since {guard.since}, and a {work} "
            f"stands for {on}",
            allowed="cleaning, a slip test, or what restores slip",
            mend="call that visit off, or have a retest pass before it",
            weight="asks",
        )
        for on, work in sorted(barred)
    )


def _allowed_when_guarded(case: ZoneCase, work: Work) -> bool:
    rung = case.surface.rung(work)
    return rung is None or rung.restores_slip or work is Work.CLEAN
