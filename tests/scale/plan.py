"""A year's plan of many zones, database to database: `python -m tests.scale.plan [--zones N]`.

Prints what it does and, as the last line, one JSON object. The plan is set against a floor measured
in the same run: estimate and forecast of the same zones by the wear study, and raw reading and
writing of the same rows. One reading is then planned by itself, from its commit to the committed
difference, at three sites in turn.
"""

import argparse
import json
import resource
import sqlite3
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from types import ModuleType
from typing import Any

import numpy as np

from floorcare.ground.schedule import branch_year
from floorcare.ground.trade.book import Portfolio
from floorcare.ground.trade.reading import Measure, Reading, SurfaceState
from floorcare.ground.wear import study
from floorcare.services import plan_year as service
from floorcare.services.plan_year import YearAccount, plan_year
from floorcare.store.open import Store, open_store
from floorcare.store.surfaces import load_surfaces
from tests.scale.plan_care import (
    AHEAD_DAYS,
    HISTORY_DAYS,
    NOW,
    TODAY,
    ZONES_A_BRANCH,
    ZONES_A_SITE,
    fleet_of,
)

SURFACES = load_surfaces()
MADE = ("plan", "due", "visit", "visit_line", "visit_event")
"""Tables a plan writes; all others it reads."""
PHASES: tuple[tuple[ModuleType, str, str], ...] = (
    (service, "_load", "load"),
    (service, "look_at_sites", "look"),
    (service, "settled_year", "settle"),
    (branch_year, "_placed", "level"),
    (service, "_write", "write"),
)
"""Steps of a plan that are timed; levelling is part of settling."""
ONE_READING_SITES = 3


@contextmanager
def timed(seconds: dict[str, float]) -> Iterator[None]:
    """Add up the wall seconds of each phase while the block runs."""
    kept = [(module, name, getattr(module, name)) for module, name, _ in PHASES]
    for module, name, word in PHASES:
        setattr(module, name, _clocked(getattr(module, name), word, seconds))
    try:
        yield
    finally:
        for module, name, function in kept:
            setattr(module, name, function)


def _clocked(
    function: Callable[..., Any], word: str, seconds: dict[str, float]
) -> Callable[..., Any]:
    def clocked(*args: object, **more: object) -> object:
        began = time.perf_counter()
        try:
            return function(*args, **more)
        finally:
            seconds[word] = seconds.get(word, 0.0) + time.perf_counter() - began

    return clocked


def say(done: int, total: int) -> None:
    """Tell how far a plan is."""
    print(f"  {done} of {total} sites", flush=True)


def planned(store: Store, *sites: str, later: int = 0) -> tuple[float, YearAccount]:
    """Wall seconds of a plan, and what it came to."""
    began = time.perf_counter()
    account = plan_year(
        store,
        SURFACES,
        today=TODAY,
        now=NOW + timedelta(minutes=10 + later),
        who="scale",
        tell=service.silent if sites else say,
        sites=sites,
    )
    return time.perf_counter() - began, account


def one_reading(store: Store, code: str, later: int) -> tuple[float, bool]:
    """Seconds from the commit of a low reading at a site to its committed difference."""
    with store.work() as work:
        (book,) = work.books([code])
    zone = book.zones[1]
    last = zone.readings[-1]
    low = Reading(
        zone=zone.zone.code,
        station="",
        taken_on=TODAY,
        taken_minute=600,
        measure=Measure.GLOSS,
        value=round(0.85 * last.value, 1),
        state=SurfaceState.AFTER_BURNISH,
        geometry_deg=60,
    )
    read = replace(book, zones=(replace(zone, readings=(low,)),))
    with store.work(writes=True) as work:
        work.put_portfolio(Portfolio(books=(read,)), who="scale", now=NOW)
        work.commit()
    seconds, account = planned(store, code, later=later)
    return seconds, account.written


def wear_floor(zones: int, seed: int) -> float:
    """Seconds of estimating and forecasting the same zones by the study, what is common known."""
    seconds, pooled = 0.0, None
    for number, start in enumerate(range(0, zones, ZONES_A_BRANCH)):
        given = _given(min(ZONES_A_BRANCH, zones - start), seed + number)
        if pooled is None:
            pooled = study.estimate(**given).pooled
        began = time.perf_counter()
        study.forecast(study.estimate(**given, pooled=pooled), (30, 60, 90))
        seconds += time.perf_counter() - began
    return seconds


