"""Generated weeks: crews, skills, two machines shared by a branch, and a plan made anew.

`python -m tests.scale.week --family generated [--seed S] [--iterations N] [--limit BRANCHES]`.
A branch has 120 visits on 30 crew-nights; with a limit of 5 it is 600 on 150 in five branches,
searched side by side.
"""

import argparse
import random
import resource
from dataclasses import replace
from datetime import timedelta
from itertools import pairwise
from time import perf_counter
from typing import Any

from floorcare.ground.crews.assign import assign_weeks
from floorcare.ground.crews.checker import broken_constraints
from floorcare.ground.crews.first_fit import fit_week
from floorcare.ground.crews.routes.side_by_side import Search
from floorcare.ground.crews.week import BranchWeek, WeekFit
from floorcare.ground.crews.week_change import disturbed, week_edit
from floorcare.ground.crews.worth import OUT_COST, night_cost, week_prices, worth_of
from floorcare.ground.trade.book import SiteBook
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Visit
from tests.builders import a_branch, polished
from tests.ground.crews.weeks import (
    MONDAY,
    a_crew,
    a_machine,
    a_place,
    a_visit,
    a_worker,
    asks,
    held,
    open_from,
)
from tests.scale.plan_care import NOW

SITES, VISITS, CREWS, NEW_VISITS = 60, 120, 6, 4
CARD = "tower badge"
WINDOWS = ((20 * 60, 5 * 60), (22 * 60, 6 * 60), (21 * 60, 4 * 60 + 30))


def a_generated_week(seed: int, visits: int = VISITS, code: str = "EAST") -> BranchWeek:
    """One branch's week: 60 sites within 35 km, six crews of two on five nights.

    A seventh of the sites ask for a badge that three crews hold; a fifth of the visits need the
    three-head polisher, of which the branch has two.
    """
    drawn = random.Random(seed)
    books = {f"S{n:02}": _site(drawn, f"S{n:02}") for n in range(SITES)}
    wished = tuple(_visit(drawn, n) for n in range(visits))
    workers, crews = [], []
    for n in range(CREWS):
        names = (f"w{n}a", f"w{n}b")
        holds = (held(CARD),) if n % 2 == 0 else ()
        workers += [replace(a_worker(name, *holds), branch=code) for name in names]
        crews.append(replace(a_crew(f"C{n}", *names), branch=code))
    machines = tuple(
        replace(machine, places=tuple(replace(p, branch=code) for p in machine.places))
        for machine in (
            a_machine("P1", "planetary_polisher"),
            a_machine("P2", "planetary_polisher"),
        )
    )
    branch = replace(a_branch(latitude=40.0, longitude=-74.0), code=code)
    return BranchWeek(
        branch=branch,
        starts_on=MONDAY,
        books=books,
        visits=wished,
        surfaces={"polished_concrete": polished()},
        crews=tuple(crews),
        workers=tuple(workers),
        machines=machines,
    )


def _site(drawn: random.Random, code: str) -> SiteBook:
    north, east = drawn.uniform(-0.22, 0.22), drawn.uniform(-0.28, 0.28)
    more: dict[str, Any] = dict(open_from(*drawn.choice(WINDOWS)))
    if drawn.random() < 1 / 7:
        more["requirements"] = (asks(CARD),)
    return a_place(code, latitude=40.0 + north, longitude=-74.0 + east, **more)


def _visit(drawn: random.Random, number: int) -> Visit:
    night = MONDAY + timedelta(days=drawn.randrange(5))
    first = max(MONDAY, night - timedelta(days=drawn.randrange(3)))
    last = night + timedelta(days=drawn.randrange(4))
    polishes = drawn.random() < 0.2
    work = Work.REPOLISH if polishes else Work.READING_ROUND
    visit = a_visit(
        f"S{drawn.randrange(SITES):02}",
        night,
        minutes=drawn.choice((120, 150, 180)) if polishes else drawn.choice((45, 60, 75, 90)),
        work=work,
        latest=last,
        key=str(number),
    )
    line = visit.lines[0]
    due = replace(line.due, earliest=first, target=night, latest=last)
    # zones of their own, so that no two visits of a site bind each other's order
    return replace(visit, lines=(replace(line, due=due),))


