"""The plain entry for study does what its description says, sentence by sentence."""

import itertools
from dataclasses import fields

import numpy as np
import pytest

from floorcare.ground.wear import study
from floorcare.ground.wear.model import FloorState, expose, ln_gloss, treat
from floorcare.ground.wear.pooled import Pooled
from floorcare.ground.wear.sight import LEVEL, SHOCK, today_under
from floorcare.ground.wear.study import BURNISH, LAW, RECOAT, REPOLISH
from tests.ground.wear.studied import (
    AHEAD,
    DAYS,
    FIT,
    FLEET,
    GIVEN,
    PROMISE,
    READINGS,
    SPAN,
    ZONES,
    again,
    assert_same,
    only,
    readings,
    results,
)


def test_the_forecast_holds_what_comes_about_as_often_as_it_says() -> None:
    median, lower, upper = study.forecast(FIT, AHEAD)
    truth = FLEET.truth.before[:, DAYS - 1 + AHEAD]
    assert median.shape == lower.shape == upper.shape == (ZONES, 4)
    assert 0.82 < np.mean((lower <= truth) & (truth <= upper)) < 0.98
    assert np.abs(median - truth).mean() < 2.0
    assert FIT.findings == ()
    assert FIT.wear.readings.sum() > 0.98 * READINGS * ZONES  # two of a moment are one round


def test_after_the_days_treatment_the_gloss_is_higher_and_else_the_same() -> None:
    before, after = (study.forecast(FIT, AHEAD, before_burnish=b)[0] for b in (True, False))
    work = np.any([GIVEN[w] for w in ("burnish", "recoat", "repolish")], axis=0)[
        :, DAYS - 1 + AHEAD
    ]
    assert (after[work] > before[work]).all()
    assert after[~work] == pytest.approx(before[~work], rel=1e-6)
    assert work.any()
    assert not work.all()


def test_a_higher_level_gives_a_wider_band_about_the_same_median() -> None:
    bands = [study.forecast(FIT, 30, level=level) for level in (0.5, 0.8, 0.9, 0.99)]
    for (median, lower, upper), (other, low, high) in itertools.pairwise(bands):
        assert median.tolist() == other.tolist()
        assert (low < lower).all()
        assert (upper < high).all()


def test_days_without_a_plan_are_not_forecast() -> None:
    for part in study.forecast(FIT, [90, 91, 0]):
        assert np.isfinite(part[:, 0]).all()
        assert np.isnan(part[:, 1:]).all()


def test_first_days_are_one_when_already_below_and_infinite_when_never() -> None:
    days = study.first_below(FIT, np.where(np.arange(ZONES) % 2, 500.0, 1.0), 90)
    assert days.shape == (ZONES, 3)
    assert (days[1::2] == 1.0).all()
    assert np.isinf(days[::2]).all()
    assert study.first_below(FIT, 500.0, 90).tolist() == [[1.0] * 3] * ZONES


def test_a_higher_promise_is_broken_no_later_and_quantiles_rise() -> None:
    found = [study.first_below(FIT, share * PROMISE, 90) for share in (0.7, 0.9, 1.0, 1.1)]
    for lower, higher in itertools.pairwise(found):
        assert (higher <= lower).all()
    assert (found[2][:, :2] <= found[2][:, 1:]).all()
    (middle,) = study.first_below(FIT, PROMISE, 90, quantiles=(0.5,)).T
    assert middle.tolist() == found[2][:, 1].tolist()


def test_nothing_is_said_beyond_the_horizon() -> None:
    far, near = (study.first_below(FIT, PROMISE, days) for days in (90, 20))
    assert near.tolist() == np.where(far > 20, np.inf, far).tolist()
    assert study.first_below(FIT, PROMISE, 5000).tolist() == far.tolist()


def test_on_the_last_day_of_the_plan_nothing_lies_ahead() -> None:
    fit = again(today=SPAN - 1)
    assert np.isnan(study.forecast(fit, [1])[0]).all()
    assert np.isinf(study.first_below(fit, PROMISE, 30)).all()
    assert np.isinf(study.first_below(FIT, PROMISE, 0)).all()


