"""Tours against published ones, through the week's own model, search and checker."""

import argparse
import csv
from pathlib import Path

import pytest

from tests.scale import week_solomon, week_trsp


def steps(iterations: int) -> argparse.Namespace:
    return argparse.Namespace(iterations=iterations, seconds=0.0, seed=1)


@pytest.mark.parametrize(
    ("name", "optimum"),
    [("R101", 617.1), ("C201", 214.7), ("RC201", 360.2)],
)
def test_tours_with_time_windows_of_25_customers_are_optimal(reference_folder, name, optimum):
    # M. M. Solomon (1987), Operations Research 35(2); first 25 customers, legs cut to one decimal,
    # optima as listed with the instances
    folder = Path(reference_folder) / "routing" / "solomon"
    path = folder / "solomon_25" / f"{name}.25.txt"
    found = week_solomon.outcome(path, optimum, steps(1_500))
    assert found.violations == ()
    assert found.cost == pytest.approx(optimum)


def test_the_working_time_of_a_published_route_is_reckoned_as_published(reference_folder):
    # V. Pillac, C. Gueret, A. L. Medaglia (2013), Optimization Letters 7(7): C101, 25 crew,
    # total working time 10717.5161; the route string is theirs
    folder = Path(reference_folder) / "routing" / "trsp_crew25"

    with (folder / "best_known.csv").open(encoding="utf-8", newline="") as lines:
        row = next(r for r in csv.DictReader(lines) if r["instance"].startswith("C101"))
    crew, nodes = week_trsp.read(next(folder.glob("C101*.txt")))
    total = 0.0
    for part in row["solution"].strip("<>").split("|"):
        numbers = [int(number) for number in part.split(",") if number]
        if not numbers:
            continue
        technician, stops = numbers[0], numbers[1:-1]
        # 150 + k is technician k at the base, 125 + k his home
        route = [0 if stop == 150 + technician else stop for stop in stops]
        assert list(week_trsp.breaches(nodes, technician, route)) == []
        total += week_trsp.working_time(nodes, technician, route)
    assert total == pytest.approx(float(row["published_total_working_time"]), abs=1e-3)
    assert crew == 25


def test_technicians_with_skills_tools_and_parts_break_no_published_rule(reference_folder):
    folder = Path(reference_folder) / "routing" / "trsp_crew25"
    published = week_trsp.best_known(folder)["C201.100"]
    found = week_trsp.outcome(next(folder.glob("C201*.txt")), published, steps(40))
    assert found.violations == ()
    assert found.gap < 0.35, "forty steps only; the benchmark searches for longer"
