from dataclasses import replace
from datetime import UTC, datetime

import pytest

from floorcare.ground.schedule import manual
from floorcare.ground.schedule.manual import ManualChange, VisitAct
from floorcare.ground.trade.answer import NightAnswer, NightWord
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Agreement, Commitment, Visit, VisitState
from floorcare.ground.worktime.shut import ShutDay
from tests.builders import DAY, TODAY, a_site_book
from tests.ground.schedule.stood import NIGHT, a_visit, due_about, the_ground

NOW = datetime(2026, 3, 2, 15, 0, tzinfo=UTC)
TO = NIGHT + 2 * DAY


def moved(visit: Visit, to=TO, starts=None, *others: Visit, proposed=False, **more) -> ManualChange:
    ground = the_ground(visit, *others, on=to, **more)
    return manual.moved(ground, visit, to, starts, only_proposed=proposed, now=NOW)


def problems(change: ManualChange) -> list[str]:
    return [finding.problem for finding in change.findings]


def test_a_moved_visit_is_held_on_its_new_night_and_is_the_same_visit() -> None:
    visit = a_visit(sequence=4)
    change = moved(visit)
    assert (change.act, change.findings) == (VisitAct.MOVED, ())
    assert not change.forbidden
    assert not change.unwise
    after = change.after
    assert (after.uuid, after.night, after.starts_minute) == ("v1", TO, 1320)
    assert (after.state, after.commitment) == (VisitState.HELD, Commitment.NIGHT)
    assert (after.sequence, after.changed_at) == (5, NOW)
    assert after.lines == visit.lines
    assert after.stands


def test_with_an_hour_it_is_held_to_the_hour_and_only_proposed_it_may_be_moved_again() -> None:
    hour = moved(a_visit(), TO, 1380).after
    assert (hour.starts_minute, hour.commitment) == (1380, Commitment.HOUR)
    kept = moved(replace(hour, night=NIGHT)).after
    assert (kept.starts_minute, kept.commitment) == (1380, Commitment.HOUR), "its hour goes along"
    free = moved(replace(hour, night=NIGHT), proposed=True).after
    assert (free.state, free.commitment, free.stands) == (
        VisitState.PROPOSED,
        Commitment.WEEK,
        False,
    )


def test_a_closed_night_forbids_it_and_nothing_else_is_said() -> None:
    book = a_site_book(shut_days=(ShutDay(from_on=TO, to_on=TO, why="fair"),))
    change = moved(a_visit(), book=book)
    assert change.forbidden
    (problem,) = problems(change)
    assert "shut: fair" in problem
    assert "nearest" in change.findings[0].mend


def test_past_nights_and_a_move_to_where_it_stands_are_forbidden() -> None:
    assert problems(moved(a_visit(), TODAY - DAY))[0] == "1 March 2026 is past"
    held = moved(a_visit()).after
    again = moved(held)
    assert (again.forbidden, problems(again)) == (True, ["it stands there already"])
    assert not moved(a_visit(), NIGHT).forbidden, "holding it where it stands is a change"


@pytest.mark.parametrize("state", ["started", "done", "part done", "no access", "cancelled"])
def test_what_was_begun_or_called_off_is_changed_by_nobody(state: str) -> None:
    visit = a_visit(state=VisitState(state))
    ground = the_ground(visit)
    for change in (
        moved(visit),
        manual.held(ground, visit, hour=False, now=NOW),
        manual.released(visit, today=TODAY, now=NOW),
        manual.asked(ground, visit, on=TODAY, now=NOW),
        manual.agreed(ground, visit, now=NOW),
        manual.refused(ground, visit, (), on=TODAY, now=NOW),
        manual.cancelled(ground, visit, now=NOW),
    ):
        assert change.forbidden, change.act
        assert f"the visit is {state}" in problems(change)


def test_a_visit_whose_night_is_past_is_to_be_recorded_not_moved() -> None:
    change = moved(a_visit(night=TODAY - DAY))
    assert change.forbidden
    assert change.findings[0].mend == "record what was done"


def test_a_late_night_asks_with_the_promise_at_stake() -> None:
    change = moved(a_visit(), NIGHT + 8 * DAY)
    assert change.unwise
    assert not change.forbidden
    assert "contract C-1 promises the look" in problems(change)[0]


