"""What a visit's timeline is made of: its lines as steps with their waits, in the trade's order."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import ceil
from typing import NamedTuple

from floorcare.ground.trade.surface import Rung
from floorcare.ground.trade.treatment import Work
from floorcare.ground.work.minutes import ASSUMED_MINUTES, PLAIN_MINUTES, step_minutes

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


class PhaseKind(StrEnum):
    """What goes on in a zone while it is shut."""

    ISOLATION = "isolation"
    WORK = "work"
    WET = "wet"
    DRY = "dry"
    IDLE = "idle"


@dataclass(frozen=True, slots=True, kw_only=True)
class ZonePhase:
    """A stretch of a zone's closing; together they run from isolation to reopening without a gap.

    kind : wet where the same method goes on wet, so the floor is kept so; dry where the floor must
        dry or set; idle where the zone waits for people or a machine.
    work : the work it belongs to; of an isolation and an idle stretch the one that comes.
    used_in : zones in which somebody works meanwhile, in the order of the visit; none for work.
    """

    kind: PhaseKind
    work: Work
    starts_minute: int
    ends_minute: int
    used_in: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class TimedStep:
    """One step in time; minutes of the site's wall clock, 1440 and more after midnight.

    waits_until_minute : when the next step may begin in this zone, or the zone reopen.
    stays_wet : the floor need not dry in that wait, since the method goes on wet.
    """

    work: Work
    name: str
    starts_minute: int
    ends_minute: int
    waits_until_minute: int
    people: int
    machine: str = ""
    stays_wet: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class ZoneClosing:
    """A zone kept shut for our work.

    closes_minute : isolation begins.
    starts_minute, ends_minute : first step begins, last step ends.
    reopens_minute : the earliest safe reopening, the last wait over.
    phases : the same closing as stretches of isolation, work, wet, dry and idle time.
    """

    zone: str
    closes_minute: int
    starts_minute: int
    ends_minute: int
    reopens_minute: int
    steps: tuple[TimedStep, ...]
    phases: tuple[ZonePhase, ...] = ()


class Leg(NamedTuple):
    """A step before it has its time.

    clock : minutes with as many people as it asks for.
    wait : minutes before the next leg of the zone, or its reopening.
    shared : hand work, which goes faster with more people.
    """

    work: Work
    name: str
    clock: int
    people: int
    wait: int
    machine: str
    shared: bool
    stays_wet: bool = False

    def minutes(self, hands: int) -> int:
        """Clock minutes with so many people, a leg that asks for more taking longer."""
        return ceil(self.clock * self.people / hands)


class ZoneLegs(NamedTuple):
    """The legs of one zone, first things first."""

    zone: str
    legs: tuple[Leg, ...]


class Placed(NamedTuple):
    """When a leg runs, and with how many people."""

    starts: int
    ends: int
    hands: int


Placing = tuple[tuple[Placed, ...], ...]
"""A visit in time: every leg of every zone, in the order of `ZoneLegs`."""


def sequence_key(work: Work) -> int:
    """Where a work stands among the works of one zone on one night, first things first.

    Source: dust mop, scrub, repair, hone and polish low to high, densify, fine polish, protector,
    burnish, read, slip test: common practice, no source in one place.
    """
    return SEQUENCE.index(work)


def zone_legs(lines: Sequence[TimedLine]) -> tuple[ZoneLegs, ...]:
    """The legs of a visit's zones, in the order in which the zones are first named.

    Source: the surface's methods; in one zone `sequence_key` rules, not the order of the lines.
    """
    named: dict[str, list[TimedLine]] = {}
    for line in lines:
        named.setdefault(line.zone, []).append(line)
    return tuple(
        ZoneLegs(zone, tuple(leg for line in _in_sequence(own) for leg in _legs(line)))
        for zone, own in named.items()
    )


def _in_sequence(lines: list[TimedLine]) -> list[TimedLine]:
    return sorted(lines, key=lambda line: sequence_key(line.work))


def _legs(line: TimedLine) -> list[Leg]:
    rung = line.rung
    if line.minutes is None and rung is not None and rung.steps and line.area_m2 is not None:
        following = (*rung.steps[1:], None)
        return [
            Leg(
                line.work,
                step.name,
                step_minutes(step, line.area_m2),
                step.people,
                step.wait_minutes,
                step.machine,
                not step.machine,
                # a coat goes on a dry floor; what scrubs, strips or takes up goes on a wet one
                step.wet and after is not None and after.wet and not after.coats,
            )
            for step, after in zip(rung.steps, following, strict=True)
        ]
    minutes = line.minutes or PLAIN_MINUTES.get(line.work, ASSUMED_MINUTES)
    # Typed minutes do not say how long the floor then stays wet; the method's last step does.
    wait = rung.steps[-1].wait_minutes if rung is not None and rung.steps else 0
    return [Leg(line.work, line.work.value, minutes, 1, wait, "", True)]
