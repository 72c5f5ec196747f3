"""The shortest visit of a few zones and steps, by branch and bound beside the list schedule.

Steps are placed in the order of their beginnings, each as early as people, machine and the wait
before it allow, with every number of people that makes a difference. Any visit whose steps cannot
begin earlier is met on this way, so a shortest one is.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from floorcare.ground.work.timeline_steps import Leg, Placed, Placing, ZoneLegs

MOST_STEPS = 12
"""Visits of more steps keep their list schedule. Assumption."""

MOST_NODES = 1500
"""After so many placed steps the search stops. Assumption."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shorter:
    """What a search for a shorter visit came to.

    placing : the shortest visit, None where none is shorter or the search was cut off.
    bound : no visit is shorter than so many minutes, from its first step to the last reopening.
    nodes : steps placed in the search.
    proved : whether nothing shorter is left to be found.
    """

    placing: Placing | None
    bound: int
    nodes: int
    proved: bool


def reopened(zones: Sequence[ZoneLegs], placing: Placing) -> int:
    """The minute at which the last zone reopens, 0 for a visit without zones.

    Source: the last step's end and its wait, arithmetic.
    """
    return max(
        (placed[-1].ends + zone.legs[-1].wait for zone, placed in zip(zones, placing, strict=True)),
        default=0,
    )


def shorter(
    zones: Sequence[ZoneLegs],
    people: int,
    than: int,
    *,
    most_steps: int = MOST_STEPS,
    most_nodes: int = MOST_NODES,
) -> Shorter:
    """The shortest visit if it is shorter than a given one.

    Parameters
    ----------
    people : people of the crew, 1 or more.
    than : minutes of the visit in hand, from its first step to its last reopening.
    most_steps, most_nodes : beyond them there is no search, or none further.

    Source: branch and bound on schedules built forward in time; bounds by a zone's own chain, by
    the people's minutes and by each machine's: textbook scheduling.
    """
    steps = sum(len(zone.legs) for zone in zones)
    if len(zones) < 2 or steps > most_steps:
        return Shorter(placing=None, bound=0, nodes=0, proved=len(zones) < 2)
    search = _Search(zones, people, than, most_nodes)
    proved = search.run()
    return Shorter(
        placing=search.placing() if proved else None,
        bound=search.least,
        nodes=search.nodes,
        proved=proved,
    )


class _Mode(NamedTuple):
    """A leg done by so many people."""

    hands: int
    minutes: int


class _Busy(NamedTuple):
    """People and machine at work until a minute."""

    until: int
    hands: int
    machine: str


class _State(NamedTuple):
    """A visit half placed.

    now, last : start and zone of the step placed last; zone -1 where order does not matter.
    at : how many legs of each zone are placed; `ready` when its next may begin.
    """

    now: int
    last: int
    at: tuple[int, ...]
    ready: tuple[int, ...]
    busy: tuple[_Busy, ...]


class _Child(NamedTuple):
    """A step that may come next; the smallest is tried first."""

    bound: int
    starts: int
    less_before_it: int
    zone: int
    placed: Placed
    after: _State


class _Rest(NamedTuple):
    """What is before a zone from one of its legs on.

    minutes : least clock minutes with waits; `effort` least person-minutes.
    machines : of each machine still needed: minutes before its first use, of use, after its last.
    """

    minutes: int
    effort: int
    machines: dict[str, tuple[int, int, int]]


@dataclass(slots=True)
class _Chain:
    """A zone's legs with the ways to do them and what is before it at each."""

    legs: tuple[Leg, ...]
    modes: list[tuple[_Mode, ...]]
    rests: list[_Rest]


def _modes(leg: Leg, people: int) -> tuple[_Mode, ...]:
    """The ways to do a leg, quickest first; one more person who saves no minute is no way."""
    need = min(leg.people, people)
    most = people if leg.shared else need
    by_minutes = {leg.minutes(hands): hands for hands in range(most, need - 1, -1)}
    return tuple(_Mode(hands, minutes) for minutes, hands in sorted(by_minutes.items()))


def _chain(legs: tuple[Leg, ...], people: int) -> _Chain:
    modes = [_modes(leg, people) for leg in legs]
    rest = _Rest(0, 0, {})
    rests = [rest]
    for leg, ways in zip(reversed(legs), reversed(modes), strict=True):
        quickest = ways[0].minutes
        machines = {
            machine: (before + quickest + leg.wait, use, after)
            for machine, (before, use, after) in rest.machines.items()
        }
        if leg.machine:
            _, use, after = rest.machines.get(leg.machine, (0, 0, leg.wait + rest.minutes))
            machines[leg.machine] = (0, use + quickest, after)
        rest = _Rest(
            rest.minutes + quickest + leg.wait,
            rest.effort + min(way.hands * way.minutes for way in ways),
            machines,
        )
        rests.append(rest)
    return _Chain(legs, modes, rests[::-1])