def test_short_notice_asks_and_tonight_twice() -> None:
    visit = a_visit(due_about(TODAY + 7 * DAY))
    (notice,) = problems(moved(visit, TODAY + 3 * DAY))
    assert notice == "the customer is to be told 7 days ahead, and 3 are left"
    assert problems(moved(visit, TODAY + 7 * DAY)) == []
    assert problems(moved(visit, TODAY)) == [
        "tonight's crews may be on their way",
        "the customer is to be told 7 days ahead, and 0 are left",
    ]


@pytest.mark.parametrize(("agreement", "word"), [("agreed", "agreed to"), ("asked", "was asked")])
def test_a_night_the_customer_was_told_asks_and_is_to_be_asked_anew(agreement, word) -> None:
    visit = a_visit(agreement=Agreement(agreement))
    change = moved(visit)
    assert word in problems(change)[0]
    assert change.after.agreement is Agreement.NOT_NEEDED
    hour = moved(visit, NIGHT, 1380)
    assert "17 March 2026 at 22:00" in problems(hour)[0]
    same = moved(visit, NIGHT)
    assert (same.findings, same.after.agreement) == ((), visit.agreement)


def said(night, word: NightWord) -> NightAnswer:
    return NightAnswer(zone="LANE", work=Work.RECOAT, night=night, word=word, said_on=TODAY)


def test_a_night_the_customer_refused_asks_and_one_they_offered_does_not() -> None:
    answers = (said(TO, NightWord.REFUSED), said(TO + DAY, NightWord.OFFERED))
    book = replace(a_site_book(), answers=answers)
    refused = a_visit(agreement=Agreement.REFUSED)
    assert problems(moved(refused, book=book)) == ["the customer refused 19 March 2026 for this"]
    offered = moved(refused, TO + DAY, book=book)
    assert (offered.findings, offered.after.agreement) == ((), Agreement.NOT_NEEDED)


def test_another_visit_of_the_site_that_night_or_passed_on_the_way_asks() -> None:
    there = a_visit(due_about(zone="EDGE"), night=TO, uuid="v2", minutes=60)
    (problem,) = problems(moved(a_visit(), TO, None, there))
    assert problem == "NORTH has a visit that night already, 19 March 2026 at 22:00"
    between = a_visit(night=NIGHT + DAY, uuid="v2")
    (problem,) = problems(moved(a_visit(), TO, None, between))
    assert problem == "it passes the visit of 18 March 2026 at 22:00, which also works on LANE"
    elsewhere = replace(between, lines=there.lines)
    assert problems(moved(a_visit(), TO, None, elsewhere)) == []


def test_a_part_of_a_long_work_asks_for_its_other_nights() -> None:
    visit = a_visit(due_about(minutes=600))
    part = replace(visit, lines=(replace(visit.lines[0], minutes=300),))
    rest = replace(part, uuid="v2", night=NIGHT - DAY)
    (problem,) = problems(moved(part, TO, None, rest))
    assert problem == "it does only a part of LANE recoat; the rest may still be moved"
    held = manual.held(the_ground(part, rest), part, hour=False, now=NOW)
    assert held.findings[0].mend == "hold the other nights too: 2026-03-16"
    firm = replace(rest, state=VisitState.HELD)
    assert manual.held(the_ground(part, firm), part, hour=False, now=NOW).findings == ()


def test_held_and_released_and_neither_twice() -> None:
    visit = a_visit()
    ground = the_ground(visit)
    night = manual.held(ground, visit, hour=False, now=NOW)
    assert (night.after.state, night.after.commitment) == (VisitState.HELD, Commitment.NIGHT)
    assert (night.findings, night.after.sequence) == ((), 1)
    hour = manual.held(ground, night.after, hour=True, now=NOW)
    assert (hour.findings, hour.after.commitment) == ((), Commitment.HOUR)
    assert manual.held(ground, hour.after, hour=True, now=NOW).forbidden
    free = manual.released(hour.after, today=TODAY, now=NOW)
    assert (free.after.state, free.after.commitment) == (VisitState.PROPOSED, Commitment.WEEK)
    assert (free.forbidden, free.after.sequence) == (False, 3)
    assert problems(manual.released(free.after, today=TODAY, now=NOW)) == ["it is not held"]


def test_a_night_shut_meanwhile_is_neither_held_nor_asked_for_and_agreed_with_a_doubt() -> None:
    book = a_site_book(shut_days=(ShutDay(from_on=NIGHT, to_on=NIGHT, why="fair"),))
    visit = a_visit()
    ground = the_ground(visit, book=book)
    assert manual.held(ground, visit, hour=False, now=NOW).forbidden
    assert manual.asked(ground, visit, on=TODAY, now=NOW).forbidden
    agreed = manual.agreed(ground, visit, now=NOW)
    assert (agreed.forbidden, agreed.unwise) == (False, True)


