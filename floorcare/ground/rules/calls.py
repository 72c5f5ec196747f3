"""Call response: a stain, spill or damage opens a spot repair, a slip opens a slip test.

A spot repair treats the spot and a margin around it. It never resets a zone.
"""

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from math import inf, sqrt

from floorcare.findings import Finding, Reason
from floorcare.ground.rules.call_clock import OpenCall
from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.limits import first_allowed
from floorcare.ground.rules.reasons import WORK_NAMED, customer_sentence, said
from floorcare.ground.trade.people import CallKind, CallReceived
from floorcare.ground.trade.reading import Measure
from floorcare.ground.trade.treatment import WHOLE_ZONE_SHARE, Work
from floorcare.ground.trade.visit import Due
from floorcare.ground.worktime.night import format_minute

BLEND_MARGIN_M = 1.0
"""Polish and protector go so far beyond a spot on each side. Assumption."""
ASSUMED_SPOT_M2 = 1.0
"""Area of a spot nobody measured. Assumption."""
UNPROMISED_DAYS = 7
"""A call is answered within so many days where no response is promised. Assumption."""

ANSWERS: dict[CallKind, Work] = {
    CallKind.STAIN: Work.SPOT_REPAIR,
    CallKind.SPILL: Work.SPOT_REPAIR,
    CallKind.DAMAGE: Work.SPOT_REPAIR,
    CallKind.SLIP: Work.SLIP_TEST,
    CallKind.OTHER: Work.CALL,
}
"""What a call opens."""


def grown_spot_m2(spot_m2: float, margin_m: float = BLEND_MARGIN_M) -> float:
    """Area of a spot with the margin it is blended over, m².

    >>> grown_spot_m2(4.0)
    16.0

    Raises
    ------
    ValueError : an area or a margin below 0.

    Assumption: the spot is taken as a square, so each side grows by two margins.
    """
    if spot_m2 < 0 or margin_m < 0:
        raise ValueError(f"spot of {spot_m2:g} m², margin {margin_m:g} m: allowed 0 or more")
    return round((sqrt(spot_m2) + 2.0 * margin_m) ** 2, 2)


def call_dues(case: ZoneCase, *, guarded: bool = False) -> tuple[Due, ...]:
    """One due for each work that the zone's open calls ask for, on the first open night.

    Parameters
    ----------
    guarded : slip holds back gloss treatments; the guard's own test answers a slip.

    What was done since a call came, or stands to be done, answers it; the oldest first.

    Source: the promised response; a spot repair waits for the minimum age as any polish does.
    Assumption: open calls of a zone that ask for the same work are answered together.
    """
    left = spots_left(case)
    asked: dict[Work, list[OpenCall]] = {}
    for one in case.calls:
        work, _ = _answer(case, one.call.kind, guarded)
        answered = one.call.uuid not in left if work is Work.SPOT_REPAIR else _seen_to(case, one)
        if not answered and not (guarded and work is Work.SLIP_TEST):
            asked.setdefault(work, []).append(one)
    dues = (_due(case, work, calls, guarded, left) for work, calls in sorted(asked.items()))
    return tuple(due for due in dues if due is not None)


def spots_left(case: ZoneCase) -> dict[str, float]:
    """What is left to repair of the spots that open calls report, m² by the call's UUID.

    Spot repairs since a call came are set against it, recorded ones and those that stand; what is
    left below a tenth of a spot is nothing.

    Source: the zone's own records; nine tenths are the trade record's rule.
    """
    span = case.book.zone.span_about(case.today)
    whole_m2 = inf if span.area_m2 is None else span.area_m2
    repairs = sorted(
        (t for t in case.done_or_standing if t.work is Work.SPOT_REPAIR), key=lambda t: t.done_on
    )
    unused = [repair.share * whole_m2 for repair in repairs]
    left: dict[str, float] = {}
    for one in case.calls:
        if ANSWERS[one.call.kind] is not Work.SPOT_REPAIR:
            continue
        spot = ASSUMED_SPOT_M2 if one.call.spot_m2 is None else one.call.spot_m2
        grown = rest = min(grown_spot_m2(spot), whole_m2)
        for at, repair in enumerate(repairs):
            if repair.done_on >= one.on:
                taken = min(rest, unused[at])
                rest, unused[at] = rest - taken, unused[at] - taken
        if rest > (1.0 - WHOLE_ZONE_SHARE) * grown + 1e-9:
            left[one.call.uuid] = round(rest, 2)
    return left


def _seen_to(case: ZoneCase, one: OpenCall) -> bool:
    """Whether somebody tested or looked since the call, or stands to do so."""
    work = ANSWERS[one.call.kind]
    if work is Work.SLIP_TEST:
        tested = (r.taken_on for r in case.book.readings if r.measure is Measure.SLIP)
        if any(on >= one.on for on in tested):
            return True
    looks = {Work.SLIP_TEST} if work is Work.SLIP_TEST else {Work.CALL}
    return any(t.work in looks and t.done_on >= one.on for t in case.done_or_standing)


