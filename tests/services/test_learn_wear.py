from dataclasses import replace
from math import exp

import numpy as np
import pytest

from floorcare.ground.trade.traffic import TrafficRow
from floorcare.ground.wear.pooled import CLASSES, Noise
from floorcare.services import learn_wear as service
from floorcare.services.explain_why import explain_why
from floorcare.services.learn_wear import SAME, learn_wear
from floorcare.services.load_care import load_care
from floorcare.services.plan_year import plan_year
from floorcare.services.show_contracts import show_contracts
from floorcare.services.show_floors import show_floors
from floorcare.store.open import open_store
from floorcare.store.upgrade import create_or_upgrade
from tests.services.conftest import TODAY, care
from tests.services.watched import WatchedStore
from tests.store.sample import LATER, NOW, START
from tests.taught import NOISE, taught


@pytest.fixture
def learns(monkeypatch):
    """Let the fleet teach what the test says; the calls are kept."""
    calls = []

    def teach(pooled):
        def learn(columns, law, zone_class):
            calls.append((columns, law, zone_class))
            return pooled

        monkeypatch.setattr(service, "learn", learn)
        return calls

    return teach


def learned(store, surfaces, *, today=TODAY, now=NOW, **more):
    return learn_wear(store, surfaces, today=today, now=now, who="anna", **more)


def versions(store):
    with store.work() as work:
        return [(v.number, v.learned_on, v.made_by) for v in work.prior_versions()]


def test_what_all_zones_of_a_surface_teach_is_kept_in_one_transaction(loaded, surfaces, learns):
    calls = learns(taught())
    watched = WatchedStore(loaded)
    answer = learned(watched, surfaces)
    assert (watched.blocks, watched.commits) == ([False, True], 1)
    ((columns, law, zone_class),) = calls
    assert law == surfaces["polished_concrete"].law
    assert columns.zones == zone_class.size == 2, "both branches' zones teach together"
    assert (answer.written, answer.same) == (True, False)
    assert (answer.number, answer.learned_on, answer.before) == (1, TODAY, None)
    assert versions(loaded) == [(1, TODAY, "anna")]
    with loaded.work() as work:
        assert work.pooled()["polished_concrete"].noise == NOISE


def test_what_was_known_already_is_not_written_again(loaded, surfaces, learns):
    learns(taught())
    learned(loaded, surfaces)
    learns(taught(mean_haze=taught().mean_haze + 0.9 * SAME))
    watched = WatchedStore(loaded)
    again = learned(watched, surfaces, today=LATER.date(), now=LATER)
    assert watched.blocks == [False]
    assert (again.written, again.same) == (False, True)
    assert (again.number, again.learned_on, again.before) == (1, TODAY, 1)
    assert versions(loaded) == [(1, TODAY, "anna")]


@pytest.mark.parametrize(
    "changed",
    [
        {"mean_haze": taught().mean_haze + 3 * SAME},
        {"zones": np.full(CLASSES, 5)},
        {"inside": np.full(CLASSES, 0.9)},
        {"noise": replace(NOISE, drift_sd=NOISE.drift_sd + 3 * SAME)},
    ],
)
def test_anything_learned_anew_is_the_next_version(loaded, surfaces, learns, changed):
    learns(taught())
    learned(loaded, surfaces)
    learns(taught(**changed))
    again = learned(loaded, surfaces)
    assert (again.written, again.same, again.number, again.before) == (True, False, 2, 1)
    assert [number for number, *_ in versions(loaded)] == [1, 2]


def test_a_dry_run_tells_and_writes_nothing(loaded, surfaces, learns):
    learns(taught())
    watched = WatchedStore(loaded)
    answer = learned(watched, surfaces, dry_run=True)
    assert watched.blocks == [False]
    assert (answer.written, answer.same, answer.number, answer.before) == (False, False, 1, None)
    assert answer.surfaces == learned(loaded, surfaces).surfaces


