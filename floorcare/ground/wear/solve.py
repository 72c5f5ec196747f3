"""The hidden column of every zone where readings are straight-line functions of it."""

from dataclasses import dataclass

import numpy as np

from floorcare.ground.wear.filter import Filtered, filter_walks, weigh
from floorcare.ground.wear.model import Floats
from floorcare.ground.wear.sight import Sight

LEVEL_LN_MEAN, LEVEL_LN_SD = float(np.log(40.0)), 2.0
"""Level before any reading: anywhere from 1 GU to 2,000. Assumption; in effect no knowledge."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Solved:
    """The hidden column where the readings are taken as straight-line functions of it.

    mean, covariance : (C, Z), (Z, C, C), of the curved numbers.
    walks : (2, Z), walks_with : (2, C, Z), level and shock today are `walks` less `walks_with`
        times how far the curved numbers lie from their mean; walks_covariance : (2, 2, Z), given
        the curved numbers.
    off, off_var : (U,), each reading less what the others of its zone predict, and its variance.
    """

    mean: Floats
    covariance: Floats
    walks: Floats
    walks_with: Floats
    walks_covariance: Floats
    off: Floats
    off_var: Floats


def solve(
    sight: Sight,
    ln: Floats,
    slope: Floats,
    at: Floats,
    variance: Floats,
    start: Floats,
    known: Floats,
) -> Solved:
    """The most probable hidden column along the tangent at one point.

    Parameters
    ----------
    ln, slope : (U,), (C, U), relative ln gloss at the readings at the point, and its slopes.
    at : (C, Z), the point.
    variance : (U,), of the readings' errors.
    start, known : (C, Z), (Z, C, C), mean and inverse covariance before the readings.

    Source: generalised least squares with a normal prior (Rao, Linear Statistical Inference, 2nd
    ed. 1973, 4a.11); the inverse covariance of the readings by `filter_walks` and `weigh`.
    """
    target, filtered = _beside(sight, ln, slope, at, variance, start)
    pull, diagonal = weigh(sight.lineup, to_reading=sight.to_reading, filtered=filtered)
    drive, precision = _normal_equations(
        sight, slope, target - LEVEL_LN_MEAN, pull[1:], np.ones(target.shape), known
    )
    covariance = np.linalg.inv(precision).astype(np.float64, copy=False)
    beyond = np.einsum("zst,zt->sz", covariance, drive)
    off, weight = _without_itself(sight, pull, diagonal, beyond, covariance)
    return Solved(
        mean=start + beyond,
        covariance=covariance,
        walks=filtered.mean[:, 0] - (filtered.mean[:, 1:] * beyond).sum(axis=1),
        walks_with=filtered.mean[:, 1:],
        walks_covariance=filtered.covariance,
        off=off / weight,
        off_var=1.0 / weight,
    )


def _beside(
    sight: Sight, ln: Floats, slope: Floats, at: Floats, variance: Floats, start: Floats
) -> tuple[Floats, Filtered]:
    """The readings (U,) as straight-line functions of what lies beyond `start`, and the walks
    filtered over them and, beside them, over each slope."""
    target = sight.ln - ln + (slope * (at - start)[:, sight.zone]).sum(axis=0)
    filtered = filter_walks(
        sight.lineup,
        target=np.concatenate([target[None], slope]),
        variance=variance,
        to_reading=sight.to_reading,
        to_today=sight.to_today,
        level_mean=np.r_[LEVEL_LN_MEAN, np.zeros(at.shape[0])],
        level_var=LEVEL_LN_SD**2,
    )
    return target, filtered


def _normal_equations(
    sight: Sight, slope: Floats, goal: Floats, seen: Floats, scale: Floats, known: Floats
) -> tuple[Floats, Floats]:
    """(Z, C) and (Z, C, C): `seen`, over `scale`, against goal and slopes, summed over readings."""
    zones, curved = known.shape[0], slope.shape[0]
    drive = np.empty((zones, curved))
    precision: Floats = known.copy()
    for one in range(curved):
        along = seen[one] / scale
        drive[:, one] = np.bincount(sight.zone, goal * along, zones)
        for other in range(curved):
            precision[:, other, one] += np.bincount(sight.zone, slope[other] * along, zones)
    return drive, precision


def _without_itself(
    sight: Sight, pull: Floats, diagonal: Floats, beyond: Floats, covariance: Floats
) -> tuple[Floats, Floats]:
    """The readings and the diagonal weighed by the inverse of their whole covariance, curved
    numbers in it."""
    off, weight = pull[0], diagonal
    for one, seen in enumerate(pull[1:]):
        off = off - seen * beyond[one, sight.zone]
        for other, also in enumerate(pull[1:]):
            weight = weight - seen * also * covariance[:, one, other][sight.zone]
    return off, weight


def log_evidence(
    sight: Sight,
    ln: Floats,
    slope: Floats,
    at: Floats,
    variance: Floats,
    start: Floats,
    known: Floats,
) -> Floats:
    """ln of how probable each zone's readings (Z,) are along the tangent, up to a constant.

    Parameters
    ----------
    As `solve`.

    Source: the innovations' likelihood (Durbin & Koopman 2012, section 7.2), curved numbers
    integrated out (Rao 1973, 4a.11).
    """
    _, filtered = _beside(sight, ln, slope, at, variance, start)
    off, scale = filtered.innovation, filtered.innovation_var
    surprise = np.log(scale) + off[0] ** 2 / scale
    drive, precision = _normal_equations(sight, off[1:], off[0], off[1:], scale, known)
    best = np.linalg.solve(precision, drive[:, :, None])[:, :, 0]
    gain = (drive * best).sum(axis=1)
    gain -= np.linalg.slogdet(precision)[1] - np.linalg.slogdet(known)[1]
    found: Floats = 0.5 * (gain - np.bincount(sight.zone, surprise, known.shape[0]))
    return found
