"""A plain entry for study: arrays in, gloss and first days below promise out.

Anybody can hold the model against their own readings or a simulation of their own. The equations
are those of `docs/wear.md`; the surface is polished concrete with the figures below.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from floorcare.findings import Finding
from floorcare.ground.trade.surface import Effect, WearLaw
from floorcare.ground.wear import estimate as estimating
from floorcare.ground.wear.ahead import first_day_below, gloss_ahead
from floorcare.ground.wear.columns import OpeningCode, WearColumns
from floorcare.ground.wear.forecast import Plan
from floorcare.ground.wear.learn import learn
from floorcare.ground.wear.model import FRESH_SCRATCH, Flags, Floats, Whole
from floorcare.ground.wear.pooled import Pooled, class_places
from floorcare.ground.wear.study_input import (
    GivenFloors,
    GivenReadings,
    aligned,
    taken_readings,
)

LAW = WearLaw(
    haze_rate=0.025,
    film_rate=0.0044,
    scratch_rate=0.00018,
    ageing=0.10,
    haze_loss=0.25,
    film_scratch_share=0.70,
    finish_floor=0.40,
    film_gloss=0.10,
    rate_sd_counted=0.35,
    rate_sd_assumed=0.55,
    rate_correlation=0.5,
    first_reading_sd=0.10,
    drift_sd=0.002,
    shock_sd=0.006,
    instrument_sd=0.02,
    station_sd=0.05,
    gross_share=0.04,
    gross_factor=6.0,
)
"""Starting values of polished concrete. Assumption, all of them."""
REPOLISH = Effect(
    haze_kept=0.0,
    film_kept=0.0,
    film_to=1.0,
    scratch_kept=0.0,
    scratch_to=FRESH_SCRATCH,
    level_sd=0.03,
)
RECOAT = Effect(haze_kept=0.0, film_kept=0.0, film_to=1.0, level_sd=0.01)
BURNISH = Effect(haze_kept=0.30)
"""What the three treatments do. Assumption."""
ROUNDS = 3
"""Relinearisations of a study's fit. Assumption: more change no forecast by a tenth of a GU."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Fit:
    """What the readings say of Z zones, and what is to come.

    pooled : what the zones have in common; given back to `estimate` it makes every zone's result
        independent of the others.
    wear : the fit behind it, see `ground.wear.estimate.Fit`.
    band_scale : (Z,), factor on every band's width.
    footfall_ahead : (Z, H), thousand passes a day after today; plan : the treatments of those days.
    days_ahead : (Z,), days known after today; beyond them nothing is forecast.
    findings : what was odd about the input; what they name was left out or put right as they say.
    """

    pooled: Pooled
    wear: estimating.Fit
    band_scale: Floats
    footfall_ahead: Floats
    plan: Plan
    days_ahead: Whole
    findings: tuple[Finding, ...]


def estimate(
    *,
    zone: ArrayLike,
    day: ArrayLike,
    value: ArrayLike,
    stations: ArrayLike,
    after_burnish: ArrayLike,
    footfall: ArrayLike,
    counted: ArrayLike,
    traffic: ArrayLike,
    burnish: ArrayLike,
    recoat: ArrayLike,
    repolish: ArrayLike,
    today: ArrayLike,
    opening: ArrayLike | None = None,
    pooled: Pooled | None = None,
) -> Fit:
    """Estimate the state and the rates of every zone.

    Parameters
    ----------
    zone, day, value, stations, after_burnish : (R,), one reading each, in any order: zone index,
        day >= 0, GU, station values averaged, taken after that day's treatment.
    footfall : (Z, D), persons a day; burnish, recoat, repolish : (Z, D), done or planned.
    counted, traffic, today, opening : (Z,): footfall counted; 0 light … 3 extreme; last day of
        history; 0 fresh (just polished and protected), 1 unknown.
    pooled : of an earlier fit; None to learn it from these zones.

    Order within a day and the first reading: see "A plain entry for study" in docs/wear.md.

    Raises
    ------
    ValueError : arrays do not fit together.

    Source: see `ground.wear.estimate.estimate` and `ground.wear.learn.learn`.
    """
    readings = GivenReadings.of(zone, day, value, stations, after_burnish)
    unsure = 0 if opening is None else opening
    work = (repolish, recoat, burnish)
    floors = GivenFloors.of(footfall, work, counted, traffic, today, unsure)
    return _fitted(readings, floors, pooled)


