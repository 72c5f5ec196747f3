from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from floorcare.ground.wear.reading_rounds import (
    LONGEST_UNREAD_DAYS,
    NEVER_READ_DAYS,
    RoundCost,
    RoundReason,
    ZoneToRead,
    age_worth,
    choose_round,
    reading_worth,
)


def zone(code: str, age: int | None = 30, margin: float | None = None, **more) -> ZoneToRead:
    site, _, own = code.partition("/")
    sd = more.pop("sd", 0.06)
    known = None if margin is None else sd
    return ZoneToRead(site=site, zone=own, age_days=age, margin_ln=margin, sd_ln=known, **more)


def codes(chosen) -> list[str]:
    return [f"{c.zone.site}/{c.zone.zone}" for c in chosen]


@st.composite
def portfolios(draw) -> tuple[ZoneToRead, ...]:
    names = draw(st.sets(st.tuples(st.sampled_from("ABCD"), st.integers(0, 9)), max_size=25))
    return tuple(
        zone(
            f"{site}/{number}",
            draw(st.none() | st.integers(0, 300)),
            margin=draw(st.none() | st.floats(-0.4, 0.4)),
            sd=draw(st.floats(0.0, 0.3)),
            confidence=draw(st.sampled_from((0.5, 0.75, 0.95))),
        )
        for site, number in sorted(names)
    )


@given(
    portfolios(),
    st.integers(0, 200),
    st.integers(1, 12),
    st.integers(0, 20),
    st.sampled_from((0.0, 0.5, 1.0)),
)
@settings(max_examples=150, deadline=None)
def test_a_round_never_costs_more_than_its_budget_and_nothing_more_would_fit(
    zones, budget, zone_minutes, site_minutes, share
):
    cost = RoundCost(zone_minutes=zone_minutes, site_minutes=site_minutes)
    chosen = choose_round(zones, budget_minutes=budget, cost=cost, unread_share=share)
    assert len(set(codes(chosen))) == len(chosen)
    sites = {c.zone.site for c in chosen}
    spent = len(chosen) * zone_minutes + len(sites) * site_minutes
    assert cost.minutes(c.zone for c in chosen) == spent <= budget
    taken = {c.zone for c in chosen}
    for other in zones:
        if other not in taken and age_worth(other) > 0:
            more = zone_minutes + (0 if other.site in sites else site_minutes)
            assert spent + more > budget


@given(portfolios(), st.integers(0, 200), st.randoms())
@settings(max_examples=60, deadline=None)
def test_the_order_the_zones_are_given_in_changes_nothing(zones, budget, random):
    shuffled = list(zones)
    random.shuffle(shuffled)
    assert choose_round(shuffled, budget_minutes=budget) == choose_round(
        zones, budget_minutes=budget
    )


def test_a_site_is_paid_for_once():
    zones = [zone("A/1"), zone("A/2"), zone("A/3")]
    assert codes(choose_round(zones, budget_minutes=26)) == ["A/1", "A/2", "A/3"]
    assert codes(choose_round(zones, budget_minutes=25)) == ["A/1", "A/2"]
    assert RoundCost().minutes([*zones, zone("B/1")]) == 4 * 7 + 2 * 5
    assert RoundCost().minutes([]) == 0


def test_ties_go_by_code():
    alike = [zone("B/1"), zone("A/2"), zone("A/1"), zone("C/1")]
    assert codes(choose_round(alike, budget_minutes=12)) == ["A/1"]
    assert codes(choose_round(alike, budget_minutes=100)) == ["A/1", "A/2", "B/1", "C/1"]


def test_zones_never_read_and_unread_for_too_long_come_before_the_rest_up_to_their_share():
    unread = [zone(f"A/{n}", LONGEST_UNREAD_DAYS + n) for n in range(6)]
    near = [zone(f"B/{n}", 20, margin=0.04) for n in range(6)]
    new = zone("C/NEW", None)
    chosen = choose_round([*unread, *near, new], budget_minutes=80)
    by_reason = {r: [c for c in chosen if c.reason is r] for r in RoundReason}
    assert codes(by_reason[RoundReason.FIRST]) == ["C/NEW"]
    first_tier = [
        c.zone for c in chosen if c.reason in (RoundReason.FIRST, RoundReason.UNREAD_LONG)
    ]
    assert [c.zone for c in chosen[: len(first_tier)]] == first_tier
    assert RoundCost().minutes(first_tier) <= 40
    assert by_reason[RoundReason.DECIDES]


