"""What a person does to one visit, checked: move, hold, release, ask, agree, refuse, cancel.

Each answers with the visit as it would be and with everything that speaks against it. A finding
that stops forbids the change; one that asks wants a person to say that they are sure.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from enum import StrEnum

from floorcare.findings import Finding
from floorcare.ground.rules.reasons import said
from floorcare.ground.schedule.night_checks import (
    NightGround,
    asks,
    crew_findings,
    find_night,
    machine_findings,
    stops,
)
from floorcare.ground.schedule.stakes import at_stake, window_findings
from floorcare.ground.trade.answer import NightAnswer, NightWord
from floorcare.ground.trade.visit import Agreement, Commitment, Visit, VisitState
from floorcare.ground.worktime.night import format_minute


class VisitAct(StrEnum):
    """What a person did to a visit."""

    MOVED = "moved"
    HELD = "held"
    RELEASED = "released"
    ASKED = "asked"
    AGREED = "agreed"
    REFUSED = "refused"
    CANCELLED = "cancelled"


@dataclass(frozen=True, slots=True, kw_only=True)
class ManualChange:
    """A visit as a person wants it, and what speaks against it.

    answers : nights refused or offered with it.
    reopened : what was refused on its night is refused no longer.
    undone : of a visit called off, what is left to the next plan, with what is at stake.
    """

    act: VisitAct
    before: Visit
    after: Visit
    findings: tuple[Finding, ...] = ()
    answers: tuple[NightAnswer, ...] = ()
    reopened: bool = False
    undone: tuple[str, ...] = ()

    @property
    def forbidden(self) -> bool:
        """Whether it cannot be done at all."""
        return any(finding.weight == "stops" for finding in self.findings)

    @property
    def unwise(self) -> bool:
        """Whether a person should say that they are sure."""
        return any(finding.weight == "asks" for finding in self.findings)


def moved(
    ground: NightGround,
    visit: Visit,
    on: date,
    starts_minute: int | None,
    *,
    only_proposed: bool,
    now: datetime,
) -> ManualChange:
    """The visit on another night or at another hour, held there.

    Parameters
    ----------
    starts_minute : minute of the night; None for as early as it allows.
    only_proposed : it is not held, so the next plan may move it again.
    """
    start = starts_minute
    if start is None and visit.commitment is Commitment.HOUR:
        start = visit.starts_minute
    found = find_night(ground, visit, on, start)
    hour = start is not None and not only_proposed
    begins = found.starts_minute if found.night else visit.starts_minute
    elsewhere = (on, begins) != (visit.night, visit.starts_minute)
    after = replace(
        visit,
        night=on,
        starts_minute=begins,
        state=VisitState.PROPOSED if only_proposed else VisitState.HELD,
        commitment=_committed(only_proposed=only_proposed, hour=hour),
        agreement=Agreement.NOT_NEEDED if elsewhere else visit.agreement,
        sequence=visit.sequence + 1,
        changed_at=now,
    )
    findings = (*_fixed(visit, ground.year.today), *_past(on, ground.year.today), *found.findings)
    if not findings and _same(visit, after):
        findings = (stops("it stands there already", "nothing is to be done"),)
    if not findings:
        findings = (
            *crew_findings(ground, visit, on),
            *window_findings(ground.book(visit), visit, on),
            *_promised_nights(ground, visit, after),
            *_beside(ground, visit, on),
            *_other_parts(ground, visit),
            *machine_findings(ground, visit, on),
        )
    return ManualChange(act=VisitAct.MOVED, before=visit, after=after, findings=findings)


def _committed(*, only_proposed: bool, hour: bool) -> Commitment:
    if only_proposed:
        return Commitment.WEEK
    return Commitment.HOUR if hour else Commitment.NIGHT


def _same(visit: Visit, after: Visit) -> bool:
    return replace(after, sequence=visit.sequence, changed_at=visit.changed_at) == visit


def held(ground: NightGround, visit: Visit, *, hour: bool, now: datetime) -> ManualChange:
    """The visit pinned to its night, or to its hour."""
    after = replace(
        visit,
        state=VisitState.HELD,
        commitment=Commitment.HOUR if hour else Commitment.NIGHT,
        sequence=visit.sequence + 1,
        changed_at=now,
    )
    findings = (*_fixed(visit, ground.year.today), *_still_takes(ground, visit))
    if not findings and _same(visit, after):
        findings = (stops("it is held already", "nothing is to be done"),)
    if visit.agreement is Agreement.REFUSED:
        findings = (*findings, asks("the customer refused this night", "move it, or agree first"))
    findings = (*findings, *_other_parts(ground, visit))
    return ManualChange(act=VisitAct.HELD, before=visit, after=after, findings=findings)


def released(visit: Visit, *, today: date, now: datetime) -> ManualChange:
    """The visit free to be moved by a plan again; what the customer said stays said."""
    after = replace(
        visit,
        state=VisitState.PROPOSED,
        commitment=Commitment.WEEK,
        sequence=visit.sequence + 1,
        changed_at=now,
    )
    findings = _fixed(visit, today)
    if not findings and _same(visit, after):
        findings = (stops("it is not held", "nothing is to be done"),)
    return ManualChange(act=VisitAct.RELEASED, before=visit, after=after, findings=findings)


def asked(ground: NightGround, visit: Visit, *, on: date, now: datetime) -> ManualChange:
    """The visit put to the customer; it stands until they answer.

    Parameters
    ----------
    on : the day they were asked.
    """
    findings = (*_fixed(visit, ground.year.today), *_still_takes(ground, visit))
    if visit.agreement is Agreement.AGREED:
        findings = (*findings, stops("the customer agreed to it already", "nothing is to be done"))
    if visit.agreement is Agreement.REFUSED:
        mend = "move it or plan again, then ask for that night"
        findings = (*findings, stops("the customer refused this night", mend))
    findings = (*findings, *_notice(ground, visit, visit.night, on))
    after = _with_agreement(visit, Agreement.ASKED, now)
    return ManualChange(act=VisitAct.ASKED, before=visit, after=after, findings=findings)


def agreed(ground: NightGround, visit: Visit, *, now: datetime) -> ManualChange:
    """The visit accepted by the customer; a night refused before is open to it again."""
    doubts = tuple(replace(f, weight="asks") for f in _still_takes(ground, visit))
    findings = (*_fixed(visit, ground.year.today), *doubts)
    if visit.agreement is Agreement.AGREED:
        findings = (*findings, stops("the customer agreed to it already", "nothing is to be done"))
    after = _with_agreement(visit, Agreement.AGREED, now)
    return ManualChange(
        act=VisitAct.AGREED, before=visit, after=after, findings=findings, reopened=True
    )


def refused(
    ground: NightGround, visit: Visit, instead: Sequence[date], *, on: date, now: datetime
) -> ManualChange:
    """The visit's night refused, and the nights the customer offers instead.

    It is held no longer: the next plan looks for another night. A counter-night on which the work
    cannot be done is told, and offered all the same.

    Parameters
    ----------
    on : the day the customer said so.
    """
    today = ground.year.today
    findings = _fixed(visit, today)
    if visit.agreement is Agreement.REFUSED and not instead:
        findings = (*findings, stops("this night was refused already", "offer nights instead"))
    for night in instead:
        if night == visit.night:
            findings = (*findings, stops(f"{said(night)} is the night refused", "leave it out"))
        elif night <= today:
            findings = (*findings, stops(f"{said(night)} is past", "leave it out"))
        else:
            doubts = find_night(ground, visit, night).findings
            findings = (*findings, *(replace(f, weight="asks") for f in doubts))
    words = [(visit.night, NightWord.REFUSED), *((n, NightWord.OFFERED) for n in instead)]
    answers = tuple(
        NightAnswer(zone=zone, work=work, night=night, word=word, said_on=on)
        for night, word in dict.fromkeys(words)
        for zone, work in dict.fromkeys((line.zone, line.work) for line in visit.lines)
    )
    after = replace(
        _with_agreement(visit, Agreement.REFUSED, now),
        state=VisitState.PROPOSED,
        commitment=Commitment.WEEK,
    )
    return ManualChange(
        act=VisitAct.REFUSED, before=visit, after=after, findings=findings, answers=answers
    )


def cancelled(ground: NightGround, visit: Visit, *, now: datetime) -> ManualChange:
    """The visit called off; its work is left to the rules of the next plan."""
    book = ground.book(visit)
    after = replace(visit, state=VisitState.CANCELLED, sequence=visit.sequence + 1, changed_at=now)
    undone = tuple(
        f"{line.zone} {line.work}, wanted by {said(line.due.latest)}: "
        f"{at_stake(book, line, visit.night)}"
        for line in visit.lines
    )
    findings = _fixed(visit, ground.year.today)
    return ManualChange(
        act=VisitAct.CANCELLED, before=visit, after=after, findings=findings, undone=undone
    )


def _with_agreement(visit: Visit, agreement: Agreement, now: datetime) -> Visit:
    return replace(visit, agreement=agreement, sequence=visit.sequence + 1, changed_at=now)


def _fixed(visit: Visit, today: date) -> tuple[Finding, ...]:
    """Why nobody may change the visit any more."""
    if visit.state not in (VisitState.PROPOSED, VisitState.HELD):
        return (stops(f"the visit is {visit.state}", "choose one that is proposed or held"),)
    if visit.night < today:
        return (stops(f"its night, {said(visit.night)}, is past", "record what was done"),)
    return ()


def _past(on: date, today: date) -> tuple[Finding, ...]:
    if on < today:
        return (stops(f"{said(on)} is past", "choose a night to come"),)
    return ()


def _still_takes(ground: NightGround, visit: Visit) -> tuple[Finding, ...]:
    """Why the visit's own night does not take it, where something has changed since."""
    return find_night(ground, visit, visit.night, visit.starts_minute).findings


