from dataclasses import replace
from datetime import date, timedelta

import pytest

from floorcare.ground.crews.checker import broken_constraints
from floorcare.ground.trade.book import TreatmentDone
from floorcare.ground.trade.people import RequirementKind
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Agreement, Commitment, VisitState
from floorcare.ground.worktime.shut import ShutDay
from tests.builders import a_book
from tests.ground.crews.weeks import (
    MONDAY,
    TUESDAY,
    a_crew,
    a_machine,
    a_place,
    a_shift,
    a_visit,
    a_week,
    a_worker,
    asks,
    fitted,
    held,
    open_from,
    stops_of,
    went,
)

DAY = timedelta(days=1)


def left(fit):
    return [(u.visit.site, u.crew, u.why, u.mend) for u in fit.unfitted]


def test_the_first_crew_takes_what_fits_one_visit_after_the_other():
    fit = fitted(a_week(a_visit(), a_visit("SOUTH")))
    # New York is five hours behind UTC; the second visit begins after ten minutes' drive
    assert went(fit) == [
        ("A", "NORTH", "Wed 03:00", "Wed 05:00"),
        ("A", "SOUTH", "Wed 05:11", "Wed 07:11"),
    ]
    ((night, first), (_, second)) = stops_of(fit)
    assert (first.travel_minutes, second.travel_minutes, night.home_minutes) == (11, 11, 21)
    assert [worker.code for worker in night.workers] == ["ada", "ann"]


def test_what_the_first_crew_has_no_hours_for_goes_to_the_next():
    fit = fitted(a_week(a_visit(minutes=300), a_visit("SOUTH", minutes=300)))
    assert [crew for crew, *_ in went(fit)] == ["A", "B"]


def test_no_visit_begins_before_its_access_or_before_the_crew_can_be_there():
    early = a_place(**open_from(1200, 360))
    ((_, stop),) = stops_of(fitted(a_week(a_visit(), places=(early,))))
    # out at 21:30, eleven minutes' drive; the site is open since 20:00
    assert f"{stop.starts_at:%H:%M}" == "02:41"


def test_an_earlier_gap_is_filled_without_moving_what_was_placed():
    urgent = a_visit("SOUTH", latest=MONDAY, minutes=60)
    opens_late = a_place("SOUTH", **open_from(120, 360, weekdays=frozenset(range(7))))
    late = replace(urgent, night=TUESDAY + DAY)
    fit = fitted(a_week(a_visit(minutes=90, latest=TUESDAY), late, places=(opens_late,)))
    assert went(fit) == [
        ("A", "NORTH", "Wed 03:00", "Wed 04:30"),
        ("A", "SOUTH", "Wed 07:00", "Wed 08:00"),
    ]


@pytest.mark.parametrize(
    "stands",
    [{"state": VisitState.HELD}, {"agreement": Agreement.AGREED}, {"commitment": Commitment.NIGHT}],
)
def test_what_stands_is_placed_before_what_is_more_urgent(stands):
    urgent = a_visit(minutes=300, latest=TUESDAY)
    agreed = a_visit("SOUTH", minutes=300, latest=TUESDAY + 20 * DAY, **stands)
    one_crew = (a_crew("A", "ann", "ada"),)
    fit = fitted(a_week(urgent, agreed, crews=one_crew))
    assert [site for _, site, *_ in went(fit)] == ["SOUTH"]
    assert [u.visit.site for u in fit.unfitted] == ["NORTH"]


def test_of_what_does_not_stand_the_more_urgent_comes_first():
    one_crew = (a_crew("A", "ann", "ada"),)
    week = a_week(
        a_visit(minutes=300, latest=TUESDAY + DAY),
        a_visit("SOUTH", minutes=300, latest=TUESDAY),
        crews=one_crew,
    )
    assert [site for _, site, *_ in went(fitted(week))] == ["SOUTH"]


def test_an_agreed_hour_is_kept_to_the_minute():
    fixed = a_visit("SOUTH", starts_minute=1410, commitment=Commitment.HOUR, minutes=60)
    fit = fitted(a_week(a_visit(minutes=60), fixed))
    assert went(fit) == [
        ("A", "NORTH", "Wed 03:00", "Wed 04:00"),
        ("A", "SOUTH", "Wed 04:30", "Wed 05:30"),
    ]


def test_the_crew_that_was_there_last_is_asked_first():
    before = TreatmentDone(work=Work.RECOAT, done_on=date(2026, 1, 5), performer="b crew")
    later = TreatmentDone(work=Work.BURNISH, done_on=date(2026, 5, 1), performer="A")
    place = a_place(zones=(a_book(done=(before, later)),))
    assert [crew for crew, *_ in went(fitted(a_week(a_visit(), places=(place,))))] == ["B"]


