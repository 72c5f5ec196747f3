"""What must hold of wear whatever the floor: more footfall never means later."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from floorcare.ground.wear.draws import Draws
from floorcare.ground.wear.forecast import Plan, first_below
from floorcare.ground.wear.model import FloorState, Rates, ln_gloss, rates_from, treat, wear_by
from tests.ground.wear.fleets import BURNISH, LAW, RECOAT, REPOLISH

shares = st.floats(0.0, 1.0)
states = st.builds(
    lambda haze, film, scratch: FloorState(
        haze=np.array(haze), film=np.array(film), scratch=np.array(scratch)
    ),
    shares,
    shares,
    st.floats(0.0, 3.0),
)
own_rates = st.builds(
    lambda u_haze, u_rest: rates_from(LAW, np.array(u_haze), np.array(u_rest)),
    st.floats(-2.0, 2.0),
    st.floats(-2.0, 2.0),
)
exposures = st.floats(0.0, 3000.0)


@given(state=states, rates=own_rates, exposure=exposures)
def test_wear_keeps_every_part_in_its_range_and_never_adds_gloss(
    state: FloorState, rates: Rates, exposure: float
) -> None:
    worn = wear_by(state, rates, LAW, exposure)
    assert 0 <= worn.haze <= 1
    assert 0 <= worn.film <= 1
    assert worn.scratch >= state.scratch - 1e-12
    assert ln_gloss(worn, LAW) <= ln_gloss(state, LAW) + 1e-12


@given(state=states, rates=own_rates, one=exposures, other=exposures)
def test_two_exposures_are_the_same_as_their_sum(
    state: FloorState, rates: Rates, one: float, other: float
) -> None:
    twice = wear_by(wear_by(state, rates, LAW, one), rates, LAW, other)
    once = wear_by(state, rates, LAW, one + other)
    for part in ("haze", "film", "scratch"):
        assert np.isclose(getattr(twice, part), getattr(once, part), rtol=1e-9, atol=1e-12)


@given(state=states, effect=st.sampled_from([BURNISH, RECOAT, REPOLISH]))
def test_the_ladder_never_takes_gloss_from_a_worn_floor(state: FloorState, effect: object) -> None:
    worn = FloorState(haze=state.haze, film=state.film, scratch=state.scratch + 0.03)
    after = treat(worn, effect)  # type: ignore[arg-type]
    assert ln_gloss(after, LAW) >= ln_gloss(worn, LAW) - 1e-12


@settings(max_examples=40, deadline=None)
@given(
    passes=st.lists(st.floats(0.0, 20.0), min_size=60, max_size=60),
    more=st.lists(st.floats(0.0, 20.0), min_size=60, max_size=60),
    burnish=st.sets(st.integers(0, 59), max_size=12),
    recoat=st.sets(st.integers(0, 59), max_size=2),
    promise=st.floats(20.0, 50.0),
    seen=st.sampled_from([0.3, 1.0]),
    seed=st.integers(0, 10_000),
)
def test_more_footfall_never_means_a_later_break(
    passes: list[float],
    more: list[float],
    burnish: set[int],
    recoat: set[int],
    promise: float,
    seen: float,
    seed: int,
) -> None:
    random = np.random.default_rng(seed)
    shape = (2, 32)
    u_haze, u_rest = np.repeat(random.normal(0, 0.5, (2, 1, 32)), 2, axis=1)
    both = np.ones((2, 1))
    draws = Draws(
        rates=rates_from(LAW, u_haze, u_rest),
        level=both * random.normal(np.log(45.0), 0.1, 32),
        shock=both * random.normal(0.0, 0.02, 32),
        state=FloorState.fresh(shape, LAW),
    )
    less = np.array(passes)
    days = np.arange(60)
    plan: Plan = (
        (RECOAT, np.isin(days, list(recoat)) & (both > 0)),
        (BURNISH, np.isin(days, list(burnish)) & (both > 0)),
    )
    found = first_below(
        draws, LAW, np.stack([less, less + np.array(more)]), plan, np.full(2, promise), seen
    )
    assert (found.prob_by_day[1] >= found.prob_by_day[0]).all()
    assert (found.days[1] <= found.days[0]).all()
