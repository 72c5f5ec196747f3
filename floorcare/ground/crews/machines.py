"""Machines of a night: which kinds a visit needs, and which of ours is free for it."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from datetime import date

from floorcare.ground.crews.week import BranchWeek, CrewNight
from floorcare.ground.schedule.closings import surface_of
from floorcare.ground.trade.equipment import OwnedMachine
from floorcare.ground.trade.surface import Machine
from floorcare.ground.trade.visit import Visit


@dataclass(frozen=True, slots=True, kw_only=True)
class MachineLack:
    """A kind of which no machine is free; `why` says where those of ours are."""

    kind: Machine
    why: str
    owned: int


def kinds_needed(week: BranchWeek, visit: Visit) -> tuple[Machine, ...]:
    """The kinds of machine the visit's methods use, each once, in the order of first use."""
    zones = {zone.zone.code: zone for zone in week.books[visit.site].zones}
    found: dict[str, Machine] = {}
    for line in visit.lines:
        surface = surface_of(zones[line.zone], visit, week.surfaces)
        rung = surface.rung(line.work)
        for step in rung.steps if rung is not None else ():
            if step.machine:
                found.setdefault(step.machine, surface.machines[step.machine])
    return tuple(found.values())


def machines_here(week: BranchWeek) -> tuple[OwnedMachine, ...]:
    """Machines that ever stood at the branch or at one of its sites, by code."""
    mine = (
        machine
        for machine in week.machines
        if any(
            place.site in week.books if place.site else place.branch == week.branch.code
            for place in machine.places
        )
    )
    return tuple(sorted(mine, key=lambda machine: machine.code))


def kinds_checked(week: BranchWeek) -> frozenset[str]:
    """Kinds that are looked for: those entered, and none where the crews have no names."""
    return kinds_entered(week) if week.own_crews else frozenset()


def kinds_entered(week: BranchWeek) -> frozenset[str]:
    """Kinds of which the branch has or had a machine."""
    return frozenset(machine.kind for machine in machines_here(week))


def machines_for(
    week: BranchWeek,
    visit: Visit,
    night: CrewNight,
    others: Collection[CrewNight],
    *,
    fuel: bool,
) -> tuple[tuple[str, ...], tuple[MachineLack, ...]]:
    """Codes of the machines a crew takes to a visit, and the kinds of which none is free.

    Parameters
    ----------
    others : the crew-nights so far; the crew's own are passed over.
    fuel : whether the site lets a fuel machine run that night.

    A kind of which no machine was ever entered is not looked for. What the crew has with it
    already serves again; then what stands on the site, then what stands at the branch, by code.
    A machine goes with one crew of all whose shifts overlap.
    """
    entered = kinds_checked(week)
    mine = {code for stop in night.stops for code in stop.machines}
    busy = {
        code: other.name
        for other in others
        if other.stops and other.crew != night.crew and other.meets(night)
        for stop in other.stops
        for code in stop.machines
    }
    taken: list[str] = []
    lacks: list[MachineLack] = []
    for kind in kinds_needed(week, visit):
        if kind.code not in entered:
            continue
        owned = [m for m in machines_here(week) if m.kind == kind.code]
        free = [
            m
            for m in owned
            if m.code not in busy and serves_there(week, visit.site, night, m, fuel=fuel)
        ]
        if free:
            free.sort(
                key=lambda m: (m.code not in mine, not stands_on(m, visit.site, night.on), m.code)
            )
            taken.append(free[0].code)
        else:
            why = "; ".join(_where(week, visit, night, owned, busy, fuel=fuel))
            lacks.append(MachineLack(kind=kind, why=why, owned=len(owned)))
    return tuple(taken), tuple(lacks)


def serves_there(
    week: BranchWeek, site: str, night: CrewNight, machine: OwnedMachine, *, fuel: bool
) -> bool:
    """Whether a machine of ours can be had for a site on a crew's night.

    Parameters
    ----------
    fuel : whether the site lets a fuel machine run then.
    """
    return _why_not(week, site, night, machine, fuel=fuel) == ""


def stands_on(machine: OwnedMachine, site: str, on: date) -> bool:
    """Whether a machine stands on a site on a day, so that nobody need bring it."""
    place = machine.place_on(on)
    return place is not None and place.site == site


def _why_not(
    week: BranchWeek, site: str, night: CrewNight, machine: OwnedMachine, *, fuel: bool
) -> str:
    place = machine.place_on(night.on)
    if place is None:
        return "stands nowhere that night"
    if place.site and place.site != site:
        return f"stands at {place.site}"
    if not place.site and place.branch != week.branch.code:
        return f"stands at branch {place.branch}"
    if not machine.works_on(night.on):
        return "is out of order"
    if machine.fuel and not fuel:
        return f"burns {machine.fuel}, which the site does not permit that night"
    return ""


def _where(
    week: BranchWeek,
    visit: Visit,
    night: CrewNight,
    owned: Collection[OwnedMachine],
    busy: dict[str, str],
    *,
    fuel: bool,
) -> Iterator[str]:
    for machine in owned:
        why = _why_not(week, visit.site, night, machine, fuel=fuel)
        yield f"{machine.code} {why or f'is with {busy[machine.code]}'}"