def test_a_crew_too_small_is_passed_over():
    crews = (a_crew("A", "ann"), a_crew("B", "bob", "bea"))
    assert [crew for crew, *_ in went(fitted(a_week(a_visit(), crews=crews)))] == ["B"]
    ((_, _, why, mend),) = left(fitted(a_week(a_visit(), crews=crews[:1])))
    assert why == "A crew has 1 of the 2 people it takes on Tue 3 March"
    assert mend == "1 more worker in A crew on Tue 3 March"


def test_who_does_not_work_that_day_does_not_count():
    workers = (a_worker("ann", to_on=MONDAY), a_worker("ada"), a_worker("bob"), a_worker("bea"))
    assert [c for c, *_ in went(fitted(a_week(a_visit(), workers=workers)))] == ["B"]


def test_everybody_in_the_crew_needs_what_the_site_asks_in_date():
    place = a_place(requirements=(asks(),))
    expired, good = held(expires_on=MONDAY), held(expires_on=TUESDAY)
    workers = (a_worker("ann", good), a_worker("ada", expired), a_worker("bob", good))
    week = a_week(a_visit(), places=(place,), workers=(*workers, a_worker("bea", held())))
    assert [crew for crew, *_ in went(fitted(week))] == ["B"]
    one_crew = replace(week, crews=week.crews[:1])
    assert left(fitted(one_crew)) == [
        (
            "NORTH",
            "A",
            'Ada Quill\'s "safety card" expired on 2 March 2026',
            'renew "safety card" for Ada Quill',
        )
    ]


def test_a_paper_of_the_contractor_that_ran_out_keeps_every_crew_out():
    paper = asks(
        "public liability", kind=RequirementKind.INSURANCE, each_worker=False, expires_on=MONDAY
    )
    place = a_place(requirements=(paper,))
    ((_, _, why, mend),) = left(fitted(a_week(a_visit(), places=(place,))))
    assert "insurance" in why
    assert "expired on 2 March 2026" in why
    assert mend.startswith('renew "public liability"')
    assert left(fitted(a_week(a_visit(night=MONDAY), places=(place,)))) == []


def test_one_machine_serves_one_crew_a_night():
    both = (a_visit(work=Work.BURNISH, minutes=300), a_visit("SOUTH", work=Work.BURNISH))
    machines = (a_machine("BU-1"),)
    fit = fitted(a_week(*(replace(v, minutes=300) for v in both), machines=machines))
    assert [stop.machines for _, stop in stops_of(fit)] == [("BU-1",)]
    assert left(fit) == [
        (
            "SOUTH",
            "B",
            "no 20-in burnisher, battery or mains, dust skirt is free on Tue 3 March: "
            "BU-1 is with A crew",
            "a second 20-in burnisher, battery or mains, dust skirt on Tue 3 March",
        )
    ]
    more = fitted(
        a_week(*(replace(v, minutes=300) for v in both), machines=(*machines, a_machine("BU-2")))
    )
    assert {stop.machines for _, stop in stops_of(more)} == {("BU-1",), ("BU-2",)}


def test_a_crew_keeps_its_machine_for_its_next_visit():
    week = a_week(
        a_visit(work=Work.BURNISH),
        a_visit("SOUTH", work=Work.BURNISH),
        machines=(a_machine("BU-1"), a_machine("BU-2")),
    )
    assert [stop.machines for _, stop in stops_of(fitted(week))] == [("BU-1",), ("BU-1",)]


def test_a_kind_of_which_none_is_entered_is_not_looked_for_and_said_once():
    both = (a_visit(work=Work.BURNISH), a_visit("SOUTH", work=Work.BURNISH))
    fit = fitted(a_week(*both))
    assert len(went(fit)) == 2
    assert fit.unchecked == (
        "No machine is entered of these kinds, so they are not checked: 20-in burnisher, battery "
        "or mains, dust skirt; 17-in walk-behind scrubber, disc pads.",
    )
    elsewhere = a_machine("BU-9", places=())
    assert fitted(a_week(*both, machines=(elsewhere,))).unchecked == fit.unchecked


def test_a_visit_on_a_shut_night_is_listed_with_the_reason():
    shut = a_place(shut_days=(ShutDay(from_on=TUESDAY, to_on=TUESDAY, why="stocktaking"),))
    ((_, _, why, mend),) = left(fitted(a_week(a_visit(), places=(shut,))))
    assert why == "NORTH is not open for this work on Tue 3 March: shut: stocktaking"
    assert mend == "an access window on Tue 3 March, or another night"


def test_what_may_be_worked_from_one_in_the_morning_is_the_evening_befores_crews():
    place = a_place(**open_from(60, 300, weekdays=frozenset(range(7))))
    fit = fitted(a_week(a_visit(night=MONDAY), places=(place,)))
    assert left(fit)[0][2].startswith("A crew is not out while NORTH is open on Mon 2 March")
    night, stop = stops_of(fitted(a_week(a_visit(night=TUESDAY), places=(place,))))[0]
    assert night.on == MONDAY
    assert f"{stop.starts_at:%a %H:%M}" == "Tue 06:00"


