"""The forecast to beat: one regression over the fleet, with treatments, zone effects and recency.

ln gloss on the covariates, least squares over all zones at once; each zone has its own level and
its own slopes on haze, film and scratching, shrunk to the fleet's (a mixed model); what a zone's
last readings lie above or below that fades with time (kriging on an Ornstein-Uhlenbeck residual);
gross readings lose their weight (Huber, then none).
"""

from dataclasses import dataclass

import numpy as np

from floorcare.ground.trade.surface import WearLaw
from floorcare.ground.wear.columns import WearColumns
from floorcare.ground.wear.forecast import Plan
from floorcare.ground.wear.model import Flags, Floats, Whole
from floorcare.ground.wear.trial.covariates import OWN, Course, course_of, covariates

ROUNDS = 20
"""Rounds of expectation and maximisation. Assumption: enough to stand still."""
BENT_AT, CUT_AT = 1.5, 5.0
"""Residuals beyond so many sd weigh less, or nothing. Assumption: Huber's choice and a cut."""
RIDGE = 1e-3
"""Pull of a standardised slope to zero, in readings; keeps small fleets from running away."""
OWN_ZONES = 2.0
"""The starting spread of zone slopes counts like so many zones. Assumption."""
LEAST_SD = 0.005
"""No fit is taken to be better than this, ln gloss. Assumption."""
LAST_READINGS = 40
"""So many of a zone's last readings take part in its own effect. Assumption."""
TUNING_ZONES = 400
"""So many zones choose how residuals fade. Assumption."""
FADING = tuple((share, days) for share in (0.3, 1.0, 2.5) for days in (20.0, 60.0, 180.0, 540.0))
"""Tried: variance of the fading residual in that of a reading, days in which it falls to 1/e."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Regression:
    """A fitted regression.

    slopes : (P,), of the fleet, on standardised covariates.
    centre, scale : (P,), that standardise them.
    own : (OWN, OWN), covariance of zone slopes.
    variance : of a reading.
    weight : (R,), of each reading in rising zone and day.
    fading : share of variance and days of the fading residual.
    """

    slopes: Floats
    centre: Floats
    scale: Floats
    own: Floats
    variance: float
    weight: Floats
    fading: tuple[float, float]

    def standard(self, rows: Floats) -> Floats:
        """Covariates (N, P) as the slopes take them.

        Assumption: standardised on the readings fitted.
        """
        part: Floats = (rows - self.centre) / self.scale
        return part


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Read:
    """The readings fitted, in rising zone and day: their covariates, ln, base weight."""

    zone: Whole
    day: Whole
    rows: Floats
    ln: Floats
    base: Floats


def regression_forecast(
    columns: WearColumns,
    law: WearLaw,
    passes_ahead: Floats,
    plan: Plan,
    days_ahead: tuple[int, ...],
) -> Floats:
    """Gloss to come as a pooled regression with treatment covariates has it.

    Parameters
    ----------
    passes_ahead : (Z, H), thousand passes a day, ageing not included; column 0 is tomorrow.
    plan : treatments to come, (effect, (Z, H)).
    days_ahead : 1 (tomorrow) to H.

    Returns
    -------
    (Z, len(days_ahead)) GU before that day's treatments; NaN in zones without readings.

    Raises
    ------
    ValueError : a day lies outside the plan.

    Source: see `regression_at`.
    """
    ahead = np.asarray(days_ahead, dtype=np.int64)
    zone = np.repeat(np.arange(columns.zones), ahead.size)
    day = np.tile(ahead, columns.zones)
    before = np.zeros(zone.size, dtype=np.bool_)
    gloss = regression_at(columns, law, passes_ahead, plan, zone, day, before)
    return gloss.reshape(columns.zones, ahead.size)


def regression_at(
    columns: WearColumns,
    law: WearLaw,
    passes_ahead: Floats,
    plan: Plan,
    zone: Whole,
    days_ahead: Whole,
    after: Flags,
) -> Floats:
    """The pooled regression's forecast of N looks to come.

    Parameters
    ----------
    zone, days_ahead, after : (N,), where, how many days from today (1 is tomorrow), and after that
        day's treatments.

    Returns
    -------
    (N,) GU; NaN in zones without readings.

    Raises
    ------
    ValueError : a day lies outside the plan.

    Source: mixed model by expectation and maximisation (Laird & Ware 1982), Huber's weights
    (Huber 1964), zone effect and fading residual by the best linear unbiased prediction.
    """
    if np.any(days_ahead < 1) or np.any(days_ahead > passes_ahead.shape[1]):
        raise ValueError(f"days ahead must lie from 1 to {passes_ahead.shape[1]}")
    course = course_of(columns, law, passes_ahead, plan)
    read = _read(columns, law, course)
    if not read.zone.size or not zone.size:
        return np.full(zone.shape, np.nan)
    fitted = fit_regression(read.zone, read.day, read.rows, read.ln, read.base, columns.zones)
    day = columns.days - 1 + days_ahead
    wanted = fitted.standard(covariates(course, law, zone, day, after))
    ln = wanted @ fitted.slopes + _own_part(fitted, read, columns.zones, zone, day, wanted)
    has = np.bincount(read.zone, minlength=columns.zones)[zone] > 0
    return np.where(has, np.exp(ln), np.nan)


def _read(columns: WearColumns, law: WearLaw, course: Course) -> _Read:
    used = np.flatnonzero(columns.usable)
    order = np.lexsort(
        (columns.reading_after_burnish[used], columns.reading_day[used], columns.reading_zone[used])
    )
    used = used[order]
    zone, day = columns.reading_zone[used], columns.reading_day[used]
    variance = law.instrument_sd**2 + law.station_sd**2 / columns.reading_stations[used]
    variance = variance + columns.more_sd[used] ** 2
    base = np.median(variance) / variance if used.size else variance
    rows = covariates(course, law, zone, day, columns.reading_after_burnish[used])
    return _Read(zone=zone, day=day, rows=rows, ln=columns.reading_ln[used], base=base)


def fit_regression(
    zone: Whole, day: Whole, rows: Floats, ln: Floats, base: Floats, zones: int
) -> Regression:
    """Fit the regression to R readings in rising zone and day.

    Parameters
    ----------
    zone, day : (R,).
    rows : (R, P), see `covariates`; ln : (R,), ln gloss; base : (R,), weight of a good reading.
    zones : how many there are.

    Source: Laird & Ware 1982; Huber 1964.
    """
    centre, scale = rows.mean(axis=0), rows.std(axis=0)
    centre[0], scale = 0.0, np.where(scale > 1e-9, scale, 1.0)
    x = (rows - centre) / scale
    weight, variance = base.copy(), max(float(np.var(ln)) / 4.0, LEAST_SD**2)
    own = np.diag([float(np.var(ln)) + 0.01, 0.002, 0.002, 0.002])
    start, slopes = own.copy(), np.zeros(x.shape[1])
    has = np.bincount(zone, minlength=zones) > 0
    for _ in range(ROUNDS):
        slopes, effect, spread = _solved(zone, x, ln, weight, variance, own, zones)
        off = ln - x @ slopes - np.einsum("ru,ru->r", x[:, :OWN], effect[zone])
        taken = float(np.einsum("ru,ruv,rv->r", x[:, :OWN], spread[zone], x[:, :OWN]) @ weight)
        left = max(off.size - x.shape[1] - taken / variance, 0.2 * off.size)
        middle = float(np.median(np.abs(off * np.sqrt(base))))
        variance = max((1.4826 * middle) ** 2 * off.size / left, LEAST_SD**2)
        far = np.abs(off) * np.sqrt(base / variance)
        weight = base * np.where(far > CUT_AT, 1e-4, np.minimum(1.0, BENT_AT / (far + 1e-12)))
        seen = effect[has][:, :, None] * effect[has][:, None, :] + spread[has]
        own = (seen.sum(axis=0) + OWN_ZONES * start) / (has.sum() + OWN_ZONES)
    fitted = Regression(
        slopes=slopes,
        centre=centre,
        scale=scale,
        own=own,
        variance=variance,
        weight=weight,
        fading=FADING[0],
    )
    read = _Read(zone=zone, day=day, rows=rows, ln=ln, base=base)
    return _with_fading(fitted, read, zones)


def _solved(
    zone: Whole,
    x: Floats,
    ln: Floats,
    weight: Floats,
    variance: float,
    own: Floats,
    zones: int,
) -> tuple[Floats, Floats, Floats]:
    """Fleet slopes (P,), zone effects (Z, OWN) and their covariance (Z, OWN, OWN)."""
    w = weight / variance
    z = x[:, :OWN]
    wz = w[:, None] * z
    inner = _summed(wz[:, :, None] * z[:, None, :], zone, zones)
    cross = _summed(wz[:, :, None] * x[:, None, :], zone, zones)
    right = _summed(wz * ln[:, None], zone, zones)
    spread = np.linalg.inv(np.linalg.inv(own) + inner).astype(np.float64)
    pulled = spread @ cross
    left = (x * w[:, None]).T @ x - np.einsum("zup,zuq->pq", cross, pulled)
    target = (x * w[:, None]).T @ ln - np.einsum("zup,zu->p", pulled, right)
    ridge = np.full(x.shape[1], RIDGE * w.sum())
    ridge[0] = 0.0
    slopes: Floats = np.linalg.solve(left + np.diag(ridge + 1e-9 * w.sum()), target)
    effect: Floats = np.einsum("zuv,zv->zu", spread, right - cross @ slopes)
    return slopes, effect, spread


def _summed(rows: Floats, zone: Whole, zones: int) -> Floats:
    """Sums of rows, sorted by zone, for each zone."""
    summed = np.zeros((zones, *rows.shape[1:]))
    there, first = np.unique(zone, return_index=True)
    summed[there] = np.add.reduceat(rows, first, axis=0)
    return summed


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Padded:
    """The last readings of some zones side by side, (Z, J), with zone slopes (Z, J, OWN)."""

    there: Flags
    day: Floats
    own: Floats
    off: Floats
    variance: Floats


def _padded(fitted: Regression, read: _Read, zones: Whole) -> _Padded:
    count = np.bincount(read.zone, minlength=int(zones.max()) + 1)
    ends = np.cumsum(count)[zones]
    places = int(min(count[zones].max(), LAST_READINGS))
    at = ends[:, None] - np.arange(1, places + 1)[None, :]
    there = at >= (ends - count[zones])[:, None]
    at = np.where(there, at, 0)
    x = fitted.standard(read.rows)
    off = read.ln - x @ fitted.slopes
    return _Padded(
        there=there,
        day=read.day[at].astype(np.float64),
        own=x[at, :OWN] * there[:, :, None],
        off=np.where(there, off[at], 0.0),
        variance=fitted.variance / fitted.weight[at],
    )


def _covariance(fitted: Regression, part: _Padded, fading: tuple[float, float]) -> Floats:
    """(Z, J, J) of the readings of each zone; an empty place is a reading by itself."""
    share, days = fading
    apart = np.abs(part.day[:, :, None] - part.day[:, None, :])
    both = part.there[:, :, None] & part.there[:, None, :]
    fades = share * fitted.variance * np.exp(-apart / days)
    level = part.own @ fitted.own @ part.own.transpose(0, 2, 1)
    place = np.arange(part.day.shape[1])
    whole: Floats = np.where(both, level + fades, 0.0)
    # a reading's error is what is left of its variance when the fading part is taken out
    whole[:, place, place] += np.where(part.there, part.variance / (1.0 + share), 1.0)
    return whole


def _with_fading(fitted: Regression, read: _Read, zones: int) -> Regression:
    """The same with the fading that makes the readings most likely."""
    has = np.flatnonzero(np.bincount(read.zone, minlength=zones) > 0)
    chosen = has[np.linspace(0, has.size - 1, min(has.size, TUNING_ZONES)).astype(np.int64)]
    part = _padded(fitted, read, chosen)
    likely = []
    for fading in FADING:
        whole = _covariance(fitted, part, fading)
        off = np.linalg.solve(whole, part.off[:, :, None])[:, :, 0]
        likely.append(-float(np.sum(np.linalg.slogdet(whole)[1]) + np.sum(part.off * off)))
    return Regression(
        slopes=fitted.slopes,
        centre=fitted.centre,
        scale=fitted.scale,
        own=fitted.own,
        variance=fitted.variance,
        weight=fitted.weight,
        fading=FADING[int(np.argmax(likely))],
    )


def _own_part(
    fitted: Regression, read: _Read, zones: int, zone: Whole, day: Whole, wanted: Floats
) -> Floats:
    """What each look's zone adds to the fleet's forecast (N,)."""
    has = np.flatnonzero(np.bincount(read.zone, minlength=zones) > 0)
    place = np.full(zones, -1)
    place[has] = np.arange(has.size)
    part = _padded(fitted, read, has)
    trust = np.linalg.solve(_covariance(fitted, part, fitted.fading), part.off[:, :, None])[:, :, 0]
    known = place[zone] >= 0
    at = place[zone[known]]
    share, days = fitted.fading
    apart = day[known, None] - part.day[at]
    seen = np.einsum("nju,uv,nv->nj", part.own[at], fitted.own, wanted[known, :OWN])
    seen += np.where(part.there[at], share * fitted.variance * np.exp(-apart / days), 0.0)
    added = np.zeros(zone.shape)
    added[known] = np.einsum("nj,nj->n", seen, trust[at])
    return added
