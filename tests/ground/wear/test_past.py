from dataclasses import replace

import numpy as np
import pytest

from floorcare.ground.trade.book import TreatmentDone
from floorcare.ground.trade.reading import SurfaceState
from floorcare.ground.trade.surface import Effect
from floorcare.ground.trade.treatment import Work
from floorcare.ground.wear.estimate import estimate
from floorcare.ground.wear.fleet import Fleet, fit_fleet
from floorcare.ground.wear.model import ln_gloss
from floorcare.ground.wear.past import past_gloss, walks_between
from floorcare.ground.wear.solve import LEVEL_LN_MEAN, LEVEL_LN_SD
from tests.builders import BEGUN, DAY, TODAY, a_book, a_zone, polished, read_down
from tests.ground.wear.fleets import LAW, make_fleet
from tests.store.sample import gloss


def fleet_of(*books) -> Fleet:
    return fit_fleet([("NORTH", book) for book in books], polished(), TODAY)


def past(fleet: Fleet, kept: float = 1.0):
    return past_gloss(fleet.fit, np.full(len(fleet.keys), kept))


def test_the_past_ends_where_the_estimate_of_today_stands() -> None:
    fleet = fleet_of(a_book("A"), a_book("B", readings=read_down(44.0, fall=1.6)))
    lying = fleet.draws.level + fleet.draws.shock + ln_gloss(fleet.draws.state, polished().law)
    assert past(fleet)[:, -1] == pytest.approx(np.exp(np.median(lying, axis=1)), rel=0.01)


def test_the_past_runs_through_the_readings_within_their_error() -> None:
    fleet = fleet_of(a_book())
    days = fleet.fit.columns.reading_day
    off = np.log(past(fleet)[0, days]) - fleet.fit.columns.reading_ln
    assert np.abs(off).max() < 0.05
    assert abs(off.mean()) < 0.02


def test_a_gross_reading_does_not_pull_the_past_to_it() -> None:
    readings = read_down(50.0)
    (wild,) = {r.taken_on for r in readings[6:9]}
    typed = tuple(replace(r, value=23.0) if r.taken_on == wild else r for r in readings)
    plain, misread = past(fleet_of(a_book()))[0], past(fleet_of(a_book(readings=typed)))[0]
    day = (wild - BEGUN).days
    assert misread[day] == pytest.approx(plain[day], abs=2.0)
    assert misread[day] > 45.0


def test_the_gloss_leaps_on_the_evening_of_a_recoat_and_not_before() -> None:
    on = TODAY - 40 * DAY
    lying = tuple(replace(r, state=SurfaceState.AFTER_CLEANING) for r in read_down(50.0))
    coat = TreatmentDone(work=Work.RECOAT, done_on=on)
    book = a_book(routines=(), readings=lying, done=(coat,))
    gloss_gu = past(fleet_of(book))[0]
    rises = np.diff(gloss_gu)
    assert int(rises.argmax()) + 1 == (on - BEGUN).days
    assert rises.max() > 2.0
    assert (rises > 0.5).sum() == 1


def test_a_floor_seen_as_burnished_shines_more_than_as_it_lies() -> None:
    fleet = fleet_of(a_book(routines=()))
    assert (past(fleet, 0.3)[0, -60:] > past(fleet, 1.0)[0, -60:]).all()


def test_before_its_care_and_without_readings_a_zone_has_no_past() -> None:
    later = a_book("B", zone=a_zone("B", from_on=BEGUN + 30 * DAY))
    begun_later = past(fleet_of(a_book("A"), later, a_book("C", readings=())))
    assert np.isfinite(begun_later[0]).all()
    assert np.isnan(begun_later[1, :30]).all()
    assert np.isfinite(begun_later[1, 30:]).all()
    assert np.isnan(begun_later[2]).all()


def test_a_zones_past_does_not_depend_on_its_neighbours() -> None:
    alone = past(fleet_of(a_book("A")))[0]
    beside = past(fleet_of(a_book("A"), a_book("B", readings=(gloss(TODAY, 30.0),))))[0]
    assert beside == pytest.approx(alone)


