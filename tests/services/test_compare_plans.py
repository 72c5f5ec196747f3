from dataclasses import replace

import pytest

from floorcare.errors import NotKnown, NotUnderstood
from floorcare.ground.rules.cost import STANDARD_LABOUR_HOUR
from floorcare.ground.schedule.comparison.compare import Way
from floorcare.services.compare_plans import compare_plans
from floorcare.services.load_care import load_care
from tests.services.conftest import TODAY, care
from tests.services.watched import WatchedStore
from tests.store.sample import NOW, site_book

CONTRACT = "C-1"


def asked(store, surfaces, **more):
    return compare_plans(store, surfaces, **{"today": TODAY, "years": 1, "futures": 4, **more})


@pytest.fixture
def found(loaded, surfaces):
    return asked(loaded, surfaces)


def test_read_and_promised_zones_are_compared_and_the_others_stand_apart(found):
    assert [(g.kind, g.name, g.zones) for g in found.groups] == [
        ("all", "", 1),
        ("contract", CONTRACT, 1),
        ("site", "NORTH", 1),
    ]
    assert [(a.why, a.zones) for a in found.apart] == [("no look promised against a reference", 1)]
    assert found.apart[0].hours > 0
    assert (found.last_on - TODAY).days == 365


def test_every_plan_has_its_figures_and_its_spread(found):
    for plan in found.groups[0].plans:
        for spread in (plan.hours, plan.closings, plan.share, plan.cost[0].amount):
            assert spread.p10 <= spread.p50 <= spread.p90
        assert plan.share.p10 >= 0
        assert plan.share.p90 <= 1
    assert [plan.way for plan in found.groups[0].plans] == list(Way)


def test_prices_nobody_entered_are_named(found):
    assert any(f"a labour hour as {STANDARD_LABOUR_HOUR:.0f}" in said for said in found.standard)


def test_the_same_question_has_the_same_answer(loaded, surfaces, found):
    assert asked(loaded, surfaces) == found


@pytest.mark.parametrize("futures", [0, -1, 513])
def test_no_future_and_too_many_are_refused(loaded, surfaces, futures):
    with pytest.raises(NotUnderstood, match="allowed 1 to 512"):
        asked(loaded, surfaces, futures=futures)


@pytest.mark.parametrize("years", [0, 6])
def test_years_outside_one_to_five_are_refused(loaded, surfaces, years):
    with pytest.raises(NotUnderstood, match="allowed 1 to 5"):
        asked(loaded, surfaces, years=years)


def test_an_unknown_site_or_contract_is_named_with_those_there_are(loaded, surfaces):
    with pytest.raises(NotKnown, match="NORTH, SOUTH"):
        asked(loaded, surfaces, sites=["ELSEWHERE"])
    with pytest.raises(NotKnown, match='anything by a contract "C-9"'):
        asked(loaded, surfaces, contracts=["C-9"])


def test_only_the_site_or_the_contract_asked_for_is_compared(loaded, surfaces, found):
    only = asked(loaded, surfaces, contracts=[CONTRACT])
    assert only.apart == ()
    assert only.groups == found.groups
    south = asked(loaded, surfaces, sites=["SOUTH"])
    assert (south.groups, south.factor) == ((), None)


def test_a_site_has_the_same_figures_whichever_others_are_asked_for(loaded, surfaces, found):
    other = site_book("SCHOOL", "EAST", ("GYM",))
    old = care()
    load_care(loaded, replace(old, books=(*old.books[:1], other, *old.books[1:])), who="x", now=NOW)
    both = asked(loaded, surfaces)
    (alone,) = (g for g in found.groups if (g.kind, g.name) == ("site", "NORTH"))
    (beside,) = (g for g in both.groups if (g.kind, g.name) == ("site", "NORTH"))
    for way in (Way.WEAR, Way.AGREED):
        assert beside.plan(way).closings == alone.plan(way).closings


def test_nothing_is_written_and_progress_ends(loaded, surfaces):
    watched, told = WatchedStore(loaded), []
    asked(watched, surfaces, tell=lambda done, total: told.append((done, total)))
    assert (watched.blocks, watched.commits) == ([False], 0)
    assert told[-1][0] == told[-1][1]
