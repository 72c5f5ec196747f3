"""A week is kept whole or not at all."""

from dataclasses import replace
from datetime import timedelta

import pytest

from floorcare.errors import Clash
from tests.services.conftest import (  # noqa: F401
    TODAY,
    loaded_once,
    opened,
    planned,
    planned_once,
    surfaces,
)
from tests.store.kept_weeks import edit_of, first_visit, given_to, write

DAY = timedelta(days=1)


def test_an_assignment_is_read_as_it_was_written_and_the_visit_knows_its_crew(planned):  # noqa: F811
    visit = first_visit(planned)
    edit = edit_of(visit)
    write(planned, edit)
    assert given_to(planned, visit) == edit.assignments
    with planned.work() as work:
        (again,) = [v for v in work.visits() if v.uuid == visit.uuid]
        assert again.crew == "EAST-1"
        assert work.visit_events(visit.uuid)[-1].kind == "given to a crew"
        entry = work.history(1)[0]
        assert (entry.what, entry.detail["branch"]) == ("week written", "EAST")


def test_a_second_week_takes_the_place_of_the_first_and_the_first_is_kept_withdrawn(planned):  # noqa: F811
    visit = first_visit(planned)
    write(planned, edit_of(visit))
    write(planned, edit_of(visit, crew="EAST-2"))
    assert [one.crew for one in given_to(planned, visit)] == ["EAST-2"]


def test_a_visit_changed_meanwhile_is_a_clash_and_nothing_is_written(planned):  # noqa: F811
    visit = first_visit(planned)
    with pytest.raises(Clash, match="1 visit was changed since the week was looked at"):
        write(planned, edit_of(visit), **{visit.uuid: 99})
    assert given_to(planned, visit) == ()


def test_a_new_hour_is_written_with_the_visit(planned):  # noqa: F811
    visit = first_visit(planned)
    later = replace(visit, starts_minute=visit.starts_minute + 15, sequence=visit.sequence + 1)
    write(planned, edit_of(visit, altered=(later,)))
    with planned.work() as work:
        (again,) = [v for v in work.visits() if v.uuid == visit.uuid]
    assert again.starts_minute == visit.starts_minute + 15
    assert again.lines == visit.lines
