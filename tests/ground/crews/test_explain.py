"""Why a visit has no crew, what it comes down to, and the nearest change that would place it."""

from dataclasses import replace

from floorcare.ground.crews.assign import assign_week
from floorcare.ground.crews.explain import MOST_NAMED, explained
from floorcare.ground.crews.parts import wishes_of
from floorcare.ground.crews.rest import rested
from floorcare.ground.crews.roster import crew_nights
from floorcare.ground.crews.routes.side_by_side import Search
from floorcare.ground.crews.week import Cause
from floorcare.ground.trade.visit import Commitment, VisitState
from tests.ground.crews.weeks import TUESDAY, a_crew, a_place, a_shift, a_visit, a_week, asks

SHORT = Search(iterations=80, seed=1)
TUESDAYS = a_shift(weekdays=frozenset({1}))
ALONE = (a_crew("A", "ann", "ada", shifts=(TUESDAYS,)),)


def left_of(*visits, **more):
    return assign_week(a_week(*visits, **more), SHORT).unfitted


def test_what_no_crew_may_take_says_what_they_lack():
    place = a_place(requirements=(asks(),))
    (left,) = left_of(a_visit(commitment=Commitment.NIGHT), places=(place,))
    assert left.cause is Cause.NO_CREW_NIGHT
    assert 'does not hold "safety card"' in left.why
    assert '"safety card" for' in left.mend
    assert left.nearest


def test_a_clash_names_what_is_held():
    held = a_visit("SOUTH", minutes=300, state=VisitState.HELD)
    (left,) = left_of(held, a_visit(minutes=300, commitment=Commitment.NIGHT), crews=ALONE)
    assert left.cause is Cause.CLASH or left.visit.uuid == held.uuid
    assert "clashes with what is held" in left.why


def test_full_crews_say_how_full_they_are():
    first, second = a_visit(minutes=300), a_visit("SOUTH", minutes=300)
    (left,) = left_of(first, second, crews=ALONE)
    assert left.cause is Cause.CAPACITY
    assert "the only crew-night that may take it has" in left.why
    assert f"it needs {left.visit.minutes} min on site" in left.why


def test_the_nearest_change_is_the_one_that_alone_would_place_it():
    short = a_shift(1290, 90, weekdays=frozenset({1}))
    crews = (a_crew("A", "ann", "ada", shifts=(short,)),)
    (left,) = left_of(a_visit(minutes=265, latest=TUESDAY), crews=crews)
    assert "min more shift" in left.nearest or "one more crew" in left.nearest
    assert "Tue 3 March" in left.nearest


def test_a_branch_that_sends_nobody_is_told_to_have_a_crew():
    week = a_week(a_visit(), crews=(), workers=())
    nobody = replace(week, branch=replace(week.branch, crews=0))
    nights = rested(nobody, crew_nights(nobody))
    (left,) = explained(nobody, nights, wishes_of(nobody, nights))
    assert left.why == "branch EAST has no crew"
    assert left.nearest == "a crew of 2 for the branch"


def test_only_a_few_of_many_are_named():
    held = [a_visit("SOUTH", minutes=80, state=VisitState.HELD, key=str(n)) for n in range(5)]
    wanted = a_visit(minutes=200, commitment=Commitment.NIGHT, latest=TUESDAY)
    left = [one for one in left_of(*held, wanted, crews=ALONE) if one.visit.uuid == wanted.uuid]
    for one in left:
        assert one.why.count("SOUTH with") <= MOST_NAMED