def test_a_promise_is_looked_at_as_after_a_routine_burnish() -> None:
    """A floor that lies below its promise, and would not once burnished, has not broken it."""
    none = np.zeros((ZONES, SPAN), dtype=bool)
    since = none.copy()
    since[:, : DAYS - 40] = GIVEN["burnish"][:, : DAYS - 40]  # forty days' haze
    lying = again(burnish=since, recoat=none, repolish=none)
    tomorrow = since.copy()
    tomorrow[:, DAYS] = True
    burnished = again(burnish=tomorrow, recoat=none, repolish=none)
    as_it_lies = study.forecast(lying, 1)[0][:, 0]
    as_burnished = study.forecast(burnished, 1, before_burnish=False)[0][:, 0]
    hazy = as_burnished > 1.1 * as_it_lies
    assert hazy.sum() > 10
    between = np.sqrt(as_it_lies * as_burnished)
    assert (study.first_below(lying, between, 1, (0.5,))[hazy] == np.inf).all()
    assert (study.first_below(lying, 1.03 * as_burnished, 1, (0.5,))[hazy] == 1.0).all()


def test_a_promise_is_looked_at_before_that_days_recoat_or_repolish() -> None:
    """What falls below on the very day of a re-polish has broken its promise all the same."""
    none = np.zeros((ZONES, SPAN), dtype=bool)
    rescue = none.copy()
    rescue[:, DAYS + 19] = True  # on day 20
    promise = study.forecast(again(recoat=none, repolish=none), 20)[0][:, 0]
    without = study.first_below(again(recoat=none, repolish=none), promise, 90, (0.5,))
    for work in ("recoat", "repolish"):
        saved = {"recoat": none, "repolish": none, work: rescue}
        found = study.first_below(again(**saved), promise, 90, (0.5,))
        early = without <= 20
        assert found[early].tolist() == without[early].tolist()
        assert (found >= without).all()
        assert (early & (without > 15)).any()


def _ahead_by_hand(zone: int, days: int) -> tuple[float, float]:
    """ln gloss of the most probable floor on a day ahead, before and after its treatments."""
    wear = FIT.wear
    state, rates = today_under(wear.columns, wear.law, wear.sight, wear.mean[:, :2].T[:, None])
    here = (slice(None), np.array([zone]))
    state, rates = state.rows(here), rates.rows(here)
    level, shock = wear.mean[zone, LEVEL], wear.mean[zone, SHOCK]
    for day in range(DAYS, DAYS + days):
        state = expose(state, rates, wear.law, GIVEN["footfall"][zone, day] / 1000.0)
        before = level + shock + ln_gloss(state, wear.law)[0, 0]
        for effect, name in ((REPOLISH, "repolish"), (RECOAT, "recoat"), (BURNISH, "burnish")):
            if GIVEN[name][zone, day]:
                state, shock = treat(state, effect), shock * effect.haze_kept
    return before, level + shock + ln_gloss(state, wear.law)[0, 0]


def test_the_days_ahead_are_lived_in_the_order_said() -> None:
    before, after = (study.forecast(FIT, AHEAD, before_burnish=b)[0] for b in (True, False))
    for zone in (0, 21, 59):
        for place, days in enumerate(AHEAD.tolist()):
            by_hand = _ahead_by_hand(zone, days)
            # Haze of which treatments left less than a thousandth is dropped.
            assert np.log(before[zone, place]) == pytest.approx(by_hand[0], abs=3e-4)
            assert np.log(after[zone, place]) == pytest.approx(by_hand[1], abs=3e-4)


