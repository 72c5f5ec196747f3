from dataclasses import replace
from datetime import date, timedelta

import pytest

from floorcare.errors import Clash, NotKnown
from floorcare.ground.trade.answer import Manner, NightAnswer, NightWord, Said
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Agreement, Commitment, VisitState
from floorcare.store.visit_edits import VisitEdit
from tests.store.sample import LATER, NOW, added, plan, portfolio, visit

NIGHT = date(2026, 3, 12)
BEFORE = visit("NORTH", NIGHT)
AFTER = replace(
    BEFORE,
    night=NIGHT + timedelta(days=4),
    starts_minute=1380,
    state=VisitState.HELD,
    commitment=Commitment.HOUR,
    agreement=Agreement.AGREED,
    sequence=1,
    changed_at=LATER,
)
SAID = Said(by="C-9", how=Manner.PHONE, on=date(2026, 3, 8), why="fair in the hall")


def an_edit(**more) -> VisitEdit:
    own = {"kind": "moved", "before": BEFORE, "after": AFTER, "said": SAID, "version": 1, **more}
    return VisitEdit(**own)


@pytest.fixture
def planned(store):
    with store.work(writes=True) as work:
        work.put_portfolio(portfolio(), who="anna", now=NOW)
        work.put_plan(
            plan(added=1),
            visits=(BEFORE,),
            changes=(added(BEFORE),),
            unplaced=(),
            revisions={},
            who="planner",
            now=NOW,
        )
        work.commit()
    return store


def put(store, edit, *, who="ben", now=LATER):
    with store.work(writes=True) as work:
        version = work.put_visit(edit, who=who, now=now)
        work.commit()
    return version


def test_a_visit_is_written_whole_with_its_lines_as_they_were(planned):
    assert put(planned, an_edit()) == 2
    with planned.work() as work:
        assert work.visits() == (AFTER,)
        assert work.visit_versions([AFTER.uuid]) == {AFTER.uuid: 2}
        assert work.visit_versions(["stray"]) == {}


def test_its_account_says_who_did_it_who_entered_it_how_when_and_why(planned):
    put(planned, an_edit())
    with planned.work() as work:
        first, event = work.visit_events(AFTER.uuid)
    assert (first.kind, first.done_by, first.how, first.said_on) == ("added", "", None, None)
    assert (event.kind, event.who, event.at) == ("moved", "ben", LATER)
    assert (event.done_by, event.how, event.said_on) == ("C-9", Manner.PHONE, SAID.on)
    assert (event.why, event.night_before, event.night_after) == (SAID.why, NIGHT, AFTER.night)


def test_one_called_off_has_no_night_after(planned):
    off = replace(BEFORE, state=VisitState.CANCELLED, sequence=1)
    put(planned, an_edit(kind="cancelled", after=off))
    with planned.work() as work:
        assert work.visit_events(off.uuid)[-1].night_after is None


def test_it_is_one_line_of_history_with_the_nights_in_words(planned):
    offer = NIGHT + timedelta(days=2)
    answers = (
        NightAnswer(
            zone="LANE", work=Work.RECOAT, night=offer, word=NightWord.OFFERED, said_on=SAID.on
        ),
    )
    with planned.work() as work:
        before = len(work.history())
    put(planned, an_edit(answers=answers))
    with planned.work() as work:
        assert len(work.history()) == before + 1
        entry = work.history()[0]
        assert work.books(["NORTH"])[0].answers == answers
    assert (entry.what, entry.who, entry.at) == ("visit moved", "ben", LATER)
    detail = entry.detail
    assert (detail["site"], detail["night"], detail["to"]) == ("NORTH", "2026-03-12", "2026-03-16")
    assert (detail["by"], detail["how"], detail["on"]) == ("C-9", "phone", "2026-03-08")
    assert detail["instead"] == "2026-03-14"


def test_plans_of_its_branch_read_otherwise_from_then_on_and_no_other(planned):
    with planned.work() as work:
        before = work.revisions()
    put(planned, an_edit())
    with planned.work() as work:
        after = work.revisions()
    assert after == {"EAST": before["EAST"] + 1, "WEST": before["WEST"]}


def test_a_plan_made_meanwhile_is_refused(planned):
    with planned.work() as work:
        read = work.revisions()
    put(planned, an_edit())
    with planned.work(writes=True) as work, pytest.raises(Clash, match="ben changed it at 14:02"):
        work.put_plan(
            plan(),
            visits=(),
            changes=(),
            unplaced=(),
            revisions=read,
            who="planner",
            now=LATER,
        )


def test_a_stale_edit_is_refused_with_who_and_when_and_writes_nothing(planned):
    put(planned, an_edit())
    with planned.work(writes=True) as work:
        with pytest.raises(Clash) as clash:
            work.put_visit(an_edit(kind="held"), who="cleo", now=LATER)
        assert work.visits() == (AFTER,)
        assert [e.kind for e in work.visit_events(AFTER.uuid)] == ["added", "moved"]
    assert clash.value.where == "visit of NORTH on 2026-03-12"
    assert "ben changed it at 14:02 UTC on 2026-03-09 (moved)" in clash.value.message
    assert "it is version 2 now, you saw 1" in clash.value.message


def test_the_version_somebody_saw_is_held_against_the_one_that_stands(planned):
    with planned.work() as work:
        assert work.version_seen(BEFORE, None) == work.version_seen(BEFORE, 1) == 1
        with pytest.raises(Clash, match=r"planner changed it .* you saw 7"):
            work.version_seen(BEFORE, 7)


def test_a_visit_nobody_knows_is_refused(planned):
    stray = replace(BEFORE, uuid="stray")
    with planned.work(writes=True) as work, pytest.raises(NotKnown, match="no such visit"):
        work.put_visit(an_edit(before=stray, after=stray), who="ben", now=LATER)


def test_agreeing_reopens_what_was_refused_that_night_at_the_site(planned):
    refused = NightAnswer(
        zone="LANE", work=Work.RECOAT, night=NIGHT, word=NightWord.REFUSED, said_on=SAID.on
    )
    no = replace(BEFORE, agreement=Agreement.REFUSED)
    put(planned, an_edit(kind="refused", after=no, answers=(refused,)))
    with planned.work() as work:
        assert work.books(["NORTH"])[0].answers == (refused,)
    yes = replace(BEFORE, agreement=Agreement.AGREED)
    put(planned, an_edit(kind="agreed", before=no, after=yes, version=2, reopened=True))
    with planned.work() as work:
        assert work.books(["NORTH"])[0].answers == ()
