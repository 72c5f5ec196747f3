"""A week changed by hand: pinned, without somebody, without a machine, over its time."""

from dataclasses import replace
from datetime import timedelta

import pytest

from floorcare.errors import NotAllowed, NotKnown
from floorcare.ground.trade.visit import Commitment, VisitState
from floorcare.services.change_week import (
    give_visit,
    hold_visit,
    note_absence,
    note_outage,
    note_overrun,
)
from floorcare.services.fit_week import fit_week
from floorcare.store.surfaces import load_cautions
from tests.services.conftest import TODAY
from tests.services.test_week_ground import asked, busiest

DAY = timedelta(days=1)
CAUTIONS = load_cautions()


def kept(store, surfaces):
    """A week that was written, and one of its visits with a crew."""
    start = busiest(store)
    fit_week(store, surfaces, CAUTIONS, asked(starts_on=start, write=True))
    with store.work() as work:
        given = work.assignments(start, start + 6 * DAY)[0]
        return start, next(v for v in work.visits() if v.uuid == given.visit), given


def again(store, visit):
    with store.work() as work:
        return next(v for v in work.visits() if v.uuid == visit.uuid)


def test_a_visit_is_pinned_for_crews_and_plans_and_let_go(planned, surfaces):
    _, visit, given = kept(planned, surfaces)
    held = hold_visit(planned, asked(), words=(visit.uuid,), held=True)
    assert (held.crew, held.held) == (given.crew, True)
    now = again(planned, visit)
    assert (now.state, now.commitment) == (VisitState.HELD, Commitment.NIGHT)
    hold_visit(planned, asked(), words=(visit.uuid,), held=False)
    assert not again(planned, visit).stands


def test_a_past_visit_is_not_held(planned, surfaces):
    _, visit, _ = kept(planned, surfaces)
    later = replace(asked(), today=visit.night + DAY)
    with pytest.raises(NotAllowed, match="is past"):
        hold_visit(planned, later, words=(visit.uuid,), held=True)


def test_a_visit_given_to_a_crew_is_held_there(planned, surfaces):
    _, visit, given = kept(planned, surfaces)
    give_visit(
        planned,
        surfaces,
        CAUTIONS,
        replace(asked(), write=True),
        words=(visit.uuid,),
        crew=given.crew,
    )
    assert again(planned, visit).stands
    with planned.work() as work:
        (mine,) = [a for a in work.assignments(visit.night, visit.night) if a.visit == visit.uuid]
    assert (mine.held, mine.crew) == (True, given.crew)
    with pytest.raises(NotKnown, match='no crew "MOON"'):
        give_visit(planned, surfaces, CAUTIONS, asked(), words=(visit.uuid,), crew="MOON")


def test_another_week_is_the_plans_business(planned, surfaces):
    _, visit, _ = kept(planned, surfaces)
    with pytest.raises(NotAllowed, match="floorcare visits move"):
        give_visit(
            planned,
            surfaces,
            CAUTIONS,
            asked(),
            words=(visit.uuid,),
            to=visit.night + 14 * DAY,
        )


def test_workers_and_machines_nobody_knows_are_refused(planned, surfaces):
    with pytest.raises(NotKnown, match='no worker "MOON"'):
        note_absence(planned, surfaces, CAUTIONS, asked(), worker="MOON", first=TODAY, last=TODAY)
    with pytest.raises(NotKnown, match='no machine "MOON"'):
        note_outage(planned, surfaces, CAUTIONS, asked(), machine="MOON", first=TODAY, last=TODAY)


def test_an_overrun_is_kept_with_the_visit(planned, surfaces):
    start, visit, _ = kept(planned, surfaces)
    how = replace(asked(starts_on=start), write=True)
    note_overrun(planned, surfaces, CAUTIONS, how, words=(visit.uuid,), minutes=15)
    assert again(planned, visit).minutes == visit.minutes + 15
    with pytest.raises(NotAllowed, match="allowed 1 to 720"):
        note_overrun(planned, surfaces, CAUTIONS, how, words=(visit.uuid,), minutes=721)