def comparable(week: BranchWeek, fit: WeekFit) -> int:
    """What a fitted week costs by one measure, whoever fitted it, in hundredths of the currency."""
    prices = week_prices(week.rates, week.branch.code, week.starts_on)
    total = 0
    asked = {visit.uuid: visit for visit in week.visits}
    for night in fit.nights:
        if not night.stops:
            continue
        total += OUT_COST + prices.overtime(night.people) * night.overtime_minutes
        places = [week.branch, *(week.site(s.visit) for s in night.stops), week.branch]
        for one, then in pairwise(places):
            drive, km = week.drive(one, then), week.travel.km(one, then)
            total += prices.drive(drive, km, night.people)
        total += sum(night_cost(asked[s.visit.uuid], s.visit.night) for s in night.stops)
    return total + sum(worth_of(one.visit, week.last_on) for one in fit.unfitted)


def drives(week: BranchWeek, fit: WeekFit) -> int:
    """Minutes of drive in a fitted week."""
    return sum(
        sum(stop.travel_minutes for stop in night.stops) + night.home_minutes
        for night in fit.nights
        if night.stops
    )


def run(args: argparse.Namespace) -> dict[str, Any]:
    """Every branch beside the rule of thumb, one of them planned anew with four visits more."""
    branches = args.limit or 1
    search = Search(
        iterations=args.iterations or 4_000, seed=args.seed, seconds=args.seconds or None
    )
    weeks = [
        a_generated_week(args.seed + n, code="EAST" if not n else f"EAST{n}")
        for n in range(branches)
    ]
    begun = perf_counter()
    fits = assign_weeks(weeks, search, workers=min(2, branches))
    taken = perf_counter() - begun
    told = []
    for week, fit in zip(weeks, fits, strict=True):
        thumb = fit_week(week)
        cost, greedy = comparable(week, fit), comparable(week, thumb)
        told.append(
            {
                "name": f"{week.branch.code} {len(week.visits)} visits, {CREWS * 5} crew-nights",
                "cost": cost,
                "reference": greedy,
                "gap": round(cost / greedy - 1, 4),
                "violations": len(broken_constraints(week, fit)),
                "unplaced": len(fit.unfitted),
                "unplaced_by_thumb": len(thumb.unfitted),
                "drive_minutes": drives(week, fit),
                "drive_minutes_by_thumb": drives(week, thumb),
                "stopped_by": fit.stopped_by,
            }
        )
    return {
        "family": "generated",
        "seed": args.seed,
        "iterations": search.iterations,
        "seconds": round(taken, 1),
        "instances": told,
        "mean_gap": round(sum(one["gap"] for one in told) / len(told), 4),
        "greedy_ratio": round(
            sum(one["cost"] for one in told) / sum(one["reference"] for one in told), 4
        ),
        "replan_changes": _again(weeks[0], fits[0], search, args.seed),
        "peak_mb": round(_peak_mb(), 1),
    }


def _again(week: BranchWeek, fit: WeekFit, search: Search, seed: int) -> dict[str, int]:
    """The week as kept, with four visits more: how many of the rest got another crew or night."""
    edit = week_edit(week, fit, now=NOW)
    moved = {visit.uuid: visit for visit in edit.altered}
    kept = tuple(moved.get(visit.uuid, visit) for visit in week.visits)
    drawn = random.Random(10_000 + seed)
    new = tuple(_visit(drawn, 1_000 + n) for n in range(NEW_VISITS))
    grown = replace(week, visits=(*kept, *new), assigned=edit.assignments)
    again = assign_weeks([grown], search)[0]
    changes = week_edit(grown, again, now=NOW).changes
    fresh = {visit.uuid for visit in new}
    counts = disturbed(change for change in changes if change.visit not in fresh)
    return {
        **counts,
        "new_placed": NEW_VISITS - sum(u.visit.uuid in fresh for u in again.unfitted),
        "violations": len(broken_constraints(grown, again)),
    }


def _peak_mb() -> float:
    """The most memory this process and any of its children held at once."""
    own = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    children = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss
    return (own + children) / 1024
