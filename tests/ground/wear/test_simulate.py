"""The truth generator follows the law and departs from it only when asked."""

from dataclasses import replace

import numpy as np
import pytest

from floorcare.ground.wear.model import FloorState, expose, ln_gloss, rates_from
from floorcare.ground.wear.simulate import Departure, Truth, read_stations, simulate
from tests.ground.wear.fleets import BURNISH, LAW, quiet

PASSES = np.full((200, 60), 2.0)
BURNT = np.zeros((200, 60), dtype=bool)
BURNT[:, 30] = True


def _truth(departure: Departure | None = None, seed: int = 1, **change: float) -> Truth:
    return simulate(
        replace(LAW, **change),
        thousand_passes=PASSES,
        treatments=((BURNISH, BURNT),),
        u_haze=np.zeros(200),
        u_rest=np.zeros(200),
        level=np.full(200, np.log(50.0)),
        seed=seed,
        departure=departure or Departure(),
    )


def test_without_walks_the_truth_is_the_law() -> None:
    truth = _truth(drift_sd=0.0, shock_sd=0.0)
    state = FloorState.fresh(1, LAW)
    for day in range(10):
        state = expose(state, rates_from(LAW, np.zeros(1), np.zeros(1)), LAW, 2.0)
        assert truth.before[0, day] == pytest.approx(50.0 * np.exp(ln_gloss(state, quiet()))[0])
    assert truth.haze[0, 30] / truth.haze[0, 29] == pytest.approx(0.3, rel=0.06)


def test_the_same_seed_gives_the_same_floor_and_another_another() -> None:
    assert _truth().after.tolist() == _truth().after.tolist()
    assert _truth().after.tolist() != _truth(seed=2).after.tolist()


def test_walks_spread_as_the_law_says() -> None:
    truth = _truth()
    assert truth.level[:, -1].std() == pytest.approx(LAW.drift_sd * np.sqrt(60), rel=0.2)
    assert truth.shock[:, 29].std() == pytest.approx(LAW.shock_sd * np.sqrt(30), rel=0.2)
    assert truth.state(59).haze.tolist() == truth.haze[:, 59].tolist()


@pytest.mark.parametrize(
    "departure",
    [Departure(haze_exponent=1.3), Departure(spill_chance=0.05), Departure(exposure_cv=0.5)],
)
def test_departures_change_the_haze(departure: Departure) -> None:
    plain, other = _truth(), _truth(departure)
    if departure.exposure_cv:
        assert other.haze[:, 20].std() > plain.haze[:, 20].std() + 0.005
        assert other.haze[:, 20].mean() == pytest.approx(plain.haze[:, 20].mean(), rel=0.03)
    else:
        assert other.haze[:, 20].mean() > plain.haze[:, 20].mean() + 0.05


def test_readings_have_the_errors_asked_for() -> None:
    truth = _truth()
    zone = np.repeat(np.arange(200), 20)
    day = np.tile(np.arange(20, 40), 200)
    after = day == 30
    values, gross = read_stations(
        truth, LAW, zone=zone, day=day, after_burnish=after, stations=5, seed=4
    )
    right = np.where(after, truth.after[zone, day], truth.before[zone, day])
    error = np.log(values / right[:, None])
    assert values.shape == (4000, 5)
    assert gross.mean() == pytest.approx(0.04, abs=0.01)
    expected = np.sqrt(LAW.instrument_sd**2 + LAW.station_sd**2 / 5)
    assert error[~gross].mean(axis=1).std() == pytest.approx(expected, rel=0.04)
    assert error[gross].mean(axis=1).std() == pytest.approx(10 * expected, rel=0.2)
    _, none = read_stations(
        truth, LAW, zone=zone, day=day, after_burnish=after, stations=1, seed=4, gross_share=0.0
    )
    assert not none.any()
