from dataclasses import replace
from datetime import date, timedelta

import pytest

from floorcare.errors import Clash, NotAllowed, NotKnown
from floorcare.ground.trade.answer import Manner, Said
from floorcare.ground.trade.people import Contact
from floorcare.ground.trade.visit import Agreement, Commitment, VisitState
from floorcare.services import change_visit
from floorcare.services.change_visit import VisitAsked
from floorcare.services.load_care import load_care
from floorcare.services.plan_year import plan_year
from floorcare.services.publish_calendars import PROPOSED, REFUSED, publish_calendars
from tests.services.conftest import TODAY, care
from tests.services.watched import WatchedStore
from tests.store.sample import LATER

DAY = timedelta(days=1)


def visit_of(store, site="SOUTH", at=1):
    """A site's visit by its place among those proposed."""
    with store.work() as work:
        return [v for v in work.visits() if v.site == site][at]


def again(store, uuid):
    with store.work() as work:
        (found,) = [v for v in work.visits() if v.uuid == uuid]
        return found


def asking(visit, *, by="anna", on=TODAY, why="", **more) -> VisitAsked:
    own = {"words": (visit.site, visit.night.isoformat()), "who": "office", **more}
    return VisitAsked(
        said=Said(by=by, how=Manner.PHONE, on=on, why=why), today=TODAY, now=LATER, **own
    )


def make_plan(store, surfaces):
    return plan_year(store, surfaces, today=TODAY, now=LATER, who="planner")


def changes(account):
    """What became of visits, but for the horizon's last fortnight: a habit runs on from where it
    was last held, and its last work may so fall behind the end."""
    edge = account.last_on - timedelta(days=14)
    return {
        c.visit: c.kind.value
        for c in account.changes
        if c.kind.value != "kept" and (c.night_before or c.night_after) < edge
    }


def test_a_visit_moved_by_hand_is_held_and_a_later_plan_keeps_it(planned, surfaces):
    visit = visit_of(planned)
    to = visit.night + DAY
    watched = WatchedStore(planned)
    moved = change_visit.move_visit(watched, surfaces, asking(visit, why="fair"), to=to)
    assert (moved.written, moved.findings) == (True, ())
    assert (watched.blocks, watched.commits) == ([False, True], 1)
    assert (moved.night_before, moved.night, moved.starts) == (visit.night, to, "22:00")
    assert (moved.state, moved.commitment, moved.stands) == ("held", "night", True)
    assert (moved.sequence, moved.version) == (1, 2)
    stands = again(planned, visit.uuid)
    assert (stands.night, stands.state, stands.lines) == (to, VisitState.HELD, visit.lines)
    assert not changes(make_plan(planned, surfaces))
    assert again(planned, visit.uuid) == stands


def test_only_proposed_it_may_be_moved_again(planned, surfaces):
    visit = visit_of(planned)
    moved = change_visit.move_visit(
        planned, surfaces, asking(visit), to=visit.night + DAY, only_proposed=True
    )
    assert (moved.state, moved.commitment, moved.stands) == ("proposed", "week", False)


def test_what_cannot_be_is_not_done_even_by_who_is_sure(planned, surfaces):
    visit = visit_of(planned)
    saturday = visit.night + (5 - visit.night.weekday()) * DAY
    asked = asking(visit, sure=True)
    answer = change_visit.move_visit(planned, surfaces, asked, to=saturday)
    assert not answer.written
    (finding,) = answer.findings
    assert "no access window on Saturdays" in finding.problem
    assert "nearest" in finding.mend
    assert (answer.night, answer.version) == (visit.night, 1)
    assert again(planned, visit.uuid) == visit


def test_what_is_unwise_is_done_only_by_who_is_sure(planned, surfaces):
    visit = visit_of(planned)
    late = visit.lines[0].due.latest + DAY
    late += (7 - late.weekday()) * DAY if late.weekday() > 4 else 0 * DAY
    unsure = change_visit.move_visit(planned, surfaces, asking(visit), to=late)
    assert not unsure.written
    assert any("is wanted by" in f.problem for f in unsure.findings)
    assert again(planned, visit.uuid) == visit
    sure = change_visit.move_visit(planned, surfaces, asking(visit, sure=True), to=late)
    assert sure.written
    assert sure.findings == unsure.findings, "what was unwise is told all the same"
    assert again(planned, visit.uuid).night == late


