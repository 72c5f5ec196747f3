"""Random small weeks: whatever is asked, the answer keeps every constraint and loses no visit."""

from dataclasses import replace
from datetime import timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from floorcare.ground.crews.assign import assign_week
from floorcare.ground.crews.checker import broken_constraints
from floorcare.ground.crews.first_fit import fit_week
from floorcare.ground.crews.routes.side_by_side import Search
from floorcare.ground.crews.week_change import week_edit
from floorcare.ground.trade.people import RequirementKind
from floorcare.ground.trade.site import Branch
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Commitment
from tests.builders import a_branch
from tests.ground.crews.weeks import (
    BASE,
    MONDAY,
    a_crew,
    a_machine,
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

DAYS = st.integers(-1, 7).map(lambda step: MONDAY + timedelta(days=step))
NIGHTS = st.sampled_from([1, 1, 1, 2, 2]).map(lambda step: MONDAY + timedelta(days=step)) | DAYS
WORKS = st.sampled_from([Work.READING_ROUND, Work.BURNISH, Work.REPOLISH, Work.RECOAT])
WEEKDAYS = st.frozensets(st.integers(0, 6), min_size=4) | st.just(frozenset(range(7)))
RARELY = st.integers(0, 4).map(lambda drawn: drawn == 0)
OPENS = st.sampled_from([600, 1200, 1320, 1320, 1320, 60]) | st.integers(0, 1439)
"""Mostly in the evening and the night, so that crews meet sites, and at any hour besides."""
SITES = ("NORTH", "SOUTH", "WEST")
SHORT = Search(iterations=60, seed=1)


@st.composite
def visits(draw):
    found = []
    for number in range(draw(st.integers(0, 9))):
        fixed = draw(RARELY)
        found.append(
            a_visit(
                draw(st.sampled_from(SITES)),
                draw(NIGHTS),
                key=str(number),
                minutes=draw(st.integers(20, 180) | st.integers(20, 500)),
                work=draw(WORKS),
                people=draw(st.sampled_from([1, 2, 2, 3])),
                starts_minute=draw(OPENS),
                commitment=Commitment.HOUR if fixed else Commitment.WEEK,
                latest=MONDAY + timedelta(days=draw(st.integers(-3, 30))),
            )
        )
    return tuple(found)


@st.composite
def places(draw):
    books = []
    for site in SITES:
        asked = []
        if draw(RARELY):
            asked.append(asks())
        if draw(RARELY):
            paper = {"kind": RequirementKind.INSURANCE, "each_worker": False}
            asked.append(asks("liability", expires_on=draw(DAYS), **paper))
        starts = draw(OPENS)
        length = draw(st.integers(180, 600))
        window = open_from(starts, (starts + length) % 1440, weekdays=draw(WEEKDAYS))
        books.append(a_place(site, requirements=tuple(asked), **window))
    return tuple(books)


@st.composite
def people(draw):
    """Crews with their workers, or nobody entered."""
    if draw(RARELY):
        return {"crews": (), "workers": (), "branch": _branch(draw)}
    crews, workers = [], []
    for code in "ABC"[: draw(st.integers(1, 3))]:
        names = [f"{code}{n}" for n in range(draw(st.sampled_from([1, 2, 2, 3])))]
        for name in names:
            papers = (held(expires_on=draw(st.none() | DAYS)),) if draw(st.booleans()) else ()
            workers.append(a_worker(name, *papers, to_on=draw(DAYS) if draw(RARELY) else None))
        starts = draw(OPENS)
        length = draw(st.integers(240, 720))
        shift = a_shift(starts, (starts + length) % 1440, weekdays=draw(WEEKDAYS))
        crews.append(a_crew(code, *names, shifts=(replace(shift, break_minutes=30),)))
    return {"crews": tuple(crews), "workers": tuple(workers), "branch": _branch(draw)}


def _branch(draw: st.DrawFn) -> Branch:
    return a_branch(
        **BASE,
        crews=draw(st.integers(0, 3)),
        crew_size=draw(st.integers(1, 3)),
        shift_minutes=draw(st.integers(180, 600)),
        weekdays=draw(WEEKDAYS),
    )


MACHINES = st.lists(
    st.tuples(
        st.sampled_from(["burnisher", "scrubber", "planetary_polisher"]),
        st.sampled_from(["", "", "NORTH", "SOUTH"]),
        st.sampled_from(["", "", "propane"]),
    ),
    max_size=4,
)


@settings(max_examples=250, deadline=None)
@given(visits(), places(), people(), MACHINES)
def test_no_week_breaks_a_constraint_or_loses_a_visit(asked, books, who, owned):
    machines = tuple(
        a_machine(f"M-{n}", kind, site, fuel=fuel) for n, (kind, site, fuel) in enumerate(owned)
    )
    week = a_week(*asked, places=books, machines=machines, **who)
    fit = fit_week(week)
    # the rule of thumb asks nobody whether the crew has rested; the search does
    assert [b for b in broken_constraints(week, fit) if "has rested" not in b] == []
    placed = [stop.visit.uuid for night in fit.nights for stop in night.stops]
    listed = [unfitted.visit.uuid for unfitted in fit.unfitted]
    assert sorted(placed + listed) == sorted(visit.uuid for visit in asked)
    for unfitted in fit.unfitted:
        assert unfitted.why
        assert unfitted.mend
    assert fit_week(replace(week, visits=tuple(reversed(asked)))) == fit


@settings(max_examples=80, deadline=None)
@given(visits(), places(), people(), MACHINES)
def test_no_searched_week_breaks_a_constraint_or_loses_a_line(asked, books, who, owned):
    machines = tuple(
        a_machine(f"M-{n}", kind, site, fuel=fuel) for n, (kind, site, fuel) in enumerate(owned)
    )
    week = a_week(*asked, places=books, machines=machines, **who)
    fit = assign_week(week, SHORT)
    assert broken_constraints(week, fit) == ()
    told = [stop.visit for night in fit.nights for stop in night.stops]
    told += [unfitted.visit for unfitted in fit.unfitted]
    lines = sorted((v.uuid, line.zone, line.work) for v in told for line in v.lines)
    assert lines == sorted((v.uuid, line.zone, line.work) for v in asked for line in v.lines)
    for unfitted in fit.unfitted:
        assert unfitted.why
        assert unfitted.mend
        assert unfitted.nearest
        assert unfitted.cause is not None
    assert assign_week(replace(week, visits=tuple(reversed(asked))), SHORT) == fit


@settings(max_examples=40, deadline=None)
@given(visits(), places(), people())
def test_a_week_that_is_kept_comes_out_as_it_was(asked, books, who):
    week = a_week(*asked, places=books, **who)
    edit = week_edit(week, assign_week(week, SHORT), now=NOW)
    altered = {visit.uuid: visit for visit in edit.altered}
    kept = tuple(altered.pop(v.uuid, v) for v in week.visits)
    again = replace(week, visits=(*kept, *altered.values()), assigned=edit.assignments)
    fit = assign_week(again, SHORT)
    assert broken_constraints(again, fit) == ()
    lost = [c for c in week_edit(again, fit, now=NOW).changes if "left out" in c.kinds]
    assert lost == []


@settings(max_examples=60, deadline=None)
@given(visits(), people())
def test_one_more_crew_never_places_fewer_visits_of_a_branch_without_shifts(asked, who):
    branch = who["branch"]
    week = a_week(*asked, crews=(), workers=(), branch=branch, places=(a_place("WEST"),))
    more = replace(week, branch=replace(branch, crews=branch.crews + 1))
    assert len(fit_week(more).unfitted) <= len(fit_week(week).unfitted)
