"""What the exact visit saves beside the list schedule: `python -m tests.scale.timeline`.

Visits are drawn from the surfaces' own methods on areas of 20 to 400 m². Prints a line for each
number of zones and, as the last line, one JSON object.
"""

import argparse
import json
import random
import sys
from dataclasses import dataclass, field
from time import perf_counter

from floorcare.ground.trade.treatment import Work
from floorcare.ground.work.timeline import listed
from floorcare.ground.work.timeline_exact import MOST_NODES, MOST_STEPS, reopened, shorter
from floorcare.ground.work.timeline_steps import TimedLine, ZoneLegs, zone_legs
from floorcare.store.surfaces import load_surfaces

WORKS = (Work.CLEAN, Work.BURNISH, Work.FINE_BURNISH, Work.RECOAT, Work.DEEP_SCRUB, Work.DENSIFY)
MOST_ZONES = 5
SURFACES = load_surfaces()


@dataclass(slots=True)
class Tally:
    """What was found over some visits."""

    cases: int = 0
    searched: int = 0
    cut_off: int = 0
    nodes: int = 0
    most_nodes: int = 0
    list_s: float = 0.0
    search_s: float = 0.0
    slowest_s: float = 0.0
    saved: list[int] = field(default_factory=list)

    def told(self) -> dict[str, float | int]:
        """The figures by name."""
        return {
            "cases": self.cases,
            "searched": self.searched,
            "cut_off": self.cut_off,
            "shorter_share": round(len(self.saved) / self.cases, 4),
            "mean_saved_minutes": round(sum(self.saved) / max(1, len(self.saved)), 2),
            "most_saved_minutes": max(self.saved, default=0),
            "time_ratio": round((self.list_s + self.search_s) / self.list_s, 2),
            "slowest_ms": round(1000 * self.slowest_s, 2),
            "mean_nodes": round(self.nodes / max(1, self.searched), 1),
            "most_nodes": self.most_nodes,
        }


def a_visit(chance: random.Random, zones: int) -> tuple[ZoneLegs, ...]:
    """Zones of one or two works each."""
    surfaces = list(SURFACES.values())
    lines = []
    for zone in range(zones):
        methods = chance.choice(surfaces).methods
        known = [work for work in WORKS if work in methods]
        area_m2 = float(chance.randint(20, 400))
        for work in chance.sample(known, chance.choice([1, 1, 2])):
            lines.append(TimedLine(zone=str(zone), work=work, rung=methods[work], area_m2=area_m2))
    return zone_legs(lines)


def measure(zones: tuple[ZoneLegs, ...], people: int, tallies: tuple[Tally, ...]) -> None:
    """One visit both ways, entered in every tally."""
    start = perf_counter()
    in_hand = reopened(zones, listed(zones, people))
    listed_at = perf_counter()
    found = shorter(zones, people, in_hand)
    took = perf_counter() - listed_at
    for tally in tallies:
        tally.cases += 1
        tally.searched += found.nodes > 0
        tally.cut_off += found.nodes > 0 and not found.proved
        tally.nodes += found.nodes
        tally.most_nodes = max(tally.most_nodes, found.nodes)
        tally.list_s += listed_at - start
        tally.search_s += took
        tally.slowest_s = max(tally.slowest_s, took)
        if found.placing is not None:
            tally.saved.append(in_hand - reopened(zones, found.placing))


def main(argv: list[str]) -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--cases", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=20260301)
    asked = parser.parse_args(argv)
    chance = random.Random(asked.seed)
    whole = Tally()
    by_zones = {zones: Tally() for zones in range(1, MOST_ZONES + 1)}
    for _ in range(asked.cases):
        zones = chance.randint(1, MOST_ZONES)
        measure(a_visit(chance, zones), chance.choice([1, 2, 2, 3]), (whole, by_zones[zones]))
    for zones, tally in by_zones.items():
        if tally.cases:
            print(f"{zones} zones: {tally.told()}")
    bounds = {"most_steps": MOST_STEPS, "node_limit": MOST_NODES, "seed": asked.seed}
    print(json.dumps({**whole.told(), **bounds}))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
