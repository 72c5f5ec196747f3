"""Closings of a visit's zones from the times of their legs, with what goes on in each stretch."""

from collections.abc import Sequence
from dataclasses import replace

from floorcare.ground.work.timeline_steps import (
    PhaseKind,
    Placed,
    Placing,
    TimedStep,
    ZoneClosing,
    ZoneLegs,
    ZonePhase,
)

ISOLATION_MINUTES = 5
"""A zone is shut so long before its first step: signs and barriers. Assumption."""


def closings_of(zones: Sequence[ZoneLegs], placing: Placing) -> tuple[ZoneClosing, ...]:
    """The closings of a visit's zones, each with its steps and phases.

    Parameters
    ----------
    placing : when each leg of each zone runs, zones and legs in the same order.

    Assumption: the isolation minutes named above.
    """
    bare = [_closing(zone, placed) for zone, placed in zip(zones, placing, strict=True)]
    return tuple(replace(closing, phases=_phases(closing, bare)) for closing in bare)


def _closing(zone: ZoneLegs, placed: Sequence[Placed]) -> ZoneClosing:
    steps = tuple(
        TimedStep(
            work=leg.work,
            name=leg.name,
            starts_minute=at.starts,
            ends_minute=at.ends,
            waits_until_minute=at.ends + leg.wait,
            people=at.hands,
            machine=leg.machine,
            stays_wet=leg.stays_wet,
        )
        for leg, at in zip(zone.legs, placed, strict=True)
    )
    return ZoneClosing(
        zone=zone.zone,
        closes_minute=steps[0].starts_minute - ISOLATION_MINUTES,
        starts_minute=steps[0].starts_minute,
        ends_minute=steps[-1].ends_minute,
        reopens_minute=steps[-1].waits_until_minute,
        steps=steps,
    )


def _phases(closing: ZoneClosing, visit: Sequence[ZoneClosing]) -> tuple[ZonePhase, ...]:
    stretches: list[ZonePhase] = []
    now = closing.closes_minute

    def until(kind: PhaseKind, ends: int, step: TimedStep) -> None:
        nonlocal now
        if ends > now:
            used = () if kind is PhaseKind.WORK else _worked_in(visit, closing.zone, now, ends)
            stretches.append(
                ZonePhase(
                    kind=kind, work=step.work, starts_minute=now, ends_minute=ends, used_in=used
                )
            )
            now = ends

    until(PhaseKind.ISOLATION, closing.starts_minute, closing.steps[0])
    for step in closing.steps:
        until(PhaseKind.IDLE, step.starts_minute, step)
        until(PhaseKind.WORK, step.ends_minute, step)
        until(PhaseKind.WET if step.stays_wet else PhaseKind.DRY, step.waits_until_minute, step)
    return tuple(stretches)


def _worked_in(visit: Sequence[ZoneClosing], but: str, starts: int, ends: int) -> tuple[str, ...]:
    return tuple(
        closing.zone
        for closing in visit
        if closing.zone != but
        and any(s.starts_minute < ends and s.ends_minute > starts for s in closing.steps)
    )
