"""First days below promise against the law of a Wiener process's first passage.

Sources: the inverse Gaussian density of the first passage of a Wiener process with drift
(E. Schrödinger (1915), Physikalische Zeitschrift 16:289-295; J. L. Folks & R. S. Chhikara (1978),
Journal of the Royal Statistical Society B 40:263-289), integrated by scipy's quadrature and held
against scipy.stats.invgauss; M. Broadie, P. Glasserman & S. Kou (1997), Mathematical Finance
7(4):325-349 (a barrier looked at once a day).
"""

from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.stats import invgauss

from floorcare.ground.trade.surface import WearLaw
from floorcare.ground.wear.ahead import first_day_below
from floorcare.ground.wear.columns import WearColumns
from floorcare.ground.wear.draws import Draws, walk_noise
from floorcare.ground.wear.estimate import Fit, estimate
from floorcare.ground.wear.forecast import first_below
from floorcare.ground.wear.model import FRESH_SCRATCH, FloorState, Rates
from floorcare.ground.wear.prior import Prior
from tests.ground.wear.fleets import LAW

ONE_LOOK_A_DAY = 0.5826
"""−ζ(1/2)/√(2π): a barrier looked at once a step acts like one this many step-sds further away.

Source: Broadie, Glasserman & Kou (1997), theorem 1.1."""
DRAWS, DAYS = 8_192, 365
WITHIN = 0.012
"""Mirrored draws, so many, leave a standard error of 0.0055 at most, and the correction is of first
order."""
CASES = [(0.002, 0.01, 0.2), (0.004, 0.02, 0.3), (0.001, 0.02, 0.25)]


def _straight(sd: float, fall_a_day: float) -> WearLaw:
    """A straight fall: no finish floor, no film, no haze, so that ln r = −ω falls by the scratch
    rate a day; surface drift is the Wiener part."""
    return replace(
        LAW,
        ageing=0.0,
        film_rate=0.0,
        scratch_rate=fall_a_day,
        finish_floor=0.0,
        haze_loss=0.0,
        film_gloss=0.0,
        film_scratch_share=0.0,
        drift_sd=sd,
        shock_sd=0.0,
        first_reading_sd=1e-6,
        instrument_sd=1e-6,
        station_sd=0.0,
    )


def _passed(fall_a_day: float, sd: float, loss: float) -> np.ndarray:
    """Probability of having fallen below by each day, by quadrature of the density."""
    barrier = loss + ONE_LOOK_A_DAY * sd

    def density(t: float) -> float:
        off = barrier - fall_a_day * t
        return float(
            barrier / np.sqrt(2 * np.pi * sd**2 * t**3) * np.exp(-(off**2) / (2 * sd**2 * t))
        )

    steps = [quad(density, day, day + 1, epsabs=1e-12)[0] for day in range(DAYS)]
    return np.cumsum(steps)


@pytest.mark.parametrize(("fall_a_day", "sd", "loss"), CASES)
def test_quadrature_and_the_named_law_agree(fall_a_day: float, sd: float, loss: float) -> None:
    """Mean b/ν, shape b²/σ², with the barrier b moved outwards for one look a day."""
    barrier = loss + ONE_LOOK_A_DAY * sd
    mean, lamda = barrier / fall_a_day, (barrier / sd) ** 2
    named = invgauss.cdf(np.arange(1, DAYS + 1), mean / lamda, scale=lamda)
    assert _passed(fall_a_day, sd, loss) == pytest.approx(named, abs=1e-9)


@pytest.mark.parametrize(("fall_a_day", "sd", "loss"), CASES)
def test_first_passage_of_draws_has_the_inverse_gaussian_law(
    fall_a_day: float, sd: float, loss: float
) -> None:
    law, shape = _straight(sd, fall_a_day), (1, DRAWS)
    draws = Draws(
        rates=Rates(haze=np.zeros(shape), film=np.zeros(shape), scratch=np.full(shape, fall_a_day)),
        level=np.full(shape, np.log(50.0)),
        shock=np.zeros(shape),
        state=FloorState.fresh(shape, law),
    )
    promise = np.array([50.0 * np.exp(-FRESH_SCRATCH - loss)])
    found = first_below(draws, law, np.ones((1, DAYS)), (), promise, 1.0)
    assert found.prob_by_day[0] == pytest.approx(_passed(fall_a_day, sd, loss), abs=WITHIN)
    # What a day's own distribution says comes too late: a path that dips and recovers has broken.
    drift, _ = walk_noise(DRAWS, DAYS, law)
    below = (drift - fall_a_day * np.arange(1, DAYS + 1) < -loss).mean(axis=0)
    running = np.maximum.accumulate(below)
    assert (found.prob_by_day[0] >= running).all()
    assert (found.prob_by_day[0] - running).max() > 0.05


def _read_once(law: WearLaw) -> Fit:
    """A floor that nobody walks on, read exactly today; its rates are known."""
    one, none = np.ones(1), np.zeros(1, dtype=np.int64)
    columns = WearColumns(
        thousand_passes=np.zeros((1, 1)),
        treatments=(),
        reading_zone=none,
        reading_day=none,
        reading_ln=np.log(50.0 * one) - FRESH_SCRATCH,
        reading_stations=none + 1,
        reading_after_burnish=none > 0,
        counted=none == 0,
        opening=none,
        opening_about_days=np.zeros(1),
        start_day=none,
    )
    known = Prior(
        mean_haze=0 * one,
        mean_rest=0 * one,
        sd_haze=1e-6 * one,
        sd_rest=1e-6 * one,
        correlation=0 * one,
    )
    return estimate(columns, law, known)


@pytest.mark.parametrize(("fall_a_day", "sd", "loss"), CASES)
def test_first_passage_along_the_tangent_has_the_inverse_gaussian_law(
    fall_a_day: float, sd: float, loss: float
) -> None:
    """Each quantile's day is the first on which the law's probability reaches it, within 0.012."""
    fit = _read_once(_straight(sd, fall_a_day))
    asked = tuple(np.linspace(0.02, 0.98, 49).tolist())
    promise = np.array([50.0 * np.exp(-FRESH_SCRATCH - loss)])
    days = first_day_below(
        fit, np.ones((1, DAYS)), (), promise, asked, seen_haze_kept=1.0, draws=DRAWS
    )[0]
    passed = np.r_[0.0, _passed(fall_a_day, sd, loss), np.inf]
    place = np.minimum(days, DAYS + 1).astype(np.int64)
    assert (passed[place] >= np.array(asked) - WITHIN).all()
    assert (passed[place - 1] <= np.array(asked) + WITHIN).all()
    assert np.isfinite(days).sum() > 20