def test_every_class_is_told_in_times_with_its_spread_and_honesty(loaded, surfaces, learns):
    learns(taught())
    (surface,) = learned(loaded, surfaces).surfaces
    assert (surface.surface, surface.zones) == ("polished_concrete", 2)
    assert [(c.traffic, c.counted) for c in surface.classes] == [
        (level, counted)
        for level in ("light", "moderate", "heavy", "extreme")
        for counted in (False, True)
    ]
    assert sum(c.zones_there for c in surface.classes) == 2
    pooled = taught()
    for c, told in enumerate(surface.classes):
        assert told.zones_read == pooled.zones[c]
        assert told.haze_times == pytest.approx(exp(pooled.mean_haze[c]))
        assert told.wear_times == pytest.approx(exp(pooled.mean_rest[c]))
        assert told.haze_low < told.haze_times < told.haze_high
        # nine in ten of a normal law lie within 1.645 sd
        assert np.log(told.wear_high / told.wear_low) == pytest.approx(
            2 * 1.645 * pooled.sd_rest[c]
        )
        assert told.band_scale == pooled.band_scale[c]
    assert surface.classes[0].inside is None
    assert surface.classes[1].inside == pytest.approx(0.78)
    own = surfaces["polished_concrete"].law
    assert {n.name: (n.learned, n.own) for n in surface.noise} == {
        name: (getattr(NOISE, name), getattr(own, name)) for name in Noise.__slots__
    }


def test_a_zone_with_a_counter_is_of_another_class(loaded, surfaces, learns):
    calls = learns(taught())
    counter = TrafficRow(kind="foot", per_day=900.0, counted=True, from_on=START)
    books = tuple(
        replace(b, zones=tuple(replace(z, traffic=(counter,)) for z in b.zones))
        for b in care().books
    )
    load_care(loaded, replace(care(), books=books), who="office", now=NOW)
    learned(loaded, surfaces)
    (_, _, zone_class) = calls[0]
    assert (zone_class % 2 == 1).all()


def test_where_nothing_is_loaded_there_is_nothing_to_learn(tmp_path, surfaces):
    create_or_upgrade(str(tmp_path / "empty.db"), NOW)
    store = open_store(str(tmp_path / "empty.db"))
    answer = learned(store, surfaces)
    assert (answer.written, answer.number, answer.surfaces) == (False, None, ())
    assert versions(store) == []
    store.close()


def test_it_says_how_far_it_is(loaded, surfaces):
    told = []
    learned(loaded, surfaces, tell=lambda done, total: told.append((done, total)))
    assert told == [(0, 1), (1, 1)]


def test_a_plan_and_every_look_read_the_latest_version_and_change_none(planned, surfaces, learns):
    def looks():
        (north, _) = (t.rows[0] for t in show_floors(planned, surfaces, today=TODAY))
        why = explain_why(planned, surfaces, target="NORTH/LANE", today=TODAY).outlook
        return north, why, show_contracts(planned, surfaces, today=TODAY)

    before = looks()
    # far wider noise: every band must tell of it
    learns(taught(noise=replace(NOISE, station_sd=0.2, shock_sd=0.03)))
    learned(planned, surfaces)
    after = looks()
    for one, other in zip(before[:2], after[:2], strict=True):
        assert other.high_gu - other.low_gu > 1.5 * (one.high_gu - one.low_gu)
        assert other.promise_gu == one.promise_gu, "what was promised never moves"
    assert after[1].low_gu == pytest.approx(after[0].low_gu)
    account = plan_year(planned, surfaces, today=TODAY, now=LATER, who="planner")
    assert account.outlooks[0].low_gu == pytest.approx(after[0].low_gu)
    assert versions(planned) == [(1, TODAY, "anna")]


def test_a_plan_keeps_the_version_it_was_made_with_and_another_makes_another_plan(
    loaded, surfaces, learns
):
    plan_year(loaded, surfaces, today=TODAY, now=NOW, who="planner", weeks=26)
    with loaded.work() as work:
        first = work.standing_plan()
    assert first.prior_version is None
    fast = np.full(CLASSES, 1.0)
    learns(taught(mean_haze=fast, mean_rest=fast, sd_haze=0.1 * fast, sd_rest=0.1 * fast))
    learned(loaded, surfaces)
    account = plan_year(loaded, surfaces, today=TODAY, now=LATER, who="planner", weeks=26)
    assert account.written, "floors that wear 2.7 times as fast are worked at other times"
    with loaded.work() as work:
        second = work.standing_plan()
    assert second.prior_version == 1
    assert second.digest != first.digest
    again = plan_year(loaded, surfaces, today=TODAY, now=LATER, who="planner", weeks=26)
    assert not again.written