def _fitted(readings: GivenReadings, floors: GivenFloors, pooled: Pooled | None) -> Fit:
    past, ahead, asked = aligned(floors.footfall, floors.work, floors.today)
    taken, doubted = taken_readings(readings, past, floors.today)
    columns = WearColumns(
        thousand_passes=past.thousand_passes,
        treatments=_effects(past.work),
        reading_zone=taken.zone,
        reading_day=taken.day + past.start_day[taken.zone],
        reading_ln=taken.ln,
        reading_stations=taken.stations,
        reading_after_burnish=taken.after,
        counted=floors.counted,
        opening=np.where(floors.unknown, OpeningCode.UNKNOWN, OpeningCode.FRESH),
        opening_about_days=np.zeros(floors.today.shape),
        start_day=past.start_day,
    )
    zone_class = class_places(floors.traffic, floors.counted)
    common = learn(columns, LAW, zone_class) if pooled is None else pooled
    return Fit(
        pooled=common,
        wear=estimating.estimate(columns, common.law(LAW), common.prior(zone_class), rounds=ROUNDS),
        band_scale=common.band_scale[zone_class],
        footfall_ahead=ahead.thousand_passes,
        plan=_effects(ahead.work),
        days_ahead=floors.footfall.shape[1] - 1 - floors.today,
        findings=floors.findings + asked + doubted,
    )


def _effects(work: tuple[Flags, ...]) -> Plan:
    return tuple(zip((REPOLISH, RECOAT, BURNISH), work, strict=True))


def forecast(
    fit: Fit, ahead: ArrayLike, level: float = 0.90, before_burnish: bool = True
) -> tuple[Floats, Floats, Floats]:
    """Gloss at `today + ahead` with a band; the gloss itself, without a reading's error.

    Parameters
    ----------
    ahead : (A,), days after today, >= 1.
    level : share of futures inside the band, 0..1.
    before_burnish : before that day's treatment, or after it.

    Returns
    -------
    (median, lower, upper), each (Z, A) in GU; NaN where a zone has no readings or no plan.

    Source: see `ground.wear.ahead.gloss_ahead`.
    """
    days = np.atleast_1d(np.asarray(ahead, dtype=np.int64))
    found = gloss_ahead(
        fit.wear,
        fit.footfall_ahead,
        fit.plan,
        days,
        level=level,
        after=not before_burnish,
        band_scale=fit.band_scale,
    )
    known = days[None, :] <= fit.days_ahead[:, None]
    median, lower, upper = (np.where(known, part, np.nan) for part in found)
    return median, lower, upper


def first_below(
    fit: Fit,
    promise: ArrayLike,
    horizon: int,
    quantiles: tuple[float, ...] = (0.05, 0.5, 0.95),
) -> Floats:
    """Days until each zone first falls below its promise.

    Parameters
    ----------
    promise : (Z,), GU, fixed through all epochs.
    horizon : days looked ahead.
    quantiles : probabilities asked for.

    Returns
    -------
    (Z, quantiles), 1 = tomorrow, and 1 if already below; inf where not within the horizon; NaN
    without readings. The gloss is seen as after a routine burnish (haze × 0.3), before that day's
    recoat or re-polish.

    Source: see `ground.wear.ahead.first_day_below`.
    """
    days = min(horizon, fit.footfall_ahead.shape[1])
    found = first_day_below(
        fit.wear,
        fit.footfall_ahead[:, :days],
        tuple((effect, where[:, :days]) for effect, where in fit.plan),
        np.broadcast_to(np.asarray(promise, dtype=np.float64), fit.band_scale.shape),
        quantiles,
        band_scale=fit.band_scale,
    )
    return np.where(found > fit.days_ahead[:, None], np.inf, found)