def test_every_minute_asked_for_of_a_shift_is_enough_and_none_is_too_many():
    week = a_week(a_visit(minutes=440), crews=(a_crew("A", "ann", "ada"),))
    ((_, _, why, mend),) = left(fitted(week))
    assert why == (
        "A crew would be back from NORTH at 05:31, 31 min after the end of its shift less the break"
    )
    assert mend == "31 min more shift for A crew on Tue 3 March"
    for minutes, fits in ((31, True), (30, False)):
        longer = a_crew("A", "ann", "ada", shifts=(a_shift(ends=330 + minutes),))
        assert (left(fitted(replace(week, crews=(longer,)))) == []) is fits


def test_where_no_stretch_would_do_another_crew_is_proposed_with_its_hours():
    week = a_week(
        a_visit(minutes=400), a_visit("SOUTH", minutes=400), crews=(a_crew("A", "ann", "ada"),)
    )
    ((_, _, why, mend),) = left(fitted(week))
    assert why.startswith("A crew comes on from NORTH and reaches SOUTH at 04:51, ")
    assert mend == "one more crew of 2 people on Tue 3 March, 21:39 to 05:01"


def test_the_nearest_crew_is_the_one_that_speaks():
    place = a_place(requirements=(asks(),))
    workers = (a_worker("ann"), a_worker("ada", held()), a_worker("bob"), a_worker("bea"))
    assert [
        crew for _, crew, *_ in left(fitted(a_week(a_visit(), places=(place,), workers=workers)))
    ] == ["A"]


def test_without_crews_entered_the_branchs_numbers_go_out():
    place = a_place(requirements=(asks(),))
    week = a_week(
        *(a_visit(key=str(n), minutes=430) for n in range(3)), places=(place,), crews=(), workers=()
    )
    fit = fitted(week)
    assert [(night.name, night.people, night.workers) for night, _ in stops_of(fit)] == [
        ("crew 1", 2, ()),
        ("crew 2", 2, ()),
    ]
    assert fit.unchecked == (
        "No crew is entered for branch EAST: 2 unnamed crews of 2 for 480 min a night are taken, "
        "each from the drive to its first visit; machines are not checked.",
        "Asked of each worker and not checked: safety card (NORTH).",
    )
    assert [(crew, mend) for _, crew, _, mend in left(fit)] == [
        ("EAST-1", "one more crew of 2 people on Tue 3 March, 21:49 to 05:21")
    ]


def test_an_unnamed_crews_night_is_no_longer_than_a_shift():
    short = replace(a_week().branch, shift_minutes=190, crews=1)
    week = a_week(a_visit(minutes=120), a_visit("SOUTH", minutes=30), branch=short, crews=())
    assert len(went(fitted(week))) == 1
    assert "min after a shift's length" in left(fitted(week))[0][2]
    longer = replace(short, shift_minutes=193)
    assert len(went(fitted(replace(week, branch=longer)))) == 2


def test_an_unnamed_crew_may_set_out_earlier_for_a_visit_found_later():
    early = a_place("SOUTH", **open_from(1140, 1320))
    one = replace(a_week().branch, crews=1)
    urgent = a_visit(minutes=60, latest=MONDAY, night=TUESDAY, work=Work.READING_ROUND)
    week = a_week(
        replace(urgent, night=TUESDAY),
        a_visit("SOUTH", minutes=60),
        places=(early,),
        branch=one,
        crews=(),
    )
    assert [site for _, site, *_ in went(fitted(week))] == ["SOUTH", "NORTH"]


def test_a_branch_without_any_crew_says_so():
    none = replace(a_week().branch, crews=0)
    fit = fitted(a_week(a_visit(), branch=none, crews=()))
    assert left(fit) == [("NORTH", "", "branch EAST has no crew", "a crew of 2 for the branch")]


def test_lengths_are_true_on_the_night_the_clocks_change():
    saturday = date(2026, 3, 7)
    everyday = frozenset(range(7))
    place = a_place(**open_from(1320, 360, weekdays=everyday))
    crew = a_crew("A", "ann", "ada", shifts=(a_shift(1290, 390, weekdays=everyday),))
    week = a_week(a_visit(night=saturday, minutes=421), places=(place,), crews=(crew,))
    # in New York clocks go from 2:00 to 3:00: the window of eight hours lasts seven
    ((_, _, why, _),) = left(fitted(week))
    assert "it takes 421 min on site and NORTH is open for 420" in why
    fits = replace(week, visits=(a_visit(night=saturday, minutes=400),))
    assert went(fitted(fits)) == [("A", "NORTH", "Sun 03:00", "Sun 09:40")]


def test_the_same_week_comes_out_the_same_whatever_its_order():
    visits = [a_visit(key=str(n), minutes=100 + n) for n in range(4)]
    week = a_week(*visits, a_visit("SOUTH"))
    turned = replace(
        week,
        visits=tuple(reversed(week.visits)),
        crews=tuple(reversed(week.crews)),
        workers=tuple(reversed(week.workers)),
    )
    assert fitted(week) == fitted(turned)
    assert broken_constraints(turned, fitted(week)) == ()
