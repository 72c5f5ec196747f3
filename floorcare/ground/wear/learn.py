"""Pooled values of a fleet: what its zones have in common, estimated from all their readings."""

from dataclasses import replace
from statistics import NormalDist

import numpy as np

from floorcare.ground.trade.surface import WearLaw
from floorcare.ground.wear.columns import WearColumns
from floorcare.ground.wear.estimate import Fit, before_readings, estimate
from floorcare.ground.wear.model import Floats, Whole
from floorcare.ground.wear.pooled import CLASSES, Noise, Pooled, pooled_as
from floorcare.ground.wear.sight import CURVED, slopes, under
from floorcare.ground.wear.solve import log_evidence

LEARNING_ZONES = 1024
"""At most so many zones are learned from, evenly spaced. Assumption: more teach little."""
NOISE_ZONES = 256
"""At most so many of them for the noise, whose search costs most. Assumption."""
LEAST_READINGS = 3
"""A zone with fewer says nothing of its rates. Assumption."""
TURNS, ROUNDS = 3, 3
"""Turns of estimating and pooling, relinearisations in each. Assumption."""
OWN_ZONES = 4.0
"""The surface's own figures count like so many zones of a class. Assumption."""
NOISE_LN_SD = 0.7
"""How far a fleet's noise may well lie from the surface file's, ln. Assumption."""
LEARNED_NOISE = {"first_reading_sd": 0.05, "drift_sd": 0.002, "shock_sd": 0.006, "day_sd": 0.02}
POOLING_ROUNDS = 25
"""Rounds of expectation and maximisation on the classes. Assumption."""
MOST_STEPS = 6
"""Steps of the search for the noise in one turn. Assumption."""
HIDDEN_DAYS, ORIGINS = 90, 3
"""Readings of so many days are hidden and foretold, so many times, further and further back.
Assumption: three quarters, so that rarely read classes have something to say."""
SHARE_INSIDE, EDGE = 0.90, 1.6449
GROSS_INSIDE = 0.3
"""Of gross readings so many lie inside the band by luck. Assumption."""
SCALES = np.linspace(0.5, 3.0, 251)
OWN_READINGS = 25.0
"""The whole surface counts like so many hidden readings of a class, and the normal law like so many
of the surface. Assumption."""


def learn(columns: WearColumns, law: WearLaw, zone_class: Whole) -> Pooled:
    """What the zones of a surface have in common.

    Parameters
    ----------
    columns : Z zones of one surface.
    law : the surface's own law.
    zone_class : (Z,), see `class_of`.

    Returns
    -------
    The law's own figures where no zone has three readings.

    Source: empirical Bayes by expectation and maximisation (Dempster, Laird & Rubin 1977); noise
    by maximum likelihood of the innovations under a lognormal prior; bands after the share of
    hidden readings they hold.
    """
    count = np.bincount(columns.reading_zone[columns.usable], minlength=columns.zones)
    taught = _evenly(np.flatnonzero(count >= LEAST_READINGS), LEARNING_ZONES)
    pooled = pooled_as(law)
    if not taught.size:
        return pooled
    some, own_class = columns.rows(taught), zone_class[taught]
    behind = np.bincount(zone_class[count >= LEAST_READINGS], minlength=CLASSES)
    pooled = replace(pooled, zones=behind)
    for _ in range(TURNS):
        own_law = pooled.law(law)
        fit = estimate(some, own_law, pooled.prior(own_class), rounds=ROUNDS)
        pooled = _classes(fit, pooled, law, own_class)
        few = _evenly(np.arange(taught.size), NOISE_ZONES)
        pooled = replace(pooled, noise=_noise(some.rows(few), law, pooled, own_class[few]))
    return _honest(some, law, own_class, pooled)


def _evenly(zones: Whole, most: int) -> Whole:
    """At most so many of the zones, evenly spaced."""
    if zones.size <= most:
        return zones
    return zones[np.linspace(0, zones.size - 1, most).astype(np.int64)]


def _classes(fit: Fit, pooled: Pooled, law: WearLaw, own_class: Whole) -> Pooled:
    """Means and spreads of the rates in each class, from what each zone's readings alone say."""
    prior = pooled.prior(own_class)
    before = np.linalg.inv(prior.covariance())
    after = np.linalg.inv(fit.covariance[:, :2, :2])
    mean_before = np.stack([prior.mean_haze, prior.mean_rest], axis=1)
    own = after - before
    pull = np.einsum("zst,zt->zs", after, fit.mean[:, :2])
    pull -= np.einsum("zst,zt->zs", before, mean_before)
    start = pooled_as(law)
    spread_of_law = start.prior(np.arange(CLASSES)).covariance()
    mean = np.stack([pooled.mean_haze, pooled.mean_rest], axis=1)
    spread = pooled.prior(np.arange(CLASSES)).covariance()
    zones = np.bincount(own_class, minlength=CLASSES)[:, None]
    for _ in range(POOLING_ROUNDS):
        known = np.linalg.inv(spread)
        covariance = np.linalg.inv(own + known[own_class])
        drive = pull + np.einsum("cst,ct->cs", known, mean)[own_class]
        best = np.einsum("zst,zt->zs", covariance, drive)
        mean = _summed(best, own_class) / (zones + OWN_ZONES)
        off = best - mean[own_class]
        within = covariance + off[:, :, None] * off[:, None, :]
        total = _summed(within.reshape(-1, 4), own_class).reshape(-1, 2, 2)
        spread = (total + OWN_ZONES * spread_of_law) / (zones[:, :, None] + OWN_ZONES)
    sd = np.sqrt(spread[:, [0, 1], [0, 1]])
    return replace(
        pooled,
        mean_haze=mean[:, 0],
        mean_rest=mean[:, 1],
        sd_haze=sd[:, 0],
        sd_rest=sd[:, 1],
        correlation=spread[:, 0, 1] / (sd[:, 0] * sd[:, 1]),
    )


