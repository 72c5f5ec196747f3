import numpy as np
import pytest

from floorcare.ground.schedule.comparison.account import (
    Verdict,
    account_of,
    promised_rhythms,
    spread_of,
    verdict_of,
)
from floorcare.ground.schedule.comparison.compare import Comparison, Way
from floorcare.ground.schedule.comparison.tally import Tally

UNITS = (("EAST", "C-1"), ("EAST", "C-2"), ("WEST", "C-2"))


def tally(money, kept) -> Tally:
    """Three units in two futures; every other figure follows the money."""
    paid = np.array(money, dtype=float)
    days = np.array(kept, dtype=float)
    return Tally(
        minutes=paid * 2, money=paid, closings=paid / 10, litres=paid, water_l=paid, kept_days=days
    )


def found(unpromised=None) -> Comparison:
    return Comparison(
        units=UNITS,
        zones=np.array([1, 2, 1]),
        zone_days=np.array([100, 200, 100]),
        plans={
            Way.WEAR: tally([[50, 70], [100, 100], [40, 40]], [[90, 90], [180, 180], [95, 95]]),
            Way.AGREED: tally([[80, 80], [100, 100], [20, 20]], [[90, 90], [180, 180], [95, 95]]),
            Way.HINDSIGHT: tally([[60, 60], [90, 90], [60, 60]], [[80, 80], [190, 190], [95, 95]]),
        },
        unpromised=unpromised,
        factor=0.8,
        reached=True,
    )


def named(groups):
    return {(group.kind, group.name): group for group in groups}


def test_sites_and_contracts_each_add_up_to_the_whole():
    groups = named(account_of(found(), dict.fromkeys(UNITS, "USD")))
    whole = groups["all", ""]
    for kind in ("site", "contract"):
        mine = [g for (k, _), g in groups.items() if k == kind]
        assert sum(g.zones for g in mine) == whole.zones == 4
        for way in Way:
            # two futures that rise together, so that middles add up too
            middle = sum(g.plan(way).cost[0].amount.p50 for g in mine)
            assert middle == pytest.approx(whole.plan(way).cost[0].amount.p50)
            hours = sum(g.plan(way).hours.p50 for g in mine)
            assert hours == pytest.approx(whole.plan(way).hours.p50)


def test_one_currency_makes_no_group_of_currencies():
    assert ("currency", "USD") not in named(account_of(found(), dict.fromkeys(UNITS, "USD")))


def test_two_currencies_are_never_added():
    money = {UNITS[0]: "USD", UNITS[1]: "USD", UNITS[2]: "EUR"}
    groups = named(account_of(found(), money))
    costs = groups["all", ""].plan(Way.WEAR).cost
    assert [(c.currency, c.amount.p50) for c in costs] == [("EUR", 40.0), ("USD", 160.0)]
    assert groups["all", ""].against(Way.AGREED).verdict is None
    assert groups["all", ""].against(Way.AGREED).cost_more is None
    assert groups["currency", "EUR"].zones == 1
    assert groups["currency", "EUR"].against(Way.AGREED).verdict is Verdict.CALENDAR


def test_plans_are_set_against_each_other_future_by_future():
    against = named(account_of(found(), dict.fromkeys(UNITS, "USD")))["site", "EAST"].against(
        Way.HINDSIGHT
    )
    assert against.cost_more.p50 == pytest.approx(10.0)  # 0 and 20 more
    assert against.cheaper_in == 0.0
    assert against.share_more.p50 == pytest.approx(0.0)


@pytest.mark.parametrize(
    ("cost_more", "share_more", "expected"),
    [
        (-30, 0.0, Verdict.WEAR),
        (-30, 0.05, Verdict.WEAR),
        (0, 0.05, Verdict.WEAR),
        (30, 0.0, Verdict.CALENDAR),
        (0, -0.05, Verdict.CALENDAR),
        (30, -0.05, Verdict.CALENDAR),
        (30, 0.05, Verdict.MORE_FOR_MORE),
        (-30, -0.05, Verdict.LESS_FOR_LESS),
        (10, 0.005, Verdict.NEITHER),
    ],
)
def test_who_wins_follows_from_cost_and_look_together(cost_more, share_more, expected):
    assert verdict_of(cost_more, 1000.0, share_more) is expected


def test_a_spread_names_a_tenth_a_half_and_nine_tenths():
    spread = spread_of(np.arange(1.0, 11.0))
    assert (spread.p10, spread.p50, spread.p90) == (1.5, 5.5, 9.5)


def test_promised_rhythms_are_set_against_measured_wear_without_them():
    alone = tally([[50, 70], [60, 60], [40, 40]], [[90, 90], [176, 176], [95, 95]])
    promised = promised_rhythms(found(alone), dict.fromkeys(UNITS, "USD"))
    assert promised.cost_more[0].amount.p50 == 40.0
    assert promised.share_more.p50 == pytest.approx(4 / 400)
    assert promised_rhythms(found(), dict.fromkeys(UNITS, "USD")) is None
