"""Invented floors that live under a policy: burnished every night, decided for once a week.

Haze, film and scratching follow `tests.scale.departing`'s laws of their own, or with exponents of 1
the law the programme of `tests.scale.policy_programme` knows. All chance is drawn beforehand, so
that every policy meets the same traffic, spills and readings.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tests.scale.departing import DEPARTING, FOOTFALL, METERS, World

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Whole = NDArray[np.int64]

CLASSES = ("light", "moderate", "heavy", "extreme")
LOSS = np.array([0.10, 0.12, 0.20, 0.20])
"""Promised loss: quiet floors are promised more, or nothing would be due on them for years."""
AREA_M2 = 150.0
WARM_WEEKS, WEEKS = 104, 208
"""Two years by a calendar, the same for every policy, then four that count."""
FINE, RECOAT, REPOLISH = 0, 1, 2
NOTHING = -1
AGEING, HAZE_LOSS, FILM_GLOSS, FINISH = 0.10, 0.25, 0.10, 0.4
SEEN, SHARED = 0.3, 0.7
FINE_HAZE, FINE_KEPT = 0.10, 0.85
RATES = (0.025, 0.0044, 0.00018)
PLAIN = World(
    haze_power=1.0,
    film_power=1.0,
    scratch_power=1.0,
    restored_sd=0.0,
    drift_sd=0.0,
    shifted=0.0,
)
"""As the law, but for the chance in a day's haze, in spills and in burnishing."""


@dataclass(slots=True, kw_only=True)
class TrueFloors:
    """Where the floors stand; film as ln of its inverse, drift the level in ln GU."""

    haze: Floats
    film_wear: Floats
    scratch: Floats
    drift: Floats


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Life:
    """Everything that happens to Z floors on D days whatever is decided.

    promise_ln : (Z,), ln GU. told : (Z, D), thousand passes a day as the contractor knows them.
    read : (Z, D), whether a round is taken; its error (Z, D) in ln, and stations.
    """

    world: World
    traffic: Whole
    rates: Floats
    level: Floats
    promise_ln: Floats
    passes: Floats
    told: Floats
    counted: Flags
    gamma: Floats
    spilt: Floats
    kept: Floats
    drift: Floats
    restored: Floats
    read: Flags
    error: Floats
    stations: Whole

    @property
    def zones(self) -> int:
        """How many floors."""
        return int(self.traffic.size)


def a_life(world: World, *, each: int, seed: int, rounds_a_quarter: float) -> Life:
    """The life of `each` floors of every class of traffic."""
    random = np.random.Generator(np.random.PCG64(seed))
    traffic = np.repeat(np.arange(4), each)
    zones, days = traffic.size, 7 * (WARM_WEEKS + WEEKS)
    plain = world is PLAIN
    own = np.zeros((2, zones))
    mean = FOOTFALL[traffic] / 1000.0
    if not plain:
        own = random.multivariate_normal([0, 0], [[0.09, 0.045], [0.045, 0.09]], zones).T
        own += np.array([[0.25, 0.05, -0.10, -0.05], [-0.10, 0.10, 0.05, 0.20]])[:, traffic]
        mean = mean * np.exp(0.35 * random.standard_normal(zones))
    passes, told, counted = _traffic(random, world, mean, traffic, days)
    level = np.log(random.lognormal(np.log(45.0), 0.22, zones))
    shape = world.gamma_cv**-2
    hit = random.random((zones, days)) < world.spills_a_day
    stations = random.integers(3, 8, (zones, days))
    meter = random.integers(0, METERS, (zones, days))
    offset = world.instrument_sd * random.standard_normal(METERS)[meter]
    wrong = random.random((zones, days)) < world.gross_share
    gross = random.uniform(0.2, 0.7, (zones, days)) * random.choice([-1, 1], (zones, days))
    return Life(
        world=world,
        traffic=traffic,
        rates=np.array(RATES)[:, None] * np.exp(np.stack([own[0], own[1], own[1]])),
        level=level,
        promise_ln=level
        + ln_of(np.zeros(1), np.zeros(1), np.full(1, 0.03), world)
        + np.log(1.0 - LOSS[traffic]),
        passes=passes,
        told=told,
        counted=counted,
        gamma=random.gamma(shape, 1.0 / shape, (zones, days)),
        spilt=np.where(hit, world.spill_haze * random.random((zones, days)), 0.0),
        kept=np.clip(0.3 + world.burnish_sd * random.standard_normal((zones, days)), 0.05, 0.9),
        drift=world.drift_sd * random.standard_normal((zones, days)),
        restored=world.restored_sd * random.standard_normal((zones, days)),
        read=_rounds(random, zones, days, 91.0 / rounds_a_quarter),
        error=world.day_sd * random.standard_normal(days)[None, :]
        + offset
        + world.station_sd / np.sqrt(stations) * random.standard_normal((zones, days))
        + np.where(wrong, gross, 0.0),
        stations=stations,
    )


