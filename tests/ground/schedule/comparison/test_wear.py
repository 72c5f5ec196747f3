from dataclasses import replace

import numpy as np
import pytest

from floorcare.ground.rules.walk import NEVER
from floorcare.ground.schedule.comparison.futures import live_by_calendar
from floorcare.ground.schedule.comparison.wear import following_opportunity, live_by_wear
from floorcare.ground.trade.treatment import Work
from tests.ground.schedule.compared import a_year, parts_of


def part(days=200, futures=8):
    (one,), _ = parts_of(a_year(days=days), futures)
    return one


def lived(one, **more):
    terms = replace(one.terms, **more)
    return live_by_wear(one.futures, one.belief(), terms, one.reading_nights, one.reading_sd)


@pytest.fixture(scope="module")
def lane():
    return part()


@pytest.fixture(scope="module")
def as_it_is(lane):
    return lived(lane)


def untouched(one):
    none = np.zeros((len(one.works), *one.opportunity.shape), dtype=bool)
    return live_by_calendar(one.futures, one.effects, none)


def test_a_worn_lane_is_treated_and_keeps_more_days_than_left_alone(lane, as_it_is):
    assert as_it_is.done.sum() > 0
    assert as_it_is.kept_days.sum() > untouched(lane).sum()


def test_every_rung_falls_on_an_opportunity_of_its_own(as_it_is):
    assert np.array_equal(as_it_is.nights.sum(axis=2), as_it_is.done.sum(axis=0))


def test_futures_differ_in_what_they_get(as_it_is):
    assert len({tuple(row) for row in as_it_is.nights[0].tolist()}) > 1


def test_without_opportunities_the_floor_is_left_alone(lane):
    none = np.zeros_like(lane.terms.opportunity)
    found = lived(lane, opportunity=none)
    assert found.done.sum() == 0
    assert np.array_equal(found.kept_days, untouched(lane))


def test_rungs_that_are_not_allowed_are_not_taken(lane):
    found = lived(lane, allowed_from=np.full_like(lane.terms.allowed_from, NEVER))
    assert found.done.sum() == 0


def test_more_confidence_never_keeps_fewer_days(lane):
    kept = [lived(lane, confidence=np.full(1, q)).kept_days.sum() for q in (0.5, 0.75, 0.95)]
    assert kept == sorted(kept)


def test_a_cap_brings_its_rung_back_where_wear_asks_for_nothing(lane):
    works = [rung.work for rung in lane.terms.rungs]
    recoat = works.index(Work.RECOAT)
    cap_day, cap_days = np.full((1, len(works)), NEVER), np.full(len(works), NEVER)
    cap_day[0, recoat], cap_days[recoat] = 20, 60
    easy = replace(lane.futures.course, promise_ln=np.log(np.full(1, 5.0)))
    calm = replace(lane, futures=replace(lane.futures, course=easy))
    found = lived(calm, cap_day=cap_day, cap_days=cap_days)
    # the last opportunity before days 20, 80, 140 and 200, each cap counted from the last coat
    assert (found.done[recoat] == 4).all()
    assert found.done.sum() == found.done[recoat].sum()


def test_evidence_is_answered_at_the_first_opportunity(lane):
    works = [rung.work for rung in lane.terms.rungs]
    found = lived(lane, forced=np.array([works.index(Work.REPOLISH)]))
    assert (found.done[works.index(Work.REPOLISH)] >= 1).all()
    assert found.nights[0, :, 0].all()


def test_the_coat_limit_holds_back_a_coat(lane):
    works = [rung.work for rung in lane.terms.rungs]
    found = lived(lane, coats=np.full(1, lane.terms.coat_limit))
    coats = found.done[works.index(Work.RECOAT)]
    polishes = found.done[works.index(Work.REPOLISH)]
    assert (coats[polishes == 0] == 0).all()


def test_readings_are_what_the_loop_knows_of_the_floor(lane):
    silent = live_by_wear(
        lane.futures,
        lane.belief(),
        lane.terms,
        np.zeros_like(lane.reading_nights),
        lane.reading_sd,
    )
    # never read, every future believes the same and gets the same
    assert (silent.nights == silent.nights[:, :1]).all()


def test_the_belief_given_is_left_as_it_was(lane):
    belief = lane.belief()
    before = belief.floor.state.haze.copy(), belief.floor.level.copy()
    live_by_wear(lane.futures, belief, lane.terms, lane.reading_nights, lane.reading_sd)
    assert np.array_equal(belief.floor.state.haze, before[0])
    assert np.array_equal(belief.floor.level, before[1])


def test_the_following_opportunity_is_the_next_one_or_a_week_on():
    nights = np.array([[True, False, False, True, False]])
    assert following_opportunity(nights).tolist() == [[3, 3, 3, 10, 11]]


def test_a_cheapest_zone_takes_what_costs_least_of_what_keeps_the_promise(lane):
    works = [rung.work for rung in lane.terms.rungs]
    recoat, polish = works.index(Work.RECOAT), works.index(Work.REPOLISH)
    found = []
    for dear, cheap in ((recoat, polish), (polish, recoat)):
        cost = np.full((1, len(works)), 50.0)
        cost[0, dear], cost[0, cheap] = 5_000.0, 50.0
        found.append(lived(lane, cheapest=np.array([True]), cost=cost))
    dear_coat, dear_polish = found
    assert dear_coat.done[recoat].sum() < dear_polish.done[recoat].sum()
    assert dear_coat.done[polish].sum() > dear_polish.done[polish].sum()
