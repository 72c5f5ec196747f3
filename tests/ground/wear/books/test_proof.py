"""Routines nobody saw: the haze rate is less certain, the rest as certain as before."""

from dataclasses import replace

import numpy as np
import pytest

from floorcare.ground.trade.routine import Performer, Proof, Routine
from floorcare.ground.trade.treatment import Work
from floorcare.ground.wear.books.proof import less_certain, unproven_sd
from floorcare.ground.wear.fleet import fit_fleet
from floorcare.ground.wear.prior import prior_from
from tests.builders import DAY, TODAY, a_book, polished, routinely

WEEKLY = "FREQ=WEEKLY;BYDAY=TU"


def burnished(proof: Proof, **more: object) -> Routine:
    return routinely(Work.BURNISH, WEEKLY, by=Performer.SITE_TEAM, proof=proof, **more)


def sd_of(*routines: Routine) -> float:
    return float(unproven_sd([a_book(routines=routines)], polished(), TODAY)[0])


@pytest.mark.parametrize(
    ("proof", "sd"),
    [
        (Proof.CONFIRMED, 0.0),
        (Proof.REPORTED, 0.15),
        (Proof.ASSUMED, 0.35),
        (Proof.KNOWN_MISSED, 0.0),
    ],
)
def test_the_less_is_proven_the_less_is_certain(proof: Proof, sd: float) -> None:
    assert sd_of(burnished(proof)) == sd


def test_of_several_routines_the_least_proven_counts() -> None:
    assert sd_of(burnished(Proof.CONFIRMED), burnished(Proof.ASSUMED)) == 0.35


def test_work_that_moves_no_state_or_is_planned_or_long_over_makes_nothing_less_certain() -> None:
    daily = routinely(Work.CLEAN, "FREQ=DAILY", proof=Proof.ASSUMED)
    planned = routinely(Work.BURNISH, "FREQ=MONTHLY;BYMONTHDAY=1", proof=Proof.ASSUMED)
    over = burnished(Proof.ASSUMED, ends_on=TODAY - 366 * DAY)
    to_come = burnished(Proof.ASSUMED, starts_on=TODAY + DAY)
    assert sd_of(daily, planned, over, to_come) == 0.0
    assert sd_of(burnished(Proof.ASSUMED, ends_on=TODAY - 365 * DAY)) == 0.35


def test_only_the_spread_of_the_haze_rate_widens() -> None:
    prior = prior_from(polished().law, np.array([True, False]))
    wide = less_certain(prior, np.array([0.35, 0.0]))
    assert wide.sd_haze == pytest.approx([np.hypot(0.35, 0.35), 0.55])
    assert np.array_equal(wide.sd_rest, prior.sd_rest)
    before, after = prior.covariance(), wide.covariance()
    after[0, 0, 0] = before[0, 0, 0]
    assert np.allclose(after, before)


def test_a_zone_whose_burnish_nobody_saw_is_forecast_with_a_wider_haze_rate() -> None:
    books = [a_book(c, routines=(burnished(p),)) for c, p in zip("AB", Proof, strict=False)]
    books[1] = replace(books[1], routines=(burnished(Proof.ASSUMED),))
    fleet = fit_fleet([("NORTH", book) for book in books], polished(), TODAY, draws=32)
    sd = np.sqrt(fleet.fit.covariance[:, 0, 0])
    assert sd[1] > 1.05 * sd[0]
