from dataclasses import replace
from datetime import timedelta

import pytest

from floorcare.ground.crews.checker import broken_constraints
from floorcare.ground.crews.first_fit import fit_week
from floorcare.ground.trade.people import RequirementKind
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Commitment
from tests.builders import a_branch
from tests.ground.crews.weeks import (
    BASE,
    MONDAY,
    TUESDAY,
    a_crew,
    a_machine,
    a_place,
    a_visit,
    a_week,
    a_worker,
    asks,
    held,
    open_from,
)

MINUTE = timedelta(minutes=1)


def two_stops():
    """A week in which crew A goes to NORTH and on to SOUTH with a burnisher."""
    return a_week(
        a_visit(work=Work.BURNISH), a_visit("SOUTH"), machines=(a_machine("BU-1", "burnisher"),)
    )


def altered(fit, at=0, *, shift=0, night=None, **more):
    """The fit with one stop of its busy night written otherwise."""
    busy = next(n for n in fit.nights if n.stops)
    stops = list(busy.stops)
    moved = {
        "starts_at": stops[at].starts_at + shift * MINUTE,
        "ends_at": stops[at].ends_at + shift * MINUTE,
        **more,
    }
    stops[at] = replace(stops[at], **moved)
    other = replace(busy, stops=tuple(stops), **(night or {}))
    return replace(fit, nights=tuple(other if n is busy else n for n in fit.nights))


def problems(week, fit):
    return "; ".join(broken_constraints(week, fit))


def test_a_good_week_breaks_nothing():
    week = two_stops()
    assert broken_constraints(week, fit_week(week)) == ()


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"at": 0, "shift": -5}, "outside the access of its night"),
        ({"at": 1, "shift": -1}, "begins before the crew can be there"),
        ({"at": 1, "shift": 300}, "is back later than its shift and the overtime allowed"),
        ({"at": 0, "ends_at": None}, "on site for other than 120 min"),
        ({"at": 0, "travel_minutes": 3}, "the drive to it is"),
        ({"at": 0, "machines": ()}, "does not take one machine of each kind"),
        ({"at": 1, "machines": ("BU-1",)}, "does not take one machine of each kind"),
        ({"at": 0, "machines": ("XX",)}, "takes a machine nobody owns"),
        ({"night": {"home_minutes": 1}}, "the drive home is not what it takes"),
        ({"night": {"people": 1}}, "1 people for 2"),
        ({"night": {"people": 3}}, "other people than are in the crew"),
        ({"night": {"workers": ()}}, "other people than are in the crew"),
        ({"night": {"starts_at": None}}, "other hours than its shift's"),
    ],
)
def test_each_thing_written_otherwise_is_found(change, said):
    week = two_stops()
    fit = fit_week(week)
    if "ends_at" in change:
        change = {**change, "ends_at": fit.nights[0].starts_at or TUESDAY}
        busy = next(n for n in fit.nights if n.stops)
        change["ends_at"] = busy.stops[0].starts_at + 119 * MINUTE
    assert said in problems(week, altered(fit, **change))


def test_a_visit_lost_doubled_or_invented_is_found():
    week = two_stops()
    fit = fit_week(week)
    busy = next(n for n in fit.nights if n.stops)
    lost = replace(busy, stops=busy.stops[:1], home_minutes=11)
    assert "is not placed or listed just once" in problems(
        week, replace(fit, nights=tuple(lost if n is busy else n for n in fit.nights))
    )
    assert "is not placed or listed just once" in problems(
        week, replace(fit, nights=(*fit.nights, busy))
    )
    assert "is none of the week's" in problems(replace(week, visits=week.visits[:1]), fit)


def test_leaving_before_the_shift_is_found():
    early = a_place(**open_from(1200, 360))
    week = a_week(a_visit(), places=(early,))
    assert "leaves before the shift begins" in problems(week, altered(fit_week(week), shift=-1))