def test_asked_stands_and_agreed_stands_and_neither_is_said_twice() -> None:
    visit = a_visit()
    ground = the_ground(visit)
    asked = manual.asked(ground, visit, on=TODAY, now=NOW)
    assert (asked.findings, asked.after.agreement) == ((), Agreement.ASKED)
    assert asked.after.stands
    agreed = manual.agreed(ground, asked.after, now=NOW)
    assert (agreed.after.agreement, agreed.reopened) == (Agreement.AGREED, True)
    assert agreed.after.stands
    assert agreed.after.sequence == 2
    again = manual.agreed(ground, agreed.after, now=NOW)
    assert problems(again) == ["the customer agreed to it already"]
    assert manual.asked(ground, agreed.after, on=TODAY, now=NOW).forbidden


def test_asking_too_late_for_the_site_s_notice_asks() -> None:
    visit = a_visit()
    late = manual.asked(the_ground(visit), visit, on=NIGHT - 6 * DAY, now=NOW)
    assert problems(late) == ["the customer is to be told 7 days ahead, and 6 are left"]


def test_a_refused_visit_is_held_no_longer_and_its_night_and_the_offers_are_kept_by_work() -> None:
    visit = a_visit(
        due_about(),
        due_about(zone="EDGE", work=Work.BURNISH),
        state=VisitState.HELD,
        commitment=Commitment.NIGHT,
        agreement=Agreement.ASKED,
    )
    offers = (TO, TO + DAY)
    change = manual.refused(the_ground(visit), visit, offers, on=TODAY, now=NOW)
    after = change.after
    assert (after.state, after.commitment) == (VisitState.PROPOSED, Commitment.WEEK)
    assert (after.agreement, after.stands, after.night) == (Agreement.REFUSED, False, NIGHT)
    kept = {(a.night, a.zone, a.work, a.word) for a in change.answers}
    assert kept == {
        (night, zone, work, word)
        for night, word in (
            (NIGHT, NightWord.REFUSED),
            (TO, NightWord.OFFERED),
            (TO + DAY, NightWord.OFFERED),
        )
        for zone, work in (("LANE", Work.RECOAT), ("EDGE", Work.BURNISH))
    }
    assert {a.said_on for a in change.answers} == {TODAY}


def test_counter_nights_that_cannot_be_are_told_and_past_or_refused_ones_forbidden() -> None:
    visit = a_visit()
    ground = the_ground(visit)

    def refused(*offers):
        return manual.refused(ground, visit, offers, on=TODAY, now=NOW)

    saturday = refused(NIGHT + 4 * DAY)
    assert (saturday.forbidden, saturday.unwise) == (False, True)
    assert len(saturday.answers) == 2
    assert problems(refused(NIGHT)) == ["17 March 2026 is the night refused"]
    assert problems(refused(TODAY)) == ["2 March 2026 is past"]
    assert len(refused(TO, TO).answers) == 2, "an offer made twice is one"


def test_what_was_refused_may_get_more_offers_is_not_asked_for_and_may_yet_be_agreed() -> None:
    visit = a_visit(agreement=Agreement.REFUSED)
    ground = the_ground(visit)
    assert manual.refused(ground, visit, (), on=TODAY, now=NOW).forbidden
    assert not manual.refused(ground, visit, (TO,), on=TODAY, now=NOW).forbidden
    assert problems(manual.asked(ground, visit, on=TODAY, now=NOW)) == [
        "the customer refused this night"
    ]
    assert manual.held(ground, visit, hour=False, now=NOW).unwise
    assert not manual.agreed(ground, visit, now=NOW).forbidden


def test_a_visit_called_off_names_what_is_left_to_the_rules() -> None:
    visit = a_visit(due_about(), due_about(zone="EDGE", rule="set rhythm"), sequence=2)
    change = manual.cancelled(the_ground(visit), visit, now=NOW)
    assert (change.after.state, change.after.sequence) == (VisitState.CANCELLED, 3)
    assert change.findings == ()
    assert change.undone == (
        "LANE recoat, wanted by 24 March 2026: contract C-1 promises the look, 80% of 60 GU",
        "EDGE recoat, wanted by 24 March 2026: no contract promises it; our own rhythm asks for it",
    )
