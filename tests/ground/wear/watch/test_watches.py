import numpy as np
import pytest
from scipy.stats import multivariate_normal

from floorcare.ground.wear.watch.watches import (
    Apart,
    far_ones_wider,
    in_doubt,
    ln_chances,
    mean_errors,
    offset_of,
    support,
)
from tests.ground.wear.fleets import LAW


def apart(off, *, spread=0.02, shared=0.01, error=0.03) -> Apart:
    off = np.atleast_2d(np.array(off, dtype=float))
    rows, places = off.shape
    covariance = np.full((rows, places, places), shared**2) + spread**2 * np.eye(places)
    return Apart(
        off=off,
        there=np.ones(off.shape, dtype=np.bool_),
        covariance=covariance,
        error=np.full(off.shape, error**2),
    )


def test_the_chance_is_that_of_a_normal_mixed_with_one_gross_reading():
    seen = apart([0.02, -0.05, 0.01])
    rest = 2 * np.pi
    parts = []
    for gross in (None, 0, 1, 2):
        wide = np.ones(3)
        if gross is not None:
            wide[gross] = LAW.gross_factor**2
        covariance = seen.covariance[0] + np.diag(seen.error[0] * wide)
        weight = (1 - LAW.gross_share) ** (3 if gross is None else 2)
        weight *= 1 if gross is None else LAW.gross_share
        parts.append(weight * multivariate_normal.pdf(seen.off[0], np.zeros(3), covariance))
    assert ln_chances(seen, LAW)[0][0] == pytest.approx(np.log(sum(parts)) + 1.5 * np.log(rest))


def test_a_reading_left_out_leaves_the_chance_of_the_others():
    seen = apart([0.02, 0.3, -0.06])
    for place in range(3):
        rest = np.delete(seen.off[0], place)
        assert ln_chances(seen, LAW)[1][0, place] == pytest.approx(
            ln_chances(apart(rest), LAW)[0][0]
        )


def test_an_empty_place_changes_nothing():
    seen, fewer = apart([0.02, 0.0]), apart([0.02])
    seen.there[0, 1] = False
    seen.covariance[0, 1, :] = seen.covariance[0, :, 1] = 0.0
    seen.error[0, 1] = 1.0
    assert ln_chances(seen, LAW)[0] == pytest.approx(ln_chances(fewer, LAW)[0])
    assert support(seen, seen, LAW)[0] == -np.inf


def test_one_reading_alone_supports_no_change_and_a_gross_one_among_others_neither():
    assert support(apart([0.0]), apart([-0.3]), LAW)[0] == -np.inf
    changed, unchanged = apart([0.1, 0.1, -0.2]), apart([0.0, 0.0, -0.3])
    assert support(changed, unchanged, LAW)[0] < 1.0


def test_several_readings_together_support_a_change():
    assert support(apart([0.0, 0.01, 0.0]), apart([-0.12, -0.11, -0.12]), LAW)[0] > 4.0


def test_doubt_about_the_meters_takes_support_away():
    changed, unchanged = apart([0.0, 0.01, 0.0]), apart([-0.12, -0.11, -0.12])
    doubtful = support(in_doubt(changed, 0.1), in_doubt(unchanged, 0.1), LAW)[0]
    assert doubtful < 1.0


def test_errors_are_those_of_the_mean_where_readings_are_independent():
    seen = apart([0.02, 0.04], spread=0.0, shared=0.0)
    assert mean_errors(seen)[0] == pytest.approx(0.03 / (0.03 / np.sqrt(2)))


def test_a_far_reading_is_widened_to_the_limit():
    seen = apart([0.0, 1.0])
    spread = far_ones_wider(seen, np.zeros((1, 2)))[0]
    assert spread[0, 0] == pytest.approx(seen.covariance[0, 0, 0] + 0.03**2)
    assert 1.0 / np.sqrt(spread[1, 1]) == pytest.approx(2.5)


def test_the_offset_of_one_of_two_instruments_is_found():
    random = np.random.default_rng(4)
    off = random.normal(0, 0.03, (40, 4)) + random.normal(0, 0.02, (40, 1))
    mine = np.tile([True, False, True, False], (40, 1))
    off += np.where(mine, -0.04, 0.0)
    since = np.tile([0.1, 0.2, 0.3, 0.4], (40, 1))
    found = offset_of([(apart(off, shared=0.02, spread=0.0), mine, since)], grows=False)
    assert found.ln == pytest.approx(-0.04, abs=3 * found.sd)
    assert found.errors < -5
    assert (found.zones, found.readings) == (40, 80)
    other = offset_of([(apart(off, shared=0.02, spread=0.0), ~mine, since)], grows=False)
    assert abs(other.errors) < abs(found.errors)


def test_with_one_instrument_a_small_common_change_is_put_down_to_the_forecast():
    off = np.full((100, 4), -0.01)
    mine = np.ones((100, 4), dtype=np.bool_)
    since = np.tile([0.1, 0.2, 0.3, 0.4], (100, 1))
    assert abs(offset_of([(apart(off), mine, since)], grows=False).errors) < 1.5


def test_an_instrument_that_read_nothing_has_no_offset():
    none = np.zeros((2, 2), dtype=np.bool_)
    assert offset_of([(apart(np.zeros((2, 2))), none, np.zeros((2, 2)))], grows=True) is None
