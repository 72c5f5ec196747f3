"""Invented fleets whose truth is known; shared by the wear tests and the scale study."""

from dataclasses import dataclass, replace

import numpy as np

from floorcare.ground.trade.surface import Effect, WearLaw
from floorcare.ground.wear.columns import WearColumns
from floorcare.ground.wear.forecast import Plan
from floorcare.ground.wear.model import Flags, Floats, Whole
from floorcare.ground.wear.simulate import (
    AS_THE_LAW,
    Departure,
    Truth,
    read_stations,
    simulate,
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
    gross_factor=10.0,
)
BURNISH = Effect(haze_kept=0.3)
RECOAT = Effect(haze_kept=0.0, film_to=1.0)
REPOLISH = Effect(haze_kept=0.0, film_to=1.0, scratch_to=0.03)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Fleet:
    """History to today as columns, the plan after it, and what is really so."""

    columns: WearColumns
    truth: Truth
    passes_ahead: Floats
    plan: Plan
    u_haze: Floats
    u_rest: Floats
    gross: Flags

    @property
    def today(self) -> int:
        """Day index of today in the truth."""
        return self.truth.before.shape[1] - self.passes_ahead.shape[1] - 1


def make_fleet(
    *,
    zones: int,
    days: int,
    ahead: int,
    seed: int,
    readings: int,
    law: WearLaw = LAW,
    departure: Departure = AS_THE_LAW,
) -> Fleet:
    """Zones polished on day 0, burnished twice a week, recoated and now and then re-polished.

    The first reading is taken on day 0, the others on days of their own, before or after burnish.
    """
    random = np.random.default_rng(seed)
    span = days + ahead
    busy = np.exp(random.uniform(np.log(0.1), np.log(6.0), zones))
    week = np.where(np.arange(span) % 7 < 5, 1.1, 0.75)
    passes = busy[:, None] * week * random.uniform(0.8, 1.2, (zones, span))
    turn = (np.arange(span)[None, :] + random.integers(0, 7, zones)[:, None]) % 7
    since = np.arange(span)[None, :] - random.integers(60, 300, zones)[:, None]
    recoat = (since >= 0) & (since % random.integers(150, 300, zones)[:, None] == 0)
    repolish = np.arange(span)[None, :] == random.integers(span // 3, 2 * span, zones)[:, None]
    work = ((REPOLISH, repolish), (RECOAT, recoat), (BURNISH, (turn == 0) | (turn == 3)))
    counted = random.random(zones) < 0.6
    sd = np.where(counted, law.rate_sd_counted, law.rate_sd_assumed)
    one, other = random.standard_normal((2, zones))
    c = law.rate_correlation
    u_haze, u_rest = sd * one, sd * (c * one + np.sqrt(1 - c * c) * other)
    truth = simulate(
        law,
        thousand_passes=passes,
        treatments=work,
        u_haze=u_haze,
        u_rest=u_rest,
        level=np.log(random.uniform(35.0, 65.0, zones)),
        seed=seed + 1,
        departure=departure,
    )
    day = np.sort(random.integers(0, days, (zones, readings)), axis=1)
    day[:, 0] = 0
    zone, day = np.repeat(np.arange(zones), readings), day.ravel()
    after = random.random(zone.size) < 0.5
    gloss, gross = read_stations(
        truth, law, zone=zone, day=day, after_burnish=after, stations=5, seed=seed + 2
    )
    columns = WearColumns(
        thousand_passes=passes[:, :days],
        treatments=tuple((effect, done[:, :days]) for effect, done in work),
        reading_zone=zone,
        reading_day=day,
        reading_ln=np.log(gloss).mean(axis=1),
        reading_stations=np.full(zone.size, 5),
        reading_after_burnish=after,
        counted=counted,
        opening=np.zeros(zones, dtype=np.int64),
        opening_about_days=np.zeros(zones),
        start_day=np.zeros(zones, dtype=np.int64),
    )
    return Fleet(
        columns=columns,
        truth=truth,
        passes_ahead=passes[:, days:],
        plan=tuple((effect, done[:, days:]) for effect, done in work),
        u_haze=u_haze,
        u_rest=u_rest,
        gross=gross,
    )


def some_readings(columns: WearColumns, kept: Flags | Whole) -> WearColumns:
    """The same zones with some of their readings, in the order given."""
    return replace(columns, **columns.of_readings(kept))


def taken_over(columns: WearColumns, first: int, opening: int) -> WearColumns:
    """The same zones as somebody knows them who came on day `first`."""
    known = some_readings(columns, columns.reading_day >= first)
    return replace(
        known,
        thousand_passes=columns.thousand_passes[:, first:],
        treatments=tuple((effect, done[:, first:]) for effect, done in columns.treatments),
        reading_day=known.reading_day - first,
        opening=np.full(columns.zones, opening),
    )


def only_zone(columns: WearColumns, zone: int) -> WearColumns:
    """One zone of the columns, by itself."""
    return columns.rows(np.array([zone]))


def quiet(law: WearLaw = LAW) -> WearLaw:
    """The law without walks: what remains is a closed formula."""
    return replace(law, drift_sd=0.0, shock_sd=0.0)
