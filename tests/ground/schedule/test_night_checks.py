from dataclasses import replace

import pytest

from floorcare.ground.schedule.night_checks import (
    CrewLoad,
    NightGround,
    asks,
    crew_findings,
    crew_loads,
    fallen_in,
    find_night,
    machine_findings,
    nearest_nights,
    night_ground,
    stops,
)
from floorcare.ground.schedule.travel import UNKNOWN_MINUTES
from floorcare.ground.trade.equipment import MachinePlace, OwnedMachine
from floorcare.ground.trade.site import BranchSpan, Site, TravelLeg
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import VisitState
from floorcare.ground.worktime.shut import ShutDay
from floorcare.ground.worktime.window import AccessWindow
from tests.builders import (
    ALL_PERMITS,
    DAY,
    TODAY,
    WEEKNIGHTS,
    a_book,
    a_branch,
    a_site_book,
    a_zone,
    polished,
)
from tests.ground.schedule.stood import NIGHT, a_visit, due_about, the_ground
from tests.store.sample import START


def why_not(visit=None, on=NIGHT, starts=None, **more) -> str:
    """Why a night does not take the visit, with the mend."""
    found = find_night(the_ground(on=on, **more), visit or a_visit(), on, starts)
    assert found.night is None
    (finding,) = found.findings
    assert finding.weight == "stops"
    return f"{finding.problem} | {finding.mend}"


def test_an_open_night_takes_the_visit_from_its_first_minute_or_the_one_asked_for() -> None:
    found = find_night(the_ground(), a_visit(), NIGHT)
    assert (found.night.on, found.starts_minute, found.findings) == (NIGHT, 1320, ())
    assert find_night(the_ground(), a_visit(), NIGHT, 1380).starts_minute == 1380
    assert find_night(the_ground(), a_visit(), NIGHT, 60).starts_minute == 1500, "after midnight"


def test_shut_days_holidays_and_days_without_a_window_are_refused_with_the_nearest_nights() -> None:
    shut = (ShutDay(from_on=NIGHT, to_on=NIGHT, why="fair"),)
    said = why_not(book=a_site_book(shut_days=shut))
    assert "NORTH is not open to us on 17 March 2026: shut: fair" in said
    assert "nearest: 2026-03-18, 2026-03-19, 2026-03-20" in said, (
        "the night before would run into it"
    )
    independence = TODAY.replace(month=7, day=3)
    assert "public holiday: Independence Day" in why_not(on=independence)
    assert "no access window on Saturdays" in why_not(on=NIGHT + 4 * DAY)


def test_a_night_without_a_crew_or_a_branch_and_care_that_ended_are_refused() -> None:
    tight = a_branch(weekdays=frozenset({0, 2}))
    assert "no crew of branch EAST goes out on a Tuesday" in why_not(branch=tight)
    gone = a_site_book()
    spans = (BranchSpan(branch="EAST", from_on=START, to_on=NIGHT - DAY),)
    gone = replace(gone, site=replace(gone.site, branches=spans))
    assert "no branch serves NORTH on 17 March 2026" in why_not(book=gone)
    ended = a_site_book("NORTH", a_book(zone=a_zone(to_on=NIGHT - DAY)))
    assert "our care of NORTH/LANE ends on 16 March 2026" in why_not(book=ended)
    last = a_site_book("NORTH", a_book(zone=a_zone(to_on=NIGHT)))
    assert find_night(the_ground(book=last), a_visit(), NIGHT).night is not None


def test_what_a_window_does_not_permit_or_is_too_short_for_is_refused() -> None:
    needy = a_visit(due_about(needs={"dust", "fuel machine"}))
    assert "the window 22:00 to 06:00 of 17 March 2026 permits no fuel machine work" in why_not(
        needy
    )
    long = a_visit(minutes=481)
    assert "it takes 481 min, and 17 March 2026 has 480 (22:00 to 06:00)" in why_not(long)
    late = why_not(a_visit(), starts=1640)
    assert "it takes 180 min, and 17 March 2026 has 160 (after a start at 03:20)" in late
    assert "a start at 12:00 lies outside the window 22:00 to 06:00" in why_not(starts=720)


