"""Covariates against sums done by hand."""

from dataclasses import replace

import numpy as np
import pytest

from floorcare.ground.trade.surface import Effect
from floorcare.ground.wear.trial.covariates import OWN, course_of, covariates, depth_of
from tests.ground.wear.fleets import BURNISH, LAW, RECOAT, REPOLISH, make_fleet, only_zone

FLEET = make_fleet(zones=3, days=40, ahead=20, seed=5, readings=4)


def one_zone():
    """One thousand passes a day, burnished on days 3 and 8, coated on day 5; burnish on day 12."""
    done = np.zeros((3, 1, 10), dtype=bool)
    done[1, 0, 5] = done[2, 0, [3, 8]] = True
    ahead = np.zeros((1, 5), dtype=bool)
    ahead[0, 2] = True
    columns = replace(
        only_zone(FLEET.columns, 0),
        thousand_passes=np.ones((1, 10)),
        treatments=((REPOLISH, done[0]), (RECOAT, done[1]), (BURNISH, done[2])),
        reading_zone=np.zeros(0, dtype=np.int64),
        reading_day=np.zeros(0, dtype=np.int64),
        reading_ln=np.zeros(0),
        reading_stations=np.zeros(0, dtype=np.int64),
        reading_after_burnish=np.zeros(0, dtype=bool),
    )
    law = replace(LAW, ageing=0.0)
    return course_of(columns, law, np.ones((1, 5)), ((BURNISH, ahead),)), law


def seen(day, after=False):
    course, law = one_zone()
    one = np.zeros(1, dtype=np.int64)
    return covariates(course, law, one, one + day, np.array([after]))[0], law


@pytest.mark.parametrize(
    ("day", "after", "since_burnish", "since_coat", "since_polish"),
    [
        (2, False, 3, 3, 3),
        (3, False, 4, 4, 4),
        (3, True, 0, 4, 4),
        (5, False, 2, 6, 6),
        (5, True, 0, 0, 6),
        (9, False, 1, 4, 10),
        (12, False, 4, 7, 13),
        (12, True, 0, 7, 13),
        (14, False, 2, 9, 15),
    ],
)
def test_passes_are_counted_from_the_last_treatment_at_least_so_deep(
    day, after, since_burnish, since_coat, since_polish
):
    row, law = seen(day, after)
    assert row[0] == 1.0
    assert row[1] == pytest.approx(1 - np.exp(-law.haze_rate * since_burnish))
    assert row[2] == pytest.approx(1 - np.exp(-law.film_rate * since_coat))
    assert row[3] == pytest.approx(law.scratch_rate * since_polish)
    assert row.size > OWN


def test_the_interval_before_the_last_burnish_is_known_apart():
    row, law = seen(10)
    assert row[OWN] == pytest.approx(1 - np.exp(-law.haze_rate * 3)), "days 6 to 8, recoat on day 5"
    assert seen(2)[0][OWN] == 0.0, "nothing was burnished yet"


def test_a_reading_after_a_burnish_that_was_not_is_one_before_it():
    assert np.array_equal(seen(9, after=True)[0], seen(9, after=False)[0])


@pytest.mark.parametrize(
    ("effect", "depth"),
    [
        (BURNISH, 0),
        (RECOAT, 1),
        (REPOLISH, 2),
        (Effect(film_kept=0.5), 1),
        (Effect(scratch_kept=0.9), 2),
    ],
)
def test_a_treatment_is_as_deep_as_what_it_changes(effect, depth):
    assert depth_of(effect) == depth


def test_a_plan_of_another_shape_is_refused():
    with pytest.raises(ValueError, match="plan must have"):
        course_of(FLEET.columns, LAW, FLEET.passes_ahead[:, :5], FLEET.plan)
    with pytest.raises(ValueError, match="allowed"):
        course_of(FLEET.columns, LAW, FLEET.passes_ahead[:2], ())
