"""Beliefs about rates before a zone's own readings."""

from dataclasses import replace

import numpy as np
import pytest

from floorcare.ground.wear.prior import prior_from
from tests.ground.wear.fleets import LAW


def test_uncounted_footfall_makes_the_belief_wider() -> None:
    prior = prior_from(LAW, np.array([True, False]))
    assert prior.sd_haze.tolist() == [0.35, 0.55]
    assert prior.covariance()[1] == pytest.approx(np.array([[0.3025, 0.15125], [0.15125, 0.3025]]))


def test_a_prior_of_classes_is_handed_to_its_zones() -> None:
    classes = prior_from(LAW, np.array([True, False]))
    assert classes.of(np.array([1, 1, 0])).sd_rest.tolist() == [0.55, 0.55, 0.35]


@pytest.mark.parametrize(
    "change",
    [
        {"sd_haze": np.array([0.0, 0.1])},
        {"sd_rest": np.array([np.nan, 0.1])},
        {"correlation": np.array([1.0, 0.0])},
        {"mean_haze": np.zeros(3)},
    ],
)
def test_an_impossible_prior_is_refused(change: dict[str, np.ndarray]) -> None:
    with pytest.raises(ValueError, match="prior"):
        replace(prior_from(LAW, np.array([True, False])), **change)