def test_the_walks_are_those_of_the_textbook_conditional() -> None:
    """Against the plain conditional of a joint normal law, its covariance summed day by day."""
    law = polished().law
    kept = np.array([1.0, 0.3, 1.0, 1.0, 0.3, 1.0, 0.0, 1.0, 0.3, 1.0])
    moved_var = np.array([0.0, 0.0, 1e-4, 0.0, 9e-4, 0.0, 1e-3, 0.0, 0.0, 0.0])
    day, after = np.array([-1, 0, 3, 4, 4, 8]), np.array([True, False, False, False, True, True])
    off = np.log(np.array([50.5, 50.0, 48.0, 48.5, 49.0, 47.0]))
    variance = np.full(6, 0.03**2)
    level, shock = walks_between(law, kept, moved_var, day, after, off, variance)
    # every hidden number as a row of weights on (level, ten drifts, ten shocks, ten jumps)
    count = kept.size
    steps = np.ones(count)
    sd = np.r_[LEVEL_LN_SD, law.drift_sd * steps, law.shock_sd * steps, np.sqrt(moved_var)]
    morning, evening, running = np.zeros((count, 31)), np.zeros((count, 31)), np.zeros(31)
    shocked = np.zeros((count, 31))
    for t in range(count):
        running[11 + t] = 1.0
        for row in (morning[t], evening[t]):
            row[0] = 1.0
            row[1 : 2 + t] = 1.0
        morning[t, 21 : 21 + t] = evening[t, 21 : 22 + t] = 1.0
        morning[t] += running
        running = running * kept[t]
        shocked[t] = running
    seen = np.where(after[:, None], (evening + shocked)[day], morning[day])
    seen[0] = np.eye(31)[0]  # on the eve nothing has moved yet
    among = (seen * sd**2) @ seen.T + np.diag(variance)
    pull = np.linalg.inv(among) @ (off - LEVEL_LN_MEAN)
    assert level == pytest.approx(LEVEL_LN_MEAN + ((evening * sd**2) @ seen.T) @ pull, abs=1e-9)
    assert shock == pytest.approx(((shocked * sd**2) @ seen.T) @ pull, abs=1e-9)


def test_a_reading_on_the_eve_of_the_first_day_counts_in_the_past() -> None:
    columns = make_fleet(zones=3, days=120, ahead=1, seed=8, readings=6).columns
    day, after = columns.reading_day.copy(), columns.reading_after_burnish.copy()
    first = np.flatnonzero(np.r_[True, np.diff(columns.reading_zone) > 0])
    day[first], after[first] = -1, True
    fit = estimate(replace(columns, reading_day=day, reading_after_burnish=after), LAW)
    gloss_gu = past_gloss(fit, np.ones(3))
    assert np.isfinite(gloss_gu).all()
    off = np.log(gloss_gu[:, 0]) - columns.reading_ln[first]
    assert np.abs(off).max() < 0.1


def test_jumps_of_the_level_are_followed_where_a_treatment_may_make_them() -> None:
    """Another level from day 60 on: the past leaps there, and only where work may move it."""
    columns = make_fleet(zones=1, days=120, ahead=1, seed=8, readings=2).columns
    done = (np.arange(120) == 60)[None]
    days = np.r_[0:120:6]
    columns = replace(
        columns,
        thousand_passes=np.full((1, 120), 0.2),
        reading_zone=np.zeros(20, dtype=np.int64),
        reading_day=days,
        reading_ln=np.log(50.0) + 0.15 * (days > 60),
        reading_stations=np.full(20, 5),
        reading_after_burnish=np.ones(20, dtype=bool),
    )
    leaps = {}
    for sd in (0.0, 0.1):
        work = ((Effect(level_sd=sd), done),)
        fit = estimate(replace(columns, treatments=work), LAW)
        rises = np.diff(np.log(past_gloss(fit, np.ones(1))[0]))
        leaps[sd] = rises[59] - np.median(rises)
    assert leaps[0.0] < 0.06
    assert leaps[0.1] > 0.09
