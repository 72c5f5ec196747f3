"""Why a crew cannot take a visit, and the nearest thing that would mend it, in plain sentences."""

from collections.abc import Iterator
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from floorcare.ground.crews.access import Access
from floorcare.ground.crews.machines import MachineLack
from floorcare.ground.crews.slot import Slot
from floorcare.ground.crews.week import (
    BranchWeek,
    CrewNight,
    Misfit,
    MisfitKind,
    night_said,
)
from floorcare.ground.rules.reasons import said
from floorcare.ground.trade.crew import Worker
from floorcare.ground.trade.visit import Commitment, Visit
from floorcare.ground.worktime.night import format_minute

MOST_STRETCH_MINUTES = 120
"""Where more is lacking than this, nobody stretches a shift: another crew is proposed. Assumption,
an ordinary limit to overtime of a night; it changes no placing."""


def paper_misfits(week: BranchWeek, visit: Visit) -> Iterator[Misfit]:
    """Papers of the contractor that the site asks for and that have run out by the night."""
    for paper in week.books[visit.site].requirements:
        expires_on = paper.expires_on
        if paper.each_worker or expires_on is None or visit.night <= expires_on:
            continue
        yield Misfit(
            kind=MisfitKind.PAPER,
            short=1,
            why=f'the {paper.kind.value} "{paper.name}" that {visit.site} asks for expired on '
            f"{said(expires_on)}",
            mend=f'renew "{paper.name}" and enter its new date',
        )


def no_access(visit: Visit, why: str) -> Misfit:
    """The site lets nobody in that night."""
    on = night_said(visit.night)
    return Misfit(
        kind=MisfitKind.ACCESS,
        short=1,
        why=f"{visit.site} is not open for this work on {on}: {why}",
        mend=f"an access window on {on}, or another night",
    )


def no_shift(week: BranchWeek, visit: Visit, access: tuple[Access, ...], crew: str) -> Misfit:
    """The crew is not out while the site is open."""
    open_for = " or ".join(
        f"{_clock(week, a.opens_at)} to {_clock(week, a.closes_at)}" for a in access
    )
    whose = f"{crew} is not out" if crew else f"branch {week.branch.code} sends nobody out"
    return Misfit(
        kind=MisfitKind.SHIFT,
        short=1,
        why=f"{whose} while {visit.site} is open on {night_said(visit.night)}, {open_for}",
        mend=another_crew(week, visit, access),
    )


def too_few(visit: Visit, night: CrewNight) -> Misfit:
    """The crew has fewer people that night than the visit is reckoned for."""
    lacking = visit.people - night.people
    has = f"has {night.people} of the {visit.people} people it takes"
    return Misfit(
        kind=MisfitKind.PEOPLE,
        short=lacking,
        why=f"{night.name} {has} on {night_said(night.on)}",
        mend=f"{lacking} more {'worker' if lacking == 1 else 'workers'} in {night.name} on "
        f"{night_said(night.on)}",
    )


def qualification_misfits(week: BranchWeek, visit: Visit, night: CrewNight) -> Iterator[Misfit]:
    """What the site asks of each worker and somebody of the crew does not hold that night."""
    for asked in week.books[visit.site].requirements:
        if not asked.each_worker:
            continue
        for worker in night.workers:
            if not worker.holds(asked.name, visit.night):
                yield _unqualified(worker, asked.name, visit)


def _unqualified(worker: Worker, name: str, visit: Visit) -> Misfit:
    held = [q for q in worker.qualifications if q.name == name]
    expired = [q.expires_on for q in held if q.expires_on and q.expires_on < visit.night]
    coming = [q.from_on for q in held if q.from_on > visit.night]
    if expired:
        why = f'{worker.name}\'s "{name}" expired on {said(max(expired))}'
        mend = f'renew "{name}" for {worker.name}'
    elif coming:
        why = f'{worker.name}\'s "{name}" holds only from {said(min(coming))}'
        mend = f'"{name}" for {worker.name} before {night_said(visit.night)}'
    else:
        why = f'{worker.name} does not hold "{name}", which {visit.site} asks of each worker'
        mend = f'"{name}" for {worker.name}'
    return Misfit(kind=MisfitKind.QUALIFICATION, short=1, why=why, mend=mend)


def no_machine(lack: MachineLack, night: CrewNight) -> Misfit:
    """None of ours is free that night."""
    which = "a second" if lack.owned == 1 else "one more"
    return Misfit(
        kind=MisfitKind.MACHINE,
        short=1,
        why=f"no {lack.kind.name} is free on {night_said(night.on)}: {lack.why}",
        mend=f"{which} {lack.kind.name} on {night_said(night.on)}",
    )