@dataclass(slots=True)
class _Step:
    """A step placed, linked to those before it."""

    zone: int
    placed: Placed
    before: "_Step | None"


@dataclass(slots=True)
class _Search:
    """Depth first, the child with the lowest bound first; states met before are left."""

    zones: Sequence[ZoneLegs]
    people: int
    best: int
    most_nodes: int
    nodes: int = 0
    least: int = 0
    chains: list[_Chain] = field(init=False)
    found: _Step | None = None
    met: set[_State] = field(default_factory=set)

    def __post_init__(self) -> None:
        self.chains = [_chain(zone.legs, self.people) for zone in self.zones]

    def run(self) -> bool:
        """Whether the search came to its end."""
        none = (0,) * len(self.chains)
        start = _State(0, -1, none, none, ())
        self.least = self.bound(start)
        return self.best <= self.least or self.below(start, None)

    def below(self, state: _State, before: _Step | None) -> bool:
        """Search below a state; False where the nodes ran out."""
        for bound, _, _, zone, placed, after in sorted(self.children(state)):
            if bound >= self.best:
                break
            if after in self.met:
                continue
            self.met.add(after)
            self.nodes += 1
            if self.nodes > self.most_nodes:
                return False
            step = _Step(zone, placed, before)
            if all(n == len(c.legs) for n, c in zip(after.at, self.chains, strict=True)):
                self.best, self.found = bound, step
            elif not self.below(after, step):
                return False
            if self.best <= self.least:
                return True
        return True

    def children(self, state: _State) -> Iterator[_Child]:
        """Every step that may come next, by zone and number of people."""
        for zone, chain in enumerate(self.chains):
            at = state.at[zone]
            if at == len(chain.legs):
                continue
            leg = chain.legs[at]
            for mode in chain.modes[at]:
                starts = self.earliest(state, state.ready[zone], leg.machine, mode.hands)
                # of steps that begin together the zone named first is placed first
                if starts == state.now and zone < state.last:
                    continue
                placed = Placed(starts, starts + mode.minutes, mode.hands)
                after = _after(state, zone, leg, placed)
                yield _Child(
                    self.bound(after), starts, -chain.rests[at].minutes, zone, placed, after
                )

    def earliest(self, state: _State, ready: int, machine: str, hands: int) -> int:
        """When a step may begin at the earliest, not before the step placed last."""
        starts = max(state.now, ready)
        for until in sorted({0, *(one.until for one in state.busy)}):
            then = max(starts, until)
            running = [one for one in state.busy if one.until > then]
            free = self.people - sum(one.hands for one in running)
            if free >= hands and not (machine and any(one.machine == machine for one in running)):
                return then
        raise AssertionError("with nobody busy a step of the crew's own size can begin")

    def bound(self, state: _State) -> int:
        """No visit that goes on from here is over sooner."""
        now, least, effort, dries = state.now, 0, 0, None
        needed: dict[str, list[int]] = {}
        for chain, at, ready in zip(self.chains, state.at, state.ready, strict=True):
            rest = chain.rests[at]
            least = max(least, ready + rest.minutes)
            effort += rest.effort
            last = chain.legs[-1].wait
            if at < len(chain.legs) or ready - last > now:
                dries = last if dries is None else min(dries, last)
            begins = max(ready, now)
            for machine, (before, use, after) in rest.machines.items():
                sums = needed.setdefault(machine, [begins + before, 0, after])
                sums[:] = min(sums[0], begins + before), sums[1] + use, min(sums[2], after)
        effort += sum((one.until - now) * one.hands for one in state.busy)
        least = max(least, now + -(-effort // self.people) + (dries or 0))
        for machine, (begins, use, after) in needed.items():
            free = max((one.until for one in state.busy if one.machine == machine), default=0)
            least = max(least, max(begins, free) + use + after)
        return least

    def placing(self) -> Placing | None:
        """The shortest visit found, None where there was none."""
        if self.found is None:
            return None
        placed: list[list[Placed]] = [[] for _ in self.zones]
        step: _Step | None = self.found
        while step is not None:
            placed[step.zone].append(step.placed)
            step = step.before
        return tuple(tuple(reversed(zone)) for zone in placed)


def _after(state: _State, zone: int, leg: Leg, placed: Placed) -> _State:
    now = placed.starts
    busy = [one for one in state.busy if one.until > now]
    if placed.ends > now:
        busy.append(_Busy(placed.ends, placed.hands, leg.machine))
    at, ready = list(state.at), list(state.ready)
    at[zone] += 1
    ready[zone] = placed.ends + leg.wait
    # a step without length hides nothing that begins with it
    last = zone if placed.ends > now else -1
    return _State(now, last, tuple(at), tuple(ready), tuple(sorted(busy)))
