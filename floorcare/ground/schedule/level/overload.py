"""Nights that ask for more crew-minutes than there are, as plain numbers that can be levelled."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True, kw_only=True)
class Movable:
    """A visit that may choose its night.

    code : what it is sorted by where all else is equal.
    load : clock minutes of one crew, travel included.
    nights : rising; the open nights its windows allow, its home among them.
    home : the night it stands on, or was gathered to.
    """

    code: str
    site: str
    load: int
    nights: tuple[date, ...]
    home: date


@dataclass(frozen=True, slots=True, kw_only=True)
class Levelled:
    """A night for each visit, and how good that is.

    nights : in the order of the visits given.
    over_before, over_minutes : crew-minutes above the nights' room with every visit at home, and
        as levelled.
    bound_minutes : no choice of nights comes below it.
    moved_days : days between home and chosen night, summed over visits.
    proven : no other choice has less overload, nor as little with fewer days.
    """

    nights: tuple[date, ...]
    over_before: int
    over_minutes: int
    bound_minutes: int
    moved_days: int
    proven: bool


Room = Mapping[date, int]
"""Crew-minutes left on each night, none below 0; a night that is missing has none."""


def overload(visits: Sequence[Movable], chosen: Sequence[date], room: Room) -> int:
    """Crew-minutes above the nights' room."""
    load: Counter[date] = Counter()
    for visit, on in zip(visits, chosen, strict=True):
        load[on] += visit.load
    return sum(max(0, minutes - room.get(on, 0)) for on, minutes in load.items())


def displacement(visit: Movable, on: date, visits: int) -> int:
    """What a night costs a visit: its days from home, and a little more where it is later.

    visits : how many are levelled together, so that all their little together is below one day.
    """
    return abs((on - visit.home).days) * (visits + 1) + (on > visit.home)


def cost(visits: Sequence[Movable], chosen: Sequence[date]) -> int:
    """The displacement of all visits."""
    return sum(displacement(v, on, len(visits)) for v, on in zip(visits, chosen, strict=True))


def by_code(visits: Iterable[Movable]) -> list[Movable]:
    """The visits in the one order in which they are levelled, whatever order they came in."""
    return sorted(visits, key=lambda v: (v.code, v.site, v.home, v.load, v.nights))


def apart(visits: Sequence[Movable]) -> tuple[tuple[Movable, ...], ...]:
    """The visits in groups that share no night, each of which can be levelled alone."""
    group: dict[date, date] = {}

    def root(on: date) -> date:
        while group.setdefault(on, on) != on:
            group[on] = group[group[on]]
            on = group[on]
        return on

    for visit in visits:
        first = root(visit.nights[0])
        for on in visit.nights[1:]:
            other = root(on)
            if other != first:
                first, other = min(first, other), max(first, other)
                group[other] = first
    found: dict[date, list[Movable]] = {}
    for visit in visits:
        found.setdefault(root(visit.nights[0]), []).append(visit)
    return tuple(tuple(found[on]) for on in sorted(found))


def result(
    visits: Sequence[Movable],
    chosen: Sequence[date],
    room: Room,
    *,
    bound: int,
    proven: bool = False,
) -> Levelled:
    """The account of a choice of nights."""
    return Levelled(
        nights=tuple(chosen),
        over_before=overload(visits, [v.home for v in visits], room),
        over_minutes=overload(visits, chosen, room),
        bound_minutes=bound,
        moved_days=sum(abs((on - v.home).days) for v, on in zip(visits, chosen, strict=True)),
        proven=proven,
    )
