"""What weeks are read from and how they are kept."""

import pytest

from floorcare.errors import Clash, NotKnown
from floorcare.services.fit_week import fit_week
from floorcare.services.week_ground import (
    WeekAsked,
    answer_weeks,
    fit_weeks,
    read_weeks,
    twisted,
)
from floorcare.store.surfaces import load_cautions
from tests.services.conftest import TODAY
from tests.services.watched import WatchedStore
from tests.store.sample import LATER


def asked(**more: object) -> WeekAsked:
    own = {"starts_on": TODAY, "today": TODAY, "who": "ida", "now": LATER, **more}
    return WeekAsked(**own)  # type: ignore[arg-type]


def busiest(store):
    """The first day of a week that has a visit."""
    from datetime import timedelta

    with store.work() as work:
        night = next(v.night for v in work.visits(first=TODAY + timedelta(days=7)))
    return night - timedelta(days=night.weekday())


def test_every_branch_is_read_with_what_was_given_so_far(planned, surfaces):
    start = busiest(planned)
    fit_week(planned, surfaces, load_cautions(), asked(starts_on=start, write=True))
    read = read_weeks(planned, surfaces, asked(starts_on=start))
    assert [week.branch.code for week in read.weeks] == ["EAST", "WEST"]
    assert sum(len(week.assigned) for week in read.weeks) >= 1
    assert {uuid for seen in read.versions.values() for uuid in seen} == {
        v.uuid for week in read.weeks for v in week.visits if week.holds(v)
    }
    with pytest.raises(NotKnown, match='no branch "MOON"'):
        read_weeks(planned, surfaces, asked(branch="MOON"))


def test_a_week_is_written_in_one_block_and_not_where_nothing_changed(planned, surfaces):
    start = busiest(planned)
    watched = WatchedStore(planned)
    (first, *_) = fit_week(watched, surfaces, load_cautions(), asked(starts_on=start, write=True))
    assert first.sheet.written
    with planned.work() as work:
        lines = len(work.history(500))
    (again, *_) = fit_week(planned, surfaces, load_cautions(), asked(starts_on=start, write=True))
    assert again.sheet.changes == ()
    with planned.work() as work:
        assert len(work.history(500)) == lines


def test_a_visit_changed_meanwhile_stops_the_writing(planned, surfaces):
    start = busiest(planned)
    how = asked(starts_on=start, write=True)
    read = read_weeks(planned, surfaces, how)
    fits = list(zip(read.weeks, fit_weeks(read.weeks, how), strict=True))
    fit_week(planned, surfaces, load_cautions(), how)
    with pytest.raises(Clash, match="changed since the week was looked at"):
        answer_weeks(planned, read, fits, how, load_cautions())


def test_a_twist_changes_every_week_before_it_is_fitted(planned, surfaces):
    from dataclasses import replace

    read = read_weeks(planned, surfaces, asked(starts_on=busiest(planned)))
    bare = twisted(read, lambda week: replace(week, visits=()))
    assert all(week.visits == () for week in bare.weeks)
    assert any(week.visits for week in read.weeks)