def test_another_hour_than_the_agreed_one_is_found():
    visit = a_visit(starts_minute=1400, commitment=Commitment.HOUR)
    week = a_week(visit)
    fit = fit_week(week)
    assert broken_constraints(week, fit) == ()
    assert "not at its agreed hour" in problems(week, altered(fit, shift=1))


@pytest.mark.parametrize(
    ("requirement", "said"),
    [
        (asks(), "ada lacks safety card"),
        (
            asks(each_worker=False, expires_on=MONDAY, kind=RequirementKind.INSURANCE),
            "safety card has run out",
        ),
    ],
)
def test_papers_that_lack_are_found(requirement, said):
    week = a_week(a_visit(), workers=(a_worker("ada", held(expires_on=MONDAY)), a_worker("ann")))
    fit = fit_week(week)
    asked = a_place(requirements=(requirement,))
    strict = replace(week, books={**week.books, "NORTH": asked})
    assert said in problems(strict, fit)


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({"out_of_order": ((TUESDAY, TUESDAY),)}, "BU-1 is out of order"),
        ({"site": "SOUTH"}, "BU-1 stands elsewhere"),
        ({"fuel": "propane"}, "BU-1 burns propane where no fuel machine may run"),
        ({"kind": "rotary"}, "does not take one machine of each kind"),
    ],
)
def test_a_machine_that_cannot_be_there_is_found(more, said):
    week = two_stops()
    fit = fit_week(week)
    other = replace(week, machines=(a_machine("BU-1", **{"kind": "burnisher", **more}),))
    assert said in problems(other, fit)


def test_a_machine_with_two_crews_at_once_is_found():
    week = a_week(
        a_visit(work=Work.BURNISH, minutes=300),
        a_visit("SOUTH", work=Work.BURNISH, minutes=300),
        machines=(a_machine("BU-1"), a_machine("BU-2")),
    )
    fit = fit_week(week)
    assert broken_constraints(week, fit) == ()
    same = tuple(
        replace(n, stops=tuple(replace(s, machines=("BU-1",)) for s in n.stops)) for n in fit.nights
    )
    assert "BU-1 is with crew A and with crew B" in problems(week, replace(fit, nights=same))


def test_more_than_the_branchs_numbers_is_found():
    week = a_week(a_visit(), crews=(), workers=())
    fit = fit_week(week)
    assert broken_constraints(week, fit) == ()
    for branch, said in (
        (a_branch(**BASE, crews=0), "the branch has no such crew"),
        (a_branch(**BASE, crew_size=3), "2 people and not 3"),
        (a_branch(**BASE, shift_minutes=60), "is out for longer than a shift"),
        (a_branch(**BASE, weekdays=frozenset({5})), "the branch sends no crew out that night"),
    ):
        assert said in problems(replace(week, branch=branch), fit)


def test_a_crew_that_is_out_twice_at_once_is_found():
    week = a_week(a_visit(), crews=(a_crew("A", "ann", "ada"),))
    fit = fit_week(week)
    busy = next(n for n in fit.nights if n.stops)
    twice = replace(fit, nights=(*fit.nights, replace(busy, on=MONDAY)))
    said = problems(week, twice)
    assert "crew A is out twice at once" in said
    assert "a night that is not the crew's" not in said


def test_a_visit_on_another_night_is_found():
    week = a_week(a_visit(night=TUESDAY))
    fit = fit_week(week)
    other = replace(week, visits=(a_visit(night=MONDAY, key=""),))
    busy = next(n for n in fit.nights if n.stops)
    moved = replace(busy.stops[0], visit=replace(week.visits[0], night=MONDAY - timedelta(days=3)))
    wrong = replace(busy, stops=(moved,))
    answer = replace(fit, nights=tuple(wrong if n is busy else n for n in fit.nights))
    assert "a night that is not the crew's" in problems(other, answer)


def test_an_unfitted_visit_without_reason_or_mend_is_found():
    week = a_week(a_visit(minutes=500))
    fit = fit_week(week)
    assert broken_constraints(week, fit) == ()
    silent = replace(fit, unfitted=(replace(fit.unfitted[0], mend=""),))
    assert "no reason or mend" in problems(week, silent)