def time_misfits(week: BranchWeek, visit: Visit, night: CrewNight, slot: Slot) -> Iterator[Misfit]:
    """What the hours lack where they lack least; where that is too much, only the first of it."""
    said_of = {"access": _access_short, "back": _back_late, "hour": _hour_missed}
    too_much = slot.lacking > MOST_STRETCH_MINUTES
    for lack in slot.lacks[:1] if too_much else slot.lacks:
        why, mend = said_of[lack.kind](week, visit, night, slot, lack.minutes)
        nobody_could = visit.minutes > _open_minutes(slot.access) or _hour_is_outside(visit, slot)
        if too_much and not nobody_could:
            mend = another_crew(week, visit, (slot.access,))
        yield Misfit(kind=MisfitKind.TIME, short=lack.minutes, why=why, mend=mend)


def _hour_is_outside(visit: Visit, slot: Slot) -> bool:
    """Whether the agreed hour itself, and no crew's way there, leaves the access."""
    return visit.commitment is Commitment.HOUR and not (
        slot.access.opens_at <= slot.starts_at and slot.ends_at <= slot.access.closes_at
    )


def another_crew(week: BranchWeek, visit: Visit, access: tuple[Access, ...]) -> str:
    """One more crew, with the hours it would be out for this visit alone."""
    site = week.site(visit)
    drive = week.drive(week.branch, site)
    if not access:
        return f"an access window on {night_said(visit.night)}, or another night"
    opens_at = access[0].opens_at
    leaves, back = opens_at - _span(drive), opens_at + _span(visit.minutes + drive)
    people = "1 person" if visit.people == 1 else f"{visit.people} people"
    hours = f"{_clock(week, leaves)} to {_clock(week, back)}"
    return f"one more crew of {people} on {night_said(visit.night)}, {hours}"


def _access_short(
    week: BranchWeek, visit: Visit, night: CrewNight, slot: Slot, minutes: int
) -> tuple[str, str]:
    opens, closes = _clock(week, slot.access.opens_at), _clock(week, slot.access.closes_at)
    open_minutes = _open_minutes(slot.access)
    if visit.minutes > open_minutes:
        return (
            f"it takes {visit.minutes} min on site and {visit.site} is open for {open_minutes}, "
            f"{opens} to {closes}",
            f"{visit.minutes - open_minutes} min more access on {night_said(visit.night)}, or the "
            "visit in two nights",
        )
    if _hour_is_outside(visit, slot):
        last = slot.access.closes_at - _span(visit.minutes)
        nearest = slot.access.opens_at if slot.starts_at < slot.access.opens_at else last
        return (
            f"the agreed {_clock(week, slot.starts_at)} leaves {visit.minutes} min on site "
            f"{minutes} min outside the access of {visit.site}, {opens} to {closes}",
            f"agree on {_clock(week, nearest)}, or {minutes} min more access on "
            f"{night_said(visit.night)}",
        )
    reached = _clock(week, slot.reached_at)
    late = f"{minutes} min too late to be done by {closes}"
    if slot.at:
        before = night.stops[slot.at - 1].visit.site
        return (
            f"{night.name} comes on from {before} and reaches {visit.site} at {reached}, {late}",
            f"{minutes} min more access at {visit.site} on {night_said(visit.night)}",
        )
    return (
        f"{night.name} reaches {visit.site} at {reached} at the earliest, {late}",
        f"the shift of {night.name} starting {minutes} min earlier on {night_said(night.on)}",
    )


def _back_late(
    week: BranchWeek, visit: Visit, night: CrewNight, slot: Slot, minutes: int
) -> tuple[str, str]:
    home = _clock(week, slot.ends_at + _span(slot.onward_minutes))
    limit = "the end of its shift less the break" if night.starts_at else "a shift's length"
    return (
        f"{night.name} would be back from {visit.site} at {home}, {minutes} min after {limit}",
        f"{minutes} min more shift for {night.name} on {night_said(night.on)}",
    )


def _hour_missed(
    week: BranchWeek, visit: Visit, night: CrewNight, slot: Slot, minutes: int
) -> tuple[str, str]:
    reached, agreed = _clock(week, slot.reached_at), _clock(week, slot.starts_at)
    return (
        f"{night.name} can be there at {reached}, {minutes} min after the agreed {agreed}",
        f"agree on {reached}, or one more crew on {night_said(visit.night)}",
    )


def _span(minutes: int) -> timedelta:
    return timedelta(minutes=minutes)


def _open_minutes(access: Access) -> int:
    return (access.closes_at - access.opens_at) // timedelta(minutes=1)


def _clock(week: BranchWeek, at: datetime) -> str:
    """The branch's own clock."""
    local = at.astimezone(ZoneInfo(week.branch.time_zone))
    return format_minute(local.hour * 60 + local.minute)


def unchecked_said(what: str, sites: dict[str, set[str]]) -> str:
    """A sentence that names what nobody checked and for which sites."""
    named = "; ".join(
        f"{name} ({', '.join(sorted(codes))})" for name, codes in sorted(sites.items())
    )
    return f"{what}: {named}."
