from dataclasses import replace
from datetime import date, timedelta

import pytest

from floorcare.errors import Clash
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Agreement, ChangeKind, PlanChange, VisitState
from floorcare.ground.worktime.shut import ShutDay
from floorcare.services.load_care import load_care
from floorcare.services.plan_year import WEEKS, plan_year
from tests.services.conftest import TODAY, care
from tests.services.watched import WatchedStore
from tests.store.sample import LATER, NOW, plan


def make(store, surfaces, *, today=TODAY, now=NOW, **more):
    return plan_year(store, surfaces, today=today, now=now, who="planner", **more)


def visits_of(store):
    with store.work() as work:
        return work.visits()


def shut(code, *nights):
    """The care with these nights shut at one site."""
    brought = care()
    more = tuple(ShutDay(from_on=on, to_on=on, why="inventory") for on in nights)
    books = tuple(
        replace(b, site=replace(b.site, shut_days=(*b.site.shut_days, *more)))
        if b.site.code == code
        else b
        for b in brought.books
    )
    return replace(brought, books=books)


def test_a_year_is_planned_and_written_in_one_transaction(loaded, surfaces):
    watched = WatchedStore(loaded)
    account = make(watched, surfaces)
    assert account.written
    assert (watched.blocks, watched.commits) == ([False, True], 1)
    assert (account.today, account.last_on) == (TODAY, TODAY + timedelta(weeks=WEEKS))
    assert (account.sites, account.zones) == (2, 2)
    kept = visits_of(loaded)
    assert account.visits == account.count(ChangeKind.ADDED) == len(kept) > 10
    assert account.lines == sum(len(v.lines) for v in kept)
    assert {v.site for v in kept} == {"NORTH", "SOUTH"}
    assert all(TODAY < v.night <= account.last_on for v in kept)
    assert all(v.changed_at == NOW and v.sequence == 0 for v in kept)
    with loaded.work() as work:
        plan = work.standing_plan()
        assert (plan.made_by, plan.added, plan.kept) == ("planner", len(kept), 0)
        assert work.history()[0].what == "plan made"


def test_visits_keep_to_open_nights_and_never_two_a_night_at_one_site(planned):
    kept = visits_of(planned)
    assert len({(v.site, v.night) for v in kept}) == len(kept)
    with planned.work() as work:
        books = {book.site.code: book.site for book in work.books()}
    for visit in kept:
        site = books[visit.site]
        assert visit.night.weekday() in range(5)
        assert not any(s.from_on <= visit.night <= s.to_on for s in site.shut_days)
        assert visit.starts_minute == 1320
        assert visit.starts_minute + visit.minutes <= 1440 + 360


def test_every_due_of_our_own_rhythm_is_a_line(planned):
    recoats = sorted(
        v.night
        for v in visits_of(planned)
        for line in v.lines
        if v.site == "SOUTH" and line.work is Work.RECOAT
    )
    wanted = [date(2026, 1, 5) + timedelta(weeks=10 * n) for n in range(1, 7)]
    assert len(recoats) == len(wanted)
    assert all(abs((on - due).days) <= 7 for on, due in zip(recoats, wanted, strict=True))


def test_the_same_plan_again_keeps_every_visit_and_writes_no_row(planned, surfaces):
    watched = WatchedStore(planned)
    before = visits_of(planned)
    again = make(watched, surfaces, now=LATER)
    assert not again.written
    assert {change.kind for change in again.changes} == {ChangeKind.KEPT}
    assert (watched.blocks, watched.commits) == ([False], 0)
    assert visits_of(planned) == before
    with planned.work() as work:
        assert work.standing_plan().made_at == NOW


def test_two_installations_of_one_name_plan_alike(opened, loaded_once, surfaces):
    first, second = opened(loaded_once), opened(loaded_once)
    assert make(first, surfaces).changes == make(second, surfaces).changes
    assert visits_of(first) == visits_of(second)


def test_a_dry_run_decides_the_same_and_opens_no_block_to_write(loaded, surfaces):
    watched = WatchedStore(loaded)
    dry = make(watched, surfaces, dry_run=True)
    assert (dry.written, watched.blocks, watched.commits) == (False, [False], 0)
    assert visits_of(loaded) == ()
    wet = make(loaded, surfaces)
    assert replace(dry, written=True) == wet


def test_progress_is_told_by_branch(loaded, surfaces):
    told = []
    make(loaded, surfaces, dry_run=True, tell=lambda done, total: told.append((done, total)))
    assert told == [(0, 2), (1, 2), (2, 2)]


def test_a_shut_night_moves_its_visit_which_stays_the_same_visit(planned, surfaces):
    before = {v.uuid: v for v in visits_of(planned)}
    first = next(v for v in before.values() if v.site == "SOUTH")
    load_care(planned, shut("SOUTH", first.night), who="office", now=LATER)
    account = make(planned, surfaces, now=LATER)
    after = {v.uuid: v for v in visits_of(planned)}
    (change,) = [c for c in account.changes if c.visit == first.uuid]
    assert (change.kind, change.night_before) == (ChangeKind.MOVED, first.night)
    assert after[first.uuid].night != first.night
    assert after[first.uuid].sequence == 1
    assert after[first.uuid].changed_at == LATER
    kept = {c.visit for c in account.changes if c.kind is ChangeKind.KEPT}
    assert all(after[uuid] == before[uuid] for uuid in kept)
    with planned.work() as work:
        kinds = [event.kind for event in work.visit_events(first.uuid)]
    assert kinds == ["added", "moved"]


