"""The hidden column and the evidence against the plain formulas of a joint normal law."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.stats import multivariate_normal

from floorcare.ground.wear.estimate import before_readings
from floorcare.ground.wear.prior import prior_from
from floorcare.ground.wear.sight import CURVED, Sight, see, slopes
from floorcare.ground.wear.solve import (
    LEVEL_LN_MEAN,
    LEVEL_LN_SD,
    Solved,
    log_evidence,
    solve,
)
from tests.ground.wear.fleets import LAW, make_fleet
from tests.ground.wear.joint import joint_of

ZONES = 4
COLUMNS = replace(
    make_fleet(zones=ZONES, days=200, ahead=1, seed=7, readings=7).columns,
    opening=np.array([0, 3, 2, 0]),
    opening_about_days=np.array([0.0, 0.0, 30.0, 0.0]),
    start_day=np.array([0, 40, 0, 199]),  # the last zone has hardly a reading in its life
)
WIDE = replace(LAW, drift_sd=0.01, shock_sd=0.05, day_sd=0.02)


def _given(sight: Sight, curved: int) -> tuple[np.ndarray, ...]:
    random = np.random.default_rng(11)
    at = random.normal(0.0, 0.2, (curved, ZONES))
    start, known = before_readings(prior_from(WIDE, COLUMNS.counted), curved)
    start = start + random.normal(0.0, 0.1, start.shape)
    variance = sight.variance / random.uniform(0.2, 1.0, sight.zone.size)
    ln, slope = slopes(COLUMNS, WIDE, sight, at)
    return ln, slope, at, variance, start, known


SIGHT = see(COLUMNS, WIDE)
GIVEN = _given(SIGHT, CURVED)
SOLVED: Solved = solve(SIGHT, *GIVEN)


def _plain(zone: int) -> tuple[np.ndarray, ...]:
    """Readings (n,), their mean, their covariance with errors, and their covariance (n, 7) with
    the curved numbers, level and shock today, whose own mean and covariance come last."""
    ln, slope, at, variance, start, known = GIVEN
    own = np.flatnonzero(SIGHT.zone == zone)
    walks = joint_of(
        LEVEL_LN_SD**2, SIGHT.to_reading.rows(own), SIGHT.to_today.rows(np.array([zone]))
    )
    before = np.linalg.inv(known[zone])
    row = slope[:, own].T
    expected = LEVEL_LN_MEAN + ln[own] + row @ (start[:, zone] - at[:, zone])
    among = walks.among + row @ before @ row.T + np.diag(variance[own])
    across = np.concatenate([row @ before, walks.with_today], axis=1)
    mean = np.r_[start[:, zone], LEVEL_LN_MEAN, 0.0]
    covariance = np.zeros((CURVED + 2, CURVED + 2))
    covariance[:CURVED, :CURVED], covariance[CURVED:, CURVED:] = before, walks.today
    return own, SIGHT.ln[own], expected, among, across, mean, covariance


def test_there_are_zones_with_many_readings_and_one_with_none() -> None:
    count = np.bincount(SIGHT.zone, minlength=ZONES)
    assert count.min() == 0
    assert count.max() == 7


@pytest.mark.parametrize("zone", range(ZONES))
def test_the_hidden_column_equals_conditioning_a_joint_normal(zone: int) -> None:
    _, read, expected, among, across, mean, covariance = _plain(zone)
    found = mean + across.T @ np.linalg.solve(among, read - expected)
    spread = covariance - across.T @ np.linalg.solve(among, across)
    curved, walks = SOLVED.mean[:, zone], SOLVED.walks[:, zone]
    along = SOLVED.walks_with[:, :, zone]
    assert np.r_[curved, walks] == pytest.approx(found, abs=1e-8)
    of_curved = SOLVED.covariance[zone]
    assert of_curved == pytest.approx(spread[:CURVED, :CURVED], abs=1e-8)
    assert -along @ of_curved == pytest.approx(spread[CURVED:, :CURVED], abs=1e-8)
    of_walks = SOLVED.walks_covariance[:, :, zone] + along @ of_curved @ along.T
    assert of_walks == pytest.approx(spread[CURVED:, CURVED:], abs=1e-8)


@pytest.mark.parametrize("zone", range(ZONES))
def test_each_reading_is_held_against_what_the_others_of_its_zone_predict(zone: int) -> None:
    own, read, expected, among, *_ = _plain(zone)
    for place in range(own.size):
        rest = np.arange(own.size) != place
        by = np.linalg.solve(among[np.ix_(rest, rest)], among[rest, place])
        off = read[place] - expected[place] - by @ (read - expected)[rest]
        left = among[place, place] - by @ among[rest, place]
        assert SOLVED.off[own[place]] == pytest.approx(off, abs=1e-8)
        assert SOLVED.off_var[own[place]] == pytest.approx(left, abs=1e-8)


def test_the_evidence_is_the_density_of_the_readings() -> None:
    """Up to ln √2π a reading, against scipy's multivariate normal density."""
    found = log_evidence(SIGHT, *GIVEN)
    for zone in range(ZONES):
        own, read, expected, among, *_ = _plain(zone)
        density = 0.0
        if own.size:
            density = multivariate_normal(expected, among).logpdf(read)
            density += 0.5 * own.size * np.log(2.0 * np.pi)
        assert found[zone] == pytest.approx(density, abs=1e-8)


def test_a_fresh_fleet_has_two_curved_numbers_and_the_same_answer() -> None:
    """Offsets that nothing sees change neither the rest nor the evidence."""
    columns = replace(COLUMNS, opening=np.zeros(ZONES, dtype=np.int64))
    sight = see(columns, WIDE)
    start, known = before_readings(prior_from(WIDE, columns.counted), 2)
    at = np.full((2, ZONES), 0.1)
    ln, slope = slopes(columns, WIDE, sight, at)
    short = (sight, ln, slope, at, sight.variance, start, known)
    start, known = before_readings(prior_from(WIDE, columns.counted), CURVED)
    wide = np.concatenate([at, np.zeros((3, ZONES))])
    ln, slope = slopes(columns, WIDE, sight, wide)
    long = (sight, ln, slope, wide, sight.variance, start, known)
    assert solve(*short).mean == pytest.approx(solve(*long).mean[:2], abs=1e-10)
    assert solve(*short).walks == pytest.approx(solve(*long).walks, abs=1e-10)
    assert solve(*short).off == pytest.approx(solve(*long).off, abs=1e-10)
    assert log_evidence(*short) == pytest.approx(log_evidence(*long), abs=1e-9)


def test_a_zone_does_not_feel_its_neighbours() -> None:
    ln, slope, at, variance, start, known = GIVEN
    for zone in (0, 1):
        own = np.flatnonzero(SIGHT.zone == zone)
        alone = see(COLUMNS.rows(np.array([zone])), WIDE)
        here = (slice(None), np.array([zone]))
        found = solve(
            alone, ln[own], slope[:, own], at[here], variance[own], start[here], known[[zone]]
        )
        assert found.mean[:, 0] == pytest.approx(SOLVED.mean[:, zone], abs=1e-12)
        assert found.walks[:, 0] == pytest.approx(SOLVED.walks[:, zone], abs=1e-12)
