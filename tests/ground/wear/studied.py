"""An invented fleet as a study gives it, shared by the tests of the plain entry for study."""

from typing import Any

import numpy as np

from floorcare.ground.wear import study
from floorcare.ground.wear.study import LAW, Fit
from tests.ground.wear.fleets import make_fleet

ZONES, DAYS, SPAN, READINGS = 60, 400, 490, 12
FLEET = make_fleet(zones=ZONES, days=DAYS, ahead=SPAN - DAYS, seed=71, readings=READINGS, law=LAW)


def _given() -> dict[str, Any]:
    """History and plan side by side, as a study gives them."""
    columns = FLEET.columns
    work = [
        np.concatenate([done, ahead], axis=1)
        for (_, done), (_, ahead) in zip(columns.treatments, FLEET.plan, strict=True)
    ]
    return {
        "zone": columns.reading_zone,
        "day": columns.reading_day,
        "value": np.exp(columns.reading_ln),
        "stations": columns.reading_stations,
        "after_burnish": columns.reading_after_burnish,
        "footfall": 1000.0 * np.concatenate([columns.thousand_passes, FLEET.passes_ahead], axis=1),
        "counted": columns.counted,
        "traffic": np.arange(ZONES) % 4,
        "repolish": work[0],
        "recoat": work[1],
        "burnish": work[2],
        "today": np.full(ZONES, DAYS - 1),
    }


GIVEN = _given()
FIT = study.estimate(**GIVEN)
AHEAD = np.array([1, 30, 60, 90])
PROMISE = 0.8 * np.exp(FLEET.truth.level[:, 0])
OF_READINGS = ("zone", "day", "value", "stations", "after_burnish")
OF_ZONES = ("footfall", "counted", "traffic", "repolish", "recoat", "burnish", "today")


def again(**change: Any) -> Fit:
    """The same fleet with something changed, under the same pooled values."""
    return study.estimate(**{**GIVEN, "pooled": FIT.pooled, **change})


def readings(kept: np.ndarray) -> dict[str, Any]:
    """Some of the readings, in the order given."""
    return {name: GIVEN[name][kept] for name in OF_READINGS}


def only(zone: int, **change: Any) -> dict[str, Any]:
    """One zone by itself, under the same pooled values."""
    own = GIVEN["zone"] == zone
    given = {**readings(own), **{name: GIVEN[name][[zone]] for name in OF_ZONES}}
    return {**given, "zone": np.zeros(own.sum(), dtype=np.int64), "pooled": FIT.pooled, **change}


def results(fit: Fit) -> tuple[np.ndarray, ...]:
    """All that can be asked of a fit."""
    days = study.first_below(fit, PROMISE[: fit.band_scale.size], 90)
    return (*study.forecast(fit, AHEAD), *study.forecast(fit, AHEAD, before_burnish=False), days)


def assert_same(one: Fit, other: Fit) -> None:
    """To the last bit."""
    for a, b in zip(results(one), results(other), strict=True):
        np.testing.assert_array_equal(a, b)
