"""How long the wear model takes on many zones, beside the bare passes over the same arrays."""

import time

import numpy as np
from numpy.typing import NDArray

from floorcare.ground.wear import study

CHUNK = 8192
HISTORY, AHEAD, READINGS = 730, 90, 24
FOOTFALL = np.array([120.0, 500.0, 2000.0, 6000.0], dtype=np.float32)


def chunk(zones: int, seed: int) -> dict[str, NDArray[np.generic]]:
    """A chunk of zones, two burnishes a week, three recoats, one re-polish, 24 readings each."""
    random = np.random.Generator(np.random.PCG64(seed))
    days = HISTORY + AHEAD
    traffic = random.integers(0, 4, zones)
    footfall = random.random((zones, days), dtype=np.float32)
    footfall *= 2.0 * FOOTFALL[traffic][:, None]
    weekday = np.arange(days) % 7
    every, row = np.zeros((2, zones, days), dtype=np.bool_), np.arange(zones)
    for _ in range(3):
        every[0][row, random.integers(0, days, zones)] = True
    every[1][row, random.integers(0, days, zones)] = True
    when = np.sort(random.integers(0, HISTORY, (zones, READINGS)), axis=1)
    when[:, 0] = 0
    return {
        "zone": np.repeat(row, READINGS),
        "day": when.ravel(),
        "value": np.exp(random.normal(3.7, 0.06, zones * READINGS)),
        "stations": np.full(zones * READINGS, 5),
        "after_burnish": random.random(zones * READINGS) < 0.5,
        "footfall": footfall,
        "counted": random.random(zones) < 0.5,
        "traffic": traffic,
        "burnish": np.broadcast_to((weekday == 2) | (weekday == 5), (zones, days)).copy(),
        "recoat": every[0],
        "repolish": every[1],
        "today": np.full(zones, HISTORY - 1),
    }


def bare_passes(footfall: NDArray[np.float32]) -> float:
    """Seconds of a cumulative sum, two exponentials and a product over zones × days."""
    began = time.perf_counter()
    passed = np.cumsum(footfall, axis=1)
    film = np.exp(passed * np.float32(-4.4e-6))
    haze = np.exp(footfall * np.float32(-2.5e-5))
    _ = film * haze
    return time.perf_counter() - began


def speed(zones: int, seed: int) -> dict[str, float]:
    """Seconds and ratios of the fleet, made and fed in chunks; learned from the first."""
    floor = fitting = passage = 0.0
    pooled = None
    for start in range(0, zones, CHUNK):
        given = chunk(min(CHUNK, zones - start), seed + start)
        floor += bare_passes(given["footfall"])
        began = time.perf_counter()
        fit = study.estimate(**given, pooled=pooled)
        study.forecast(fit, (30, 60, 90))
        fitting += time.perf_counter() - began
        pooled = fit.pooled
        began = time.perf_counter()
        study.first_below(fit, np.full(fit.band_scale.size, 33.0), AHEAD)
        passage += time.perf_counter() - began
    one = chunk(1, seed)
    study.estimate(**one, pooled=pooled)
    began = time.perf_counter()
    study.estimate(**one, pooled=pooled)
    alone = time.perf_counter() - began
    return {
        "floor_seconds": round(floor, 3),
        "ratio_to_floor": round(fitting / floor, 2),
        "first_below_ratio_to_floor": round(passage / floor, 2),
        "zones_per_second": round(zones / fitting),
        "one_zone_ms": round(1000 * alone, 2),
    }
