"""Small levellings drawn at random, and their optimum by trying every choice of nights."""

import random
from collections.abc import Sequence
from datetime import date
from itertools import product

from floorcare.ground.schedule.gather import SiteNights, Stub, clock_minutes
from floorcare.ground.schedule.level.overload import Movable, Room, by_code, cost, overload
from floorcare.ground.schedule.place import Wanted
from floorcare.ground.trade.treatment import Work
from tests.builders import DAY, TODAY, a_due, a_line, a_night, nights_of, polished


def a_visit(
    code: str, load: int, *on: int, home: int | None = None, site: str | None = None
) -> Movable:
    """A visit that may take some nights, counted from today; at home on the first of them."""
    nights = tuple(TODAY + n * DAY for n in sorted(on))
    at = nights[0] if home is None else TODAY + home * DAY
    return Movable(code=code, site=site or code, load=load, nights=nights, home=at)


def a_room(*minutes: int) -> dict[date, int]:
    """Crew-minutes of one night after another, from today."""
    return {TODAY + n * DAY: each for n, each in enumerate(minutes)}


def drawn(seed: int, visits: int = 5, nights: int = 5) -> tuple[list[Movable], dict[date, int]]:
    """Visits with windows of one to four nights, some of one site, on tight nights."""
    chance = random.Random(seed)
    found: list[Movable] = []
    taken: set[tuple[str, int]] = set()
    for number in range(chance.randint(2, visits)):
        first = chance.randrange(nights)
        window = range(first, min(nights, first + chance.randint(1, 4)))
        home = chance.choice(window)
        site = chance.choice(["SHARED", f"S{number}"])
        if (site, home) in taken:
            site = f"S{number}"
        taken.add((site, home))
        load = chance.randint(50, 300)
        found.append(a_visit(f"V{number}", load, *window, home=home, site=site))
    return by_code(found), a_room(*(chance.choice([0, 200, 400]) for _ in range(nights)))


def optimum(visits: Sequence[Movable], room: Room) -> tuple[int, int]:
    """Least overload, and the least displacement with it, over every choice of nights."""
    return min(
        (overload(visits, chosen, room), cost(visits, chosen))
        for chosen in product(*(visit.nights for visit in visits))
        if len({(v.site, on) for v, on in zip(visits, chosen, strict=True)}) == len(visits)
    )


SURFACES = {zone: polished() for zone in ("A", "B", "LANE")}
TRAVEL = 40


def open_nights(first: int = 1, last: int = 60, **more: object) -> SiteNights:
    """The weeknights of some days ahead."""
    on = (TODAY + n * DAY for n in range(first, last + 1))
    return nights_of([a_night(day, **more) for day in on if day.weekday() < 5])  # type: ignore[arg-type]


def asked(
    site: str,
    minutes: int,
    first: int,
    target: int,
    last: int,
    *,
    nights: SiteNights | None = None,
    stands_on: date | None = None,
    **more: object,
) -> Wanted:
    """A visit of one cleaning, gathered to its target; all days count from today."""
    due = a_due(
        Work.CLEAN,
        site=site,
        zone="A",
        minutes=minutes,
        earliest=TODAY + first * DAY,
        target=TODAY + target * DAY,
        latest=TODAY + last * DAY,
        **more,  # type: ignore[arg-type]
    )
    open_to_us = nights or open_nights()
    lines = (a_line(due),)
    long = clock_minutes(lines, open_to_us.people, SURFACES)
    stub = Stub(
        site=site,
        night=next((n for n in open_to_us.nights if n.on == due.target), a_night(due.target)),
        lines=lines,
        earliest=due.earliest,
        latest=due.latest,
        minutes=long,
    )
    return Wanted(
        stub=stub, stands_on=stands_on, load=long + TRAVEL, site=open_to_us, surfaces=SURFACES
    )
