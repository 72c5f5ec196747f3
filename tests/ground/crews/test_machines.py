from dataclasses import replace
from datetime import date

from floorcare.ground.crews.first_fit import fit_week
from floorcare.ground.crews.machines import (
    kinds_entered,
    kinds_needed,
    machines_for,
    machines_here,
)
from floorcare.ground.crews.roster import crew_nights
from floorcare.ground.trade.equipment import MachinePlace
from floorcare.ground.trade.treatment import Work
from tests.builders import a_due, a_line
from tests.ground.crews.weeks import MONDAY, TUESDAY, a_machine, a_visit, a_week

BURNISH = a_visit(work=Work.BURNISH)


def taken(*machines, visit=BURNISH, fuel=False, crew="A", others=()):
    week = a_week(visit, machines=machines)
    night = crew_nights(week)[crew, TUESDAY]
    return machines_for(week, visit, night, others, fuel=fuel)


def test_a_visit_needs_each_kind_of_its_methods_once():
    week = a_week()
    two = replace(BURNISH, lines=BURNISH.lines * 2)
    assert [k.code for k in kinds_needed(week, two)] == ["scrubber", "burnisher"]
    assert kinds_needed(week, a_visit()) == ()
    read = a_line(a_due(Work.READING_ROUND, target=TUESDAY))
    both = replace(BURNISH, lines=(read, *BURNISH.lines))
    assert len(kinds_needed(week, both)) == 2


def test_only_what_ever_stood_at_the_branch_or_its_sites_is_ours():
    week = a_week(
        machines=(
            a_machine("B"),
            a_machine("A", site="SOUTH"),
            a_machine("C", site="ELSEWHERE"),
            a_machine(
                "D", places=(MachinePlace(branch="WEST", site="", from_on=date(2025, 1, 1)),)
            ),
            a_machine("E", "rotary", places=()),
        )
    )
    assert [m.code for m in machines_here(week)] == ["A", "B"]
    assert kinds_entered(week) == {"burnisher"}


def test_what_stands_on_the_site_goes_before_what_stands_at_the_branch():
    codes, lacks = taken(a_machine("A"), a_machine("B", site="NORTH"), a_machine("C", site="SOUTH"))
    assert (codes, lacks) == (("B",), ())


def test_each_machine_that_cannot_come_says_where_it_is():
    away = MachinePlace(branch="WEST", site="", from_on=TUESDAY)
    once = MachinePlace(branch="EAST", site="", from_on=date(2025, 1, 1), to_on=MONDAY)
    _, (lack,) = taken(
        a_machine("A", site="SOUTH"),
        a_machine("B", out_of_order=((TUESDAY, TUESDAY),)),
        a_machine("C", fuel="propane"),
        a_machine("D", places=(once, away)),
        a_machine("E", places=(once,)),
    )
    assert lack.owned == 5
    assert lack.why == (
        "A stands at SOUTH; B is out of order; C burns propane, which the site does not permit "
        "that night; D stands at branch WEST; E stands nowhere that night"
    )


def test_a_fuel_machine_may_come_where_the_site_permits_it():
    assert taken(a_machine("C", fuel="propane"), fuel=True) == (("C",), ())


def test_a_machine_is_free_again_once_the_other_crews_shift_is_over():
    machines = (a_machine("BU-1"),)
    week = a_week(BURNISH, machines=machines)
    busy = [n for n in fit_week(week).nights if n.stops]
    codes, lacks = taken(*machines, crew="B", others=busy)
    assert codes == ()
    assert lacks[0].why == "BU-1 is with A crew"
    over = replace(busy[0], ends_at=busy[0].starts_at)
    assert taken(*machines, crew="B", others=[over])[0] == ("BU-1",)
    assert taken(*machines, crew="A", others=busy)[0] == ("BU-1",)


def test_an_unnamed_crew_is_asked_for_no_machine():
    week = a_week(BURNISH, crews=(), machines=(a_machine("BU-1", site="SOUTH"),))
    night = crew_nights(week)["EAST-1", TUESDAY]
    assert machines_for(week, BURNISH, night, (), fuel=False) == ((), ())
