"""How well wear is known and forecast, on invented fleets: `python -m tests.scale.wear`.

Prints what it does and, as the last line, one JSON object.
"""

import argparse
import json
import resource
import sys
import time
from dataclasses import replace

import numpy as np

from floorcare.ground.wear.draws import Draws, draw
from floorcare.ground.wear.estimate import estimate
from floorcare.ground.wear.forecast import bands, first_below, walk_ahead
from floorcare.ground.wear.model import Floats, ln_gloss, rates_from
from floorcare.ground.wear.simulate import AS_THE_LAW, Departure
from tests.ground.wear.fleets import LAW, Fleet, make_fleet, taken_over

DAYS = (30, 60, 90)
HISTORY_DAYS = 730
PER_QUARTER = {"six a quarter": 48, "two a quarter": 16, "one a quarter": 8, "first only": 1}
DEPARTING = Departure(haze_exponent=0.85, exposure_cv=0.4, spill_chance=0.004)


def known_exactly(fleet: Fleet) -> Floats:
    """Median gloss (Z, H) of one who knows true state, walks and rates, but not what comes."""
    rates = rates_from(LAW, fleet.u_haze[:, None], fleet.u_rest[:, None])
    state = fleet.truth.state(fleet.today)
    draws = Draws(
        rates=rates,
        level=fleet.truth.level[:, fleet.today, None],
        shock=fleet.truth.shock[:, fleet.today, None],
        state=type(state)(
            haze=state.haze[:, None], film=state.film[:, None], scratch=state.scratch[:, None]
        ),
    )
    still = replace(LAW, drift_sd=0.0, shock_sd=0.0)
    nights = walk_ahead(draws, still, fleet.passes_ahead, fleet.plan)
    ln = [(before.base + before.shock + ln_gloss(before.state, LAW))[:, 0] for before, _ in nights]
    return np.exp(np.stack(ln, axis=1))


def study(fleet: Fleet, first_day: int = 0, opening: int = 0) -> dict[str, object]:
    """Errors, coverage and times of one fleet; readings only from `first_day`."""
    columns = taken_over(fleet.columns, first_day, opening) if first_day else fleet.columns
    began = time.perf_counter()
    fit = estimate(columns, LAW)
    fitted = time.perf_counter()
    draws = draw(fit)
    drawn = time.perf_counter()
    ahead = bands(draws, LAW, fleet.passes_ahead, fleet.plan)
    seen = time.perf_counter()
    promise = 0.8 * np.exp(fleet.truth.level[:, 0])
    found = first_below(draws, LAW, fleet.passes_ahead, fleet.plan, promise, 1.0)
    ended = time.perf_counter()
    exact, has = known_exactly(fleet), fit.readings > 0
    truth = fleet.truth.before[:, fleet.today + 1 :]
    low, high = ahead.lower[2], ahead.upper[2]
    inside = (low <= truth) & (truth <= high)
    mae = [float(np.abs(ahead.median - truth)[has, day - 1].mean()) for day in DAYS]
    known = [float(np.abs(exact - truth)[has, day - 1].mean()) for day in DAYS]
    alive = has & (fleet.truth.before[:, fleet.today] >= promise)
    below = truth < promise[:, None]
    first = np.where(below.any(axis=1), below.argmax(axis=1) + 1.0, np.inf)
    early, late = first < found.days[:, 0], first > found.days[:, 2]
    crossed = alive & np.isfinite(first)
    return {
        "mae": [round(x, 3) for x in mae],
        "mae_over_irreducible": [round(x / y, 3) for x, y in zip(mae, known, strict=True)],
        "coverage": [round(float(inside[has, day - 1].mean()), 3) for day in DAYS],
        "crossing_coverage": round(float(1 - (early | late)[alive].mean()), 3),
        "crossed": int(crossed.sum()),
        "crossed_coverage": round(float(1 - (early | late)[crossed].mean()), 3)
        if crossed.any()
        else None,
        "early": round(float(early[alive].mean()), 3),
        "late": round(float(late[alive].mean()), 3),
        "settled": round(float(fit.settled.mean()), 3),
        "seconds": {
            "estimate": round(fitted - began, 3),
            "draw": round(drawn - fitted, 3),
            "bands": round(seen - drawn, 3),
            "first_below": round(ended - seen, 3),
        },
    }


def main(arguments: list[str]) -> None:
    """Run the study and print it."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--zones", type=int, default=400)
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args(arguments)
    answer: dict[str, object] = {"zones": given.zones, "seed": given.seed}
    kinds = {"as the law": AS_THE_LAW, "departing": DEPARTING}
    for kind, departure in kinds.items():
        for rhythm, readings in PER_QUARTER.items():
            fleet = make_fleet(
                zones=given.zones,
                days=HISTORY_DAYS,
                ahead=max(DAYS),
                seed=given.seed,
                readings=readings,
                departure=departure,
            )
            answer[f"{kind}, {rhythm}"] = found = study(fleet)
            print(f"{kind}, {rhythm}: {found}")
            if rhythm == "two a quarter":
                for name, opening in (("taken over", 3), ("taken over, believed fresh", 0)):
                    answer[f"{kind}, {name}"] = found = study(fleet, 600, opening)
                    print(f"{kind}, {name}: {found}")
    main_case = answer["departing, two a quarter"]
    assert isinstance(main_case, dict)
    answer |= {key: main_case[key] for key in ("mae", "mae_over_irreducible", "coverage")}
    answer["peak_mb"] = round(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024)
    print(json.dumps(answer))


if __name__ == "__main__":
    main(sys.argv[1:])
