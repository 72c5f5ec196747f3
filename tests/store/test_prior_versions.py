from dataclasses import fields, replace
from datetime import date

import numpy as np
import pytest
from sqlalchemy import func, select
from sqlalchemy.exc import IntegrityError

from floorcare.errors import Clash
from floorcare.ground.wear.pooled import CLASSES, Pooled
from floorcare.store import prior_rows
from floorcare.store.prior_versions import COUNTS, FIGURES, VersionMade
from tests.store.sample import LATER, NOW, plan, portfolio
from tests.taught import taught

LEARNED = date(2026, 3, 8)


@pytest.fixture
def work(store):
    with store.work(writes=True) as work:
        work.put_portfolio(portfolio(), who="anna", now=NOW)
        yield work


def add(work, surfaces, *, learned_on=LEARNED, now=NOW, who="ben"):
    return work.add_prior_version(surfaces, learned_on=learned_on, who=who, now=now)


def assert_same(found, expected):
    assert found.noise == expected.noise
    for name in (*COUNTS, *FIGURES):
        assert np.array_equal(getattr(found, name), getattr(expected, name), equal_nan=True), name
        assert getattr(found, name).dtype == getattr(expected, name).dtype


def test_the_columns_kept_are_those_of_the_record():
    assert {*COUNTS, *FIGURES, "noise"} == {field.name for field in fields(Pooled)}


def test_before_anything_was_learned_there_is_none(work):
    assert work.prior_version() is None
    assert work.prior_versions() == ()
    assert work.pooled() == {}


def test_a_version_comes_back_to_the_last_bit_by_surface(work):
    odd = taught(mean_haze=np.full(CLASSES, 0.1 + 0.2), band_scale=np.full(CLASSES, 1 / 3))
    made = add(work, {"terrazzo": odd, "polished_concrete": taught()})
    found = work.prior_version()
    assert (found.number, found.learned_on) == (made.number, made.learned_on) == (1, LEARNED)
    assert list(found.surfaces) == ["polished_concrete", "terrazzo"]
    assert_same(found.surfaces["polished_concrete"], taught())
    assert_same(found.surfaces["terrazzo"], odd)
    assert np.isnan(found.surfaces["terrazzo"].inside[0])


def test_the_latest_is_read_and_every_one_is_kept(work):
    add(work, {"polished_concrete": taught()})
    add(work, {"polished_concrete": taught(zones=np.full(CLASSES, 9))}, now=LATER, who="carla")
    assert work.prior_version().number == 2
    assert work.pooled()["polished_concrete"].zones.tolist() == [9] * CLASSES
    assert work.prior_versions() == (
        VersionMade(number=1, learned_on=LEARNED, made_at=NOW, made_by="ben"),
        VersionMade(number=2, learned_on=LEARNED, made_at=LATER, made_by="carla"),
    )


def test_one_line_of_the_history_tells_of_it(work):
    before = len(work.history())
    add(work, {"polished_concrete": taught()}, now=LATER)
    assert len(work.history()) == before + 1
    entry = work.history(1)[0]
    assert (entry.at, entry.who, entry.what) == (LATER, "ben", "wear learned")
    assert entry.detail == {
        "version": 1,
        "learned_on": "2026-03-08",
        "zones": {"polished_concrete": sum(range(CLASSES))},
    }


def test_a_plan_under_way_is_told_that_what_it_reads_has_changed(work):
    read = work.revisions()
    add(work, {"polished_concrete": taught()}, now=LATER)
    assert work.revisions() == {branch: number + 1 for branch, number in read.items()}
    with pytest.raises(Clash, match="ben changed it"):
        work.put_plan(
            plan(),
            visits=(),
            changes=(),
            unplaced=(),
            revisions=read,
            who="anna",
            now=LATER,
        )


def test_a_plan_keeps_the_number_it_was_made_with(work):
    for number in (None, 1):
        made = replace(plan(), prior_version=number)
        work.put_plan(
            made,
            visits=(),
            changes=(),
            unplaced=(),
            revisions=work.revisions(),
            who="anna",
            now=LATER,
        )
        assert work.standing_plan() == made


def test_nothing_is_kept_of_a_version_that_was_not_committed(store, work):
    with store.work() as other:
        add(work, {"polished_concrete": taught()})
        assert other.prior_version() is None


@pytest.mark.parametrize(
    "spoilt",
    [
        {"sd_haze": np.zeros(CLASSES)},
        {"inside": np.full(CLASSES, 1.2)},
        {"band_scale": np.zeros(CLASSES)},
        {"correlation": np.full(CLASSES, -1.1)},
        {"zones": np.full(CLASSES, -1)},
    ],
)
def test_values_that_cannot_be_are_refused(work, spoilt):
    with pytest.raises(IntegrityError, match="CHECK"):
        add(work, {"polished_concrete": taught(**spoilt)})


def test_every_class_has_its_row(work):
    add(work, {"polished_concrete": taught(), "terrazzo": taught()})
    tables = (prior_rows.prior_version, prior_rows.prior_class, prior_rows.prior_noise)
    found = [work._connection.scalar(select(func.count()).select_from(t)) for t in tables]
    assert found == [1, 2 * CLASSES, 2]
