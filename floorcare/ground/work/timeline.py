"""Timeline: the steps of a visit in time, waits in one zone used in another, and the closings."""

from collections.abc import Sequence
from functools import lru_cache

from floorcare.ground.work.minutes import ARRIVE_MINUTES, PACK_MINUTES
from floorcare.ground.work.timeline_closings import ISOLATION_MINUTES, closings_of
from floorcare.ground.work.timeline_exact import reopened, shorter
from floorcare.ground.work.timeline_steps import (
    SEQUENCE,
    Leg,
    Placed,
    Placing,
    TimedLine,
    TimedStep,
    ZoneClosing,
    ZoneLegs,
    sequence_key,
    zone_legs,
)

__all__ = [
    "ISOLATION_MINUTES",
    "SEQUENCE",
    "TimedLine",
    "TimedStep",
    "ZoneClosing",
    "lines_minutes",
    "listed",
    "sequence_key",
    "timeline",
    "visit_clock_minutes",
]


def timeline(
    lines: tuple[TimedLine, ...], *, starts_minute: int, people: int
) -> tuple[ZoneClosing, ...]:
    """The closings of a visit's zones, in the order in which the zones are first named.

    Lines of some zones only are one crew's part of a visit; two crews are asked for apart.

    Parameters
    ----------
    lines : in one zone the trade's sequence rules, not the order of the lines.
    starts_minute : arrival, minute of the night's own date.
    people : people of the crew, 1 or more; a step asking for more takes longer.

    Raises
    ------
    ValueError : a crew of nobody, or an area below 0.

    Assumption: one machine of each kind a crew, arrival and isolation minutes as named; the
    product's sheet outranks every wait.
    """
    zones = zone_legs(lines)
    begin = starts_minute + ARRIVE_MINUTES
    # a visit takes its course from its arrival on, whatever the hour
    placing = tuple(
        tuple(Placed(at.starts + begin, at.ends + begin, at.hands) for at in zone)
        for zone in _shortest(zones, people)
    )
    return closings_of(zones, placing)


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
    if not lines:
        return 0
    zones = zone_legs(lines)
    return ARRIVE_MINUTES + reopened(zones, _shortest(zones, people)) + PACK_MINUTES


def listed(zones: Sequence[ZoneLegs], people: int) -> Placing:
    """A visit by list scheduling, minutes counted from its first step.

    Whenever somebody is free, the first zone in order whose next step may begin gets people and
    machine; hand work takes whoever is left over. It is done twice, in the given order of zones
    and with the zone first that has most still before it; the shorter night is taken, the given
    order where both are equal.

    Parameters
    ----------
    people : people of the crew, 1 or more.

    Raises
    ------
    ValueError : a crew of nobody.

    Source: parallel list scheduling with two priorities, a textbook heuristic; it need not find
    the shortest visit.
    """
    if people < 1:
        raise ValueError(f"crew of {people}: allowed 1 or more")
    as_given = _scheduled(zones, people, longest_first=False)
    if len(zones) < 2:
        return as_given
    by_length = _scheduled(zones, people, longest_first=True)
    return min(as_given, by_length, key=lambda placing: reopened(zones, placing))


def _shortest(zones: Sequence[ZoneLegs], people: int) -> Placing:
    """The list schedule, or the shortest visit where that is shorter and was found."""
    found = listed(zones, people)
    return shorter(zones, people, reopened(zones, found)).placing or found


class _Progress:
    """How far a zone has come."""

    __slots__ = ("before_it", "legs", "placed", "ready")

    def __init__(self, legs: Sequence[Leg]) -> None:
        self.legs = legs
        self.placed: list[Placed] = []
        self.ready = 0
        self.before_it = sum(leg.clock + leg.wait for leg in legs)

    @property
    def ahead(self) -> Leg | None:
        return self.legs[len(self.placed)] if len(self.placed) < len(self.legs) else None

    def place(self, leg: Leg, now: int, hands: int) -> None:
        ends = now + leg.minutes(hands)
        self.placed.append(Placed(now, ends, hands))
        self.ready = ends + leg.wait
        self.before_it -= leg.clock + leg.wait


def _scheduled(zones: Sequence[ZoneLegs], people: int, *, longest_first: bool) -> Placing:
    under_way = [_Progress(zone.legs) for zone in zones]
    now = 0
    while any(zone.ahead for zone in under_way):
        order = sorted(under_way, key=lambda z: -z.before_it) if longest_first else under_way
        _start(order, now, people)
        later = {zone.ready for zone in under_way if zone.ahead}
        later |= {at.ends for zone in under_way for at in zone.placed[-1:]}
        now = min((minute for minute in later if minute > now), default=now)
    return tuple(tuple(zone.placed) for zone in under_way)


def _start(zones: Sequence[_Progress], now: int, people: int) -> None:
    """Start every step that may begin now, in the order of the zones."""
    running = [zone for zone in zones if zone.placed and zone.placed[-1].ends > now]
    free = people - sum(zone.placed[-1].hands for zone in running)
    taken = {zone.legs[len(zone.placed) - 1].machine for zone in running} - {""}
    starting: list[tuple[_Progress, Leg, int]] = []
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
        zone.place(leg, now, hands)
