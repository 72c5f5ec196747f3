"""How long the overloaded weeks of a branch take to level, and how near to the least they come.

    python -m tests.scale.levelling --visits 400 --seed 1

prints one JSON object last: `level_s` seconds, overload before and after in crew-minutes with the
bound, late work before and after, and greedy beside exact.
"""

import argparse
import json
import random
import time
from dataclasses import dataclass

from floorcare.ground.schedule.level.exactly import level_exactly
from floorcare.ground.schedule.level.greedily import level_greedily
from floorcare.ground.schedule.level.levelling import place_levelled
from floorcare.ground.schedule.level.overload import Levelled, Movable, apart, by_code
from floorcare.ground.schedule.place import Placed, Wanted, crew_minutes, place
from tests.builders import DAY, TODAY, WEEKNIGHTS, a_branch, a_night, nights_of
from tests.ground.schedule.levelled import TRAVEL, asked

SHARE_IN_SEASONS = 0.25
CREWS = 2
SEASONS = (90, 270)
SEASON_DAYS = 9.0
"""A quarter of the year's visits fall in each of two seasons of about four weeks."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Year:
    """A branch's invented year: as it is placed, and as bare numbers."""

    wanted: list[Wanted]
    movable: list[Movable]
    room: dict


def a_year(visits: int, seed: int) -> Year:
    """Visits over 52 weeks with two seasons in which the crews are short."""
    chance = random.Random(seed)
    on = (TODAY + n * DAY for n in range(1, 420))
    open_to_us = nights_of([a_night(day) for day in on if day.weekday() in WEEKNIGHTS])
    days = [(n.on - TODAY).days for n in open_to_us.nights if (n.on - TODAY).days < 364]
    wanted, movable = [], []
    room = {n.on: crew_minutes(a_branch(crews=CREWS)) for n in open_to_us.nights}
    for number in range(visits):
        drawn = chance.random()
        season = next((s for i, s in enumerate(SEASONS, 1) if drawn < i * SHARE_IN_SEASONS), None)
        wished = chance.gauss(season, SEASON_DAYS) if season else chance.uniform(1, 363)
        target = min(days, key=lambda n: abs(n - wished))
        width = chance.randint(4, 21)
        before = chance.randint(0, width)
        first, last = max(1, target - before), target + width - before
        minutes = chance.randint(120, 700)
        one = asked(f"S{number:04}", minutes, first, target, last, nights=open_to_us)
        wanted.append(one)
        window = [n.on for n in open_to_us.nights if one.stub.earliest <= n.on <= one.stub.latest]
        movable.append(
            Movable(
                code=one.stub.site,
                site=one.stub.site,
                load=one.load,
                nights=tuple(window),
                home=one.stub.night.on,
            )
        )
    return Year(wanted=wanted, movable=by_code(movable), room=room)


def late(placed: Placed) -> int:
    """Crew-minutes placed after their latest night."""
    return sum(s.minutes + TRAVEL for s in placed.stubs if s.night.on > s.latest)


def told(found: list[Levelled], seconds: float) -> dict[str, float | int]:
    """A levelling of all groups in figures."""
    return {
        "seconds": round(seconds, 2),
        "over_after": sum(one.over_minutes for one in found),
        "bound": sum(one.bound_minutes for one in found),
        "moved_days": sum(one.moved_days for one in found),
        "groups": len(found),
        "groups_proven": sum(one.proven for one in found),
    }


def levelling(visits: int, seed: int) -> dict[str, object]:
    """The figures of one branch's year."""
    year = a_year(visits, seed)
    branch = a_branch(crews=CREWS)
    first = place(year.wanted, branch, {})
    began, cpu = time.perf_counter(), time.process_time()
    placed = place_levelled(year.wanted, branch, {})
    level_s = time.perf_counter() - began
    cpu_s = time.process_time() - cpu
    nightly = place_levelled(year.wanted, branch, {}, single_nights=True)
    figures: dict[str, object] = {
        "visits": visits,
        "crew_minutes_a_night": crew_minutes(branch),
        "level_s": round(level_s, 2),
        "level_cpu_s": round(cpu_s, 2),
        "late_minutes_placed": late(first),
        "late_minutes_levelled": late(placed),
        "late_minutes_levelled_by_night": late(nightly),
        "unplaced_placed": len(first.unplaced),
        "unplaced_levelled": len(placed.unplaced),
    }
    groups = apart(year.movable)
    for name, level in (("greedy", level_greedily), ("exact", level_exactly)):
        began = time.perf_counter()
        found = [level(group, year.room) for group in groups]
        figures[name] = told(found, time.perf_counter() - began)
        figures["over_before"] = sum(one.over_before for one in found)
    return figures


def main() -> None:
    """Level a year and print what came of it."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--visits", type=int, default=400)
    parser.add_argument("--seed", type=int, default=1)
    asked_for = parser.parse_args()
    print(json.dumps(levelling(asked_for.visits, asked_for.seed)))


if __name__ == "__main__":
    main()
