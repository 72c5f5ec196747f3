"""Appearance grades: an interval that pulls only from outside, and never makes a level."""

from dataclasses import replace
from itertools import pairwise
from math import inf, log

import numpy as np
import pytest

from floorcare.ground.trade.reading import Measure, Reading, SurfaceState
from floorcare.ground.wear.books.grades import GRADE_FROM, grade_interval, grade_looks
from floorcare.ground.wear.books.judged import group_rounds
from floorcare.ground.wear.evidence import EvidenceClass
from floorcare.ground.wear.fleet import Fleet, fit_fleet
from floorcare.ground.wear.model import ln_gloss
from floorcare.ground.wear.sight import LEVEL
from tests.builders import BEGUN, DAY, TODAY, a_book, polished, read_down
from tests.store.sample import gloss

LAST_READ = TODAY - 6 * DAY


def graded(days_ago: int, grade: float, **more: object) -> Reading:
    on = TODAY - days_ago * DAY
    seen = replace(gloss(on, 3.0), measure=Measure.GRADE, geometry_deg=0, instrument="")
    return replace(seen, value=grade, **more)


def fleet_of(*grades: Reading, readings: tuple[Reading, ...] | None = None) -> Fleet:
    taken = read_down(50.0) if readings is None else readings
    book = a_book(readings=tuple(sorted((*taken, *grades), key=lambda r: r.taken_on)))
    return fit_fleet([("NORTH", book)], polished(), TODAY, draws=64)


def gloss_today(fleet: Fleet) -> float:
    draws = fleet.draws
    ln = draws.level + draws.shock + ln_gloss(draws.state, fleet.fit.law)
    return float(np.exp(ln.mean()))


def test_grades_are_intervals_of_the_fresh_gloss_that_join_up() -> None:
    ends = [grade_interval(grade) for grade in range(1, 6)]
    assert (ends[0][0], ends[-1][1]) == (-inf, inf)
    assert [low for low, _ in ends[1:]] == [log(share) for share in GRADE_FROM[1:]]
    assert all(one[1] == other[0] for one, other in pairwise(ends))
    assert grade_interval(3.4) == (ends[2][0], ends[3][1])


@pytest.mark.parametrize("grade", [0.9, 5.1, float("nan")])
def test_there_is_no_grade_outside_one_to_five(grade: float) -> None:
    with pytest.raises(ValueError, match="allowed 1 to 5"):
        grade_interval(grade)


def test_a_grade_that_says_what_the_gloss_says_changes_nothing() -> None:
    alone = fleet_of()
    share = np.log(gloss_today(alone)) - float(alone.fit.mean[0, LEVEL])
    said = next(g for g in range(1, 6) if grade_interval(g)[0] <= share < grade_interval(g)[1])
    with_grade = fleet_of(graded(3, said))
    assert np.array_equal(with_grade.fit.mean, alone.fit.mean)
    assert with_grade.fit.columns.reading_ln.size == alone.fit.columns.reading_ln.size


def test_a_worse_grade_pulls_towards_its_edge_and_two_pull_further() -> None:
    fleet = fleet_of()
    alone, fresh = gloss_today(fleet), float(np.exp(fleet.fit.mean[0, LEVEL]))
    worse = max(g for g in range(1, 6) if fresh * np.exp(grade_interval(g)[1]) < alone - 1.0)
    edge = fresh * float(np.exp(grade_interval(worse)[1]))
    one, two = (
        gloss_today(fleet_of(*(graded(days, worse) for days in ago))) for ago in ((3,), (3, 2))
    )
    assert edge < two < one - 0.05 < alone - 0.1
    better = gloss_today(fleet_of(graded(3, 5)))
    assert (better > alone + 0.05) == (alone < fresh * GRADE_FROM[4])


def test_a_grade_makes_no_round_no_reading_and_no_gross_finding() -> None:
    alone, with_grade = fleet_of(), fleet_of(graded(3, 1))
    assert with_grade.fit.columns.graded.sum() == 1
    assert with_grade.fit.rounds.tolist() == alone.fit.rounds.tolist() == [6]
    assert with_grade.fit.readings.tolist() == alone.fit.readings.tolist()
    assert with_grade.fit.last_day.tolist() == alone.fit.last_day.tolist()
    assert with_grade.rounds == alone.rounds
    assert with_grade.findings == alone.findings


def test_a_zone_with_grades_alone_is_looked_at_and_has_no_level() -> None:
    fleet = fleet_of(graded(60, 4), graded(3, 1), readings=())
    assert fleet.evidence == (EvidenceClass.LOOKED_AT,)
    assert np.isnan(fleet.fit.mean[0, LEVEL])
    assert fleet.fit.columns.reading_ln.size == 0


def test_grades_before_the_first_gloss_reading_say_nothing() -> None:
    early = (TODAY - BEGUN).days - 2
    with_grade = fleet_of(graded(early, 1))
    assert np.array_equal(with_grade.fit.mean, fleet_of().fit.mean)


def test_a_neighbours_grades_change_nothing() -> None:
    other = a_book("B", readings=(*read_down(50.0), graded(3, 1)))
    books = [("NORTH", a_book("A")), ("NORTH", other)]
    both = fit_fleet(books, polished(), TODAY, draws=8)
    alone = fit_fleet(books[:1], polished(), TODAY, draws=8)
    assert both.fit.columns.graded.sum() == 1
    assert np.allclose(both.fit.mean[0], alone.fit.mean[0], atol=1e-9)


def test_a_wet_floor_is_not_graded() -> None:
    wet = graded(3, 1, state=SurfaceState.WET)
    assert grade_looks([group_rounds((wet,))], BEGUN).zone.size == 0
    dry = grade_looks([(), group_rounds((graded(3, 2),))], BEGUN)
    assert (dry.zone.tolist(), dry.day.tolist()) == ([1], [(TODAY - BEGUN).days - 3])
    assert dry.rows(dry.zone == 0).low.size == 0
