from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest

from floorcare.errors import NotKnown
from floorcare.ground.crews.week import BranchWeek
from floorcare.ground.trade.crew import CrewMember
from floorcare.ground.trade.site import BranchSpan, Customer
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Agreement, VisitState
from floorcare.services import week_ground as service
from floorcare.services.fit_week import fit_week
from floorcare.services.week_ground import WeekAsked
from floorcare.store.installations import Installation
from floorcare.store.surfaces import load_cautions
from tests.builders import a_book, a_branch, routinely
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
)
from tests.store.sample import INSTALLATION, NOW, START, plan

DAY = timedelta(days=1)


@dataclass
class Kept:
    """A store that only gives out what a week is made from."""

    week: BranchWeek
    branches: tuple[Any, ...] = ()
    planned: bool = True
    asked: list[tuple[date, date]] = field(default_factory=list)
    blocks: int = 0

    @contextmanager
    def work(self) -> Iterator[Any]:
        self.blocks += 1
        kept, week = self, self.week

        class Block:
            def branches(self):
                return kept.branches or (week.branch,)

            def customers(self):
                return (Customer(code="MARKET", name="The Market Halls"),)

            def books(self):
                return tuple(week.books.values())

            def visits(self, *, first, last):
                kept.asked.append((first, last))
                return tuple(v for v in week.visits if first <= v.night <= last)

            def crews(self):
                return week.crews

            def workers(self):
                return week.workers

            def machines(self):
                return week.machines

            def legs(self):
                return week.travel.legs.values()

            def supplies(self):
                return ()

            def rates(self):
                return week.rates

            def assignments(self, first, last):
                return week.assigned

            def visit_versions(self, uuids):
                return dict.fromkeys(uuids, 1)

            def standing_plan(self):
                return plan() if kept.planned else None

            def installation(self):
                return Installation(uuid=INSTALLATION, domain="floors.example", made_at=NOW)

        yield Block()


def fitted(week: BranchWeek, **more: Any) -> Any:
    (one,) = fit_week(Kept(week), week.surfaces, load_cautions(), asked(**more))
    return one


def asked(**more: Any) -> WeekAsked:
    own = {"starts_on": MONDAY, "today": MONDAY - DAY, "who": "ida", "now": NOW, **more}
    return WeekAsked(**own)


def busy(sheet):
    return [night for night in sheet.nights if night.stops]


def test_the_timetable_has_every_crew_its_people_and_hours():
    sheet = fitted(a_week(a_visit(), a_visit("SOUTH"))).sheet
    assert (sheet.branch, sheet.branch_code, sheet.placed) == ("East", "EAST", 2)
    assert sheet.crews == (("A", "A crew"), ("B", "B crew"))
    (night,) = busy(sheet)
    assert (night.crew, night.on, night.workers) == ("A", TUESDAY, ("Ada Quill", "Ann Quill"))
    assert (night.starts_minute, night.ends_minute) == (1290, 1440 + 330)
    assert (night.leaves_minute, night.home_minute) == (1309, 1440 + 182)
    assert [(s.site, s.starts_minute, s.ends_minute, s.travel_minutes) for s in night.stops] == [
        ("NORTH", 1320, 1440, 11),
        ("SOUTH", 1481, 1601, 11),
    ]
    assert len([n for n in sheet.nights if n.on == TUESDAY]) == 2
    # the break lies between the two, and the second waits for it
    assert (night.break_minute, night.break_minutes, night.overtime_minutes) == (1440, 30, 0)
    assert sheet.as_of == "the plan of 2 March 2026"


def test_nothing_is_written_and_one_block_is_read():
    week = a_week(a_visit())
    kept = Kept(week)
    fit_week(kept, week.surfaces, {}, asked())
    assert kept.blocks == 1
    # a day either side, for the crews that are out over midnight
    assert kept.asked == [(MONDAY - DAY, MONDAY + 7 * DAY)]


def test_twice_the_same_store_gives_the_same_week():
    week = a_week(a_visit(), a_visit("SOUTH"), a_visit(minutes=470, key="long"))
    assert fitted(week) == fitted(week)


