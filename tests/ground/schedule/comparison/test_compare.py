from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from floorcare.ground.schedule.comparison.account import Verdict, account_of
from floorcare.ground.schedule.comparison.compare import DENSEST, Way, compare
from floorcare.ground.schedule.comparison.futures import live_by_calendar
from floorcare.ground.trade.treatment import Work
from tests.builders import BEGUN, a_site_book, routinely
from tests.ground.schedule.compared import (
    BURNISHED,
    a_year,
    busy,
    compared,
    over_treated,
    parts_of,
    quiet,
    visits_of,
    walked_more,
)

NORTH = ("NORTH", "C-1")


@pytest.fixture(scope="module")
def both():
    return compared(a_year(a_site_book("NORTH", busy()), a_site_book("SOUTH", over_treated())))


def whole(found):
    return account_of(found, dict.fromkeys(found.units, "USD"))[0]


def test_without_zones_there_is_nothing_to_compare():
    with pytest.raises(ValueError, match="at least one part"):
        compare([], {})


def test_a_site_costs_the_same_beside_others_as_alone(both):
    alone = compared(a_year(a_site_book("NORTH", busy())))
    assert both.units == (NORTH, ("SOUTH", "C-1"))
    for way in (Way.WEAR, Way.AGREED):
        for name in ("minutes", "money", "closings", "litres", "water_l", "kept_days"):
            together = getattr(both.plans[way], name)[0]
            np.testing.assert_allclose(together, getattr(alone.plans[way], name)[0], rtol=1e-12)


def test_the_same_comparison_twice_is_the_same_to_the_last_figure(both):
    again = compared(a_year(a_site_book("NORTH", busy()), a_site_book("SOUTH", over_treated())))
    assert again.factor == both.factor
    for way in Way:
        assert np.array_equal(again.plans[way].money, both.plans[way].money)
        assert np.array_equal(again.plans[way].kept_days, both.plans[way].kept_days)


def test_where_nothing_is_ever_done_all_plans_keep_the_same_days_and_only_reading_costs():
    found = compared(a_year(a_site_book("NORTH", quiet())))
    wear, agreed = found.plans[Way.WEAR], found.plans[Way.AGREED]
    hindsight = found.plans[Way.HINDSIGHT]
    assert (wear.closings.sum(), agreed.money.sum(), hindsight.money.sum()) == (0, 0, 0)
    assert np.array_equal(wear.kept_days, agreed.kept_days)
    assert np.array_equal(hindsight.kept_days, agreed.kept_days)
    # two rounds in 180 days: 7 min and 5 min each, and half an hour's drive each way of two people
    np.testing.assert_allclose(wear.minutes, 2 * (7 + 5 + 2 * 30 * 2))
    np.testing.assert_allclose(wear.money, 2 * (132 / 60 * 30 + 45 * 0.5))


def test_the_calendar_wins_where_a_quiet_floor_needs_nothing():
    found = whole(compared(a_year(a_site_book("NORTH", quiet()))))
    against = found.against(Way.AGREED)
    assert against.verdict is Verdict.CALENDAR
    assert against.cheaper_in == 0.0
    assert against.share_more.p50 == 0.0


def test_measured_wear_wins_where_the_calendar_treats_a_floor_that_needs_nothing():
    found = whole(compared(a_year(a_site_book("NORTH", over_treated()))))
    against = found.against(Way.AGREED)
    assert against.verdict is Verdict.WEAR
    assert against.cheaper_in == 1.0
    assert found.plan(Way.WEAR).closings.p50 == 0.0
    # 42 days apart in 180 days, the overdue one at once
    assert found.plan(Way.AGREED).closings.p50 in (4.0, 5.0)


def test_hindsight_comes_to_the_same_look_within_half_a_per_cent():
    lane = busy(routines=(*busy().routines, routinely(Work.RECOAT, "FREQ=WEEKLY;INTERVAL=12")))
    found = compared(a_year(a_site_book("NORTH", lane), days=365))
    share = {way: found.plans[way].kept_days.mean() / found.zone_days.sum() for way in Way}
    assert found.reached
    assert share[Way.HINDSIGHT] == pytest.approx(share[Way.WEAR], abs=0.03)


def test_a_calendar_with_nothing_on_it_cannot_reach_the_look_of_a_worn_lane():
    year = a_year(days=365)
    (part,), _ = parts_of(year)
    nothing = replace(part.calendar, gap_days=np.full(part.calendar.gap_days.shape, np.inf))
    found = compare([replace(part, calendar=nothing)], visits_of(year, [part]))
    assert not found.reached
    assert found.factor == DENSEST
    assert (found.plans[Way.HINDSIGHT].kept_days <= found.plans[Way.WEAR].kept_days).all()


def test_more_traffic_never_raises_the_share_in_promise_under_a_fixed_calendar():
    (part,), _ = parts_of(a_year(days=365))
    masks = part.laid(1.0)
    kept = [
        live_by_calendar(walked_more(part, times).futures, part.effects, masks)
        for times in (0.5, 1.0, 1.5, 3.0)
    ]
    for less, more in pairwise(kept):
        assert (more <= less).all()
    assert kept[3].sum() < kept[0].sum()


def test_promised_rhythms_are_kept_in_every_plan_and_told_apart():
    sold = routinely(Work.RECOAT, "FREQ=WEEKLY;INTERVAL=6", starts_on=BEGUN, promised=True)
    found = compared(a_year(a_site_book("NORTH", quiet(routines=(BURNISHED, sold)))))
    assert found.unpromised is not None
    assert found.unpromised.closings.sum() == 0
    closings = [found.plans[way].closings for way in Way]
    assert (closings[0] == closings[1]).all()
    assert (closings[1] == closings[2]).all()
    assert (found.plans[Way.WEAR].money > found.unpromised.money).all()


def test_progress_is_told_to_the_end_and_never_beyond():
    year = a_year(days=60)
    parts, _ = parts_of(year, 2)
    told = []
    compare(parts, visits_of(year, parts), lambda done, total: told.append((done, total)))
    assert told[0][0] == 0
    assert told[-1][0] == told[-1][1]
    assert [done for done, _ in told] == sorted(done for done, _ in told)
    assert all(done <= total for done, total in told)
