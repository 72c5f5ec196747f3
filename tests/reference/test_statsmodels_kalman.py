"""Estimate and evidence against another Kalman filter on the same linear case.

Source: statsmodels.tsa.statespace (S. Seabold & J. Perktold (2010), statsmodels: Econometric and
statistical modeling with Python, 9th Python in Science Conference), its filter with time-varying
matrices; the formulas are those of Durbin & Koopman (2012), chapter 4.
"""

from dataclasses import replace

import numpy as np
import pytest
from statsmodels.tsa.statespace.kalman_filter import KalmanFilter

from floorcare.ground.wear.estimate import before_readings
from floorcare.ground.wear.prior import prior_from
from floorcare.ground.wear.sight import CURVED, LEVEL, SHOCK, WIDTH, see, slopes
from floorcare.ground.wear.solve import LEVEL_LN_MEAN, LEVEL_LN_SD, log_evidence, solve
from tests.ground.wear.fleets import LAW, make_fleet

ZONES, WITHIN = 8, 1e-8
COLUMNS = replace(
    make_fleet(zones=ZONES, days=300, ahead=1, seed=13, readings=10).columns,
    opening=np.array([0, 1, 2, 3, 0, 3, 2, 0]),
    opening_about_days=np.full(ZONES, 20.0),
)
NOISY = replace(LAW, day_sd=0.02, drift_sd=0.004, shock_sd=0.02)
SIGHT = see(COLUMNS, NOISY)
AT = np.random.default_rng(1).normal(0.0, 0.2, (CURVED, ZONES))
LN, SLOPE = slopes(COLUMNS, NOISY, SIGHT, AT)
START, KNOWN = before_readings(prior_from(NOISY, COLUMNS.counted), CURVED)
GIVEN = (SIGHT, LN, SLOPE, AT, SIGHT.variance, START, KNOWN)


def _theirs(zone: int) -> KalmanFilter:
    """One zone: states u_h, u_r, three offsets (constant), level (a walk), shock (a cut walk)."""
    own = np.flatnonzero(SIGHT.zone == zone)
    count = own.size
    ways = [(SIGHT.to_reading, place) for place in own] + [(SIGHT.to_today, zone)]
    model = KalmanFilter(k_endog=1, k_states=WIDTH, k_posdef=2)
    read = SIGHT.ln[own] - LN[own] + (SLOPE[:, own] * AT[:, [zone]]).sum(axis=0)
    model.bind(read[:, None])
    design = np.ones((1, WIDTH, count))
    design[0, :CURVED] = SLOPE[:, own]
    model["design"] = design
    model["obs_cov"] = SIGHT.variance[own][None, None]
    transition = np.repeat(np.eye(WIDTH)[:, :, None], count, axis=2)
    moved = np.zeros((2, 2, count))
    for place, (way, at) in enumerate(ways[1:]):
        transition[SHOCK, SHOCK, place] = way.shock_kept[at]
        moved[0, 0, place], moved[1, 1, place] = way.drift_var[at], way.shock_var[at]
    model["transition"], model["state_cov"] = transition, moved
    selection = np.zeros((WIDTH, 2, 1))
    selection[LEVEL, 0] = selection[SHOCK, 1] = 1.0
    model["selection"] = selection
    way, at = ways[0]
    before = np.zeros((WIDTH, WIDTH))
    before[:CURVED, :CURVED] = np.linalg.inv(KNOWN[zone])
    before[LEVEL, LEVEL] = LEVEL_LN_SD**2 + way.drift_var[at]
    before[SHOCK, SHOCK] = way.shock_var[at]
    model.initialize_known(np.r_[START[:, zone], LEVEL_LN_MEAN, 0.0], before)
    return model


@pytest.mark.parametrize("zone", range(ZONES))
def test_the_hidden_column_is_theirs(zone: int) -> None:
    theirs = _theirs(zone).filter()
    solved = solve(*GIVEN)
    mean, covariance = theirs.predicted_state[:, -1], theirs.predicted_state_cov[:, :, -1]
    along, curved = solved.walks_with[:, :, zone], solved.covariance[zone]
    assert np.r_[solved.mean[:, zone], solved.walks[:, zone]] == pytest.approx(mean, abs=WITHIN)
    assert curved == pytest.approx(covariance[:CURVED, :CURVED], abs=WITHIN)
    assert -along @ curved == pytest.approx(covariance[CURVED:, :CURVED], abs=WITHIN)
    walks = solved.walks_covariance[:, :, zone] + along @ curved @ along.T
    assert walks == pytest.approx(covariance[CURVED:, CURVED:], abs=WITHIN)


def test_the_evidence_is_their_likelihood() -> None:
    """Ours leaves ln √2π a reading out."""
    found = log_evidence(*GIVEN)
    for zone in range(ZONES):
        count = int((SIGHT.zone == zone).sum())
        theirs = _theirs(zone).filter().llf + 0.5 * count * np.log(2 * np.pi)
        assert found[zone] == pytest.approx(theirs, abs=WITHIN)