def _answer(case: ZoneCase, kind: CallKind, guarded: bool) -> tuple[Work, tuple[str, str] | None]:
    """The work that answers a call, and the one it stands for with why not."""
    work = ANSWERS[kind]
    if work is not Work.SPOT_REPAIR:
        return work, None
    if guarded:
        return Work.CALL, (work.value, "the zone is guarded for slip")
    if case.surface.rung(work) is None:
        return Work.CALL, (work.value, f"{case.surface.name} has no method for it")
    return work, None


def _due(
    case: ZoneCase,
    work: Work,
    calls: Sequence[OpenCall],
    guarded: bool,
    left: Mapping[str, float],
) -> Due | None:
    not_before, why = first_allowed(case.book, case.surface, work)
    night = max(case.first_open, not_before)
    if night > case.last_on:
        return None
    own = [_last_night(case, one) for one in calls]
    area_m2 = None
    if work is Work.SPOT_REPAIR:
        area_m2 = round(sum(left[one.call.uuid] for one in calls), 2)
    return case.due(
        work,
        earliest=night,
        target=night,
        latest=max(night, min(own)),
        area_m2=area_m2,
        reason=_reason(
            case, work, calls, guarded, area_m2, why if not_before > case.first_open else ""
        ),
    )


def _last_night(case: ZoneCase, one: OpenCall) -> date:
    if one.answer_by is None:
        return one.on + timedelta(days=UNPROMISED_DAYS)
    return one.last_night or case.first_open


def _reason(
    case: ZoneCase,
    work: Work,
    calls: Sequence[OpenCall],
    guarded: bool,
    area_m2: float | None,
    waits_for: str,
) -> Reason:
    told = [f"{one.call.kind} reported on {said(one.on)}{_promised(one)}" for one in calls]
    if area_m2 is not None:
        told.append(f"{area_m2:.1f} m² with {BLEND_MARGIN_M:g} m around each spot, blended")
    if waits_for:
        told.append(f"it waits until {waits_for}")
    facts: list[tuple[str, str | float | int | None]] = []
    for one in calls:
        facts += [("call", one.call.uuid), ("spot m2", one.call.spot_m2)]
        facts += [("answer by", one.answer_by.isoformat() if one.answer_by else None)]
    instead = (_answer(case, one.call.kind, guarded)[1] for one in calls)
    return Reason(
        rule="call response",
        inside=f"{WORK_NAMED[work]} for {case.area}: {'; '.join(told)}.",
        customer=customer_sentence(work, case.area),
        facts=tuple(facts),
        rejected=tuple(sorted({one for one in instead if one is not None})),
    )


def _promised(one: OpenCall) -> str:
    if one.answer_by is None:
        return ", no response promised"
    clock = format_minute(one.answer_by.hour * 60 + one.answer_by.minute)
    late = ", and no open night begins by then" if one.last_night is None else ""
    return f", promised within {one.hours} h, so by {said(one.answer_by.date())} {clock}{late}"


def call_findings(case: ZoneCase) -> tuple[Finding, ...]:
    """Open calls that the zone's records say are repaired: a person must close them.

    Source: the zone's own records; a repair names no call, so nobody else can say which it was.
    """
    left = spots_left(case)
    repaired = [
        d.done_on for d in case.book.done if d.work is Work.SPOT_REPAIR and d.done_on < case.today
    ]
    return tuple(
        Finding(
            problem=f"the {one.call.kind} reported on {'/'.join(case.key)} on {one.on} is still "
            f"open, and a spot repair was done on {max(repaired)}",
            allowed="a call is closed once it is answered",
            mend="close the call; if the repair was for another spot, correct the m² it treated",
            weight="asks",
        )
        for one in case.calls
        if ANSWERS[one.call.kind] is Work.SPOT_REPAIR
        and one.call.uuid not in left
        and any(on >= one.on for on in repaired)
    )


def homeless_calls(calls: Sequence[CallReceived], zones: Sequence[str]) -> tuple[Finding, ...]:
    """Open calls of one site that name no zone under care: no work can be opened for them.

    Parameters
    ----------
    calls : of one site.
    zones : codes of its zones under care.

    Source: the calls themselves.
    """
    return tuple(
        Finding(
            problem=f"the {call.kind} reported at {call.site} on {call.received_at:%Y-%m-%d} names "
            "no zone under care, so no work is planned for it",
            value=call.zone,
            allowed=", ".join(zones),
            mend="give the call its zone, or close it",
            weight="asks",
        )
        for call in calls
        if call.closed_at is None and call.zone not in zones
    )