def test_of_two_windows_the_one_that_takes_it_is_found_and_else_both_are_told() -> None:
    quiet = AccessWindow(weekdays=WEEKNIGHTS, starts_minute=1140, ends_minute=1260)
    loud = AccessWindow(
        weekdays=WEEKNIGHTS, starts_minute=1320, ends_minute=360, permits=ALL_PERMITS
    )
    book = a_site_book(windows=(quiet, loud))
    wet = a_visit(due_about(needs={"wet"}))
    assert find_night(the_ground(book=book), wet, NIGHT).starts_minute == 1320
    said = why_not(replace(wet, minutes=500), book=book)
    assert "permits no wet work" in said
    assert "it takes 500 min" in said


def test_the_night_the_clocks_change_is_reckoned_by_its_true_length() -> None:
    spring = TODAY.replace(day=7)
    every = AccessWindow(
        weekdays=frozenset(range(7)), starts_minute=1320, ends_minute=360, permits=ALL_PERMITS
    )
    own = {"book": a_site_book(windows=(every,)), "branch": a_branch(weekdays=frozenset(range(7)))}
    assert "has 420" in why_not(a_visit(minutes=421), on=spring, **own)
    assert find_night(the_ground(on=spring, **own), a_visit(minutes=420), spring).night is not None


def test_the_nearest_nights_have_a_crew_no_other_visit_of_the_site_and_were_not_refused() -> None:
    visit = a_visit()
    other = a_visit(night=NIGHT + DAY, uuid="v2")
    assert nearest_nights(the_ground(visit), visit, NIGHT) == (
        NIGHT - DAY,
        NIGHT + DAY,
        NIGHT + 2 * DAY,
    )
    assert NIGHT + DAY not in nearest_nights(the_ground(visit, other), visit, NIGHT)
    full = a_branch(crews=1, shift_minutes=300, reserve_share=0.0)
    south = a_site_book("SOUTH")
    busy = replace(other, site="SOUTH", night=NIGHT - DAY, minutes=100)
    ground = the_ground(visit, busy, branch=full, beside=(south,))
    assert NIGHT - DAY not in nearest_nights(ground, visit, NIGHT)


def test_loads_part_what_stands_from_what_may_move_and_leave_the_visit_itself_out() -> None:
    held = a_visit(night=NIGHT, uuid="h", state=VisitState.HELD)
    free = a_visit(night=NIGHT, uuid="f", minutes=90)
    year = the_ground(held, free, a_visit()).year
    assert crew_loads(year, "v1")[NIGHT] == CrewLoad(bound=240, proposed=150)
    assert crew_loads(year)[NIGHT].all_minutes == 240 + 150 + 240


def crowd(held: int, free: int = 0, **branch: object):
    """What is said of a visit of 240 crew-minutes beside so many others of one hour each."""
    own = {"crews": 1, "shift_minutes": 480, "reserve_share": 0.25, **branch}
    others = [
        a_visit(uuid=f"o{n}", minutes=0, state=VisitState.HELD if n < held else VisitState.PROPOSED)
        for n in range(held + free)
    ]
    ground = the_ground(a_visit(), *others, branch=a_branch(**own))
    return crew_findings(ground, a_visit(), NIGHT)


def test_a_night_with_room_says_nothing() -> None:
    assert crowd(2) == ()


def test_into_the_reserve_it_asks_and_beyond_all_crews_it_stops() -> None:
    (reserve,) = crowd(4)
    assert (reserve.weight, "120 min of that night's reserve" in reserve.problem) == ("asks", True)
    (over,) = crowd(5)
    assert over.weight == "stops"
    assert "branch EAST has 480 crew-minutes that night; what stands takes 300" in over.problem
    assert over.mend.endswith("or send one more crew")


def test_proposed_visits_that_would_have_to_give_way_are_named() -> None:
    (way,) = crowd(1, free=2)
    assert "the next plan will look for another for NORTH" in way.problem
    assert way.weight == "asks"


