from dataclasses import fields, replace

import numpy as np
import pytest

from floorcare.ground.trade.traffic import TrafficLevel
from floorcare.ground.wear.pooled import CLASSES, Noise, Pooled, class_of, pooled_as
from floorcare.ground.wear.prior import prior_from
from tests.builders import polished
from tests.taught import NOISE, taught


def test_every_level_has_a_class_of_its_own_with_and_without_a_counter() -> None:
    levels = [level for level in TrafficLevel for _ in range(2)]
    counted = np.array([False, True] * len(TrafficLevel))
    assert class_of(levels, counted).tolist() == list(range(CLASSES))
    assert class_of([TrafficLevel.HEAVY], np.array([True])).tolist() == [5]


def test_before_learning_every_class_is_as_the_surface_file_says() -> None:
    law = polished().law
    start = pooled_as(law)
    counted = np.array([False, True, True])
    found, own = start.prior(np.array([0, 5, 7])), prior_from(law, counted)
    for column in fields(own):
        assert np.array_equal(getattr(found, column.name), getattr(own, column.name))
    assert start.law(law) == law
    assert start.zones.tolist() == start.hidden.tolist() == [0] * CLASSES
    assert np.isnan(start.inside).all()
    assert (start.band_scale == 1).all()


def test_the_noise_learned_takes_the_place_of_the_files_and_nothing_else_does() -> None:
    law = polished().law
    found = taught().law(law)
    assert Noise.of(found) == NOISE
    assert replace(found, **{name: getattr(law, name) for name in Noise.__slots__}) == law


def test_a_zone_has_the_prior_of_its_class() -> None:
    pooled = taught()
    found = pooled.prior(np.array([6, 6, 1]))
    assert found.mean_haze.tolist() == pooled.mean_haze[[6, 6, 1]].tolist()
    assert found.correlation.tolist() == pooled.correlation[[6, 6, 1]].tolist()


@pytest.mark.parametrize("column", [c.name for c in fields(Pooled) if c.name != "noise"])
def test_a_column_without_a_value_for_each_class_is_refused(column: str) -> None:
    short = getattr(taught(), column)[:-1]
    with pytest.raises(ValueError, match=f"{column} must have one value for each of {CLASSES}"):
        taught(**{column: short})
