"""Where a zone's floor stood on the first day of its life: fresh, about fresh, or unknown.

What is not known of it is held in three numbers a zone, each standard normal before any reading;
for a fresh floor they mean nothing.
"""

import numpy as np

from floorcare.ground.trade.surface import WearLaw
from floorcare.ground.wear.columns import OpeningCode, WearColumns
from floorcare.ground.wear.model import FRESH_SCRATCH, Floats, FloorState, Rates, wear_by

OFFSETS = 3
"""OpeningCode numbers a zone: haze (or the date), film, micro-scratching."""

UNIFORM_SLOPE = 1.702
"""Logistic slope at which a standard normal number is spread about evenly over 0..1."""
UNKNOWN_AGE_DAYS = 730.0
"""Median age of a floor taken over in unknown state, since its last re-polish. Assumption."""
UNKNOWN_AGE_LN_SD = 1.0
"""Its sd in ln days: 90 % of such floors between 140 days and ten years. Assumption."""
UNKNOWN_FILM = 0.5
"""Protector such a floor had on average while it aged. Assumption."""


def opening_state(columns: WearColumns, law: WearLaw, offsets: Floats, rates: Rates) -> FloorState:
    """The state (P, Z) at the start of each zone's first day, under P assumptions.

    Parameters
    ----------
    offsets : (3, P, Z), standard normal before any reading.
    rates : (P, Z).

    FRESH and DATED: fresh. ABOUT: fresh `opening_about_days` × offset days earlier, at the zone's
    mean exposure; earlier than fresh runs the law backwards, so that history joins up at the true
    date. UNKNOWN: haze and film anywhere from 0 to 1, micro-scratching of a floor whose age since
    its last re-polish is spread widely.

    Assumption: the wide spread's figures above; a taken-over floor is not believed fresh.
    """
    about, film, scratch = offsets
    fresh = FloorState.fresh(about.shape, law)
    if not columns.opening_unsure:
        return fresh
    lived = np.arange(columns.days)[None, :] >= columns.start_day[:, None]
    passes = np.where(lived, columns.thousand_passes, 0.0).sum(axis=1) / lived.sum(axis=1)
    exposure = passes + law.ageing
    days = np.where(columns.opening == OpeningCode.ABOUT, columns.opening_about_days, 0.0)
    dated = wear_by(fresh, rates, law, days * exposure * about)
    age = UNKNOWN_AGE_DAYS * np.exp(UNKNOWN_AGE_LN_SD * scratch)
    worn = rates.scratch * exposure * age * (1.0 - law.film_scratch_share * UNKNOWN_FILM)
    unknown = columns.opening == OpeningCode.UNKNOWN
    return FloorState(
        haze=np.where(unknown, _anywhere(about), dated.haze),
        film=np.where(unknown, _anywhere(film), dated.film),
        scratch=np.where(unknown, FRESH_SCRATCH + worn, dated.scratch),
    )


def _anywhere(offset: Floats) -> Floats:
    share: Floats = 1.0 / (1.0 + np.exp(-UNIFORM_SLOPE * offset))
    return share