def test_a_repolish_brings_its_protector_and_a_recoat_keeps_the_scratches() -> None:
    """h 0, f 1, ω 0.03 after a re-polish, whatever else that day; h 0, f 1 after a recoat."""
    none = np.zeros((ZONES, SPAN), dtype=bool)
    on = none.copy()
    on[:, DAYS + 9] = True
    fresh = np.exp(FIT.wear.mean[:, LEVEL] + ln_gloss(FloorState.fresh(ZONES, LAW), LAW))
    glosses = {}
    for name, done in {
        "repolish": {"repolish": on},
        "all": {"repolish": on, "recoat": on, "burnish": on},
        "recoat": {"recoat": on},
    }.items():
        ahead = {w: GIVEN[w].copy() for w in ("repolish", "recoat", "burnish")}
        for work, days in ahead.items():
            days[:, DAYS:] = done.get(work, none)[:, DAYS:]
        glosses[name] = study.forecast(again(**ahead), 10, before_burnish=False)[0][:, 0]
    assert glosses["repolish"] == pytest.approx(fresh, rel=1e-6)
    assert glosses["all"] == pytest.approx(fresh, rel=1e-6)
    assert (glosses["recoat"] < fresh).all()
    assert REPOLISH.scratch_to == 0.03
    assert (
        (REPOLISH.film_to, REPOLISH.haze_kept) == (RECOAT.film_to, RECOAT.haze_kept) == (1.0, 0.0)
    )
    assert (RECOAT.scratch_to, RECOAT.scratch_kept) == (None, 1.0)


def test_the_first_reading_on_day_nought_is_the_level_before_any_exposure() -> None:
    """After a first day of a million persons: read before it, the floor was fresh."""
    footfall = np.full((1, 30), 1000.0)
    footfall[0, 0] = 1e6
    never = np.zeros((1, 30), dtype=bool)
    one = {
        "zone": [0],
        "value": [50.0],
        "stations": [20],
        "footfall": footfall,
        "counted": [True],
        "traffic": [1],
        "burnish": never,
        "recoat": never,
        "repolish": never,
        "today": 20,
        "pooled": FIT.pooled,
    }
    eve = study.estimate(**one, day=[0], after_burnish=[False])
    later = study.estimate(**one, day=[1], after_burnish=[False])
    fresh = ln_gloss(FloorState.fresh(1, LAW), LAW)[0]
    # Next to no knowledge of the level before: 1 GU to 2,000.
    assert eve.wear.mean[0, LEVEL] == pytest.approx(np.log(50.0) - fresh, abs=0.01)
    assert later.wear.mean[0, LEVEL] > eve.wear.mean[0, LEVEL] + 0.25


def test_a_reading_after_burnish_on_a_day_without_treatment_is_one_before_it() -> None:
    work = np.any([GIVEN[w] for w in ("burnish", "recoat", "repolish")], axis=0)
    idle = ~work[GIVEN["zone"], GIVEN["day"]]
    assert idle.sum() > 100
    for said in (True, False):
        found = again(after_burnish=np.where(idle, said, GIVEN["after_burnish"]))
        assert_same(found, FIT)


def test_a_reading_after_burnish_is_told_from_one_before() -> None:
    busy = GIVEN["burnish"][GIVEN["zone"], GIVEN["day"]]
    turned = again(after_burnish=GIVEN["after_burnish"] ^ busy)
    assert turned.wear.mean[:, LEVEL] != pytest.approx(FIT.wear.mean[:, LEVEL], abs=1e-3)


def test_readings_after_today_are_not_used() -> None:
    today = np.where(np.arange(ZONES) % 2, 250, DAYS - 1)
    kept = GIVEN["day"] <= today[GIVEN["zone"]]
    assert not kept.all()
    all_given, cut = again(today=today), again(today=today, **readings(kept))
    assert_same(all_given, cut)
    wild = np.where(kept, GIVEN["value"], np.nan)
    assert_same(again(today=today, value=wild), cut)
    assert again(today=today, value=wild).findings == ()


def test_every_zone_may_have_its_own_today() -> None:
    today = 200 + 3 * np.arange(ZONES)
    among = again(today=today)
    for zone in (0, 33, 59):
        alone = study.estimate(**only(zone, today=[int(today[zone])]))
        for one, many in zip(
            study.forecast(alone, [1, 50, 112, 250]),
            study.forecast(among, [1, 50, 112, 250]),
            strict=True,
        ):
            assert one[0] == pytest.approx(many[zone], rel=1e-9, nan_ok=True)
        own, all_of_them = (
            study.first_below(fit, promise, 290)
            for fit, promise in ((alone, PROMISE[zone]), (among, PROMISE))
        )
        assert own[0].tolist() == all_of_them[zone].tolist()