def test_a_visit_longer_than_a_shift_asks_for_overtime() -> None:
    (over,) = crowd(0, crews=2, shift_minutes=200, reserve_share=0.0)
    assert over.problem == "with the drive it is 40 min longer than a shift"


def a_machine(kind: str, **more: object) -> OwnedMachine:
    places = (MachinePlace(branch="EAST", site="", from_on=START),)
    return OwnedMachine(code="M1", kind=kind, name="one", places=places, **more)  # type: ignore[arg-type]


@pytest.fixture
def kind() -> str:
    rung = polished().rung(Work.REPOLISH)
    return next(step.machine for step in rung.steps if step.machine)


def test_machines_are_looked_at_where_the_branch_has_them(kind) -> None:
    visit = a_visit(due_about(work=Work.REPOLISH))
    other = a_visit(due_about(work=Work.REPOLISH), uuid="v2")
    ours = a_machine(kind)

    def said(*visits, machines=()):
        return [
            f.problem
            for f in machine_findings(the_ground(*visits, machines=machines), visit, NIGHT)
        ]

    assert said(visit, other) == [], "nobody entered machines"
    assert said(visit, machines=(ours,)) == []
    (shared,) = said(visit, other, machines=(ours,))
    assert shared.startswith("NORTH needs a ")
    assert shared.endswith(" too that night; 1 in order")
    broken = a_machine(kind, out_of_order=((NIGHT, NIGHT),))
    (none,) = said(visit, machines=(broken,))
    assert none.endswith("is in order and at hand that night")
    moved = replace(ours, places=(MachinePlace(branch="", site="NORTH", from_on=START),))
    assert said(visit, machines=(moved,)) == [], "it stands at the site itself"


def test_visits_fall_into_shut_days_and_into_the_midnight_before_them() -> None:
    shut = (ShutDay(from_on=NIGHT, to_on=NIGHT + DAY, why="fair"),)
    ground = the_ground(book=a_site_book(shut_days=shut))
    before = a_visit(night=NIGHT - DAY, uuid="before")
    short = a_visit(night=NIGHT - DAY, uuid="short", minutes=120)
    inside, after = a_visit(uuid="inside"), a_visit(night=NIGHT + 2 * DAY, uuid="after")
    visits = (before, short, inside, after)
    assert fallen_in(visits, ground, NIGHT, NIGHT + DAY) == (before, inside)


def test_the_ground_of_a_night_leaves_out_other_branches_past_and_called_off_visits() -> None:
    west = a_site_book("SOUTH")
    spans = (BranchSpan(branch="WEST", from_on=START),)
    west = replace(west, site=replace(west.site, branches=spans))
    visits = (
        a_visit(),
        replace(a_visit(uuid="south"), site="SOUTH"),
        a_visit(uuid="past", night=TODAY - DAY),
        a_visit(uuid="off", state=VisitState.CANCELLED),
    )
    surfaces = {"polished_concrete": polished()}
    ground = night_ground(
        a_branch(), (a_site_book(), west), visits, surfaces, on=NIGHT, today=TODAY
    )
    assert [b.site.code for b in ground.year.books] == ["NORTH"]
    assert [v.uuid for v in ground.year.standing] == ["v1"]
    assert ground.book(visits[0]).site.code == "NORTH"
    assert ground.year.round_trip(visits_site(ground)) == 2 * UNKNOWN_MINUTES


def test_a_night_is_checked_with_the_drives_as_they_were_typed() -> None:
    leg = TravelLeg(branch=a_branch().code, leaves="", reaches="NORTH", minutes=45)
    ground = night_ground(
        a_branch(), (a_site_book(),), (), {"polished_concrete": polished()},
        on=NIGHT, today=TODAY, legs=(leg,),
    )  # fmt: skip
    assert ground.year.round_trip(visits_site(ground)) == 90
    year = replace(ground.year, standing=(a_visit(uuid="v2"),))
    assert crew_loads(year)[NIGHT].proposed == 180 + 90


def visits_site(ground: NightGround) -> Site:
    return ground.year.books[0].site


def test_findings_are_either_of_the_two_weights() -> None:
    assert (stops("a", "b").weight, asks("a", "b").weight) == ("stops", "asks")