def _summed(rows: Floats, own_class: Whole) -> Floats:
    """(C, n), the rows of each class added up."""
    total = np.zeros((CLASSES, rows.shape[1]))
    np.add.at(total, own_class, rows)
    return total


def _noise(some: WearColumns, law: WearLaw, pooled: Pooled, own_class: Whole) -> Noise:
    """The noise under which the readings are most probable."""
    from scipy.optimize import minimize

    prior = pooled.prior(own_class)
    fit = estimate(some, pooled.law(law), prior, rounds=ROUNDS)
    curved = CURVED if some.opening_unsure else 2
    at = fit.mean[:, :curved].T
    ln, slope = slopes(some, law, fit.sight, at)
    start, known = before_readings(prior, curved)

    def improbable(apart: Floats) -> float:
        own = replace(law, **_moved(apart))
        sight = under(fit.sight, some, own)
        found = log_evidence(sight, ln, slope, at, sight.variance / fit.weight, start, known)
        return float(0.5 * (apart**2).sum() / NOISE_LN_SD**2 - found.sum())

    begin = [np.log((getattr(pooled.noise, n) or sd) / sd) for n, sd in LEARNED_NOISE.items()]
    found = minimize(
        improbable, np.array(begin), method="L-BFGS-B", options={"maxiter": MOST_STEPS}
    )
    return replace(Noise.of(law), **_moved(found.x))


def _moved(apart: Floats) -> dict[str, float]:
    return {
        name: float(sd * np.exp(by))
        for (name, sd), by in zip(LEARNED_NOISE.items(), apart, strict=True)
    }


def _honest(some: WearColumns, law: WearLaw, own_class: Whole, pooled: Pooled) -> Pooled:
    """Hide what was read later, foretell it, and widen or narrow the bands until they hold."""
    parts = [
        _foretold(some, law, own_class, pooled, HIDDEN_DAYS * place)
        for place in range(1, ORIGINS + 1)
    ]
    in_class = np.concatenate([part[0] for part in parts])
    off, spread, error = np.concatenate([part[1] for part in parts], axis=1)
    count = np.bincount(in_class, minlength=CLASSES)
    if not count.any():
        return replace(pooled, hidden=count)
    inside = off[:, None] <= EDGE * np.hypot(spread[:, None] * SCALES, error[:, None])
    wanted = SHARE_INSIDE * (1.0 - law.gross_share) + GROSS_INSIDE * law.gross_share
    as_normal = np.array([2.0 * NormalDist().cdf(EDGE * scale) - 1.0 for scale in SCALES])
    of_all = inside.sum(axis=0) + OWN_READINGS * wanted / SHARE_INSIDE * as_normal
    of_all /= inside.shape[0] + OWN_READINGS
    of_class = _summed(inside.astype(np.float64), in_class)
    share = (of_class + OWN_READINGS * of_all) / (count[:, None] + OWN_READINGS)
    scale = SCALES[np.minimum((share < wanted).sum(axis=1), SCALES.size - 1)]
    as_given = _summed((off <= EDGE * np.hypot(spread, error))[:, None].astype(float), in_class)
    with np.errstate(invalid="ignore"):
        return replace(pooled, hidden=count, inside=as_given[:, 0] / count, band_scale=scale)


def _foretold(
    some: WearColumns, law: WearLaw, own_class: Whole, pooled: Pooled, days_ago: int
) -> tuple[Whole, Floats]:
    """Readings of the quarter after a day as they were foretold on it: their classes (n,), and
    how far off they were, the sd of the gloss and of the reading (3, n), ln gloss."""
    earlier = some.reading_day < some.days - days_ago
    enough = np.bincount(some.reading_zone[earlier], minlength=some.zones) >= LEAST_READINGS
    later = ~earlier & some.usable
    scored = later & enough[some.reading_zone]
    scored &= some.reading_day < some.days - days_ago + HIDDEN_DAYS
    fit = estimate(some, pooled.law(law), pooled.prior(own_class), hidden=later, rounds=ROUNDS)
    spread, error = fit.foretold_sd[scored], fit.error_sd[scored]
    off = np.abs(fit.residual[scored]) * np.hypot(spread, error)
    return own_class[some.reading_zone[scored]], np.stack([off, spread, error])