def test_beyond_a_zones_own_last_day_nothing_is_said_of_it() -> None:
    """One zone's today lies ten days before the end of the plan, the others' ninety."""
    today = np.full(ZONES, DAYS - 1)
    today[5] = SPAN - 11
    fit = again(today=today)
    promise = study.forecast(fit, 10)[0][:, 0] * 0.93
    days = study.first_below(fit, promise, 90)
    own = days[5][np.isfinite(days[5])]
    assert (own <= 10).all()
    assert np.isnan(study.forecast(fit, [11])[0][5]).all()
    assert (days[np.isfinite(days)] > 10).any()


def test_an_unknown_opening_is_believed_less() -> None:
    assert_same(again(opening=None), again(opening=np.zeros(ZONES, dtype=np.int64)))
    unknown = again(opening=np.ones(ZONES, dtype=np.int64))
    (_, low, high), (_, lower, upper) = (study.forecast(fit, 60) for fit in (unknown, FIT))
    assert np.log(high / low).mean() > np.log(upper / lower).mean()


def test_a_zone_without_readings_has_no_numbers_and_the_others_keep_theirs() -> None:
    fit = again(**readings(GIVEN["zone"] != 7))
    for part, whole in zip(results(fit), results(FIT), strict=True):
        assert np.isnan(part[7]).all()
        np.testing.assert_array_equal(np.delete(part, 7, axis=0), np.delete(whole, 7, axis=0))


def test_no_reading_at_all_is_no_trouble() -> None:
    none = np.zeros(0, dtype=np.int64)
    fit = study.estimate(**{**GIVEN, **readings(none), "pooled": None})
    for part in results(fit):
        assert np.isnan(part).all()


def test_pooled_values_given_back_make_a_zone_independent_of_the_others() -> None:
    assert again().pooled is FIT.pooled
    assert_same(again(), FIT)
    whole = results(FIT)
    for zone in (3, 42):
        fit = study.estimate(**only(zone))
        days = study.first_below(fit, PROMISE[zone], 90)
        found = (*study.forecast(fit, AHEAD), *study.forecast(fit, AHEAD, before_burnish=False))
        for one, many in zip(found, whole[:-1], strict=True):
            assert one[0] == pytest.approx(many[zone], rel=1e-9)
        assert days[0].tolist() == whole[-1][zone].tolist()


def test_without_pooled_values_they_are_learned_and_twice_the_same() -> None:
    other = study.estimate(**GIVEN)
    for column in fields(Pooled):
        if column.name != "noise":
            one, two = getattr(FIT.pooled, column.name), getattr(other.pooled, column.name)
            np.testing.assert_array_equal(one, two)
    assert other.pooled.noise == FIT.pooled.noise
    assert FIT.pooled.zones.sum() == ZONES
    assert_same(other, FIT)


def test_readings_may_come_in_any_order() -> None:
    mixed = np.random.default_rng(3).permutation(GIVEN["zone"].size)
    assert_same(again(**readings(mixed)), FIT)


def test_readings_given_twice_are_one_round_of_twice_the_stations() -> None:
    twice = np.tile(np.arange(GIVEN["zone"].size), 2)
    work = np.any([GIVEN[w] for w in ("burnish", "recoat", "repolish")], axis=0)
    after = GIVEN["after_burnish"] & work[GIVEN["zone"], GIVEN["day"]]
    moment = (GIVEN["zone"] * SPAN + GIVEN["day"]) * 2 + after
    alone = np.flatnonzero(np.bincount(moment)[moment] == 1)
    more = {**readings(alone), "stations": 2 * GIVEN["stations"][alone]}
    doubled = again(**readings(twice[np.isin(twice, alone)]))
    for one, other in zip(results(doubled), results(again(**more)), strict=True):
        assert one == pytest.approx(other, rel=1e-12)
