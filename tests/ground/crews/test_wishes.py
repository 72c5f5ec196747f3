"""Which nights, hours and crews a visit may have."""

from dataclasses import replace
from datetime import date, timedelta

from floorcare.ground.crews.rest import rested
from floorcare.ground.crews.roster import crew_nights
from floorcare.ground.crews.wishes import longest_stay, may_go, nights_asked, wish_of
from floorcare.ground.trade.answer import NightAnswer, NightWord
from floorcare.ground.trade.assignment import Assignment
from floorcare.ground.trade.people import RequirementKind
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Commitment, VisitState
from tests.ground.crews.weeks import (
    MONDAY,
    TUESDAY,
    a_crew,
    a_place,
    a_shift,
    a_visit,
    a_week,
    a_worker,
    asks,
    held,
    open_from,
)
from tests.store.sample import NOW

DAY = timedelta(days=1)


def a_movable(night: date = TUESDAY, **more: object):
    """A visit whose lines may be done from the week's Monday to its Friday."""
    visit = a_visit(night=night, latest=MONDAY + 4 * DAY, **more)
    due = replace(visit.lines[0].due, earliest=min(MONDAY, night))
    return replace(visit, lines=(replace(visit.lines[0], due=due),))


def nights_of(week):
    return rested(week, crew_nights(week))


def test_a_proposed_visit_may_have_every_night_of_the_week_from_its_earliest_on():
    visit = a_movable()
    assert nights_asked(a_week(visit), visit) == tuple(MONDAY + n * DAY for n in range(7))
    later = replace(visit.lines[0].due, earliest=TUESDAY)
    visit = replace(visit, lines=(replace(visit.lines[0], due=later),))
    assert nights_asked(a_week(visit), visit)[0] == TUESDAY


def test_what_stands_is_past_or_lies_beside_the_week_has_its_own_night_only():
    for visit in (
        a_movable(commitment=Commitment.NIGHT),
        a_movable(state=VisitState.HELD),
        a_movable(night=MONDAY - DAY),
    ):
        assert nights_asked(a_week(visit), visit) == (visit.night,)
    visit = a_movable()
    assert nights_asked(a_week(visit, today=TUESDAY), visit) == (TUESDAY,)
    assert nights_asked(a_week(visit, today=MONDAY), visit)[0] == TUESDAY


def test_a_night_the_customer_refused_is_not_asked_for_again():
    visit = a_movable()
    refused = NightAnswer(
        night=MONDAY + 2 * DAY,
        zone="LANE",
        work=Work.READING_ROUND,
        word=NightWord.REFUSED,
        said_on=MONDAY - DAY,
    )
    place = replace(a_place(), answers=(refused,))
    assert MONDAY + 2 * DAY not in nights_asked(a_week(visit, places=(place,)), visit)


def test_work_on_one_zone_keeps_its_order():
    first, then = a_movable(key="1"), a_movable(night=TUESDAY + 2 * DAY, key="2")
    week = a_week(first, then)
    assert max(nights_asked(week, first)) < then.night
    assert min(nights_asked(week, then)) > first.night - DAY
    assert set(nights_asked(week, first)).isdisjoint(
        night for night in nights_asked(week, then) if night >= then.night
    )


def test_people_papers_and_what_the_site_asks_of_each_keep_a_crew_away():
    place = a_place(requirements=(asks(),))
    workers = (a_worker("ann", held()), a_worker("bea"))
    crews = (a_crew("A", "ann"), a_crew("B", "bea"))
    visit = a_visit(people=1, commitment=Commitment.NIGHT)
    week = a_week(visit, places=(place,), workers=workers, crews=crews)
    nights = nights_of(week)
    assert may_go(week, visit, nights["A", TUESDAY])
    assert not may_go(week, visit, nights["B", TUESDAY]), "holds no card"
    assert not may_go(week, replace(visit, people=2), nights["A", TUESDAY])
    (chance,) = wish_of(week, visit, nights).chances
    assert {crew for crew, _ in chance.crews} == {"A"}


def test_a_paper_of_ours_that_has_run_out_leaves_no_chance():
    paper = asks("cover", kind=RequirementKind.INSURANCE, each_worker=False, expires_on=MONDAY)
    visit = a_visit(commitment=Commitment.NIGHT)
    week = a_week(visit, places=(a_place(requirements=(paper,)),))
    assert wish_of(week, week.visits[0], nights_of(week)).chances == ()


def test_the_hours_are_what_access_leaves_of_the_visit():
    week = a_week(a_visit(minutes=100, commitment=Commitment.NIGHT))
    (chance,) = wish_of(week, week.visits[0], nights_of(week)).chances
    assert (chance.last - chance.first) == timedelta(minutes=8 * 60 - 100)
    assert wish_of(a_week(a_visit(minutes=500)), a_visit(minutes=500), {}).chances == ()


def test_an_agreed_hour_is_the_only_start():
    week = a_week(a_visit(commitment=Commitment.HOUR))
    (chance,) = wish_of(week, week.visits[0], nights_of(week)).chances
    assert chance.first == chance.last


def test_a_site_that_opens_after_midnight_is_served_from_the_evening_before():
    place = a_place("NORTH", **open_from(60, 300))
    visit = a_visit(night=TUESDAY + DAY, minutes=60, commitment=Commitment.NIGHT)
    week = a_week(visit, places=(place,))
    (chance,) = wish_of(week, visit, nights_of(week)).chances
    assert {on for _, on in chance.crews} == {TUESDAY}


def test_what_is_held_with_a_crew_or_begun_goes_with_it_alone():
    visit = a_visit()
    for state, pinned in ((VisitState.PROPOSED, True), (VisitState.STARTED, False)):
        mine = Assignment(
            visit=visit.uuid, crew="B", on=TUESDAY, starts_at=NOW, ends_at=NOW, held=pinned
        )
        week = a_week(replace(visit, state=state), assigned=(mine,))
        wish = wish_of(week, week.visits[0], nights_of(week))
        assert wish.crews == {("B", TUESDAY)}


def test_the_longest_stay_is_the_shift_less_break_and_drives():
    week = a_week(a_visit())
    stay = longest_stay(week, week.visits[0], nights_of(week).values())
    assert stay == 8 * 60 - 30 - 2 * 11
    assert longest_stay(week, week.visits[0], ()) == 0


def test_a_crew_whose_shift_is_over_before_the_site_opens_has_no_chance():
    crews = (a_crew("A", "ann", "ada", shifts=(a_shift(8 * 60, 16 * 60),)),)
    week = a_week(a_visit(), crews=crews)
    assert wish_of(week, week.visits[0], nights_of(week)).chances == ()
