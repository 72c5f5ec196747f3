"""What a planner would forecast without a model: last value, trend, exponential fit, regression.

Each is asked the same looks: zone, days ahead, after that day's burnish or before; each knows what
`WearColumns` hold and nothing else. The first three take no notice of the work to come.
"""

from dataclasses import dataclass

import numpy as np

from floorcare.ground.trade.surface import WearLaw
from floorcare.ground.wear.columns import WearColumns
from floorcare.ground.wear.forecast import Plan
from floorcare.ground.wear.model import Flags, Floats, Whole
from floorcare.ground.wear.trial.covariates import depth_of
from floorcare.ground.wear.trial.regression import regression_at

TREND_READINGS, FIT_READINGS = 3, 4
"""A trend needs so many readings since the last coat, an exponential fit so many. Assumption."""
SLOWEST_DAYS, FASTEST_DAYS = 2000.0, 10.0
"""Days in which an exponential fit may lose 63 % of what it loses. Assumption."""
LEAST_GU, MOST_GU = 1.0, 100.0
"""No rival forecasts outside. Assumption: what a meter shows of a floor."""

RIVALS = ("last value", "trend", "exponential fit", "pooled regression")
"""In the order of `rival_forecasts`."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LooksAhead:
    """N looks at floors to come.

    zone : (N,); days_ahead : (N,), 1 is tomorrow; after : (N,), after that day's treatments.
    """

    zone: Whole
    days_ahead: Whole
    after: Flags


def rival_forecasts(
    columns: WearColumns, law: WearLaw, passes_ahead: Floats, plan: Plan, looks: LooksAhead
) -> Floats:
    """What every rival forecasts, (4, N) GU in the order of `RIVALS`; NaN without a reading.

    Parameters
    ----------
    passes_ahead : (Z, H), thousand passes a day, ageing not included; column 0 is tomorrow.
    plan : treatments to come; only the regression makes use of it.

    Source: see each of them.
    """
    regression = regression_at(
        columns, law, passes_ahead, plan, looks.zone, looks.days_ahead, looks.after
    )
    return np.stack(
        [
            last_value(columns, looks),
            linear_trend(columns, looks),
            exponential_fit(columns, looks),
            np.clip(regression, LEAST_GU, MOST_GU),
        ]
    )


def last_value(columns: WearColumns, looks: LooksAhead) -> Floats:
    """The zone's last reading in the same state, else its last reading, (N,) GU.

    Assumption: a floor stays as it was last read.
    """
    read = _in_order(columns)
    last = np.full((3, columns.zones), -1)
    place = np.arange(read.size)
    state = columns.reading_after_burnish[read].astype(np.int64)
    np.maximum.at(last, (state, columns.reading_zone[read]), place)
    last[2] = last[:2].max(axis=0)
    same = last[looks.after.astype(np.int64), looks.zone]
    found = np.where(same >= 0, same, last[2, looks.zone])
    if not read.size:
        return np.full(looks.zone.shape, np.nan)
    return np.where(found >= 0, np.exp(columns.reading_ln[read[found]]), np.nan)


def linear_trend(columns: WearColumns, looks: LooksAhead) -> Floats:
    """A straight line through the zone's readings since its last recoat or re-polish, (N,) GU.

    Readings in the same state where there are three of them on different days, else all; with fewer
    than three the last value.

    Assumption: gloss falls by as much every day.
    """
    read = _in_order(columns)
    zone = columns.reading_zone[read]
    since = columns.reading_day[read] - _epoch(columns)[zone]
    read, zone = read[since >= 0], zone[since >= 0]
    gloss, day = np.exp(columns.reading_ln[read]), columns.reading_day[read].astype(np.float64)
    after = columns.reading_after_burnish[read]
    found = last_value(columns, looks)
    ahead = columns.days - 1.0 + looks.days_ahead
    for chosen, asked in (
        (np.ones(read.size, dtype=np.bool_), np.ones(looks.zone.size, dtype=np.bool_)),
        (~after, ~looks.after),
        (after, looks.after),
    ):
        line = _lines(zone[chosen], day[chosen], gloss[chosen], columns.zones)
        there = line.there[looks.zone] & asked
        run = ahead - line.middle_day[looks.zone]
        forecast = line.middle_gu[looks.zone] + line.slope_gu[looks.zone] * run
        found = np.where(there, np.clip(forecast, LEAST_GU, MOST_GU), found)
    return found


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Lines:
    """A straight line a zone (Z,), where there are readings enough for one."""

    there: Flags
    middle_day: Floats
    middle_gu: Floats
    slope_gu: Floats


def _lines(zone: Whole, day: Floats, gloss: Floats, zones: int) -> _Lines:
    count = np.bincount(zone, minlength=zones)
    many = np.maximum(count, 1)
    middle_day = np.bincount(zone, weights=day, minlength=zones) / many
    middle_gu = np.bincount(zone, weights=gloss, minlength=zones) / many
    apart = day - middle_day[zone]
    spread = np.bincount(zone, weights=apart**2, minlength=zones)
    lean = np.bincount(zone, weights=apart * (gloss - middle_gu[zone]), minlength=zones)
    return _Lines(
        there=(count >= TREND_READINGS) & (spread > 0),
        middle_day=middle_day,
        middle_gu=middle_gu,
        slope_gu=lean / np.where(spread > 0, spread, 1.0),
    )


def exponential_fit(columns: WearColumns, looks: LooksAhead) -> Floats:
    """Gloss falling to an end value above zero since the last recoat or re-polish, (N,) GU.

    Bounded least squares with soft losses on the zone's readings since then, in either state; with
    fewer than four of them, or where the search fails, the trend.

    Source: exponential decay to a non-zero end value, the published habit for road surfaces under
    traffic; scipy's `least_squares`.
    """
    read = _in_order(columns)
    zone, epoch = columns.reading_zone[read], _epoch(columns)
    since = (columns.reading_day[read] - epoch[zone]).astype(np.float64)
    gloss = np.exp(columns.reading_ln[read])
    found = linear_trend(columns, looks)
    ahead = columns.days - 1.0 + looks.days_ahead - epoch[looks.zone]
    for one in np.unique(looks.zone).tolist():
        own = (zone == one) & (since >= 0)
        if own.sum() < FIT_READINGS:
            continue
        fitted = _fitted(since[own], gloss[own])
        if fitted is not None:
            asked = looks.zone == one
            end, lost, days = fitted
            found[asked] = np.clip(end + lost * np.exp(-ahead[asked] / days), LEAST_GU, MOST_GU)
    return found


def _fitted(since: Floats, gloss: Floats) -> tuple[float, float, float] | None:
    """(end value, what is lost, days) of an exponential fit, None where none is found."""
    from scipy.optimize import least_squares

    def off(at: Floats) -> Floats:
        part: Floats = at[0] + at[1] * np.exp(-since / np.exp(at[2])) - gloss
        return part

    low, high = float(gloss.min()), float(gloss.max())
    start = np.array([max(0.9 * low, LEAST_GU), max(high - 0.9 * low, 0.5), np.log(200.0)])
    bounds = (
        [LEAST_GU / 2.0, 0.0, float(np.log(FASTEST_DAYS))],
        [2.0 * MOST_GU, 2.0 * MOST_GU, float(np.log(SLOWEST_DAYS))],
    )
    start = np.clip(start, np.array(bounds[0]) + 1e-6, np.array(bounds[1]) - 1e-6)
    answer = least_squares(off, start, bounds=bounds, loss="soft_l1", max_nfev=60)
    if answer.status < 0 or not np.all(np.isfinite(answer.x)):
        return None
    return float(answer.x[0]), float(answer.x[1]), float(np.exp(answer.x[2]))


def _in_order(columns: WearColumns) -> Whole:
    """Usable readings in rising zone and time."""
    used = np.flatnonzero(columns.usable)
    late, day = columns.reading_after_burnish[used], columns.reading_day[used]
    part: Whole = used[np.lexsort((late, day, columns.reading_zone[used]))]
    return part


def _epoch(columns: WearColumns) -> Whole:
    """(Z,), day of the last recoat or re-polish, else the zone's first day."""
    last = columns.start_day.copy()
    days = np.arange(columns.days)
    for effect, done in columns.treatments:
        if depth_of(effect) >= 1:
            last = np.maximum(last, np.where(done, days, -1).max(axis=1))
    return last