def _given(zones: int, seed: int) -> dict[str, Any]:
    fleet = fleet_of(zones, seed)
    columns = fleet.columns
    passes = np.concatenate([columns.thousand_passes, fleet.passes_ahead], axis=1)
    repolish, recoat, burnish = (
        np.concatenate([past, ahead], axis=1)
        for (_, past), (_, ahead) in zip(columns.treatments, fleet.plan, strict=True)
    )
    assert passes.shape[1] == HISTORY_DAYS + AHEAD_DAYS
    return {
        "zone": columns.reading_zone,
        "day": columns.reading_day,
        "value": np.exp(columns.reading_ln),
        "stations": columns.reading_stations,
        "after_burnish": columns.reading_after_burnish,
        "footfall": (1000.0 * passes).astype(np.float32),
        "counted": columns.counted,
        "traffic": np.digitize(1000.0 * passes.mean(axis=1), (250.0, 1000.0, 4000.0)),
        "burnish": burnish,
        "recoat": recoat,
        "repolish": repolish,
        "today": np.full(zones, HISTORY_DAYS - 1),
    }


def rows_floor(file: Path) -> float:
    """Seconds of reading every row a plan reads, and of writing every row it wrote, by sqlite3."""
    source = sqlite3.connect(file)
    schema = source.execute(
        "select name, sql from sqlite_master where type = 'table' and name not like 'sqlite_%'"
    ).fetchall()
    began = time.perf_counter()
    for name, _ in schema:
        if name not in MADE:
            source.execute(f'select * from "{name}"').fetchall()
    reading = time.perf_counter() - began
    made = {name: source.execute(f'select * from "{name}"').fetchall() for name in MADE}
    source.close()
    target = sqlite3.connect(file.with_suffix(".rows"))
    for name, sql in schema:
        if name in MADE:
            target.execute(sql)
    began = time.perf_counter()
    for name, rows in made.items():
        if rows:
            marks = ", ".join("?" * len(rows[0]))
            target.executemany(f'insert into "{name}" values ({marks})', rows)
    target.commit()
    writing = time.perf_counter() - began
    target.close()
    return reading + writing


def figures(zones: int, seed: int, folder: Path) -> dict[str, object]:
    """Make the care, plan it, read one floor more, and set both against the floor."""
    file, seconds = folder / "floorcare.db", dict[str, float]()
    print(f"Making the care of {zones:,} zones.", flush=True)
    began = time.perf_counter()
    maker = [sys.executable, "-m", "tests.scale.plan_care", str(file)]
    subprocess.run([*maker, "--zones", str(zones), "--seed", str(seed)], check=True)
    made_s = time.perf_counter() - began
    store = open_store(f"sqlite:///{file}")
    print("Planning 52 weeks.", flush=True)
    with timed(seconds):
        plan_s, account = planned(store)
    peak_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"  {account.visits:,} visits, {account.lines:,} lines in {plan_s:.1f} s.", flush=True)
    floor_rows = rows_floor(file)
    with store.work() as work:
        codes = [site.code for site in work.sites()]
    chosen = [codes[at * len(codes) // ONE_READING_SITES] for at in range(ONE_READING_SITES)]
    single = [one_reading(store, code, later) for later, code in enumerate(chosen, start=1)]
    print(f"  One reading: {', '.join(f'{s:.2f} s' for s, _ in single)}.", flush=True)
    store.close()
    floor_wear = wear_floor(zones, seed)
    return {
        "zones": zones,
        "sites": account.sites,
        "visits": account.visits,
        "visit_lines": account.lines,
        "unplaced": len(account.unplaced),
        "ratio_to_floor": round(plan_s / (floor_wear + floor_rows), 2),
        "incremental_ratio": round(statistics.median(s for s, _ in single) / plan_s, 4),
        "incremental_written": sum(written for _, written in single),
        "level_s": round(seconds.get("level", 0.0), 2),
        "peak_mb": round(peak_mb),
        "plan_s": round(plan_s, 2),
        "incremental_s": round(statistics.median(s for s, _ in single), 3),
        "floor_wear_s": round(floor_wear, 2),
        "floor_rows_s": round(floor_rows, 2),
        "made_s": round(made_s, 2),
        "phases_s": {word: round(spent, 2) for word, spent in sorted(seconds.items())},
    }


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--zones", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    if asked.zones < ZONES_A_SITE * ONE_READING_SITES:
        parser.error(f"at least {ZONES_A_SITE * ONE_READING_SITES} zones are needed")
    with tempfile.TemporaryDirectory() as folder:
        print(json.dumps(figures(asked.zones, asked.seed, Path(folder))))


if __name__ == "__main__":
    main()
