"""A Kalman filter for a floor's two walks over its readings, all zones at once.

The level drifts and the shock walk is cut by treatments; a reading sees their sum. Whatever else
the readings see in a straight line (rates, opening) is a column filtered beside them and then
found by least squares on what the walks leave unexplained. Readings are taken one by one in time,
so the cost grows with their number and no zone's matrix grows with it. Zones stand on the last
axis, so that each rank of readings is a handful of passes over long rows.
"""

from dataclasses import dataclass

import numpy as np

from floorcare.ground.wear.history import Lineup, Transit
from floorcare.ground.wear.model import Floats


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Filtered:
    """What the readings say of the walks, for P columns side by side.

    mean : (2, P, Z), covariance : (2, 2, Z), of level and shock today.
    innovation : (P, R), innovation_var : (R,), gain : (2, R), of each reading when it came.
    """

    mean: Floats
    covariance: Floats
    innovation: Floats
    innovation_var: Floats
    gain: Floats


def filter_walks(
    lineup: Lineup,
    *,
    target: Floats,
    variance: Floats,
    to_reading: Transit,
    to_today: Transit,
    level_mean: Floats,
    level_var: float,
) -> Filtered:
    """Take in the readings of every zone in time order and go on to today.

    Parameters
    ----------
    lineup : readings by rank within their zone; its rows number the readings.
    target, variance : (P, R), P columns, each read like the sum of the walks; (R,), their errors'.
    to_reading, to_today : the walks' way to each reading (R,) and to today (Z,).
    level_mean, level_var : (P,), 1, of the level before any reading; the shock walk begins at 0.

    Source: Kalman filter for a scalar observation, e.g. Durbin & Koopman, Time Series Analysis by
    State Space Methods, 2nd ed. (2012), section 4.3; columns side by side: ibid., section 6.2.3.
    """
    zones, columns = lineup.zone_order.size, target.shape[0]
    # In the order they are taken, so that each rank is a slice.
    by_rank = lineup.rows
    goal, error, way = target[:, by_rank], variance[by_rank], to_reading.rows(by_rank)
    innovation, innovation_var = np.empty_like(goal), np.empty_like(error)
    gain = np.empty((2, by_rank.size))
    mean = np.zeros((2, columns, zones))
    mean[0] = level_mean[:, None]
    spread = np.zeros((3, zones))
    spread[0] = level_var
    for place in lineup.places():
        here = slice(0, place.stop - place.start)
        x, p = mean[:, :, here], spread[:, here]
        _go_on(x[1], p, way, place)
        innovation[:, place], innovation_var[place], gain[:, place] = _take_in(
            x, p, goal[:, place], error[place]
        )
    back, again = lineup.zone_back, lineup.back
    mean, spread = mean[:, :, back], spread[:, back]
    _go_on(mean[1], spread, to_today, slice(None))
    own, across, other = spread
    return Filtered(
        mean=mean,
        covariance=np.stack([np.stack([own, across]), np.stack([across, other])]),
        innovation=innovation[:, again],
        innovation_var=innovation_var[again],
        gain=gain[:, again],
    )


def _go_on(shock: Floats, spread: Floats, transit: Transit, place: slice) -> None:
    """Let the walks of these zones go on, in place; spread is the variance of the level, of both
    together, of the shock."""
    kept = transit.shock_kept[place]
    shock *= kept
    spread[0] += transit.drift_var[place]
    spread[1] *= kept
    spread[2] *= kept**2
    spread[2] += transit.shock_var[place]


def _take_in(
    mean: Floats, spread: Floats, goal: Floats, error: Floats
) -> tuple[Floats, Floats, Floats]:
    """Take in one reading of each of these zones, in place; innovation, its variance, the gain."""
    own, across, other = spread
    to_level, to_shock = own + across, across + other
    total = to_level + to_shock + error
    off = goal - mean[0] - mean[1]
    gain = np.stack([to_level, to_shock]) / total
    mean += gain[:, None] * off
    own -= gain[0] * to_level
    across -= gain[0] * to_shock
    other -= gain[1] * to_shock
    return off, total, gain


def weigh(lineup: Lineup, *, to_reading: Transit, filtered: Filtered) -> tuple[Floats, Floats]:
    """The readings weighed by the inverse of their covariance within each zone, walks and errors.

    Returns
    -------
    (P, R) inverse covariance times each column, and (R,) its diagonal. A reading less what all
    others of its zone predict is the first over the second, with variance one over the second.

    Source: de Jong (1989), Journal of the American Statistical Association 84:1085-1088: u and D
    of the disturbance smoother.
    """
    by_rank, zones = lineup.rows, lineup.zone_order.size
    gain, kept = filtered.gain[:, by_rank], to_reading.shock_kept[by_rank]
    precisions = 1.0 / filtered.innovation_var[by_rank]
    surprise = precisions * filtered.innovation[:, by_rank]
    pull, diagonal = np.empty_like(surprise), np.empty_like(precisions)
    on_level, on_shock = np.zeros((2, surprise.shape[0], zones))
    spread = np.zeros((3, zones))
    for place in reversed(list(lineup.places())):
        here = slice(0, place.stop - place.start)
        level, shock = on_level[:, here], on_shock[:, here]
        own, across, other = spread[:, here]
        g, j = gain[:, place]
        u = surprise[:, place] - g * level - j * shock
        by_level, by_shock = own * g + across * j, across * g + other * j
        weight = precisions[place] + g * by_level + j * by_shock
        pull[:, place], diagonal[place] = u, weight
        level += u
        shock += u
        shock *= kept[place]
        own += weight - 2.0 * by_level
        across += weight - by_level - by_shock
        other += weight - 2.0 * by_shock
        across *= kept[place]
        other *= kept[place] ** 2
    again = lineup.back
    return pull[:, again], diagonal[again]