def test_one_zone_unread_for_too_long_is_read_however_small_its_share():
    old, near = zone("A/OLD", 200), zone("B/NEAR", 20, margin=0.04)
    (chosen,) = choose_round([old, near], budget_minutes=12, unread_share=0.0)
    assert (chosen.zone, chosen.reason) == (old, RoundReason.UNREAD_LONG)


def test_nobody_is_left_unread_for_ever():
    zones = {
        f"{s}/{n}": zone(f"{s}/{n}", 0, margin=0.04 if n < 6 else 0.4)
        for s in "AB"
        for n in range(8)
    }
    longest = 0
    for _ in range(40):
        zones = {k: replace(z, age_days=(z.age_days or 0) + 28) for k, z in zones.items()}
        longest = max(longest, *(z.age_days or 0 for z in zones.values()))
        for code in codes(choose_round(zones.values(), budget_minutes=33)):
            zones[code] = replace(zones[code], age_days=0)
    # four zones a round, at least one of them the longest unread of sixteen
    assert longest <= LONGEST_UNREAD_DAYS + 16 * 28


def test_where_a_reading_decides_nothing_the_oldest_is_read():
    sure = [zone("A/1", 20, margin=0.5), zone("A/2", 60, margin=-0.5), zone("A/3", 40)]
    chosen = choose_round(sure, budget_minutes=19)
    assert codes(chosen) == ["A/2", "A/3"]
    assert {c.reason for c in chosen} == {RoundReason.OLDEST}


def test_the_zone_near_its_limit_goes_before_the_one_far_from_it_and_the_unsure_before_the_sure():
    limit = 0.6745 * 0.06
    near, far = zone("A/NEAR", margin=limit), zone("A/FAR", margin=limit + 0.08)
    assert reading_worth(near) > reading_worth(far) > 0
    sure = zone("A/SURE", margin=0.6745 * 0.02, sd=0.02)
    assert reading_worth(near) > reading_worth(sure)
    assert codes(choose_round([far, near], budget_minutes=12)) == ["A/NEAR"]


@pytest.mark.parametrize("margin", [-0.1, 0.0, 0.05, 0.09])
def test_the_worth_is_the_mean_way_past_the_limit_of_many_drawn_readings(margin):
    one = zone("A/1", margin=margin, sd=0.07, reading_sd_ln=0.03, confidence=0.75)
    random = np.random.default_rng(5)
    truth = margin + 0.07 * random.standard_normal(400_000)
    read = truth + 0.03 * random.standard_normal(truth.size)
    gain = 0.07**2 / (0.07**2 + 0.03**2)
    after = margin + gain * (read - margin)
    limit = 0.6744898 * 0.07
    past = np.maximum(0.0, limit - after if margin >= limit else after - limit)
    assert reading_worth(one) == pytest.approx(past.mean(), rel=0.03, abs=2e-5)


def test_nothing_known_and_a_step_that_seldom_passes_are_worth_nothing():
    assert reading_worth(zone("A/1")) == 0.0
    assert reading_worth(zone("A/1", margin=0.04, sd=0.0)) == 0.0
    assert reading_worth(zone("A/1", margin=0.0, sd=1e-200)) == 0.0
    assert reading_worth(zone("A/1", margin=0.5)) == 0.0
    assert age_worth(zone("A/1", None)) == NEVER_READ_DAYS


def test_records_that_cannot_be_are_refused():
    with pytest.raises(ValueError, match="allowed 0 days"):
        zone("A/1", -1)
    with pytest.raises(ValueError, match="above 0"):
        zone("A/1", reading_sd_ln=0.0)
    with pytest.raises(ValueError, match=r"0\.5 to 0\.99"):
        zone("A/1", confidence=0.2)
    with pytest.raises(ValueError, match="allowed 1 and more"):
        RoundCost(zone_minutes=0)
    with pytest.raises(ValueError, match="given twice"):
        choose_round([zone("A/1"), zone("A/1")], budget_minutes=60)
