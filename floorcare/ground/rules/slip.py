"""Slip is its own trigger and may veto: a zone below its limit is guarded until a retest passes.

Source: 29 CFR 1910.22(d)(2), a hazard is corrected before the surface is used again or guarded
until it is.
"""

from dataclasses import dataclass
from datetime import date, timedelta

from floorcare.findings import Finding, Reason
from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.reasons import CUSTOMER_WHY, WORK_NAMED, customer_sentence, said
from floorcare.ground.trade.book import ZoneBook
from floorcare.ground.trade.promise import PromiseKind
from floorcare.ground.trade.reading import Measure, Reading
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Due
from floorcare.ground.units.slip import (
    SlipVerdict,
    slip_method_problem,
    slip_value_problem,
    slip_verdict,
)

RETESTS_BEFORE_TREATMENT = 2
"""Failed retests after which the least restoring treatment is due (design rule)."""

GUARD_WAITS_DAYS = 7
"""A visit that stands so soon after the first open night answers the guard. Assumption."""


UNTESTED_DAYS = 14
"""Promised slip that was never tested is tested within so many days. Assumption."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SlipGuard:
    """A zone below its slip limit.

    since : the night of the first failed test of this row.
    failed : failed tests in a row, the first included.
    verdict : what the last one said.
    """

    since: date
    failed: int
    verdict: SlipVerdict


def _place(book: ZoneBook, on: date) -> str:
    line = book.promise_on(on, PromiseKind.SLIP)
    if line is not None and line.slip_place:
        return line.slip_place
    span = book.zone.span_on(on)
    return span.place if span is not None else "level"


def judge_slip(book: ZoneBook, reading: Reading) -> SlipVerdict | None:
    """What one slip reading means for its zone; None where its method cannot be judged there.

    Source: limits of the method and place, see ground/units/slip.
    """
    place = _place(book, reading.taken_on)
    if slip_method_problem(reading.method, place):
        return None
    line = book.promise_on(reading.taken_on, PromiseKind.SLIP)
    promised = None
    if line is not None and line.slip_method == reading.method:
        promised = line.slip_limit
    try:
        return slip_verdict(reading.method, place, reading.value, promised=promised)
    except ValueError:
        return None  # outside the method's scale: asked about at intake, guards nothing


def slip_guard(book: ZoneBook, today: date) -> SlipGuard | None:
    """The guard on a zone, None while its last valid slip test passes.

    Parameters
    ----------
    today : readings dated later are left out.

    Source: 29 CFR 1910.22(d)(2); the worst of one night's stations decides.
    """
    nights: dict[date, SlipVerdict] = {}
    for reading in book.readings:
        if reading.measure is not Measure.SLIP or reading.taken_on > today:
            continue
        verdict = judge_slip(book, reading)
        if verdict is None:
            continue
        known = nights.get(reading.taken_on)
        if known is None or (known.passes and not verdict.passes):
            nights[reading.taken_on] = verdict
    since, failed, last = None, 0, None
    for on, verdict in sorted(nights.items()):
        if verdict.passes:
            since, failed, last = None, 0, None
        else:
            since, failed, last = since or on, failed + 1, verdict
    if since is None or last is None:
        return None
    return SlipGuard(since=since, failed=failed, verdict=last)


def slip_unknown(book: ZoneBook, today: date) -> bool:
    """Whether slip is promised and no test that counts was ever made: not kept, but unknown.

    Source: the zone's own readings and promise.
    """
    return book.promise_on(today, PromiseKind.SLIP) is not None and not any(
        r.measure is Measure.SLIP and r.taken_on <= today and judge_slip(book, r) is not None
        for r in book.readings
    )


def first_test_due(case: ZoneCase) -> tuple[Due, ...]:
    """The first slip test of a zone whose promised slip nobody has tested yet.

    Assumption: within a fortnight of the first opportunity.
    """
    if not slip_unknown(case.book, case.today) or case.stands_on(Work.SLIP_TEST):
        return ()
    target = case.first_night
    return (
        case.due(
            Work.SLIP_TEST,
            earliest=case.first_open,
            target=target,
            latest=target + timedelta(days=UNTESTED_DAYS),
            reason=Reason(
                rule="slip unknown",
                inside=f"Slip test for {case.area}: its slip resistance is promised and was never "
                "tested by a method that counts, so nobody knows whether it is kept.",
                customer=customer_sentence(Work.SLIP_TEST, case.area),
            ),
        ),
    )


def slip_findings(case: ZoneCase) -> tuple[Finding, ...]:
    """Slip tests that count for nothing, by method: withdrawn, unfitting, or out of its scale.

    Source: scope and limits of each method, see ground/units/slip.
    """
    refused: dict[str, tuple[int, Reading]] = {}
    for reading in case.book.readings:
        if reading.measure is Measure.SLIP and judge_slip(case.book, reading) is None:
            refused[reading.method] = (refused.get(reading.method, (0,))[0] + 1, reading)
    found = []
    for method, (count, last) in sorted(refused.items()):
        place = _place(case.book, last.taken_on)
        problem = slip_method_problem(method, place) or slip_value_problem(method, last.value)
        what, _, mend = problem.partition("; ")
        found.append(
            Finding(
                problem=f"slip tests of {'/'.join(case.key)} by {method or 'no named method'} "
                f"count for nothing ({count}, the last on {last.taken_on}): {what}",
                mend=mend or "test by another method",
                weight="asks",
            )
        )
    return tuple(found)


def guard_dues(case: ZoneCase, guard: SlipGuard) -> tuple[Due, ...]:
    """Cleaning and a retest; after two failed retests the least treatment that restores slip.

    Source: 29 CFR 1910.22(d)(2).
    Assumption: on the first night there is; what stands within a week of it is not asked again.
    """
    soon = case.first_open + timedelta(days=GUARD_WAITS_DAYS)
    standing = {treatment.work for treatment in case.standing if treatment.done_on <= soon}
    work = Work.CLEAN
    if guard.failed > RETESTS_BEFORE_TREATMENT:
        restoring = [w for w, rung in case.surface.methods.items() if rung.restores_slip]
        order = [*case.surface.ladder, *(w for w in Work if w not in case.surface.ladder)]
        work = min(restoring, key=order.index, default=Work.CLEAN)
    return tuple(
        case.due(
            each,
            earliest=case.first_open,
            target=case.first_open,
            latest=case.first_open,
            reason=_guard_reason(each, case.area, guard),
        )
        for each in (work, Work.SLIP_TEST)
        if each not in standing
    )


def retest_due(case: ZoneCase, parent: Due) -> Due:
    """The slip test that follows a treatment which changes the surface, on the same nights.

    Source: retest after each change of the surface, common practice, no source.
    """
    return case.due(
        Work.SLIP_TEST,
        earliest=parent.earliest,
        target=parent.target,
        latest=parent.latest,
        reason=Reason(
            rule="slip retest",
            inside=f"Slip test for {case.area}: {parent.work} changes the surface, so it is "
            "tested before it opens.",
            customer=customer_sentence(Work.SLIP_TEST, case.area),
            facts=(("after", parent.work.value),),
        ),
    )


def _guard_reason(work: Work, area: str, guard: SlipGuard) -> Reason:
    return Reason(
        rule="slip guard",
        inside=f"{WORK_NAMED[work]} for {area}: {guard.verdict.sentence[:-1]} since "
        f"{said(guard.since)}; guarded, no gloss treatment until a retest passes.",
        customer=f"{WORK_NAMED[work]} for {area}: "
        f"{CUSTOMER_WHY.get(work, 'slip resistance is restored')}.",
        facts=(
            ("failed tests", guard.failed),
            ("limit", guard.verdict.limit),
            ("since", guard.since.isoformat()),
        ),
    )