def _promised_nights(ground: NightGround, visit: Visit, after: Visit) -> tuple[Finding, ...]:
    """What the customer was told or has said of either night."""
    found, on, today = [], after.night, ground.year.today
    if after.agreement is not visit.agreement and visit.agreement is not Agreement.REFUSED:
        word = "agreed to" if visit.agreement is Agreement.AGREED else "was asked for"
        before = f"{said(visit.night)} at {format_minute(visit.starts_minute)}"
        found.append(asks(f"the customer {word} {before}", "ask them again for the new time"))
    if on == today:
        found.append(asks("tonight's crews may be on their way", "tell them yourself"))
    answers = ground.book(visit).answers
    zones = {line.zone for line in visit.lines}
    if any(a.night == on and a.zone in zones and a.word is NightWord.REFUSED for a in answers):
        found.append(asks(f"the customer refused {said(on)} for this", "ask them again first"))
    return (*found, *_notice(ground, visit, on, today))


def _notice(ground: NightGround, visit: Visit, night: date, told_on: date) -> tuple[Finding, ...]:
    days = ground.book(visit).site.notice_days
    left = (night - told_on).days
    if left >= days:
        return ()
    first = told_on + timedelta(days=days)
    return (
        asks(
            f"the customer is to be told {days} days ahead, and {max(left, 0)} are left",
            f"take a night from {first.isoformat()} on, or have them waive it",
        ),
    )


