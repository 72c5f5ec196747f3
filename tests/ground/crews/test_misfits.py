from dataclasses import replace
from datetime import timedelta

import pytest

from floorcare.ground.crews import misfits
from floorcare.ground.crews.access import access_of
from floorcare.ground.crews.machines import MachineLack
from floorcare.ground.crews.roster import crew_nights
from floorcare.ground.crews.slot import best_slot
from floorcare.ground.crews.week import MisfitKind
from floorcare.ground.trade.crew import Qualification
from floorcare.ground.trade.people import RequirementKind
from floorcare.ground.trade.visit import Commitment
from tests.builders import polished
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

WEDNESDAY = TUESDAY + timedelta(days=1)


def tuesday(week):
    return crew_nights(week)["A", TUESDAY]


def times(visit, **more):
    week = a_week(visit, **more)
    night = tuesday(week)
    slot = best_slot(week, visit, access_of(visit, week.site(visit)), night, crew_nights(week))
    return list(misfits.time_misfits(week, visit, night, slot))


@pytest.mark.parametrize(
    ("held_paper", "why", "mend"),
    [
        ((), 'Ann Quill does not hold "safety card"', '"safety card" for Ann Quill'),
        ((held(expires_on=MONDAY),), "expired on 2 March 2026", 'renew "safety card"'),
        (
            (Qualification(name="safety card", from_on=WEDNESDAY),),
            "holds only from 4 March 2026",
            '"safety card" for Ann Quill before Tue 3 March',
        ),
    ],
)
def test_what_somebody_lacks_is_said_with_its_date(held_paper, why, mend):
    place = a_place(requirements=(asks(), asks("liability", each_worker=False)))
    week = a_week(places=(place,), workers=(a_worker("ann", *held_paper), a_worker("ada", held())))
    (found,) = misfits.qualification_misfits(week, a_visit(), tuesday(week))
    assert found.kind is MisfitKind.QUALIFICATION
    assert why in found.why
    assert mend in found.mend


def test_of_the_contractors_papers_only_those_out_of_date_are_named():
    paper = {"kind": RequirementKind.INSURANCE, "each_worker": False}
    place = a_place(
        requirements=(
            asks("old", expires_on=MONDAY, **paper),
            asks("good", expires_on=TUESDAY, **paper),
            asks("endless", **paper),
            asks(),
        )
    )
    (found,) = misfits.paper_misfits(a_week(places=(place,)), a_visit())
    assert found.why == 'the insurance "old" that NORTH asks for expired on 2 March 2026'
    assert found.mend == 'renew "old" and enter its new date'


def test_people_lacking_are_counted():
    week = a_week(workers=())
    found = misfits.too_few(a_visit(), tuesday(week))
    assert (found.short, found.mend) == (2, "2 more workers in A crew on Tue 3 March")


def test_a_second_machine_is_asked_for_where_there_is_one():
    kind = polished().machines["burnisher"]
    night = tuesday(a_week())
    one = misfits.no_machine(MachineLack(kind=kind, why="BU-1 is out of order", owned=1), night)
    assert one.mend.startswith("a second 20-in burnisher")
    two = misfits.no_machine(MachineLack(kind=kind, why="both are out", owned=2), night)
    assert two.mend.startswith("one more 20-in burnisher")


def test_a_stay_longer_than_the_access_asks_for_more_of_it():
    short = a_place(**open_from(1320, 1410))
    (found, *_) = times(a_visit(minutes=120), places=(short,))
    assert found.why == "it takes 120 min on site and NORTH is open for 90, 22:00 to 23:30"
    assert found.mend == "30 min more access on Tue 3 March, or the visit in two nights"


def test_a_shift_that_begins_too_late_asks_for_an_earlier_one():
    early = a_place(**open_from(1200, 1380))
    (found,) = times(a_visit(minutes=120), places=(early,))
    # there at 21:41 and two hours to do by 23:00
    assert found.why == (
        "A crew reaches NORTH at 21:41 at the earliest, 41 min too late to be done by 23:00"
    )
    assert found.mend == "the shift of A crew starting 41 min earlier on Tue 3 March"
    sooner = a_crew("A", "ann", "ada", shifts=(a_shift(1290 - 41),))
    assert times(a_visit(minutes=120), places=(early,), crews=(sooner,)) == []


def test_an_agreed_hour_that_cannot_be_met_names_the_one_that_can():
    fixed = a_visit(commitment=Commitment.HOUR, starts_minute=1290)
    (found,) = times(fixed, places=(a_place(**open_from(1200, 360)),))
    assert found.why == "A crew can be there at 21:41, 11 min after the agreed 21:30"
    assert found.mend == "agree on 21:41, or one more crew on Tue 3 March"


def test_what_is_far_out_of_reach_asks_for_one_more_crew_and_says_why_once():
    early = a_place(**open_from(1080, 1260))
    (found,) = times(a_visit(minutes=120, people=1), places=(early,))
    assert "161 min too late to be done by 21:00" in found.why
    assert found.mend == "one more crew of 1 person on Tue 3 March, 17:49 to 20:11"


def test_a_site_not_open_and_a_crew_not_out_are_said():
    week = a_week()
    access = access_of(a_visit(), week.site(a_visit()))
    assert misfits.no_access(a_visit(), "shut: fair").why == (
        "NORTH is not open for this work on Tue 3 March: shut: fair"
    )
    named = misfits.no_shift(week, a_visit(), access, "A crew").why
    assert named == "A crew is not out while NORTH is open on Tue 3 March, 22:00 to 06:00"
    nobody = misfits.no_shift(week, a_visit(), access, "").why
    assert nobody.startswith("branch EAST sends nobody out while NORTH is open")


def test_hours_are_the_branchs_own_clock():
    week = a_week(branch=replace(a_week().branch, time_zone="America/Chicago"))
    access = access_of(a_visit(), week.site(a_visit()))
    assert misfits.another_crew(week, a_visit(), access).endswith("20:49 to 23:11")


def test_what_nobody_checked_is_named_with_its_sites():
    said = misfits.unchecked_said("Not checked", {"card": {"SOUTH", "NORTH"}, "badge": {"WEST"}})
    assert said == "Not checked: badge (WEST); card (NORTH, SOUTH)."


@pytest.mark.parametrize(
    ("agreed", "outside", "instead"), [(1290, "30", "22:00"), (1740, "60", "04:00")]
)
def test_an_agreed_hour_outside_the_access_is_not_blamed_on_the_crew(agreed, outside, instead):
    fixed = a_visit(commitment=Commitment.HOUR, starts_minute=agreed, minutes=120)
    early = a_crew("A", "ann", "ada", shifts=(a_shift(1200),))
    found = times(fixed, places=(a_place(**open_from(1320, 360)),), crews=(early,))
    one = next(m for m in found if "outside the access" in m.why)
    assert f"{outside} min outside the access of NORTH, 22:00 to 06:00" in one.why
    assert one.mend == f"agree on {instead}, or {outside} min more access on Tue 3 March"
