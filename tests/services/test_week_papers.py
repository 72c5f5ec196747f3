"""A fitted week as papers: what changed, parts, moved nights, breaks and load-outs are said."""

from dataclasses import replace
from datetime import timedelta

from floorcare.ground.crews.assign import assign_week
from floorcare.ground.crews.week_change import week_edit
from floorcare.services.week_papers import Desk, week_papers
from floorcare.store.surfaces import load_cautions
from tests.ground.crews.weeks import TUESDAY, a_crew, a_visit, a_week, a_worker
from tests.store.sample import NOW

DAY = timedelta(days=1)


def papers(week):
    fit = assign_week(week)
    edit = week_edit(week, fit, now=NOW)
    desk = Desk(
        week=week,
        fit=fit,
        nights=fit.shown(week),
        customers={},
        cautions=load_cautions(),
        domain="floors.example",
        as_of="no plan yet",
        changes=edit.changes,
    )
    return week_papers(desk)


def full_nights():
    """Two long visits for one night of the only crew; one may wait a night."""
    first = a_visit(minutes=300)
    second = a_visit("SOUTH", minutes=300, latest=TUESDAY + 2 * DAY)
    return a_week(first, second, crews=(a_crew("A", "ann", "ada"),))


def test_a_visit_on_another_night_than_planned_says_so():
    stops = [stop for night in papers(full_nights()).sheet.nights for stop in night.stops]
    assert [(s.site, s.moved_from) for s in stops] == [("NORTH", None), ("SOUTH", TUESDAY)]


def test_every_change_is_told_before_and_after():
    (first, second) = papers(full_nights()).sheet.changes
    assert (first.site, first.kinds, first.before) == ("NORTH", ("placed",), "no crew")
    assert first.after == "A, Tue 3 March 22:00"
    assert second.after.startswith("A, Wed 4 March")


def test_parts_of_a_visit_are_named():
    from tests.builders import a_book, a_due, a_line
    from tests.ground.crews.weeks import a_place

    zones = tuple(a_book(code) for code in ("EDGE", "LANE"))
    due = a_due(earliest=TUESDAY, target=TUESDAY, latest=TUESDAY)
    lines = tuple(replace(a_line(due), zone=z, minutes=120) for z in ("EDGE", "LANE"))
    visit = replace(a_visit(people=4), lines=lines)
    sheet = papers(a_week(visit, places=(a_place(zones=zones),))).sheet
    assert {s.part for night in sheet.nights for s in night.stops} == {"crew 1 of 2", "crew 2 of 2"}


def test_each_crew_and_the_branch_have_their_load_out():
    made = papers(full_nights())
    assert [night.on for night in made.crews[0].load_out.nights] == [TUESDAY, TUESDAY + DAY]
    assert made.load_out is not None
    assert made.load_out.week is not None
    assert len(made.load_out.nights) == 2


def test_what_no_crew_can_take_says_its_cause_and_the_nearest_change():
    (note,) = papers(a_week(a_visit(minutes=470))).sheet.unfitted
    assert note.cause
    assert note.nearest


def test_a_crews_languages_are_those_its_workers_read_first():
    workers = (a_worker("ann", languages=("de-AT", "en")), a_worker("ada", languages=("pl",)))
    week = a_week(a_visit(), workers=workers, crews=(a_crew("A", "ann", "ada"),))
    assert papers(week).crews[0].languages == ("de", "pl")
    assert papers(a_week(a_visit())).crews[0].languages == ()
