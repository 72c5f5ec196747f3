"""Invented floors whose truth departs from the law, as columns for `ground.wear.study`.

Nothing of the wear model is used here: haze, film and scratching follow laws of their own, with
other exponents, gamma noise on every day, spills, treatments that work better or worse, a level
that a re-polish does not quite restore, and readings with station, day and instrument effects.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

FOOTFALL = np.array([120.0, 500.0, 2000.0, 6000.0])
SHARE = np.array([0.20, 0.35, 0.30, 0.15])
"""Footfall assumed for each traffic level, and how many zones have it."""
METERS = 40
"""Meters and their calibrations; few would give all floors one error that no model can see."""
BURNISHES_A_WEEK = (1, 1, 2, 3)
RECOAT_DAYS = (330, 250, 170, 110)


@dataclass(frozen=True, slots=True, kw_only=True)
class World:
    """How the truth differs from the law; every figure invented.

    haze_power, film_power, scratch_power : exponents on passes; 1 in the law.
    gamma_cv : spread of a day's haze about its mean.
    spills_a_day, spill_haze : chance, and most haze one spill brings.
    burnish_sd : spread of the share of haze a burnish leaves.
    restored_sd : spread of the level after a re-polish, ln.
    residue_sd, residue_days : what cleaning leaves behind, ln, and how long it lasts.
    day_sd, instrument_sd, station_sd : errors of a reading, ln: common to a day, to a meter, own.
    gross_share : of readings that are wrong by a fifth to a factor of two.
    shifted : share of zones whose traffic changes for good.
    """

    haze_power: float = 0.85
    film_power: float = 1.2
    scratch_power: float = 0.9
    gamma_cv: float = 2.5
    spills_a_day: float = 0.02
    spill_haze: float = 0.8
    burnish_sd: float = 0.12
    restored_sd: float = 0.02
    drift_sd: float = 0.0015
    residue_sd: float = 0.0
    residue_days: float = 15.0
    day_sd: float = 0.015
    instrument_sd: float = 0.02
    station_sd: float = 0.05
    gross_share: float = 0.03
    shifted: float = 0.10


DEPARTING = World()
AS_THE_LAW = World(
    haze_power=1.0,
    film_power=1.0,
    scratch_power=1.0,
    gamma_cv=0.01,
    spills_a_day=0.0,
    burnish_sd=0.0,
    restored_sd=0.0,
    drift_sd=0.002,
    day_sd=0.0,
    shifted=0.0,
)
RESTLESS = World(residue_sd=0.03)
"""As well as that, what cleaning leaves behind comes and goes within a fortnight."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Floors:
    """What is handed to the study, and what it may not see.

    given : keyword arguments of `study.estimate`, `opening` among them.
    before, seen : (Z, D), true gloss in GU before each day's work: as it lies, and as after a
        routine burnish.
    known : (Z, H), the best guess of one who knows true state and rates today.
    known_futures : (Z, K, H), futures that one draws, seen as after a routine burnish.
    """

    given: dict[str, NDArray[np.generic]]
    before: Floats
    seen: Floats
    known: Floats
    known_futures: Floats


@dataclass(slots=True, kw_only=True)
class _State:
    haze: Floats
    film_wear: Floats
    scratch: Floats
    drift: Floats
    residue: Floats


def make_floors(
    *,
    zones: int,
    seed: int,
    readings: int = 24,
    days: int = 730,
    ahead: int = 90,
    world: World = DEPARTING,
    first_seen: int = 0,
    futures: int = 64,
) -> Floors:
    """Invent floors, let them live and read them.

    Parameters
    ----------
    readings : rounds a zone, the first on the day the floor is fresh.
    first_seen : the day somebody takes the floors over; nothing before it is told.
    futures : drawn for one who knows.
    """
    random = np.random.Generator(np.random.PCG64(seed))
    total = days + ahead
    traffic = random.choice(4, zones, p=SHARE)
    counted = random.random(zones) < 0.5
    passes, expected, told = _footfall(random, traffic, counted, days, total, world)
    work = _work(random, traffic, total)
    rates = _rates(random, traffic)
    level = np.log(random.lognormal(np.log(45.0), 0.22, zones))
    kept = np.clip(0.30 + world.burnish_sd * random.standard_normal((zones, total)), 0.05, 0.9)
    state = _State(
        haze=np.zeros(zones),
        film_wear=np.zeros(zones),
        scratch=np.full(zones, 0.03),
        drift=level.copy(),
        residue=world.residue_sd * random.standard_normal(zones),
    )
    before, after, seen = (np.empty((zones, total)) for _ in range(3))
    fresh = _gloss(state)
    known = np.empty((zones, ahead))
    known_futures = np.empty((zones, futures, ahead))
    for day in range(total):
        if day == days:
            known, known_futures = _known(
                random,
                state,
                rates,
                expected[:, days:],
                [w[:, days:] for w in work],
                world,
                futures,
                level,
            )
        _live(random, state, rates, passes[:, day], world)
        before[:, day] = _gloss(state)
        seen[:, day] = _gloss(state, 0.3)
        _work_done(random, state, [w[:, day] for w in work], kept[:, day], world, level)
        after[:, day] = _gloss(state)
    when, after_burnish = _rounds(random, zones, readings, days - first_seen, first_seen)
    value, stations = _read(random, before, after, fresh, when, after_burnish, world)
    keep = slice(first_seen, total)
    given = {
        "zone": np.repeat(np.arange(zones), when.shape[1]),
        "day": (when - first_seen).ravel(),
        "value": value.ravel(),
        "stations": stations.ravel(),
        "after_burnish": after_burnish.ravel(),
        "footfall": told[:, keep],
        "counted": counted,
        "traffic": traffic,
        "burnish": work[0][:, keep],
        "recoat": work[1][:, keep],
        "repolish": work[2][:, keep],
        "today": np.full(zones, days - first_seen - 1),
        "opening": np.full(zones, 1 if first_seen else 0),
    }
    return Floors(
        given=given,
        before=before[:, days:],
        seen=seen[:, days - 1 :],
        known=known,
        known_futures=known_futures,
    )