def test_what_the_customer_agreed_to_stands_even_on_a_night_that_was_shut(planned, surfaces):
    first = next(v for v in visits_of(planned) if v.site == "SOUTH")
    agreed = replace(first, state=VisitState.HELD, agreement=Agreement.AGREED)
    _overwrite(planned, agreed)
    load_care(planned, shut("SOUTH", first.night), who="office", now=LATER)
    account = make(planned, surfaces, now=LATER)
    assert first.uuid not in {c.visit for c in account.changes}
    assert agreed in visits_of(planned)
    others = [v.night for v in visits_of(planned) if v.site == "SOUTH" and v.uuid != first.uuid]
    assert all(abs((on - first.night).days) > 30 for on in others), "it is not planned twice"


def _overwrite(store, visit):
    """What a planner will do by a command of its own: hold a visit."""
    change = PlanChange(
        kind=ChangeKind.CHANGED,
        visit=visit.uuid,
        site=visit.site,
        night_before=visit.night,
        night_after=visit.night,
        why="agreed by phone",
    )
    with store.work(writes=True) as work:
        work.put_plan(
            plan(changed=1),
            visits=(visit,),
            changes=(change,),
            unplaced=(),
            revisions=work.revisions(),
            who="planner",
            now=NOW,
        )
        work.commit()


def test_a_work_that_finds_no_night_is_named_with_what_would_help(loaded, surfaces):
    brought = care()
    books = tuple(
        replace(
            b,
            site=replace(
                b.site, windows=tuple(replace(w, ends_minute=1380) for w in b.site.windows)
            ),
        )
        if b.site.code == "SOUTH"
        else b
        for b in brought.books
    )
    load_care(loaded, replace(brought, books=books), who="office", now=NOW)
    account = make(loaded, surfaces)
    assert account.unplaced
    assert {u.due.site for u in account.unplaced} == {"SOUTH"}
    assert all("60" in u.why and "lengthen a night" in u.mend for u in account.unplaced)
    with loaded.work() as work:
        assert work.unplaced() == account.unplaced
        assert work.standing_plan().unplaced == len(account.unplaced)
    assert make(loaded, surfaces, now=LATER).unplaced == account.unplaced, "and so the second time"


def test_a_site_without_a_branch_is_not_planned_and_asked_about(loaded, surfaces):
    brought = care()
    south = brought.books[1]
    ended = tuple(replace(s, to_on=TODAY - timedelta(days=1)) for s in south.site.branches)
    south = replace(south, site=replace(south.site, branches=ended))
    load_care(loaded, replace(brought, books=(brought.books[0], south)), who="office", now=NOW)
    account = make(loaded, surfaces)
    assert account.sites == 1
    (finding,) = [f for f in account.findings if "no branch" in f.problem]
    assert "SOUTH" in finding.problem
    assert (finding.weight, finding.allowed) == ("asks", "EAST, WEST")
    assert {v.site for v in visits_of(loaded)} == {"NORTH"}


# somebody changes something while the plan is being made


class Colleague:
    """Renames a site at the start of a decision, so many times."""

    def __init__(self, store, times):
        self.store = store
        self.times = times
        self.decisions = 0

    def __call__(self, done, total):
        if done:
            return
        self.decisions += 1
        if self.decisions <= self.times:
            brought = care()
            north = brought.books[0]
            north = replace(north, site=replace(north.site, name=f"Hall {self.decisions}"))
            load_care(self.store, replace(brought, books=(north,)), who="colleague", now=LATER)


def test_a_clash_is_decided_once_more_with_what_was_changed(loaded, surfaces):
    colleague = Colleague(loaded, times=1)
    watched = WatchedStore(loaded)
    account = make(watched, surfaces, tell=colleague)
    assert account.written
    assert colleague.decisions == 2
    assert (watched.blocks, watched.commits) == ([False, True, False, True], 1)
    assert len(visits_of(loaded)) == account.visits


def test_a_second_clash_is_told_and_nothing_is_written(loaded, surfaces):
    colleague = Colleague(loaded, times=9)
    watched = WatchedStore(loaded)
    with pytest.raises(Clash) as clash:
        make(watched, surfaces, tell=colleague)
    assert colleague.decisions == 2
    assert watched.commits == 0
    assert clash.value.where == "branch EAST"
    assert "colleague changed it at 14:02 UTC on 2026-03-09" in clash.value.message
    assert visits_of(loaded) == ()
    with loaded.work() as work:
        assert work.standing_plan() is None


def test_a_dry_run_meets_no_clash(loaded, surfaces):
    colleague = Colleague(loaded, times=9)
    assert make(loaded, surfaces, tell=colleague, dry_run=True).visits > 10
    assert colleague.decisions == 1
