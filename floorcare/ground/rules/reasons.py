"""Sentences of reasons: one for the contractor, one for the customer.

The customer is told what is done and why it is due, never that a breach is expected.
"""

from collections.abc import Set
from datetime import date, timedelta
from math import isfinite

from floorcare.findings import Reason
from floorcare.ground.rules.evidence import Evidence
from floorcare.ground.rules.ladder import top_rung
from floorcare.ground.trade.surface import Rung
from floorcare.ground.trade.treatment import Work

WORK_NAMED: dict[Work, str] = {
    Work.CLEAN: "Clean",
    Work.BURNISH: "Burnish",
    Work.FINE_BURNISH: "Fine burnish",
    Work.DEEP_SCRUB: "Deep scrub",
    Work.RECOAT: "Protector coat",
    Work.REPOLISH: "Re-polish",
    Work.STRIP: "Strip",
    Work.DENSIFY: "Densifier",
    Work.FULL_RESTORATION: "Full restoration",
    Work.SPOT_REPAIR: "Spot repair",
    Work.JOINT_REPAIR: "Joint repair",
    Work.READING_ROUND: "Reading round",
    Work.SLIP_TEST: "Slip test",
    Work.WALK: "Walk with the customer",
    Work.CALL: "Call",
}

CUSTOMER_WHY: dict[Work, str] = {
    Work.CLEAN: "the floor is cleaned before it is tested again",
    Work.BURNISH: "traffic has dulled the surface and burnishing brings the gloss back",
    Work.FINE_BURNISH: "fine scuffs are taken out before they grow into scratches",
    Work.DEEP_SCRUB: "ground-in soil is taken out so that the floor grips as it should",
    Work.RECOAT: "the thin protector has worn with traffic and is renewed before the floor is",
    Work.REPOLISH: "the floor itself has worn with traffic and its polish is renewed",
    Work.STRIP: "old protector is taken off so that a new coat holds",
    Work.FULL_RESTORATION: "the floor's finish is built up again from the ground",
    Work.SPOT_REPAIR: "what was reported is repaired and blended into the floor around it",
    Work.CALL: "what was reported is looked at on site",
    Work.READING_ROUND: "the floor's gloss is read so that its care follows its wear",
    Work.SLIP_TEST: "the floor's slip resistance is tested",
}


def said(day: date) -> str:
    """A date as it is said.

    >>> said(date(2026, 3, 3))
    '3 March 2026'

    Source: wording only, no figure.
    """
    return f"{day.day} {day:%B %Y}"


def days_said(days: float, most: float) -> str:
    """A hold in days as it is said; `most` is how far the trial looked.

    >>> days_said(6, 14), days_said(1, 14), days_said(0, 14)
    ('six days', 'one day', 'less than a day')

    Source: wording only, no figure.
    """
    words = (
        "less than a day",
        "one",
        "two",
        "three",
        "four",
        "five",
        "six",
        "seven",
        "eight",
        "nine",
        "ten",
        "eleven",
        "twelve",
    )
    count = int(days)
    if count >= most:
        return f"{count} days or more"
    if count == 0:
        return words[0]
    number = words[count] if count < len(words) else str(count)
    return f"{number} day{'s' if count > 1 else ''}"


NEVER_DONE = "not done since care began"


def tensed(what: str, on: date, today: date) -> str:
    """Whether something was done last or is planned before.

    >>> tensed("read", date(2026, 3, 1), date(2026, 3, 2))
    'last read'
    >>> tensed("read", date(2026, 6, 1), date(2026, 3, 2))
    'planned to be read'

    Source: wording only, no figure.
    """
    return f"last {what}" if on <= today else f"planned to be {what}"


def customer_sentence(work: Work, area: str) -> str:
    """What the customer is told.

    Source: wording only, no figure.
    """
    return f"{WORK_NAMED[work]} for {area}: {CUSTOMER_WHY.get(work, 'this work is due')}."


def rejected_rungs(
    rungs: tuple[Rung, ...],
    taken: int,
    hold_days: tuple[float, ...],
    escaped: bool,
    until_next: int,
    by_routine: Set[Work] = frozenset(),
) -> tuple[tuple[str, str], ...]:
    """Each milder rung that was tried, with what it would have held.

    Parameters
    ----------
    hold_days : one a rung; NaN where it was not tried.
    until_next : days to the next opportunity, which every rung must bridge.
    by_routine : rungs that a routine does weekly or oftener.

    Source: the trial of the ladder.
    """
    # a coated floor has no re-polish: its last rung stands in its place
    renewal = rungs[top_rung(rungs)].work
    rejected = []
    for r in range(taken):
        held = hold_days[r]
        name = rungs[r].work.value
        if rungs[r].work in by_routine:
            rejected.append((name, "is done by routine anyway"))
        elif not isfinite(held):
            rejected.append((name, "not allowed yet, or its coats are used up"))
        elif escaped and rungs[r].work is Work.RECOAT:
            rejected.append(
                (name, f"would hold {int(held)} days, less than a quarter of a {renewal}'s life")
            )
        else:
            wanted = rungs[r].worthwhile_hold_days
            measure = (
                f"worth taking from {wanted}"
                if wanted >= until_next
                else f"and the next opportunity is {until_next} days off"
            )
            rejected.append((name, f"would hold {days_said(held, 10**6)}, {measure}"))
    return tuple(rejected)


