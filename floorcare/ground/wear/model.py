"""The floor's state and how it moves: haze, protector film, micro-scratching.

Arrays of any broadcastable shape: (zones,), (zones, draws), (zones, days). Exposure is counted in
thousand weighted passes; a day's exposure is its passes plus the surface's ageing.
"""

from dataclasses import dataclass
from typing import Self

import numpy as np
from numpy.typing import NDArray

from floorcare.ground.trade.surface import Effect, WearLaw

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Whole = NDArray[np.int64]

Index = int | slice | Flags | Whole | tuple[slice, Whole]

FRESH_SCRATCH = 0.03
"""ω of a floor just polished. Assumption, as the surface's own figures."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FloorState:
    """Where a floor stands.

    haze : h, scuffs that survive cleaning, 0 (none) to 1.
    film : f, protector left, 0 to 1 (whole).
    scratch : ω, micro-scratching, 0 upwards.
    """

    haze: Floats
    film: Floats
    scratch: Floats

    @classmethod
    def fresh(cls, shape: int | tuple[int, ...], law: WearLaw) -> Self:  # noqa: ARG003
        """A floor just polished and protected: h 0, f 1, ω 0.03, the same on every surface.

        Parameters
        ----------
        shape : of the arrays wanted, e.g. (zones, draws).
        law : the surface's law; no surface has its own fresh state yet.

        Assumption: starting values, to be learned away from readings taken after polishing.
        """
        return cls(haze=np.zeros(shape), film=np.ones(shape), scratch=np.full(shape, FRESH_SCRATCH))

    @classmethod
    def possible(cls, haze: Floats, film: Floats, scratch: Floats) -> Self:
        """The nearest state a floor can have to one that a draw or a straight line led to.

        Assumption: haze and film lie from 0 to 1, micro-scratching from 0.
        """
        return cls(
            haze=np.clip(haze, 0.0, 1.0),
            film=np.clip(film, 0.0, 1.0),
            scratch=np.maximum(scratch, 0.0),
        )

    def rows(self, index: Index) -> Self:
        """The state of some zones only.

        Assumption: zones stand on axis 0.
        """
        return type(self)(haze=self.haze[index], film=self.film[index], scratch=self.scratch[index])


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Rates:
    """A zone's own rates k·e^u of haze, film and scratching, per thousand passes."""

    haze: Floats
    film: Floats
    scratch: Floats

    def rows(self, index: Index) -> Self:
        """The rates of some zones only.

        Assumption: zones stand on axis 0.
        """
        return type(self)(haze=self.haze[index], film=self.film[index], scratch=self.scratch[index])


@dataclass(frozen=True, slots=True, kw_only=True)
class Factors:
    """An effect as three straight lines: h ← a·h, f ← a·f + b, ω ← a·ω + b."""

    haze_kept: float
    film_kept: float
    film_added: float
    scratch_kept: float
    scratch_added: float


def factors_of(effect: Effect) -> Factors:
    """The straight lines behind a treatment's effect on the state.

    Source: `Effect` in ground/trade/surface.py; "to" outranks "kept".
    """
    lays_film = effect.film_to is not None
    refinishes = effect.scratch_to is not None
    return Factors(
        haze_kept=effect.haze_kept,
        film_kept=0.0 if lays_film else effect.film_kept,
        film_added=effect.film_to or 0.0,
        scratch_kept=0.0 if refinishes else effect.scratch_kept,
        scratch_added=effect.scratch_to or 0.0,
    )


def rates_from(law: WearLaw, u_haze: Floats, u_rest: Floats) -> Rates:
    """The rates of zones that wear e^u times as fast as the surface's law says.

    Parameters
    ----------
    u_haze, u_rest : ln of the zone's own factor on haze, and on film and scratching.

    Assumption: the law's rates are starting values, learned away by each zone's readings.
    """
    rest = np.exp(u_rest)
    return Rates(
        haze=law.haze_rate * np.exp(u_haze),
        film=law.film_rate * rest,
        scratch=law.scratch_rate * rest,
    )


def hazed(haze: Floats, rate: Floats, exposure: Floats | float) -> Floats:
    """Haze after an exposure; see `wear_by`.

    Source: exponential approach to full haze, as `wear_by`.
    """
    return 1.0 - (1.0 - haze) * np.exp(-rate * exposure)


def worn(
    film: Floats, scratch: Floats, rates: Rates, law: WearLaw, exposure: Floats | float
) -> tuple[Floats, Floats]:
    """Film and micro-scratching after an exposure; see `wear_by`.

    Source: exponential decay of the film, as `wear_by`.
    """
    left = film * np.exp(-rates.film * exposure)
    if law.film_rate > 0:
        spared = law.scratch_rate / law.film_rate * (film - left)
    else:
        spared = rates.scratch * exposure * film
    return left, scratch + rates.scratch * exposure - law.film_scratch_share * spared


def wear_by(state: FloorState, rates: Rates, law: WearLaw, exposure: Floats | float) -> FloorState:
    """The state after an exposure without treatment; days may be added up, the result is the same.

    Parameters
    ----------
    exposure : thousand weighted passes, ageing included.

    Source: exponential decay to a non-zero end value, the published habit for road surfaces under
    traffic; the split into haze, film and scratching is an Assumption.
    """
    film, scratch = worn(state.film, state.scratch, rates, law, exposure)
    return FloorState(haze=hazed(state.haze, rates.haze, exposure), film=film, scratch=scratch)


def expose(
    state: FloorState, rates: Rates, law: WearLaw, thousand_passes: Floats | float
) -> FloorState:
    """The state after one day's passes; cleaning and ageing are added here.

    Parameters
    ----------
    thousand_passes : weighted passes of the day through the busiest lane, in thousands, >= 0.

    Assumption: ageing counts as `law.ageing` thousand passes a day.
    """
    return wear_by(state, rates, law, thousand_passes + law.ageing)


def treat(state: FloorState, effect: Effect, where: Flags | None = None) -> FloorState:
    """The state after a treatment.

    Parameters
    ----------
    effect : what the treatment does to the state.
    where : the zones treated, broadcastable to the state; None for all.

    Assumption: a treatment does the same to every zone of a surface.
    """
    by = factors_of(effect)
    haze = state.haze * by.haze_kept
    film = state.film * by.film_kept + by.film_added
    scratch = state.scratch * by.scratch_kept + by.scratch_added
    if where is not None:
        haze = np.where(where, haze, state.haze)
        film = np.where(where, film, state.film)
        scratch = np.where(where, scratch, state.scratch)
    return FloorState(haze=haze, film=film, scratch=scratch)


def ln_gloss(state: FloorState, law: WearLaw) -> Floats:
    """ln of the gloss a state has, relative to the zone's level.

    Source: end value above zero after the published habit for surfaces under traffic; the form
    ln r + ln(1 − a·h) + s(f − 1) is an Assumption.
    """
    return ln_of_haze(state.haze, law) + ln_of_coat(state.film, state.scratch, law)


def ln_of_haze(haze: Floats, law: WearLaw) -> Floats:
    """The haze's part of `ln_gloss`.

    Assumption: ln(1 − a·h).
    """
    part: Floats = np.log1p(-law.haze_loss * haze)
    return part


def ln_of_coat(film: Floats, scratch: Floats, law: WearLaw) -> Floats:
    """The film's and the finish's part of `ln_gloss`.

    Assumption: ln r + s(f − 1).
    """
    finish = law.finish_floor + (1.0 - law.finish_floor) * np.exp(-scratch)
    part: Floats = np.log(finish) + law.film_gloss * (film - 1.0)
    return part
