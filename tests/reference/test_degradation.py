"""Wear paths and threshold crossings against published values and laws.

Sources: W. Q. Meeker & L. A. Escobar (1998), Statistical Methods for Reliability Data, Wiley,
chapter 13 (GaAs lasers); the inverse Gaussian law of a Wiener process with drift as given by
scipy.stats.invgauss; M. Broadie, P. Glasserman & S. Kou (1997), Mathematical Finance 7(4):325-349
(a barrier looked at once a day).
"""

import csv
import json
from collections import defaultdict
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from scipy.stats import invgauss

from floorcare.ground.wear.draws import Draws, walk_noise
from floorcare.ground.wear.filter import run_filter
from floorcare.ground.wear.forecast import first_below
from floorcare.ground.wear.history import Transit, line_up
from floorcare.ground.wear.model import FRESH_SCRATCH, FloorState, Rates
from tests.ground.wear.fleets import LAW

ONE_LOOK_A_DAY = 0.5826
"""−ζ(1/2)/√(2π): a barrier looked at once a step acts like one this many step-sds further away.

Source: Broadie, Glasserman & Kou (1997), theorem 1.1."""


def test_filtered_straight_lines_cross_at_the_published_pseudo_failure_times(
    reference_folder: Path,
) -> None:
    """Meeker & Escobar (1998), chapter 13: 15 lasers, 10 % rise of current, times in hours.

    Our filter with a constant and a slope as the hidden column, no walks and next to no prior is
    the least-squares line of each laser; tolerance: the published rounding to one hour.
    """
    folder = reference_folder / "degradation"
    expected = json.loads((folder / "expected_values.json").read_text(encoding="utf-8"))
    published = expected["gaas_laser"]["published_pseudo_failure_times_hours"]
    paths = defaultdict(list)
    with (folder / "gaas_laser.csv").open(encoding="utf-8", newline="") as file:
        for line in csv.DictReader(file):
            paths[int(line["unit"])].append((float(line["hours"]), float(line["increase"])))
    units = sorted(paths)
    readings = np.array([reading for unit in units for reading in paths[unit]])
    zone = np.repeat(np.arange(15), [len(paths[unit]) for unit in units])
    count, still = readings.shape[0], np.zeros(15)
    row = np.zeros((count, 4))
    row[:, 0], row[:, 1] = 1.0, readings[:, 0] / 1000.0
    filtered = run_filter(
        line_up(zone, 15),
        row=row,
        target=readings[:, 1:],
        variance=np.ones(count),
        to_reading=Transit(
            drift_var=np.zeros(count), shock_kept=np.ones(count), shock_var=np.zeros(count)
        ),
        to_today=Transit(drift_var=still, shock_kept=still + 1, shock_var=still),
        mean=np.zeros((15, 4, 1)),
        covariance=np.broadcast_to(np.diag([1e7, 1e7, 0.0, 0.0]), (15, 4, 4)),
    )
    constant, slope = filtered.mean[:, 0, 0], filtered.mean[:, 1, 0]
    crossing = 1000.0 * (expected["gaas_laser"]["threshold"] - constant) / slope
    assert count == 255
    assert np.round(crossing).tolist() == published


@pytest.mark.parametrize(
    ("fall_a_day", "sd", "loss"), [(0.002, 0.01, 0.2), (0.004, 0.02, 0.3), (0.001, 0.02, 0.25)]
)
def test_first_passage_has_the_inverse_gaussian_law(
    fall_a_day: float, sd: float, loss: float
) -> None:
    """ln gloss as a Wiener process with drift: first passage below a loss is inverse Gaussian.

    The law's straight fall: no finish floor, no film, no haze, so that ln r = −ω falls by the
    scratch rate a day; surface drift is the Wiener part. Mean b/ν, shape b²/σ² with the barrier b
    moved outwards by 0.5826 σ for one look a day. Tolerance 0.012: 20,000 draws leave a standard
    error of 0.0035, and the correction is of first order.
    """
    law = replace(
        LAW,
        ageing=0.0,
        film_rate=0.0,
        finish_floor=0.0,
        haze_loss=0.0,
        film_gloss=0.0,
        film_scratch_share=0.0,
        drift_sd=sd,
        shock_sd=0.0,
    )
    draws_count, days = 20_000, 365
    shape = (1, draws_count)
    draws = Draws(
        rates=Rates(haze=np.zeros(shape), film=np.zeros(shape), scratch=np.full(shape, fall_a_day)),
        level=np.full(shape, np.log(50.0)),
        shock=np.zeros(shape),
        state=FloorState.fresh(shape, law),
    )
    promise = np.array([50.0 * np.exp(-FRESH_SCRATCH - loss)])
    found = first_below(draws, law, np.ones((1, days)), (), promise, 1.0)
    barrier = loss + ONE_LOOK_A_DAY * sd
    mean, lamda = barrier / fall_a_day, (barrier / sd) ** 2
    expected = invgauss.cdf(np.arange(1, days + 1), mean / lamda, scale=lamda)
    assert found.prob_by_day[0] == pytest.approx(expected, abs=0.012)
    # What a day's own distribution says comes too late: a path that dips and recovers has broken.
    drift, _ = walk_noise(draws_count, days, law)
    below = (drift - fall_a_day * np.arange(1, days + 1) < -loss).mean(axis=0)
    running = np.maximum.accumulate(below)
    assert (found.prob_by_day[0] >= running).all()
    assert (found.prob_by_day[0] - running).max() > 0.05
