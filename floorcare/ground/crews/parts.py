"""Large visits in parts: by zones, for two crews on one night or for several nights."""

from dataclasses import replace

from floorcare.ground.crews.roster import Nights
from floorcare.ground.crews.week import BranchWeek
from floorcare.ground.crews.wishes import Wish, wish_of
from floorcare.ground.schedule.closings import surface_of
from floorcare.ground.schedule.gather import clock_minutes
from floorcare.ground.trade.visit import Visit, VisitLine

MOST_PARTS = 6
"""A visit is cut in so many parts at most. Assumption: past that its site asks for another plan."""


def wishes_of(week: BranchWeek, nights: Nights) -> tuple[Wish, ...]:
    """Every visit of the week as a wish; one too large for any crew-night in parts that are not.

    What nobody could take in parts either stays whole.
    """
    found: list[Wish] = []
    for visit in sorted(week.visits, key=lambda v: (v.night, v.site, v.uuid)):
        wish = wish_of(week, visit, nights)
        if wish.chances or not _is_too_large(visit, nights):
            found.append(wish)
            continue
        found += _parts(week, wish, nights) or [wish]
    return tuple(found)


def _is_too_large(visit: Visit, nights: Nights) -> bool:
    """Whether it is its people or minutes that no crew-night has."""
    zones = {line.zone for line in visit.lines}
    return len(zones) > 1 and bool(_sizes(visit, nights))


def _sizes(visit: Visit, nights: Nights) -> list[int]:
    """How many people the crews have that go out on days the visit may have."""
    near = [n for n in nights.values() if abs((n.on - visit.night).days) <= 6 and n.people]
    return sorted({min(visit.people, night.people) for night in near}, reverse=True)


def _parts(week: BranchWeek, wish: Wish, nights: Nights) -> list[Wish]:
    """The fewest parts that all have a chance; none where there are none."""
    visit = wish.visit
    zones = list(dict.fromkeys(line.zone for line in visit.lines))
    for number in range(2, min(MOST_PARTS, len(zones)) + 1):
        for people in _sizes(visit, nights):
            parts = [_part(week, visit, lines, people) for lines in _shared(visit, zones, number)]
            wishes = [wish_of(week, part, nights) for part in parts]
            if all(one.chances for one in wishes):
                return [
                    replace(one, part=at, parts=number, now=wish.now)
                    for at, one in enumerate(wishes, start=1)
                ]
    return []


def _shared(visit: Visit, zones: list[str], number: int) -> list[tuple[VisitLine, ...]]:
    """The zones dealt out so that each part has about the same minutes, longest first."""
    minutes = {z: sum(line.minutes for line in visit.lines if line.zone == z) for z in zones}
    hands: list[list[str]] = [[] for _ in range(number)]
    for zone in sorted(zones, key=lambda z: (-minutes[z], z)):
        least = min(range(number), key=lambda at: (sum(minutes[z] for z in hands[at]), at))
        hands[least].append(zone)
    return [tuple(line for line in visit.lines if line.zone in set(hand)) for hand in hands]


def _part(week: BranchWeek, visit: Visit, lines: tuple[VisitLine, ...], people: int) -> Visit:
    """The visit with some of its lines and the minutes they take such a crew."""
    zones = {zone.zone.code: zone for zone in week.books[visit.site].zones}
    surfaces = {line.zone: surface_of(zones[line.zone], visit, week.surfaces) for line in lines}
    return replace(
        visit, lines=lines, people=people, minutes=clock_minutes(lines, people, surfaces)
    )
