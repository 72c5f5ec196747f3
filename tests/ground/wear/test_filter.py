"""The filter against the plain matrix formulas of a joint normal, written out without recursion."""

import numpy as np
import pytest

from floorcare.ground.wear.filter import run_filter, without_itself
from floorcare.ground.wear.history import Transit, line_up

ZONES, WIDTH = 3, 4
ZONE = np.array([0, 0, 0, 0, 0, 2, 2])


def _case() -> dict[str, np.ndarray]:
    random = np.random.default_rng(5)
    count = ZONE.size
    mean = random.standard_normal((ZONES, WIDTH, 2))
    mean[:, -2:] = 0.0
    root = random.standard_normal((ZONES, WIDTH, WIDTH))
    covariance = root @ root.transpose(0, 2, 1)
    covariance[:, -2:, :] = covariance[:, :, -2:] = 0.0
    row = random.standard_normal((count, WIDTH))
    row[:, -2:] = 1.0
    return {
        "row": row,
        "target": random.standard_normal((count, 2)),
        "variance": random.uniform(0.1, 1.0, count),
        "drift": random.uniform(0.0, 0.5, count + ZONES),
        "kept": random.choice([1.0, 0.3, 0.0], count + ZONES),
        "shock": random.uniform(0.0, 0.5, count + ZONES),
        "mean": mean,
        "covariance": covariance,
    }


def _run(case: dict[str, np.ndarray]):  # type: ignore[no-untyped-def]
    count = ZONE.size
    lineup = line_up(ZONE, ZONES)
    ways = [
        Transit(
            drift_var=case["drift"][part],
            shock_kept=case["kept"][part],
            shock_var=case["shock"][part],
        )
        for part in (slice(0, count), slice(count, None))
    ]
    filtered = run_filter(
        lineup,
        row=case["row"],
        target=case["target"],
        variance=case["variance"],
        to_reading=ways[0],
        to_today=ways[1],
        mean=case["mean"],
        covariance=case["covariance"],
    )
    others = without_itself(lineup, row=case["row"], to_reading=ways[0], filtered=filtered)
    return filtered, others


def _joint(case: dict[str, np.ndarray], zone: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Prior covariance of a zone's readings, of them with today's column, and of that column."""
    own = np.flatnonzero(zone == ZONE)
    places = [*own, ZONE.size + zone]
    base = case["covariance"][zone]
    covariances = []  # of the hidden column at each place, and across places
    drift, shock = 0.0, 0.0
    for place in places:
        drift += case["drift"][place]
        shock = shock * case["kept"][place] ** 2 + case["shock"][place]
        at = base.copy()
        at[-2, -2] += drift
        at[-1, -1] += shock
        covariances.append(at)

    def across(early: int, late: int) -> np.ndarray:
        at = covariances[early].copy()
        for place in places[early + 1 : late + 1]:
            at[-1, -1] *= case["kept"][place]
        return at

    n = own.size
    seen = case["row"][own]
    among = np.empty((n, n))
    for i in range(n):
        for j in range(n):
            among[i, j] = seen[i] @ across(min(i, j), max(i, j)) @ seen[j]
    with_today = np.array([seen[i] @ across(i, n) for i in range(n)]).reshape(n, WIDTH)
    return among + np.diag(case["variance"][own]), with_today, covariances[-1]


def test_the_filter_equals_conditioning_a_joint_normal() -> None:
    case = _case()
    filtered, _ = _run(case)
    for zone in range(ZONES):
        own = np.flatnonzero(zone == ZONE)
        among, with_today, today = _joint(case, zone)
        off = case["target"][own] - case["row"][own] @ case["mean"][zone]
        mean = case["mean"][zone] + with_today.T @ np.linalg.solve(among, off)
        covariance = today - with_today.T @ np.linalg.solve(among, with_today)
        assert filtered.mean[zone] == pytest.approx(mean, abs=1e-10)
        assert filtered.covariance[zone] == pytest.approx(covariance, abs=1e-10)


def test_what_the_others_say_equals_leaving_the_reading_out() -> None:
    case = _case()
    _, (off, off_var) = _run(case)
    for zone in (0, 2):
        own = np.flatnonzero(zone == ZONE)
        among, _, _ = _joint(case, zone)
        residual = (case["target"][own] - case["row"][own] @ case["mean"][zone])[:, 0]
        for place in range(own.size):
            rest = np.arange(own.size) != place
            by = np.linalg.solve(among[np.ix_(rest, rest)], among[rest, place])
            assert off[own[place]] == pytest.approx(residual[place] - by @ residual[rest])
            assert off_var[own[place]] == pytest.approx(
                among[place, place] - by @ among[rest, place]
            )
