from dataclasses import replace
from datetime import date

import pytest

from floorcare.ground.trade.book import Portfolio
from floorcare.ground.trade.visit import ChangeKind
from tests.store.sample import (
    INSTALLATION,
    LATER,
    NOW,
    added,
    change,
    not_placed,
    plan,
    portfolio,
    visit,
)


def test_a_fresh_store_is_empty_and_knows_its_installation(store):
    with store.work() as work:
        assert work.installation().uuid == INSTALLATION
        assert work.installation().made_at == NOW
        assert (work.customers(), work.branches(), work.books(), work.visits()) == ((), (), (), ())
        assert work.revisions() == {}
        assert work.standing_plan() is None
        assert work.unplaced() == ()
        assert work.prior_version() is None
        assert work.prior_versions() == ()
        assert work.visit_events("none") == ()
        assert work.history() == ()


def test_nothing_follows_a_commit(store):
    with store.work(writes=True) as work:
        work.commit()
        with pytest.raises(RuntimeError, match="over"):
            work.books()
        with pytest.raises(RuntimeError, match="over"):
            work.commit()


def test_a_reading_block_writes_nothing(store):
    with store.work() as work:
        with pytest.raises(RuntimeError, match="opened for reading"):
            work.put_portfolio(Portfolio(), who="t", now=NOW)
        with pytest.raises(RuntimeError, match="opened for reading"):
            work.add_prior_version({}, learned_on=NOW.date(), who="t", now=NOW)
        with pytest.raises(RuntimeError, match="opened for reading"):
            work.commit()


def test_a_years_first_weeks_pass_through_the_store(store):
    planned, moved = visit(), replace(visit(night=date(2026, 3, 19)), sequence=1, changed_at=LATER)
    with store.work(writes=True) as work:
        work.put_portfolio(portfolio(), who="anna", now=NOW)
        work.commit()
    with store.work() as work:
        revisions = work.revisions()
    with store.work(writes=True) as work:
        work.put_plan(
            plan(added=1, unplaced=1),
            visits=(planned,),
            changes=(added(planned),),
            unplaced=(not_placed(),),
            revisions=revisions,
            who="anna",
            now=NOW,
        )
        work.commit()
    with store.work(writes=True) as work:
        work.put_plan(
            plan(moved=1),
            visits=(moved,),
            changes=(change(ChangeKind.MOVED, moved, planned.night, moved.night),),
            unplaced=(),
            revisions=revisions,
            who="ben",
            now=LATER,
        )
        work.commit()
    with store.work() as work:
        assert work.visits() == (moved,)
        assert work.standing_plan() == plan(moved=1)
        assert work.unplaced() == ()
        assert [(e.kind, e.who) for e in work.visit_events(moved.uuid)] == [
            ("added", "anna"),
            ("moved", "ben"),
        ]
        assert [e.what for e in work.history()] == [
            "plan made",
            "plan made",
            "portfolio brought in",
        ]
