"""Set rhythms: what we do at a rhythm rarer than weekly, promised or simply our own habit.

A promised rhythm keeps its dates. Our own habit runs on from when the work was last done, so that
a late treatment moves the next one. What others do, and what comes weekly or oftener, runs by
itself and is no due.
"""

from datetime import date, timedelta

from floorcare.findings import Reason
from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.fixed_days import FIXED_FACT, on_fixed_days, open_fixed_days
from floorcare.ground.rules.limits import first_allowed, last_done, limits_of
from floorcare.ground.rules.reasons import WORK_NAMED, cap_reason, customer_sentence, said
from floorcare.ground.trade.routine import Routine
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Due
from floorcare.ground.wear.books.from_books import runs_by_itself
from floorcare.ground.worktime.recurrence import Recurrence, typical_gap_days

SLACK_SHARE = 0.1
"""A rhythm's work may come so much of its gap early or late. Assumption."""
LONGEST_SLACK_DAYS = 14
"""…but never more days than this. Assumption."""
COVERED_DAYS = 45
"""So near a harder rung, our own habit leaves the milder one out. Assumption."""
OVERDUE_SLACK_DAYS = 3
"""Overdue work waits so many days for company, no longer. Assumption."""


def rhythm_dues(case: ZoneCase) -> tuple[Due, ...]:
    """Every due of the zone's planned rhythms over the horizon, in rising target.

    Source: recurrence after RFC 5545.
    Assumption: a tenth of the gap, at most 14 days, either side; a habit's milder work is left out
    within 45 days of a harder one.
    """
    dues = [
        (due, routine.promised)
        for routine in case.book.routines
        if not runs_by_itself(routine)
        for due in _dues_of(case, routine)
    ]
    kept = [
        due
        for due, promised in dues
        if promised or not any(_covers(case, other, due) for other, _ in dues)
    ]
    return tuple(sorted(kept, key=lambda d: (d.target, d.work)))


def _covers(case: ZoneCase, harder: Due, milder: Due) -> bool:
    """Whether a harder rung about the same time makes a habit's milder one needless."""
    rank = case.surface.rung_index(milder.work)
    apart = abs((harder.target - milder.target).days)
    gloss = milder.work is not Work.CLEAN
    return gloss and case.surface.rung_index(harder.work) > rank >= 0 and apart <= COVERED_DAYS


def _dues_of(case: ZoneCase, routine: Routine) -> list[Due]:
    """What falls due before, between and after the visits that stand for it."""
    done_on = last_done(case.book, routine.work)
    done = max([routine.starts_on, *([done_on] if done_on else [])])
    stands = [on for on in sorted(case.stands_on(routine.work)) if on > done]
    return [
        due
        for last, until in zip([done, *stands], [*stands, date.max], strict=True)
        for due in _dues_between(case, routine, last, until)
    ]


def _dues_between(case: ZoneCase, routine: Routine, last: date, until: date) -> list[Due]:
    """Dues after it was last done; what falls half a gap or less before `until` is done then."""
    gap = typical_gap_days(routine.rule)
    slack = timedelta(days=min(LONGEST_SLACK_DAYS, max(1, int(gap * SLACK_SHARE))))
    # even a promised rhythm waits for the minimum age
    not_before, _ = first_allowed(case.book, case.surface, routine.work)
    dates = {max(day, not_before) for day in _dates(case, routine, last, gap)}
    if on_fixed_days(routine):
        slack = timedelta(0)
        dates &= set(open_fixed_days(case, _dates(case, routine, last, gap)))
    dues = []
    for day in sorted(dates):
        overdue = day <= case.today
        target = case.first_night if overdue else day
        if (until - target).days < gap / 2:
            continue
        dues.append(
            case.due(
                routine.work,
                earliest=target if overdue else max(not_before, day - slack),
                target=target,
                latest=target + (timedelta(days=OVERDUE_SLACK_DAYS) if overdue else slack),
                typed_minutes=routine.minutes,
                reason=_reason(case, routine, day, last, overdue),
            )
        )
    return dues


def _dates(case: ZoneCase, routine: Routine, last: date, gap: float) -> list[date]:
    """Days it falls on after it was last done; at most one of them is already past."""
    half = timedelta(days=gap / 2)
    anchor = routine.starts_on if routine.promised else last
    ahead = _occurrences(routine, anchor, last + timedelta(days=1), case.last_on)
    ahead = [day for day in ahead if day - last >= half]
    missed = [day for day in ahead if day <= case.today]
    coming = [day for day in ahead if day > case.today]
    if missed and not routine.promised:
        # done late, the habit runs on from the night it is made good
        anchor = case.first_night
        coming = _occurrences(routine, anchor, anchor + timedelta(days=1), case.last_on)
        coming = [day for day in coming if day - anchor >= half]
    return missed[-1:] + coming


def _occurrences(routine: Routine, anchor: date, first: date, last: date) -> list[date]:
    rule = Recurrence(
        rule=routine.rule, starts_on=anchor, ends_on=routine.ends_on, except_on=routine.except_on
    )
    return list(rule.dates(first, last))


def _reason(case: ZoneCase, routine: Routine, day: date, last: date, overdue: bool) -> Reason:
    kind = "promised rhythm" if routine.promised else "our own rhythm"
    about = " or thereabouts" if routine.about_days and last == routine.starts_on else ""
    when = f"was due {said(day)}" if overdue else f"due {said(day)}"
    return Reason(
        rule="set rhythm",
        inside=f"{WORK_NAMED[routine.work]} for {case.area}: {kind}, "
        f"last done {said(last)}{about}, {when}.",
        customer=customer_sentence(routine.work, case.area),
        facts=(
            ("rhythm", routine.rule),
            ("promised", int(routine.promised)),
            ("last done on", last.isoformat()),
            *(((FIXED_FACT, 1),) if on_fixed_days(routine) else ()),
        ),
    )


def cap_dues(case: ZoneCase, rungs: tuple[Work, ...], rhythm: tuple[Due, ...]) -> tuple[Due, ...]:
    """Calendar caps of a zone that does not run by wear, where no rhythm of its own covers them.

    Parameters
    ----------
    rungs : the rungs that carry caps, mild to aggressive.
    rhythm : dues the zone already has; a rung with one of its own, or a harder one, is covered.

    Assumption: the caps of the surface.
    """
    dues: list[Due] = []
    of_rung = limits_of(case.book, case.surface, rungs, case.today)
    for r in range(len(rungs) - 1, -1, -1):
        limits = of_rung[r]
        rung = case.surface.methods[rungs[r]]
        covered = {*rungs[r:]}
        if limits.cap_on is None or any(d.work in covered for d in (*rhythm, *dues)):
            continue
        if any(case.stands_on(work) for work in covered):
            continue
        target = max(limits.cap_on, limits.not_before, case.first_night)
        if target <= case.last_on:
            dues.append(
                case.due(
                    rungs[r],
                    earliest=max(limits.not_before, target - timedelta(days=rung.forward_days)),
                    target=target,
                    latest=target + timedelta(days=OVERDUE_SLACK_DAYS),
                    reason=cap_reason(rung, case.area, limits.last_on, limits.cap_on, case.today),
                )
            )
    return tuple(dues)
