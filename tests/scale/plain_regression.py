"""The pooled regression of a textbook, as the benchmark's yardstick.

ln gloss on a level of each zone and slopes common to the fleet: passes since the last burnish, coat
and re-polish, as they are and as they fade, with traffic; least squares, twice, the second time
without the readings that lie far off.
"""

import numpy as np
from numpy.typing import NDArray

from floorcare.ground.trade.surface import WearLaw
from floorcare.ground.wear.columns import WearColumns
from floorcare.ground.wear.forecast import Plan
from floorcare.ground.wear.trial.covariates import course_of, covariates

Floats = NDArray[np.float64]
FAR_OFF = 3.5
"""Residuals beyond so many robust sd are left out of the second fit."""


def plain_regression(
    columns: WearColumns, law: WearLaw, passes_ahead: Floats, plan: Plan, days: tuple[int, ...]
) -> Floats:
    """Gloss in GU (Z, days) before that day's treatments; NaN in zones without readings."""
    course = course_of(columns, law, passes_ahead, plan)
    used = np.flatnonzero(columns.usable)
    zone, ln = columns.reading_zone[used], columns.reading_ln[used]
    after = columns.reading_after_burnish[used]
    rows = covariates(course, law, zone, columns.reading_day[used], after)[:, 1:]
    kept = np.ones(ln.shape, dtype=np.bool_)
    for _ in range(2):
        level, slopes = _fit(zone[kept], rows[kept], ln[kept], columns.zones)
        off = ln - level[zone] - rows @ slopes
        spread = 1.4826 * np.nanmedian(np.abs(off))
        kept = np.abs(off) < FAR_OFF * spread
        kept |= np.bincount(zone[kept], minlength=columns.zones)[zone] == 0
    ahead = np.repeat(np.arange(columns.zones), len(days))
    when = columns.days - 1 + np.tile(np.asarray(days), columns.zones)
    wanted = covariates(course, law, ahead, when, np.zeros(when.shape, dtype=np.bool_))[:, 1:]
    return np.exp(level[ahead] + wanted @ slopes).reshape(columns.zones, len(days))


def _fit(zone: NDArray[np.int64], rows: Floats, ln: Floats, zones: int) -> tuple[Floats, Floats]:
    """Levels (Z,) and slopes (P,) by least squares within zones."""
    count = np.bincount(zone, minlength=zones)
    with np.errstate(invalid="ignore"):
        middle = np.stack([np.bincount(zone, x, zones) / count for x in rows.T], axis=1)
        mean = np.bincount(zone, ln, zones) / count
    slopes = np.linalg.lstsq(rows - middle[zone], ln - mean[zone], rcond=1e-8)[0]
    return mean - middle @ slopes, slopes
