"""Invented pooled values, far enough from the surface's own to be told apart."""

from dataclasses import replace

import numpy as np

from floorcare.ground.wear.pooled import CLASSES, Noise, Pooled, pooled_as
from tests.builders import polished

NOISE = Noise(
    first_reading_sd=0.08,
    instrument_sd=0.015,
    station_sd=0.04,
    drift_sd=0.003,
    shock_sd=0.009,
    day_sd=0.012,
)


def taught(**changed: object) -> Pooled:
    """Polished concrete as a fleet showed it, with some columns written otherwise."""
    made = replace(
        pooled_as(polished().law),
        zones=np.arange(CLASSES),
        mean_haze=np.linspace(-0.3, 0.4, CLASSES),
        mean_rest=np.linspace(0.2, -0.15, CLASSES),
        sd_haze=np.linspace(0.1, 0.45, CLASSES),
        sd_rest=np.linspace(0.15, 0.5, CLASSES),
        correlation=np.linspace(-0.2, 0.5, CLASSES),
        hidden=10 * np.arange(CLASSES),
        inside=np.array([np.nan, *np.linspace(0.78, 0.96, CLASSES - 1)]),
        band_scale=np.linspace(0.9, 1.3, CLASSES),
        noise=NOISE,
    )
    return replace(made, **changed)  # type: ignore[arg-type]