def test_a_crews_list_has_its_visits_in_order_at_the_hours_it_comes():
    papers = fitted(a_week(a_visit(work=Work.RECOAT), a_visit("SOUTH"))).crews
    assert [(one.crew, one.name) for one in papers] == [("A", "A crew")]
    lists = papers[0].lists
    assert (lists.contractor, lists.branch) == ("East", "A crew (Ada Quill; Ann Quill)")
    assert [(s.site, s.starts_minute) for s in lists.sheets] == [("NORTH", 1320), ("SOUTH", 1481)]
    assert lists.sheets[0].zones[0].steps
    assert lists.sheets[0].customer == "The Market Halls"
    assert lists.sheets[0].zones[0].closes_minute > 1320


def test_people_who_are_not_in_the_crew_all_week_are_named_with_their_days():
    crew = a_crew("A", "ann")
    members = (
        CrewMember(worker="ann", from_on=START),
        CrewMember(worker="ada", from_on=START, to_on=MONDAY),
        CrewMember(worker="bob", from_on=TUESDAY),
    )
    week = a_week(
        a_visit(night=MONDAY), a_visit(night=TUESDAY), crews=(replace(crew, members=members),)
    )
    (papers,) = fitted(week).crews
    assert papers.lists.branch == "A crew (Ada Quill Mo; Ann Quill; Bob Quill Tu)"


def test_a_crews_calendar_has_its_own_hours_the_visits_id_and_what_to_take():
    machines = (a_machine("BU-1"), a_machine("SC-1", "scrubber"))
    visit = a_visit(
        "SOUTH", work=Work.RECOAT, starts_minute=1350, sequence=3, changed_at=NOW, minutes=200
    )
    site = a_place("SOUTH", address="4 Tanner Row", access_note="ring twice")
    week = a_week(a_visit(), visit, places=(site,), machines=machines)
    (papers,) = fitted(replace(week, crews=week.crews[:1])).crews
    calendar = papers.calendar
    assert (calendar.domain, calendar.revision) == ("floors.example", 5)
    assert calendar.revised_at == NOW
    first, second = sorted(calendar.events, key=lambda event: event.uid != a_visit().uuid)
    assert second.uid == visit.uuid
    assert second.sequence == 3
    assert second.starts_at == datetime(2026, 3, 4, 3, 0, tzinfo=UTC)
    assert second.ends_at == second.starts_at + timedelta(minutes=200)
    assert second.location == "South, 4 Tanner Row"
    text = " ".join(second.description)
    assert text.startswith("Set out by 21:39, 21 min drive. Machines: ")
    for part in ("scrubber SC-1", "Pads and tools: ", "Access: ring twice", "State: proposed"):
        assert part in text
    assert first.description == (
        "Set out by 01:50, 11 min drive.",
        "State: proposed, may still move.",
    )


def test_quantities_are_in_the_branchs_units():
    area = replace(a_visit(work=Work.RECOAT).lines[0], area_m2=400.0)
    visit = replace(a_visit(work=Work.RECOAT), lines=(area,))
    metric = " ".join(fitted(a_week(visit)).crews[0].calendar.events[0].description)
    us = a_branch(**BASE, units="US")
    gallons = " ".join(fitted(a_week(visit, branch=us)).crews[0].calendar.events[0].description)
    assert " L" in metric
    assert " gal" in gallons


def test_nobody_is_named_in_a_calendar():
    week = a_week(a_visit(), workers=tuple(a_worker(c) for c in ("ann", "ada", "bob", "bea")))
    told = repr(fitted(week).crews[0].calendar)
    assert "Quill" not in told


def test_an_hour_other_than_the_planned_one_is_kept_beside_it():
    visit = a_visit("SOUTH", agreement=Agreement.AGREED)
    week = a_week(a_visit(agreement=Agreement.AGREED), visit)
    stops = busy(fitted(replace(week, crews=week.crews[:1])).sheet)[0].stops
    assert [(s.planned_minute, s.stands) for s in stops] == [(1320, True), (1320, True)]
    assert sorted(s.starts_minute for s in stops) == [1320, 1481]


