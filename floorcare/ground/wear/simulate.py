"""Floors whose truth is known, for tests, studies and the sample: the same law, and departures."""

from dataclasses import dataclass

import numpy as np

from floorcare.ground.trade.surface import WearLaw
from floorcare.ground.wear.forecast import Plan
from floorcare.ground.wear.model import (
    Flags,
    Floats,
    FloorState,
    Rates,
    Whole,
    expose,
    ln_gloss,
    rates_from,
    treat,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Departure:
    """How the truth differs from the law; the defaults are no departure.

    haze_exponent : haze grows with passes to this power (of a thousand a day), 1 for the law.
    exposure_cv : coefficient of variation of a day's true passes, gamma spread.
    spill_chance : chance a day of a spill that adds `spill_haze` of the haze still possible.
    """

    haze_exponent: float = 1.0
    exposure_cv: float = 0.0
    spill_chance: float = 0.0
    spill_haze: float = 0.3


AS_THE_LAW = Departure()


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Truth:
    """What really happened to Z zones over D days.

    before, after : (Z, D), gloss in GU before and after each day's treatments.
    level, shock : (Z, D), ln level with drift, and the shock walk after treatments.
    haze, film, scratch : (Z, D), the state after treatments.
    """

    before: Floats
    after: Floats
    level: Floats
    shock: Floats
    haze: Floats
    film: Floats
    scratch: Floats

    def state(self, day: int) -> FloorState:
        """The true state (Z,) at the end of a day.

        Assumption: day 0 is the first simulated day.
        """
        return FloorState(
            haze=self.haze[:, day], film=self.film[:, day], scratch=self.scratch[:, day]
        )


def simulate(
    law: WearLaw,
    *,
    thousand_passes: Floats,
    treatments: Plan,
    u_haze: Floats,
    u_rest: Floats,
    level: Floats,
    seed: int,
    opening: FloorState | None = None,
    departure: Departure = AS_THE_LAW,
) -> Truth:
    """Let floors live under the law and its walks.

    Parameters
    ----------
    thousand_passes : (Z, D), ageing not included.
    treatments : (effect, (Z, D)) in the order applied within a day.
    u_haze, u_rest : (Z,), the zones' true ln rate factors.
    level : (Z,), ln GU of the fresh floor.
    seed : of the walks and departures.
    opening : state (Z,) before day 0; None for fresh.

    Assumption: as the law, plus the departures asked for.
    """
    random = np.random.Generator(np.random.PCG64(seed))
    zones, days = thousand_passes.shape
    rates = rates_from(law, u_haze, u_rest)
    state = opening if opening is not None else FloorState.fresh(zones, law)
    level, shock = level.copy(), np.zeros(zones)
    seen = {name: np.empty((zones, days)) for name in Truth.__slots__}
    for day in range(days):
        drift_step, shock_step = random.standard_normal((2, zones))
        level = level + law.drift_sd * drift_step
        shock = shock + law.shock_sd * shock_step
        state = _lived_day(state, rates, law, thousand_passes[:, day], departure, random)
        seen["before"][:, day] = np.exp(level + shock + ln_gloss(state, law))
        for effect, when in treatments:
            state = treat(state, effect, when[:, day])
            shock = np.where(when[:, day], shock * effect.haze_kept, shock)
        seen["after"][:, day] = np.exp(level + shock + ln_gloss(state, law))
        seen["level"][:, day], seen["shock"][:, day] = level, shock
        seen["haze"][:, day], seen["film"][:, day] = state.haze, state.film
        seen["scratch"][:, day] = state.scratch
    return Truth(**seen)


def _lived_day(
    state: FloorState,
    rates: Rates,
    law: WearLaw,
    passes: Floats,
    departure: Departure,
    random: np.random.Generator,
) -> FloorState:
    """One day's exposure with its departures from the law."""
    if departure.exposure_cv > 0:
        shape = departure.exposure_cv**-2
        passes = passes * random.gamma(shape, 1.0 / shape, passes.shape)
    bent = (passes + law.ageing) ** (departure.haze_exponent - 1.0)
    own = Rates(haze=rates.haze * bent, film=rates.film, scratch=rates.scratch)
    state = expose(state, own, law, passes)
    if departure.spill_chance > 0:
        spilt = random.random(passes.shape) < departure.spill_chance
        stained = state.haze + departure.spill_haze * (1.0 - state.haze)
        state = FloorState(
            haze=np.where(spilt, stained, state.haze), film=state.film, scratch=state.scratch
        )
    return state


def read_stations(
    truth: Truth,
    law: WearLaw,
    *,
    zone: Whole,
    day: Whole,
    after_burnish: Flags,
    stations: int,
    seed: int,
    gross_share: float | None = None,
) -> tuple[Floats, Flags]:
    """Readings of some zones on some days, with the errors readings have.

    Parameters
    ----------
    zone, day, after_burnish : (R,), where and when; after the day's treatments or before.
    stations : station values a reading, >= 1.
    seed : of the errors.
    gross_share : share of gross readings; None for the law's.

    Returns
    -------
    (R, stations) station values in GU, and (R,) which readings are gross.

    Assumption: the instrument's error is common to a reading, a station's is its own and new each
    time; a gross reading has all its errors `gross_factor` times as large.
    """
    random = np.random.Generator(np.random.PCG64(seed))
    share = law.gross_share if gross_share is None else gross_share
    common = law.instrument_sd * random.standard_normal((zone.size, 1))
    own = law.station_sd * random.standard_normal((zone.size, stations))
    gross = random.random(zone.size) < share
    error = (common + own) * np.where(gross, law.gross_factor, 1.0)[:, None]
    gloss = np.where(after_burnish, truth.after[zone, day], truth.before[zone, day])
    return gloss[:, None] * np.exp(error), gross
