"""Timeline: the steps of a visit in time, waits in one zone used in another, and the closings."""

from dataclasses import dataclass, field
from functools import lru_cache
from math import ceil

from floorcare.ground.trade.surface import Rung
from floorcare.ground.trade.treatment import Work
from floorcare.ground.work.minutes import (
    ARRIVE_MINUTES,
    ASSUMED_MINUTES,
    PACK_MINUTES,
    PLAIN_MINUTES,
    step_minutes,
)

ISOLATION_MINUTES = 5
"""A zone is shut so long before its first step: signs and barriers. Assumption."""

SEQUENCE = (
    Work.CALL,
    Work.CLEAN,
    Work.DEEP_SCRUB,
    Work.STRIP,
    Work.JOINT_REPAIR,
    Work.SPOT_REPAIR,
    Work.FULL_RESTORATION,
    Work.DENSIFY,
    Work.REPOLISH,
    Work.FINE_BURNISH,
    Work.RECOAT,
    Work.BURNISH,
    Work.READING_ROUND,
    Work.SLIP_TEST,
    Work.WALK,
)
"""The order of works in one zone: clean, repair, polish low to high, protector, burnish, read."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TimedLine:
    """A line to be put on the timeline.

    rung : the treatment's method; None for work that is no treatment.
    area_m2 : area to be treated, None where it is not known.
    minutes : person-minutes where they were typed; they make one step. None where the rates tell.
    """

    zone: str
    work: Work
    rung: Rung | None = None
    area_m2: float | None = None
    minutes: int | None = None

    def __post_init__(self) -> None:
        if self.minutes is not None and self.minutes < 1:
            raise ValueError(f"{self.minutes} minutes: allowed 1 or more")


@dataclass(frozen=True, slots=True, kw_only=True)
class TimedStep:
    """One step in time; minutes of the site's wall clock, 1440 and more after midnight.

    waits_until_minute : when the next step may begin in this zone, or the zone reopen.
    """

    work: Work
    name: str
    starts_minute: int
    ends_minute: int
    waits_until_minute: int
    people: int
    machine: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ZoneClosing:
    """A zone kept shut for our work.

    closes_minute : isolation begins.
    starts_minute, ends_minute : first step begins, last step ends.
    reopens_minute : the earliest safe reopening, the last wait over.
    """

    zone: str
    closes_minute: int
    starts_minute: int
    ends_minute: int
    reopens_minute: int
    steps: tuple[TimedStep, ...]


@dataclass(frozen=True, slots=True)
class _Leg:
    """A step before it has its time; `shared` legs go faster with more people."""

    work: Work
    name: str
    clock: int
    people: int
    wait: int
    machine: str
    shared: bool


@dataclass(slots=True)
class _Progress:
    """How far a zone has come."""

    zone: str
    legs: list[_Leg]
    ready: int
    steps: list[TimedStep] = field(default_factory=list)

    @property
    def ahead(self) -> _Leg | None:
        return self.legs[len(self.steps)] if len(self.steps) < len(self.legs) else None

    @property
    def before_it(self) -> int:
        return sum(leg.clock + leg.wait for leg in self.legs[len(self.steps) :])


def sequence_key(work: Work) -> int:
    """Where a work stands among the works of one zone on one night, first things first.

    Source: dust mop, scrub, repair, hone and polish low to high, densify, fine polish, protector,
    burnish, read, slip test: common practice, no source in one place.
    """
    return SEQUENCE.index(work)


def timeline(
    lines: tuple[TimedLine, ...], *, starts_minute: int, people: int
) -> tuple[ZoneClosing, ...]:
    """The closings of a visit's zones, in the order in which the zones are first named.

    List scheduling: whenever somebody is free, the first zone in order whose next step may begin
    gets people and machine; hand work takes whoever is left over. It is done twice, in the given
    order of zones and with the zone first that has most still before it; the shorter night is
    taken, the given order where both are equal.

    Parameters
    ----------
    lines : in one zone the trade's sequence rules, not the order of the lines.
    starts_minute : arrival, minute of the night's own date.
    people : people of the crew, 1 or more; a step asking for more takes longer.

    Raises
    ------
    ValueError : a crew of nobody, or an area below 0.

    Assumption: one machine of each kind a crew, arrival and isolation minutes as named above; the
    product's sheet outranks every wait.
    """
    if people < 1:
        raise ValueError(f"crew of {people}: allowed 1 or more")
    begin = starts_minute + ARRIVE_MINUTES
    as_given = _scheduled(_zones(lines, begin), begin, people, longest_first=False)
    if len(as_given) == 1:
        return as_given
    by_length = _scheduled(_zones(lines, begin), begin, people, longest_first=True)
    return min(as_given, by_length, key=visit_clock_minutes)


def visit_clock_minutes(closings: tuple[ZoneClosing, ...]) -> int:
    """Clock minutes on site, from arrival until the last zone is reopened and the van is packed.

    Assumption: somebody stays to take the barriers away when the floor is dry.
    """
    if not closings:
        return 0
    first = min(closing.starts_minute for closing in closings)
    last = max(closing.reopens_minute for closing in closings)
    return ARRIVE_MINUTES + last - first + PACK_MINUTES


@lru_cache(maxsize=50_000)
def lines_minutes(lines: tuple[TimedLine, ...], people: int) -> int:
    """Clock minutes of a visit with these lines; the same works come round over a year.

    Parameters
    ----------
    lines, people : as for `timeline`.

    Source: the visit's timeline.
    """
    return visit_clock_minutes(timeline(lines, starts_minute=0, people=people))


def _zones(lines: tuple[TimedLine, ...], ready: int) -> list[_Progress]:
    named: dict[str, list[TimedLine]] = {}
    for line in lines:
        named.setdefault(line.zone, []).append(line)
    return [
        _Progress(zone, [leg for line in _in_sequence(own) for leg in _legs(line)], ready)
        for zone, own in named.items()
    ]


def _scheduled(
    zones: list[_Progress], begin: int, people: int, *, longest_first: bool
) -> tuple[ZoneClosing, ...]:
    now = begin
    while any(zone.ahead for zone in zones):
        order = sorted(zones, key=lambda zone: -zone.before_it) if longest_first else zones
        _start(order, now, people)
        later = {zone.ready for zone in zones if zone.ahead}
        later |= {step.ends_minute for zone in zones for step in zone.steps[-1:]}
        now = min((minute for minute in later if minute > now), default=now)
    return tuple(_closing(zone) for zone in zones)


def _in_sequence(lines: list[TimedLine]) -> list[TimedLine]:
    return sorted(lines, key=lambda line: sequence_key(line.work))


def _legs(line: TimedLine) -> list[_Leg]:
    rung = line.rung
    if line.minutes is None and rung is not None and rung.steps and line.area_m2 is not None:
        return [
            _Leg(
                line.work,
                step.name,
                step_minutes(step, line.area_m2),
                step.people,
                step.wait_minutes,
                step.machine,
                not step.machine,
            )
            for step in rung.steps
        ]
    minutes = line.minutes or PLAIN_MINUTES.get(line.work, ASSUMED_MINUTES)
    # Typed minutes do not say how long the floor then stays wet; the method's last step does.
    wait = rung.steps[-1].wait_minutes if rung is not None and rung.steps else 0
    return [_Leg(line.work, line.work.value, minutes, 1, wait, "", True)]


def _start(zones: list[_Progress], now: int, people: int) -> None:
    """Start every step that may begin now, in the order of the zones."""
    running = [step for zone in zones for step in zone.steps[-1:] if step.ends_minute > now]
    free = people - sum(step.people for step in running)
    taken = {step.machine for step in running if step.machine}
    starting: list[tuple[_Progress, _Leg, int]] = []
    for zone in zones:
        leg = zone.ahead
        if leg is None or zone.ready > now or leg.machine in taken:
            continue
        need = min(leg.people, people)
        if need <= free:
            free -= need
            taken |= {leg.machine} - {""}
            starting.append((zone, leg, need))
    for zone, leg, need in starting:
        hands = need + (free if leg.shared else 0)
        free -= hands - need
        ends = now + ceil(leg.clock * leg.people / hands)
        zone.ready = ends + leg.wait
        zone.steps.append(
            TimedStep(
                work=leg.work,
                name=leg.name,
                starts_minute=now,
                ends_minute=ends,
                waits_until_minute=zone.ready,
                people=hands,
                machine=leg.machine,
            )
        )


def _closing(zone: _Progress) -> ZoneClosing:
    first, last = zone.steps[0], zone.steps[-1]
    return ZoneClosing(
        zone=zone.zone,
        closes_minute=first.starts_minute - ISOLATION_MINUTES,
        starts_minute=first.starts_minute,
        ends_minute=last.ends_minute,
        reopens_minute=last.waits_until_minute,
        steps=tuple(zone.steps),
    )