def _footfall(
    random: np.random.Generator,
    traffic: NDArray[np.int64],
    counted: NDArray[np.bool_],
    days: int,
    total: int,
    world: World,
) -> tuple[Floats, Floats, Floats]:
    """Passes in thousands, true and expected; and the footfall told: counted, or the level's."""
    zones = traffic.size
    mean = FOOTFALL[traffic] * np.exp(0.35 * random.standard_normal(zones))
    weekend = np.where(random.random(zones) < 0.5, 0.3, 1.0)
    day = np.arange(total)
    shape = np.where((day % 7 >= 5)[None, :], weekend[:, None], 1.0)
    phase = random.random(zones)[:, None]
    shape = shape * (1.0 + 0.2 * np.sin(2 * np.pi * (day[None, :] / 365.0 + phase)))
    shifted = random.random(zones) < world.shifted
    size = np.exp(np.where(random.random(zones) < 0.5, 0.5, -0.5))
    since = random.integers(days // 2, days, zones)
    shift = np.where(shifted[:, None] & (day[None, :] >= since[:, None]), size[:, None], 1.0)
    true = mean[:, None] * shape * shift
    daily = true * random.gamma(9.0, 1.0 / 9.0, true.shape)
    miscount = np.exp(0.08 * random.standard_normal(zones))[:, None]
    counts = np.where(day[None, :] < days, daily, true) * miscount
    told = np.where(counted[:, None], counts, FOOTFALL[traffic][:, None])
    return daily / 1000.0, true / 1000.0, told.astype(np.float64)


def _work(
    random: np.random.Generator, traffic: NDArray[np.int64], total: int
) -> list[NDArray[np.bool_]]:
    """Burnishes, recoats and re-polishes."""
    zones, day = traffic.size, np.arange(total)[None, :]
    a_week = np.array(BURNISHES_A_WEEK)[traffic][:, None]
    offset = random.integers(0, 7, zones)[:, None]
    weekday = (day + offset) % 7
    burnish = (weekday == 2) | ((a_week > 1) & (weekday == 5)) | ((a_week > 2) & (weekday == 0))
    burnish &= random.random((zones, total)) < 0.95
    every = np.array(RECOAT_DAYS)[traffic] * random.uniform(0.8, 1.2, zones)
    start = random.uniform(0.4, 1.0, zones) * every
    ordinal = np.floor((day - start[:, None]) / every[:, None])
    recoat = np.diff(ordinal, axis=1, prepend=-1.0) > 0
    repolish = np.zeros((zones, total), dtype=np.bool_)
    some = np.flatnonzero(random.random(zones) < 0.35)
    repolish[some, random.integers(200, total, some.size)] = True
    return [burnish, recoat & ~repolish, repolish]


def _rates(random: np.random.Generator, traffic: NDArray[np.int64]) -> Floats:
    """(3, Z) rates of haze, film and scratching; each level of traffic wears in its own way."""
    own = random.multivariate_normal([0.0, 0.0], [[0.09, 0.045], [0.045, 0.09]], traffic.size).T
    of_level = np.array([[0.25, 0.05, -0.10, -0.05], [-0.10, 0.10, 0.05, 0.20]])[:, traffic]
    haze, rest = np.exp(own + of_level)
    return np.stack([0.025 * haze, 0.0044 * rest, 0.00018 * rest])


def _live(
    random: np.random.Generator, state: _State, rates: Floats, passes: Floats, world: World
) -> None:
    """A day of traffic, spills and cleaning."""
    x = passes + 0.10
    shape = world.gamma_cv**-2
    noise = random.gamma(shape, 1.0 / shape, state.haze.shape)
    state.haze = 1.0 - (1.0 - state.haze) * np.exp(-rates[0] * x**world.haze_power * noise)
    hit = random.random(state.haze.shape) < world.spills_a_day
    spilt = np.where(hit, world.spill_haze * random.random(state.haze.shape), 0.0)
    state.drift = state.drift + world.drift_sd * random.standard_normal(state.haze.shape)
    stays = np.exp(-1.0 / world.residue_days)
    fresh_residue = world.residue_sd * np.sqrt(1.0 - stays**2)
    state.residue = stays * state.residue + fresh_residue * random.standard_normal(state.haze.shape)
    state.haze = state.haze + spilt * (1.0 - state.haze)
    film = np.exp(-(state.film_wear**world.film_power))
    state.film_wear = state.film_wear + rates[1] * x
    state.scratch = state.scratch + rates[2] * x * (1.0 - 0.7 * film)


def _gloss(state: _State, haze_kept: float = 1.0, world: World = DEPARTING) -> Floats:
    film = np.exp(-(state.film_wear**world.film_power))
    finish = 0.4 + 0.6 * np.exp(-(state.scratch**world.scratch_power))
    gloss: Floats = (
        np.exp(state.drift + state.residue + 0.10 * (film - 1.0))
        * finish
        * (1.0 - 0.25 * haze_kept * state.haze)
    )
    return gloss


def _work_done(
    random: np.random.Generator,
    state: _State,
    work: list[NDArray[np.bool_]],
    kept: Floats,
    world: World,
    level: Floats,
) -> None:
    wide = state.haze.ndim > 1
    b, c, p = (w[:, None] if wide else w for w in work)
    restored = level + world.restored_sd * random.standard_normal(level.shape)
    state.drift = np.where(p, restored, state.drift)
    state.scratch = np.where(p, 0.03, state.scratch)
    state.film_wear = np.where(p | c, 0.0, state.film_wear)
    state.haze = np.where(p | c, 0.0, np.where(b, state.haze * kept, state.haze))


def _known(
    random: np.random.Generator,
    state: _State,
    rates: Floats,
    passes: Floats,
    work: list[NDArray[np.bool_]],
    world: World,
    futures: int,
    own_level: Floats,
) -> tuple[Floats, Floats]:
    """What one who knows state and rates expects: the median of his futures, and the futures."""
    ahead = passes.shape[1]
    level = np.repeat(own_level[:, None], futures, axis=1)
    wide = _State(
        haze=np.repeat(state.haze[:, None], futures, axis=1),
        film_wear=np.repeat(state.film_wear[:, None], futures, axis=1),
        scratch=np.repeat(state.scratch[:, None], futures, axis=1),
        drift=np.repeat(state.drift[:, None], futures, axis=1),
        residue=np.repeat(state.residue[:, None], futures, axis=1),
    )
    lies = np.empty((state.haze.size, futures, ahead))
    seen = np.empty_like(lies)
    for day in range(ahead):
        _live(random, wide, rates[:, :, None], passes[:, day, None], world)
        lies[:, :, day], seen[:, :, day] = _gloss(wide), _gloss(wide, 0.3)
        kept = np.clip(0.30 + world.burnish_sd * random.standard_normal(wide.haze.shape), 0.05, 0.9)
        _work_done(random, wide, [w[:, day] for w in work], kept, world, level)
    return np.median(lies, axis=1), seen


def _rounds(
    random: np.random.Generator, zones: int, readings: int, span: int, first: int
) -> tuple[NDArray[np.int64], NDArray[np.bool_]]:
    """(Z, n) days and states of the rounds; the first on the first day, before its exposure."""
    gap = span / readings
    when = np.floor(gap * (np.arange(readings) + random.random((zones, readings)))).astype(np.int64)
    when[:, 0] = 0
    after = random.random((zones, readings)) < 0.5
    after[:, 0] = False
    return np.minimum(when, span - 1) + first, after


def _read(
    random: np.random.Generator,
    before: Floats,
    after: Floats,
    fresh: Floats,
    when: NDArray[np.int64],
    after_burnish: NDArray[np.bool_],
    world: World,
) -> tuple[Floats, NDArray[np.int64]]:
    zones = when.shape[0]
    row = np.arange(zones)[:, None]
    true = np.where(after_burnish, after[row, when], before[row, when])
    true[:, 0] = np.where(when[:, 0] == 0, fresh, true[:, 0])
    stations = random.integers(3, 8, when.shape)
    day_effect = world.day_sd * random.standard_normal(when.max() + 1)[when]
    meter = random.integers(0, METERS, when.shape)
    offset = world.instrument_sd * random.standard_normal(METERS)[meter]
    own = world.station_sd / np.sqrt(stations) * random.standard_normal(when.shape)
    wrong = random.random(when.shape) < world.gross_share
    size = random.uniform(0.2, 0.7, when.shape) * np.where(random.random(when.shape) < 0.5, 1, -1)
    return true * np.exp(day_effect + offset + own + np.where(wrong, size, 0.0)), stations
