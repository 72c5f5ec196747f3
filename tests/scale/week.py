"""The week beside published tours and a rule of thumb: `python -m tests.scale.week --family F`.

Families: solomon (time windows), pvrp (days fixed to the supplied solution), trsp (technicians with
skills, tools and parts), generated (our own weeks). The published ones are read from the folder
given or from FLOORCARE_REFERENCE, and go through the same model, search and checker as a week of
crews. Prints a line an instance and, as the last line, one JSON object.
"""

import argparse
import json
import os
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path
from statistics import fmean
from typing import Any

FAMILIES = ("solomon", "pvrp", "trsp", "generated")


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """One instance solved: its cost beside the published one, and every limit it breaks."""

    name: str
    cost: float
    reference: float
    violations: tuple[str, ...]
    iterations: int = 0

    @property
    def gap(self) -> float:
        """By how much it costs more than the published value."""
        return self.cost / self.reference - 1.0

    def told(self) -> dict[str, Any]:
        """The outcome for the last line."""
        return {
            "name": self.name,
            "cost": round(self.cost, 2),
            "reference": round(self.reference, 2),
            "gap": round(self.gap, 5),
            "violations": len(self.violations),
            "iterations": self.iterations,
        }


def folder_of(given: str, family: str, mark: str) -> Path:
    """The family's folder: the one given, or that of its name below it.

    Parameters
    ----------
    mark : a file or folder that tells the family's own folder.
    """
    base = Path(given or os.environ.get("FLOORCARE_REFERENCE", "../shared/reference"))
    for place in (base, base / family, base / "routing" / family):
        if (place / mark).exists():
            return place
    raise SystemExit(f"{base} holds no {family} instances: give their folder with --data")


def main() -> None:
    """Run a family and print what came of it."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--family", choices=FAMILIES, required=True)
    parser.add_argument("--data", default="", help="folder of the published instances")
    parser.add_argument("--seconds", type=float, default=0.0, help="a cap for each instance")
    parser.add_argument("--iterations", type=int, default=0, help="steps of each search")
    parser.add_argument("--limit", type=int, default=0, help="only so many instances")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", default="", help="only instances whose name begins so")
    args = parser.parse_args()
    if args.family == "generated":
        from tests.scale.week_generated import run

        print(json.dumps(run(args)))
        return
    module = import_module(f"tests.scale.week_{args.family}")
    outcomes = list(_told(module.outcomes(args), args.limit))
    if not outcomes:
        raise SystemExit("no instance was found")
    print(
        json.dumps(
            {
                "family": args.family,
                "seconds_each": args.seconds,
                "iterations_each": args.iterations,
                "seed": args.seed,
                "instances": [one.told() for one in outcomes],
                "mean_gap": round(fmean(one.gap for one in outcomes), 5),
                "violations": sum(len(one.violations) for one in outcomes),
            }
        )
    )


def search_of(args: argparse.Namespace, share: float = 1.0) -> dict[str, Any]:
    """How long one search lasts: steps where they are given, else the seconds of an instance.

    Parameters
    ----------
    share : share of the instance's seconds that this search may take.
    """
    seconds = args.seconds * share if args.seconds else None
    steps = args.iterations or (10**9 if seconds else 2_000)
    return {"iterations": steps, "seed": args.seed, "seconds": seconds}


def _told(outcomes: Iterator[Outcome], limit: int) -> Iterator[Outcome]:
    for number, one in enumerate(outcomes, start=1):
        broken = f"; BROKEN: {one.violations[0]}" if one.violations else ""
        print(f"{one.name}: {one.cost:.2f} beside {one.reference:.2f}, {one.gap:+.2%}{broken}")
        sys.stdout.flush()
        yield one
        if number == limit:
            return


if __name__ == "__main__":
    main()