def test_a_stale_look_is_refused_with_who_and_when_before_anything_is_decided(planned, surfaces):
    visit = visit_of(planned)
    change_visit.hold_visit(planned, surfaces, asking(visit))
    with pytest.raises(Clash, match=r"office changed it at 14:02 .*version 2 now, you saw 1"):
        change_visit.move_visit(planned, surfaces, asking(visit, version=1), to=visit.night + DAY)
    assert change_visit.release_visit(planned, surfaces, asking(visit, version=2)).version == 3


def test_two_who_change_it_at_once_do_not_both(planned, surfaces):
    visit = visit_of(planned)

    class Colleague:
        """Holds the visit between the other's look and write."""

        def __init__(self):
            self.blocks = 0

        def work(self, writes=False):
            self.blocks += 1
            if self.blocks == 2:
                change_visit.hold_visit(planned, surfaces, asking(visit, who="colleague"))
            return planned.work(writes=writes)

    with pytest.raises(Clash, match="colleague changed it"):
        change_visit.move_visit(Colleague(), surfaces, asking(visit), to=visit.night + DAY)
    assert again(planned, visit.uuid).night == visit.night


def test_a_visit_or_a_branch_nobody_knows_is_told(planned, surfaces):
    visit = visit_of(planned)
    with pytest.raises(NotKnown, match="has no visit on 2026-03-03"):
        change_visit.hold_visit(
            planned, surfaces, replace(asking(visit), words=("SOUTH", "2026-03-03"))
        )
    brought = care()
    south = brought.books[1]
    spans = tuple(replace(s, to_on=visit.night - DAY) for s in south.site.branches)
    south = replace(south, site=replace(south.site, branches=spans))
    load_care(planned, replace(brought, books=(south,)), who="office", now=LATER)
    with pytest.raises(NotAllowed, match="no branch serves SOUTH on"):
        change_visit.hold_visit(planned, surfaces, asking(visit))


def test_a_move_to_after_the_last_branch_left_says_so(planned, surfaces):
    visit = visit_of(planned)
    brought = care()
    south = brought.books[1]
    spans = tuple(replace(s, to_on=visit.night) for s in south.site.branches)
    south = replace(south, site=replace(south.site, branches=spans))
    load_care(planned, replace(brought, books=(south,)), who="office", now=LATER)
    answer = change_visit.move_visit(planned, surfaces, asking(visit), to=visit.night + DAY)
    assert not answer.written
    assert answer.findings[0].problem.startswith("no branch serves SOUTH on")


def test_word_of_a_contact_is_kept_under_their_code_and_of_others_as_typed(planned, surfaces):
    contact = Contact(code="C-7", customer="MARKET", name="Ida Orme", site="SOUTH")
    load_care(planned, replace(care(), contacts=(contact,)), who="office", now=LATER)
    visit = visit_of(planned)
    assert change_visit.agree_visit(planned, surfaces, asking(visit, by="ida orme ")).by == "C-7"
    north = visit_of(planned, "NORTH", 3)
    other = change_visit.agree_visit(planned, surfaces, asking(north, by="Ida Orme"))
    assert other.by == "Ida Orme", "she speaks for another site"
    with planned.work() as work:
        assert work.visit_events(visit.uuid)[-1].done_by == "C-7"


