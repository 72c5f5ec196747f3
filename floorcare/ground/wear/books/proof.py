"""How far it is proven that a zone's routine was done, and how much less its haze is known."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta

import numpy as np

from floorcare.ground.trade.book import ZoneBook
from floorcare.ground.trade.routine import Proof
from floorcare.ground.trade.surface import Surface
from floorcare.ground.wear.books.from_books import ORDER_IN_A_NIGHT, runs_by_itself
from floorcare.ground.wear.model import Floats
from floorcare.ground.wear.prior import Prior

UNPROVEN_ASSUMED_SD, UNPROVEN_REPORTED_SD = 0.35, 0.15
"""What a routine nobody saw, and one only reported, add to the sd of the ln haze rate. Assumption:
a burnish left out now and then looks like haze that grows faster."""
PROVEN_DAYS = 365
"""A routine that ended longer ago no longer makes today's haze less certain. Assumption."""

_SD: Mapping[Proof, float] = {
    Proof.ASSUMED: UNPROVEN_ASSUMED_SD,
    Proof.REPORTED: UNPROVEN_REPORTED_SD,
}


def unproven_sd(books: Sequence[ZoneBook], surface: Surface, today: date) -> Floats:
    """(Z,), what unproven routines add to the sd of each zone's ln haze rate; 0 for none.

    Only routines that move the state count, and of several the least proven.

    Assumption: as named above; a routine known to be missed is not laid in and adds nothing.
    """
    found = np.zeros(len(books))
    for z, book in enumerate(books):
        for routine in book.routines:
            rung = surface.rung(routine.work)
            ended = routine.ends_on or date.max
            if (
                routine.work in ORDER_IN_A_NIGHT
                and rung is not None
                and rung.effect.treats
                and runs_by_itself(routine)
                and routine.starts_on <= today
                and ended >= today - timedelta(days=PROVEN_DAYS)
            ):
                found[z] = max(found[z], _SD.get(routine.proof, 0.0))
    return found


def less_certain(prior: Prior, more_sd: Floats) -> Prior:
    """The prior with a wider spread of the haze rate; the film's and finish's stay.

    Parameters
    ----------
    more_sd : (Z,), added as variance, independent of everything else.

    Assumption: normal.
    """
    sd = np.hypot(prior.sd_haze, more_sd)
    return replace(prior, sd_haze=sd, correlation=prior.correlation * prior.sd_haze / sd)
