from datetime import date, timedelta

import numpy as np
import pytest

from floorcare.ground.trade.reading import Measure, Reading, SurfaceState
from floorcare.ground.wear.books.copied import (
    chance_alike,
    chance_all_one,
    find_alike,
    round_key,
    station_series,
)

DAY = date(2026, 3, 2)


def readings(values, on=DAY, zone="LANE", state=SurfaceState.AFTER_CLEANING, measure=Measure.GLOSS):
    return [
        Reading(
            zone=zone,
            station=f"P{at}",
            taken_on=on,
            taken_minute=600 + at,
            measure=measure,
            value=value,
            state=state,
            geometry_deg=60 if measure is Measure.GLOSS else 0,
        )
        for at, value in enumerate(values)
    ]


def series(values, on=DAY, zone="LANE"):
    return station_series({f"NORTH/{zone}": readings(values, on, zone)})


def test_a_series_seen_on_another_day_looks_copied():
    old = series((41.2, 40.8, 42.9))
    new = series((41.2, 40.8, 42.9), on=DAY + timedelta(days=40))
    (found,) = find_alike(new, old)
    assert (found.series, found.other) == (new[0], old[0])


def test_a_series_of_another_zone_looks_copied_and_the_own_zone_is_named_first():
    other = series((41.2, 40.8, 42.9), zone="EDGE")
    own = series((41.2, 40.8, 42.9))
    new = series((41.2, 40.8, 42.9), on=DAY + timedelta(days=1))
    (found,) = find_alike(new, (*other, *own))
    assert found.other == own[0]


def test_of_two_new_series_the_later_is_asked_about():
    first, second = series((41.2, 40.8, 42.9)), series((41.2, 40.8, 42.9), on=date(2026, 4, 1))
    (found,) = find_alike((*second, *first), ())
    assert (found.series, found.other) == (second[0], first[0])


def test_the_same_values_in_another_order_are_no_copy():
    assert (
        find_alike(series((40.8, 41.2, 42.9)), series((41.2, 40.8, 42.9), date(2026, 1, 1))) == ()
    )


def test_the_same_round_again_is_not_held_against_itself():
    assert find_alike(series((41.2, 40.8, 42.9)), series((41.2, 40.8, 42.9))) == ()


def test_one_value_at_every_station_is_asked_about():
    (found,) = find_alike(series((41.2, 41.2, 41.2, 41.2)), ())
    assert found.other is None


def test_two_values_say_nothing():
    assert find_alike(series((41.2, 41.2)), series((41.2, 41.2), date(2026, 1, 1))) == ()


def test_whole_numbers_are_alike_by_luck_and_need_more_stations():
    assert chance_all_one((41.0, 41.0, 41.0)) > 0.01 > chance_all_one((41.0,) * 4)
    assert chance_alike((41.0, 40.0, 43.0)) > 100 * chance_alike((41.2, 40.8, 43.1))


def test_honest_rounds_are_hardly_ever_asked_about():
    rng = np.random.default_rng(4)
    new = []
    for at in range(2000):
        level = rng.normal(45, 5)
        values = tuple(float(v) for v in np.round(level * np.exp(rng.normal(0, 0.05, 5)), 1))
        new += series(values, on=DAY + timedelta(days=at))
    assert len(find_alike(new, ())) == 0


def test_a_chance_is_that_of_normal_values_drawn_again():
    rng = np.random.default_rng(11)
    sd = 0.10 * 45.0
    pairs = np.round(rng.normal(45.0, sd, (400_000, 2)))
    seen = float(np.mean(pairs[:, 0] == pairs[:, 1]))
    assert chance_alike((45.0,)) == pytest.approx(seen, rel=0.03)


def test_only_gloss_at_stations_makes_a_series():
    grades = readings((3.0, 3.0, 3.0), measure=Measure.GRADE)
    assert station_series({"NORTH/LANE": grades}) == ()


def test_states_of_one_day_are_two_rounds():
    before = readings((41.2, 40.8))
    after = readings((44.2, 43.8), state=SurfaceState.AFTER_BURNISH)
    assert len(station_series({"NORTH/LANE": [*before, *after]})) == 2
    assert round_key("A/B", before[0]) != round_key("A/B", after[0])