def test_with_crews_enough_every_agreed_visit_begins_when_its_calendar_says():
    visit = a_visit("SOUTH", agreement=Agreement.AGREED)
    sheet = fitted(a_week(a_visit(agreement=Agreement.AGREED), visit)).sheet
    assert [s.starts_minute for night in busy(sheet) for s in night.stops] == [1320, 1320]


def test_a_site_with_another_clock_has_its_own_hours_said():
    chicago = a_place()
    chicago = replace(chicago, site=replace(chicago.site, time_zone="America/Chicago"))
    ((stop,),) = [n.stops for n in busy(fitted(a_week(a_visit(), places=(chicago,))).sheet)]
    assert (stop.starts_minute, stop.site_clock) == (1380, "22:00 to 24:00")
    ((here,),) = [n.stops for n in busy(fitted(a_week(a_visit())).sheet)]
    assert here.site_clock == ""


def test_what_fits_no_crew_stands_in_the_sheet_and_not_in_a_list():
    week = fitted(a_week(a_visit(minutes=481)))
    (note,) = week.sheet.unfitted
    assert (note.site, note.site_name, note.night) == ("NORTH", "North", TUESDAY)
    assert note.works == ("reading round LANE",)
    assert note.why
    assert note.mend
    assert week.crews == ()
    assert week.sheet.placed == 0


def test_called_off_visits_and_those_of_other_branches_are_left_out():
    other = a_place("SOUTH")
    span = (BranchSpan(branch="WEST", from_on=START),)
    other = replace(other, site=replace(other.site, branches=span))
    week = a_week(a_visit(state=VisitState.CANCELLED), a_visit("SOUTH"), places=(other,))
    assert busy(fitted(week).sheet) == []


def test_the_nights_beside_the_week_are_neither_counted_nor_listed():
    outside = (a_visit(night=MONDAY - DAY), a_visit(night=MONDAY + 7 * DAY, minutes=481))
    sheet = fitted(a_week(*outside)).sheet
    assert (sheet.placed, sheet.unfitted) == (0, ())


def test_our_standing_rounds_are_named_since_no_crew_is():
    rounds = a_book(routines=(routinely(Work.BURNISH, "FREQ=WEEKLY;BYDAY=TU"),))
    none = a_place("SOUTH", zones=(a_book(routines=()),))
    week = a_week(a_visit(), places=(a_place(zones=(rounds,)), none))
    (note,) = fitted(week).sheet.notes
    assert note.startswith("Our standing rounds at NORTH run besides")
    unnamed = fitted(replace(week, crews=())).sheet.notes
    assert unnamed[0].startswith("No crew is entered for branch EAST")
    ended = replace(rounds, routines=(replace(rounds.routines[0], ends_on=MONDAY - DAY),))
    assert fitted(a_week(a_visit(), places=(a_place(zones=(ended,)), none))).sheet.notes == ()


def test_each_branch_has_its_week_and_an_unknown_one_is_refused():
    week = a_week(a_visit())
    kept = Kept(week, branches=(week.branch, a_branch(code="WEST", name="West")))
    args = (kept, week.surfaces, load_cautions())
    assert [w.sheet.branch for w in fit_week(*args, asked())] == ["East", "West"]
    (west,) = fit_week(*args, asked(branch="WEST"))
    assert west.sheet.placed == 0
    with pytest.raises(NotKnown, match='no branch "NORTH"; there are EAST, WEST'):
        fit_week(*args, asked(branch="NORTH"))


def test_before_any_plan_the_week_says_so():
    week = a_week()
    (one,) = fit_week(Kept(week, planned=False), week.surfaces, {}, asked())
    assert one.sheet.as_of == "no plan yet"


def test_an_answer_that_breaks_a_constraint_is_never_shown(monkeypatch):
    monkeypatch.setattr(service, "broken_constraints", lambda week, fit: ("two visits at once",))
    with pytest.raises(RuntimeError, match="two visits at once"):
        fitted(a_week(a_visit()))