def _rounds(random: np.random.Generator, zones: int, days: int, gap: float) -> Flags:
    """(Z, D) days on which a round is taken: the first, then so far apart, no night of decision."""
    day = np.arange(days)[None, :] + random.random((zones, 1)) * gap
    read = np.floor(day / gap) != np.floor((day - 1) / gap)
    decided = np.arange(days) % 7 == 6
    read[:, 1:] |= (read & decided)[:, :-1]
    read &= ~decided
    read[:, 0] = True
    return read


def _traffic(
    random: np.random.Generator, world: World, mean: Floats, traffic: Whole, days: int
) -> tuple[Floats, Floats, Flags]:
    """Thousand passes a day: true, as told, and whether somebody counts them."""
    zones, day = mean.size, np.arange(days)
    counted = random.random(zones) < 0.5
    if world is PLAIN:
        steady = np.repeat(mean[:, None], days, axis=1)
        return steady, steady, counted
    weekend = np.where(random.random(zones) < 0.5, 0.3, 1.0)
    year = 1.0 + 0.2 * np.sin(2 * np.pi * (day[None, :] / 365.0 + random.random((zones, 1))))
    shape = np.where((day % 7 >= 5)[None, :], weekend[:, None], 1.0) * year
    shifted = random.random(zones) < world.shifted
    size = np.exp(random.choice([-0.5, 0.5], zones))
    since = random.integers(days // 4, days, zones)
    shift = np.where(shifted[:, None] & (day >= since[:, None]), size[:, None], 1.0)
    daily = mean[:, None] * shape * shift * random.gamma(9.0, 1.0 / 9.0, (zones, days))
    count = daily * np.exp(0.08 * random.standard_normal(zones))[:, None]
    level = np.repeat(FOOTFALL[traffic][:, None] / 1000.0, days, axis=1)
    return daily, np.where(counted[:, None], count, level), counted


def ln_of(haze: Floats, film_wear: Floats, scratch: Floats, world: World) -> Floats:
    """ln gloss relative to the level, seen as after a routine burnish."""
    film = np.exp(-(film_wear**world.film_power))
    finish = FINISH + (1.0 - FINISH) * np.exp(-(scratch**world.scratch_power))
    seen: Floats = np.log(finish) + FILM_GLOSS * (film - 1.0)
    return seen + np.log1p(-HAZE_LOSS * SEEN * haze)


def fresh(life: Life) -> TrueFloors:
    """Floors just polished and protected."""
    return TrueFloors(
        haze=np.zeros(life.zones),
        film_wear=np.zeros(life.zones),
        scratch=np.full(life.zones, 0.03),
        drift=life.level.copy(),
    )


def lay(floors: TrueFloors, life: Life, rung: Whole, day: int) -> None:
    """Do each floor's rung, on the night of a day."""
    p = life.world.film_power
    fine, coat, polish = rung == FINE, rung == RECOAT, rung == REPOLISH
    thinner = (floors.film_wear**p - np.log(FINE_KEPT)) ** (1.0 / p)
    floors.haze = np.where(fine, FINE_HAZE * floors.haze, np.where(coat | polish, 0, floors.haze))
    floors.film_wear = np.where(fine, thinner, np.where(coat | polish, 0.0, floors.film_wear))
    floors.scratch = np.where(fine, FINE_KEPT * floors.scratch, floors.scratch)
    floors.scratch = np.where(polish, 0.03, floors.scratch)
    floors.drift = np.where(polish, life.level + life.restored[:, day], floors.drift)


def live_a_day(floors: TrueFloors, life: Life, day: int) -> Floats:
    """A day of traffic, spills and the night's burnish; ln GU before it, seen as after it."""
    x = life.passes[:, day] + AGEING
    world = life.world
    grown = np.exp(-life.rates[0] * x**world.haze_power * life.gamma[:, day])
    floors.haze = 1.0 - (1.0 - floors.haze) * grown
    floors.haze = floors.haze + life.spilt[:, day] * (1.0 - floors.haze)
    floors.drift = floors.drift + life.drift[:, day]
    film = np.exp(-(floors.film_wear**world.film_power))
    floors.film_wear = floors.film_wear + life.rates[1] * x
    floors.scratch = floors.scratch + life.rates[2] * x * (1.0 - SHARED * film)
    seen = floors.drift + ln_of(floors.haze, floors.film_wear, floors.scratch, world)
    floors.haze = floors.haze * life.kept[:, day]
    return seen


Decide = Callable[["Night"], Whole]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Night:
    """What a policy is asked on: the night before `day`; `read_ln` (Z, day) NaN where not read."""

    day: int
    floors: TrueFloors
    life: Life
    read_ln: Floats
    done: Whole


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Lived:
    """What a policy came to, over the weeks that count.

    works : (3, Z). broken : (Z, weeks). in_promise : (Z,), share of days.
    first, last : the floors where counting began and ended.
    """

    works: Whole
    broken: Flags
    in_promise: Floats
    first: TrueFloors
    last: TrueFloors


def live(life: Life, warm: Decide, decide: Decide) -> Lived:
    """Let the floors live, by one policy while they warm up and by another after."""
    floors = fresh(life)
    zones, days = life.passes.shape
    read_ln = np.full((zones, days), np.nan)
    done = np.full((zones, days), NOTHING)
    broken = np.zeros((zones, WEEKS), dtype=bool)
    kept_days = np.zeros(zones)
    first = fresh(life)
    for week in range(WARM_WEEKS + WEEKS):
        start, counts = 7 * week, week >= WARM_WEEKS
        if week == WARM_WEEKS:
            first = TrueFloors(
                haze=floors.haze, film_wear=floors.film_wear, scratch=floors.scratch,
                drift=floors.drift,
            )  # fmt: skip
        if week:
            night = Night(
                day=start, floors=floors, life=life, read_ln=read_ln[:, :start],
                done=done[:, :start],
            )  # fmt: skip
            rung = (decide if counts else warm)(night)
            lay(floors, life, rung, start - 1)
            done[:, start - 1] = rung
        for day in range(start, start + 7):
            if day == 0:
                at = floors.drift + ln_of(floors.haze, floors.film_wear, floors.scratch, life.world)
                read_ln[:, 0] = at + life.error[:, 0]
            seen = live_a_day(floors, life, day)
            below = seen < life.promise_ln
            if day:
                after = floors.drift + ln_of(
                    floors.haze / SEEN, floors.film_wear, floors.scratch, life.world
                )
                read_ln[:, day] = np.where(life.read[:, day], after + life.error[:, day], np.nan)
            if counts:
                broken[:, week - WARM_WEEKS] |= below
                kept_days += ~below
    counted = done[:, 7 * WARM_WEEKS - 1 :]
    return Lived(
        works=np.stack([(counted == rung).sum(axis=1) for rung in (FINE, RECOAT, REPOLISH)]),
        broken=broken,
        in_promise=kept_days / (7 * WEEKS),
        first=first,
        last=floors,
    )


def misspecified(world: World) -> bool:
    """Whether the floors depart from the law."""
    return world == DEPARTING