def test_plan_ask_refuse_with_a_counter_night_and_plan_again(planned, surfaces):
    visit = visit_of(planned)
    offer = visit.night + 2 * DAY
    asked = change_visit.ask_visit(planned, surfaces, asking(visit))
    assert (asked.agreement, asked.stands) == ("asked", True)
    refused = change_visit.refuse_visit(
        planned, surfaces, asking(visit, by="Ida Orme", why="fair"), instead=[offer]
    )
    assert (refused.refused, refused.offered) == ((visit.night,), (offer,))
    assert (refused.agreement, refused.stands) == ("refused", False)
    assert event_of(planned, surfaces, visit.uuid).description[0] == REFUSED
    account = make_plan(planned, surfaces)
    assert changes(account) == {visit.uuid: "moved"}, "and nothing else moves"
    stands = again(planned, visit.uuid)
    assert (stands.night, stands.agreement) == (offer, Agreement.NOT_NEEDED)
    assert stands.sequence == 3
    event = event_of(planned, surfaces, visit.uuid)
    assert (event.uid, event.sequence, event.night) == (visit.uuid, 3, offer)
    assert event.description[0] == PROPOSED
    assert not changes(make_plan(planned, surfaces)), "it stays there"
    agreed = change_visit.agree_visit(planned, surfaces, asking(stands, by="Ida Orme"))
    assert agreed.stands
    assert not event_of(planned, surfaces, visit.uuid).proposed
    with planned.work() as work:
        kinds = [e.kind for e in work.visit_events(visit.uuid)]
    assert kinds == ["added", "asked", "refused", "moved", "agreed"]


def event_of(store, surfaces, uuid):
    sheets = publish_calendars(store, surfaces)
    (found,) = [e for _, sheet in sheets for e in sheet.events if e.uid == uuid]
    return found


def test_without_a_counter_night_it_goes_elsewhere_and_never_back(planned, surfaces):
    visit = visit_of(planned)
    refused = visit.night
    for _ in range(3):
        stands = again(planned, visit.uuid)
        change_visit.refuse_visit(planned, surfaces, asking(stands))
        make_plan(planned, surfaces)
        moved = again(planned, visit.uuid)
        assert moved.night not in (refused, stands.night)
    with planned.work() as work:
        (south,) = work.books(["SOUTH"])
    assert len(south.answers) == 3


def test_who_agrees_after_all_keeps_the_night_they_refused(planned, surfaces):
    visit = visit_of(planned)
    change_visit.refuse_visit(planned, surfaces, asking(visit))
    agreed = change_visit.agree_visit(planned, surfaces, asking(visit))
    assert agreed.agreement == "agreed"
    assert not changes(make_plan(planned, surfaces))
    with planned.work() as work:
        assert work.books(["SOUTH"])[0].answers == ()


def test_a_visit_called_off_goes_back_to_the_rules_and_stays_on_calendars(planned, surfaces):
    visit = visit_of(planned)
    off = change_visit.cancel_visit(planned, surfaces, asking(visit, why="hall let"))
    assert (off.written, off.state) == (True, "cancelled")
    assert off.undone == (
        f"LANE recoat, wanted by {visit.lines[0].due.latest:%-d %B %Y}: "
        "no contract promises it; our own rhythm asks for it",
    )
    event = event_of(planned, surfaces, visit.uuid)
    assert (event.cancelled, event.sequence, event.night) == (True, 1, visit.night)
    account = make_plan(planned, surfaces)
    added = [c for c in account.changes if c.kind.value == "added"]
    assert [(c.site, c.visit != visit.uuid) for c in added] == [("SOUTH", True)]
    assert again(planned, visit.uuid).state is VisitState.CANCELLED


def test_a_held_visit_that_is_released_may_move_and_keeps_its_night_while_it_is_good(
    planned, surfaces
):
    visit = visit_of(planned)
    held = change_visit.hold_visit(planned, surfaces, asking(visit), hour=True)
    assert (held.state, held.commitment) == ("held", "hour")
    assert again(planned, visit.uuid).commitment is Commitment.HOUR
    free = change_visit.release_visit(planned, surfaces, asking(visit))
    assert (free.state, free.stands) == ("proposed", False)
    assert not changes(make_plan(planned, surfaces))


def test_nothing_new_is_proposed_within_notice_where_notice_is_kept(loaded, surfaces):
    def nights(keep_notice):
        account = plan_year(
            loaded,
            surfaces,
            today=date(2026, 3, 10),
            now=LATER,
            who="planner",
            dry_run=True,
            keep_notice=keep_notice,
        )
        return sorted(c.night_after for c in account.changes if c.site == "SOUTH")[0]

    assert nights(keep_notice=False) < date(2026, 3, 24)
    assert nights(keep_notice=True) >= date(2026, 3, 24)