def promise_reason(
    *,
    rung: Rung,
    area: str,
    rule: str,
    promise_gu: float,
    reference_gu: float | None,
    last_reading: tuple[float, date] | None,
    passes_between: tuple[date | None, date | None] | None,
    kept_probability: float,
    next_on: date | None,
    today: date,
    rejected: tuple[tuple[str, str], ...],
) -> Reason:
    """The reason of a rung that the forecast asks for.

    Parameters
    ----------
    area : what the customer calls the place.
    promise_gu, reference_gu : the least gloss promised, and the reading it is a share of.
    last_reading : (GU, date) of the last believed round.
    passes_between : 90 % dates of passing the promise, None beyond the horizon; first due only.
    kept_probability : of no break until `next_on` had nothing been done.

    Source: the walk and the forecast.
    """
    if passes_between is not None:
        parts = _passing(promise_gu, reference_gu, last_reading, passes_between, today)
    else:
        until = f" until {said(next_on)}" if next_on else ""
        parts = [
            f"forecast to keep {promise_gu:.0f} GU{until} with a probability of only "
            f"{kept_probability:.0%}"
        ]
    for name, why in rejected[-1:]:
        alone = " alone" if why.startswith("would") else ""
        parts.append(f"{name}{alone} {why}")
    return Reason(
        rule=rule,
        inside=f"{WORK_NAMED[rung.work]} for {area}: {'; '.join(parts)}.",
        customer=customer_sentence(rung.work, area),
        facts=(
            ("promise GU", round(promise_gu, 1)),
            ("reference GU", reference_gu),
            ("last reading GU", None if last_reading is None else round(last_reading[0], 1)),
            ("last reading on", None if last_reading is None else last_reading[1].isoformat()),
            ("probability kept", round(kept_probability, 2)),
        ),
        rejected=rejected,
    )


def _passing(
    promise_gu: float,
    reference_gu: float | None,
    last_reading: tuple[float, date] | None,
    passes_between: tuple[date | None, date | None],
    today: date,
) -> list[str]:
    """What was read, and when the promise is likely to be passed."""
    parts = []
    if last_reading is not None:
        gloss, on = last_reading
        of_reference = f", {gloss / reference_gu:.0%} of reference" if reference_gu else ""
        parts.append(f"gloss {gloss:.0f} GU on {said(on)}{of_reference}")
    early, late = passes_between
    limit = f"{promise_gu / reference_gu:.0%}" if reference_gu else f"{promise_gu:.0f} GU"
    if early is None:
        return [*parts, f"may pass {limit} within the year"]
    if late is None:
        return [*parts, f"likely to pass {limit} from {said(early)} on"]
    if late <= today + timedelta(days=1):
        return [*parts, f"most likely below {limit} already"]
    when = f"between {said(early)} and {said(late)}" if early < late else f"by {said(late)}"
    return [*parts, f"likely to pass {limit} {when}"]


def evidence_reason(evidence: Evidence, area: str) -> Reason:
    """The reason of a rung that a reading asks for.

    Source: the reading itself.
    """
    return Reason(
        rule="evidence outranks forecast",
        inside=(
            f"{WORK_NAMED[evidence.rung]} for {area}: {evidence.after} on "
            f"{said(evidence.done_on)} left {evidence.read_gu:.0f} GU on {said(evidence.read_on)}, "
            f"still below the promised {evidence.promise_gu:.0f}; the next rung is due."
        ),
        customer=customer_sentence(evidence.rung, area),
        facts=(
            ("rung done", evidence.after.value),
            ("done on", evidence.done_on.isoformat()),
            ("read GU", round(evidence.read_gu, 1)),
            ("read on", evidence.read_on.isoformat()),
            ("promise GU", round(evidence.promise_gu, 1)),
        ),
    )


def cap_reason(rung: Rung, area: str, last_on: date | None, cap_on: date, today: date) -> Reason:
    """The reason of a calendar cap.

    Source: the surface's own caps.
    """
    since = f"{tensed('done', last_on, today)} {said(last_on)}" if last_on else NEVER_DONE
    return Reason(
        rule="calendar cap",
        inside=f"{WORK_NAMED[rung.work]} for {area}: {since}; at the latest by {said(cap_on)} "
        f"({rung.cap_days} days), even where wear is slow.",
        customer=customer_sentence(rung.work, area),
        facts=(
            ("last done on", last_on.isoformat() if last_on else None),
            ("cap on", cap_on.isoformat()),
        ),
    )
