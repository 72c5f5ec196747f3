"""How well and how fast wear is known and forecast: `python -m tests.scale.wear`.

`--zones` is the size of the timed fleet; the accuracy study lets `--study` zones live for each of
`--seeds` seeds from `--seed` on. Prints what it finds and, as the last line, one JSON object.
"""

import argparse
import json
import resource
import sys

from tests.scale.departing import AS_THE_LAW, DEPARTING, RESTLESS, World
from tests.scale.wear_speed import speed
from tests.scale.wear_study import figures, look, together

CASES: dict[str, tuple[World, dict[str, int]]] = {
    "departing, monthly": (DEPARTING, {"readings": 24}),
    "departing, two a quarter": (DEPARTING, {"readings": 16}),
    "departing, one a quarter": (DEPARTING, {"readings": 8}),
    "departing, first only": (DEPARTING, {"readings": 1}),
    "departing, taken over": (DEPARTING, {"readings": 8, "first_seen": 365}),
    "restless, monthly": (RESTLESS, {"readings": 24}),
    "as the law, monthly": (AS_THE_LAW, {"readings": 24}),
}
"""The first is the case whose figures stand by themselves in the answer."""


def main(arguments: list[str]) -> None:
    """Run the study and print it."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--zones", type=int, default=100_000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--study", type=int, default=600)
    parser.add_argument("--seeds", type=int, default=5)
    given = parser.parse_args(arguments)
    answer: dict[str, object] = {"zones": given.zones, "seed": given.seed, "seeds": given.seeds}
    timed = speed(given.zones, given.seed)
    timed["peak_mb"] = round(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024)
    print(f"{given.zones} zones: {timed}", flush=True)
    cases: dict[str, object] = {}
    for name, (world, how) in CASES.items():
        parts = [
            look(
                world,
                zones=given.study,
                seed=given.seed + place,
                rival=how["readings"] > 1,
                **how,
            )
            for place in range(given.seeds)
        ]
        cases[name] = found = figures(together(parts))
        print(f"{name}: {found}", flush=True)
    main_case = cases[next(iter(CASES))]
    assert isinstance(main_case, dict)
    print(json.dumps(answer | main_case | timed | {"zones": given.zones, "cases": cases}))


if __name__ == "__main__":
    main(sys.argv[1:])