def _other_parts(ground: NightGround, visit: Visit) -> tuple[Finding, ...]:
    """Works of which the visit does a part, while the nights of the rest may still be moved."""
    found = []
    for line in visit.lines:
        if line.minutes >= line.due.minutes:
            continue
        due = line.due
        nights = sorted(
            other.night
            for other in ground.year.standing
            if other.site == visit.site and other.uuid != visit.uuid and not other.stands
            for part in other.lines
            if (part.zone, part.work, part.due.target) == (line.zone, line.work, due.target)
        )
        if nights:
            found.append(
                asks(
                    f"it does only a part of {line.zone} {line.work}; the rest may still be moved",
                    f"hold the other nights too: {', '.join(n.isoformat() for n in nights)}",
                )
            )
    return tuple(found)


def _beside(ground: NightGround, visit: Visit, on: date) -> tuple[Finding, ...]:
    """Other visits of the site that it meets, or would change places with on a zone."""
    found = []
    zones = {line.zone for line in visit.lines}
    low, high = min(visit.night, on), max(visit.night, on)
    for other in ground.year.standing:
        if other.site != visit.site or other.uuid == visit.uuid:
            continue
        shared = sorted(zones & {line.zone for line in other.lines})
        at = f"{said(other.night)} at {format_minute(other.starts_minute)}"
        if other.night == on:
            found.append(
                asks(f"{visit.site} has a visit that night already, {at}", "let one crew do both")
            )
        elif shared and low < other.night < high:
            found.append(
                asks(
                    f"it passes the visit of {at}, which also works on {', '.join(shared)}",
                    "look whether the order of the works still makes sense",
                )
            )
    return tuple(found)
