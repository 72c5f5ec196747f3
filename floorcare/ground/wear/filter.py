"""A Kalman filter over reading rounds, all zones at once, and what each reading is worth.

The hidden column ends in (…, level, w, e): whatever stands before them and the level are constants
of a zone, w and e are the two walks. Readings are taken one by one in time, so the cost grows with
their number and no zone's matrix grows with it.
"""

from dataclasses import dataclass

import numpy as np

from floorcare.ground.wear.history import Lineup, Transit
from floorcare.ground.wear.model import Floats, Whole

DRIFT, SHOCK = -2, -1
"""Places of the two walks in the hidden column."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Filtered:
    """What the readings say.

    mean : (Z, S, P), covariance : (Z, S, S), of the hidden column today.
    innovation : (R, P), innovation_var : (R,), gain : (R, S), of each reading when it came.
    """

    mean: Floats
    covariance: Floats
    innovation: Floats
    innovation_var: Floats
    gain: Floats


def run_filter(
    lineup: Lineup,
    *,
    row: Floats,
    target: Floats,
    variance: Floats,
    to_reading: Transit,
    to_today: Transit,
    mean: Floats,
    covariance: Floats,
) -> Filtered:
    """Take in the readings of every zone in time order and go on to today.

    Parameters
    ----------
    lineup : readings by rank within their zone; its rows number the readings.
    row : (R, S), how each reading sees the hidden column.
    target : (R, P), the readings, for P assumptions side by side.
    variance : (R,), error variance of each reading.
    to_reading, to_today : the walks' way to each reading (R,) and to today (Z,).
    mean, covariance : (Z, S, P) and (Z, S, S) before the first reading.

    Source: Kalman filter for a scalar observation, e.g. Durbin & Koopman, Time Series Analysis by
    State Space Methods, 2nd ed. (2012), section 4.3.
    """
    mean, covariance = mean[lineup.zone_order], covariance[lineup.zone_order]
    innovation, innovation_var = np.full_like(target, np.nan), np.full_like(variance, np.nan)
    gain = np.full_like(row, np.nan)
    for rows in lineup.ranks():
        here = slice(0, rows.size)
        x, p = mean[here], covariance[here]
        _go_on(x, p, to_reading, rows)
        seen = row[rows]
        along = np.einsum("zst,zt->zs", p, seen)
        off = target[rows] - np.einsum("zs,zsp->zp", seen, x)
        off_var = np.einsum("zs,zs->z", seen, along) + variance[rows]
        by = along / off_var[:, None]
        x += by[:, :, None] * off[:, None, :]
        p -= by[:, :, None] * along[:, None, :]
        innovation[rows], innovation_var[rows], gain[rows] = off, off_var, by
    back = np.argsort(lineup.zone_order)
    mean, covariance = mean[back], covariance[back]
    _go_on(mean, covariance, to_today, np.arange(back.size))
    return Filtered(
        mean=mean,
        covariance=covariance,
        innovation=innovation,
        innovation_var=innovation_var,
        gain=gain,
    )


def _go_on(mean: Floats, covariance: Floats, transit: Transit, rows: Whole) -> None:
    """Let the walks of these zones go on, in place."""
    kept = transit.shock_kept[rows, None]
    mean[:, SHOCK] *= kept
    covariance[:, SHOCK, :] *= kept
    covariance[:, :, SHOCK] *= kept
    covariance[:, SHOCK, SHOCK] += transit.shock_var[rows]
    covariance[:, DRIFT, DRIFT] += transit.drift_var[rows]


def without_itself(
    lineup: Lineup, *, row: Floats, to_reading: Transit, filtered: Filtered
) -> tuple[Floats, Floats]:
    """What all other readings of the zone say of each reading.

    Returns
    -------
    (R,) the reading less what the others predict of it, and the variance of that difference (the
    reading's own error included). Of the first of the P assumptions.

    Source: de Jong (1989), Journal of the American Statistical Association 84:1085-1088: with u
    and D of the disturbance smoother the difference is u/D and its variance 1/D.
    """
    width = row.shape[1]
    off, off_var = np.full(row.shape[0], np.nan), np.full(row.shape[0], np.nan)
    pull = np.zeros((lineup.zone_order.size, width))
    spread = np.zeros((lineup.zone_order.size, width, width))
    for rows in reversed(list(lineup.ranks())):
        here = slice(0, rows.size)
        seen, gain = row[rows], filtered.gain[rows]
        r, n = pull[here], spread[here]
        precision = 1.0 / filtered.innovation_var[rows]
        u = precision * filtered.innovation[rows, 0] - np.einsum("zs,zs->z", gain, r)
        ng = np.einsum("zst,zt->zs", n, gain)
        gng = np.einsum("zs,zs->z", gain, ng)
        off[rows], off_var[rows] = u / (precision + gng), 1.0 / (precision + gng)
        r += seen * u[:, None]
        across = seen[:, :, None] * ng[:, None, :]
        n += (precision + gng)[:, None, None] * seen[:, :, None] * seen[:, None, :]
        n -= across + across.transpose(0, 2, 1)
        kept = to_reading.shock_kept[rows, None]
        r[:, SHOCK] *= kept[:, 0]
        n[:, SHOCK, :] *= kept
        n[:, :, SHOCK] *= kept
    return off, off_var
