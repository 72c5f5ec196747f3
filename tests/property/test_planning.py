"""What must hold of a plan whatever the floors: wear, other zones, a second look at the same."""

from dataclasses import replace
from datetime import date

import numpy as np
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from floorcare.ground.rules.floor import Course
from floorcare.ground.rules.walk import NEVER, WalkTerms, walk
from floorcare.ground.rules.wear_dues import forecast, walked_dues
from floorcare.ground.schedule.branch_year import BranchYear, decide_branch
from floorcare.ground.schedule.difference import Difference, difference
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Due, Visit
from floorcare.ground.wear.fleet import fit_fleet
from floorcare.ground.worktime.shut import ShutDay
from tests.builders import (
    DAY,
    TODAY,
    a_book,
    a_branch,
    a_case,
    a_course,
    a_floor,
    a_site_book,
    look_promised,
    polished,
    read_down,
    the_terms,
)
from tests.store.sample import INSTALLATION, NOW

DAYS = 84
few = settings(max_examples=25, deadline=None)
fewest = settings(max_examples=6, deadline=None, suppress_health_check=[HealthCheck.too_slow])

passes = st.lists(st.floats(0.0, 12.0), min_size=DAYS, max_size=DAYS)
promises = st.floats(40.0, 59.0)
burnishes = st.sets(st.integers(0, DAYS - 1), max_size=20)


def first_days(course: Course, terms: WalkTerms) -> list[int]:
    """Day of the first due of each zone, past the horizon where there is none."""
    first = [DAYS] * course.promise_ln.size
    for step in walk(a_floor(course.promise_ln.size), course, terms):
        first[step.zone] = min(first[step.zone], step.day)
    return first


@few
@given(
    less=passes,
    more=passes,
    promise=promises,
    burnish=burnishes,
    every=st.integers(1, 21),
    confidence=st.floats(0.5, 0.95),
    cap=st.one_of(st.none(), st.integers(0, DAYS - 1)),
)
def test_more_footfall_never_means_a_later_first_due(
    less: list[float],
    more: list[float],
    promise: float,
    burnish: set[int],
    every: int,
    confidence: float,
    cap: int | None,
) -> None:
    both = [less, [few + added for few, added in zip(less, more, strict=True)]]
    course = a_course(both, [promise] * 2, treatments={Work.BURNISH: [sorted(burnish)] * 2})
    caps = np.full((2, 5), NEVER)
    caps[:, 2] = NEVER if cap is None else cap
    terms = the_terms(course, every=every, confidence=np.full(2, confidence), cap_day=caps)
    quiet, busy = first_days(course, terms)
    assert busy <= quiet


@few
@given(walked=passes, low=promises, more=st.floats(0.0, 10.0), every=st.integers(1, 14))
def test_promising_more_never_means_a_later_first_due(
    walked: list[float], low: float, more: float, every: int
) -> None:
    course = a_course([walked] * 2, [low, low + more])
    modest, ambitious = first_days(course, the_terms(course, every=every))
    assert ambitious <= modest


@few
@given(walked=passes, promise=promises, q=st.floats(0.5, 0.95), more=st.floats(0.0, 0.04))
def test_more_confidence_never_means_a_later_first_due(
    walked: list[float], promise: float, q: float, more: float
) -> None:
    course = a_course([walked] * 2, [promise] * 2)
    terms = the_terms(course, confidence=np.array([q, q + more]))
    bold, careful = first_days(course, terms)
    assert careful <= bold


gloss_read = st.floats(42.0, 58.0)
zones = st.lists(
    st.tuples(gloss_read, st.floats(0.0, 1.5), st.floats(50.0, 65.0)), min_size=2, max_size=4
)


@fewest
@given(floors=zones, order=st.permutations(range(4)), count=st.integers(1, 4))
def test_a_zone_s_dues_do_not_depend_on_other_zones(
    floors: list[tuple[float, float, float]], order: list[int], count: int
) -> None:
    cases = [
        a_case(
            a_book(
                f"Z{n}",
                readings=read_down(read, fall=fall),
                promises=(look_promised(reference),),
            ),
            days=90,
        )
        for n, (read, fall, reference) in enumerate(floors)
    ]

    def dues(some: list[int]) -> dict[int, tuple[Due, ...]]:
        mine = [cases[z] for z in some]
        fleet = fit_fleet([(c.site, c.book) for c in mine], polished(), TODAY, draws=24)
        found = walked_dues(fleet, mine, forecast(fleet, mine, 104), range(len(mine)))
        return {z: found[row] for row, z in enumerate(some)}

    together = dues(list(range(len(cases))))
    some = [z for z in order if z < len(cases)][:count]
    for z, alone in dues(some).items():
        assert alone == together[z]


@fewest
@given(
    read=st.lists(gloss_read, min_size=1, max_size=3),
    shut=st.lists(st.integers(1, 70), max_size=6),
    crews=st.integers(1, 3),
)
def test_a_plan_made_again_from_what_stands_changes_nothing(
    read: list[float], shut: list[int], crews: int
) -> None:
    days = tuple(
        ShutDay(from_on=on, to_on=on, why="fair") for on in (TODAY + n * DAY for n in sorted(shut))
    )
    books = tuple(
        a_site_book(f"S{n}", a_book(readings=read_down(gloss)), shut_days=days)
        for n, gloss in enumerate(read)
    )
    year = BranchYear(
        branch=a_branch(crews=crews),
        books=books,
        surfaces={"polished_concrete": polished()},
        standing=(),
        today=TODAY,
        last_on=TODAY + 70 * DAY,
    )

    def compare(standing: tuple[Visit, ...]) -> Difference:
        planned_to: date | None = year.last_on if standing else None
        decision = decide_branch(replace(year, standing=standing, planned_to=planned_to))
        return difference(
            decision.stubs,
            decision.movable,
            people=decision.people,
            installation=INSTALLATION,
            known={visit.uuid for visit in standing},
            now=NOW,
        )

    visits = compare(()).altered
    assert compare(visits).empty
