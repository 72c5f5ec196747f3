from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from floorcare.errors import NotKnown
from floorcare.ground.trade.assignment import Assignment
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Agreement, ChangeKind, Commitment, VisitState
from floorcare.ground.worktime.shut import ShutDay
from floorcare.services.load_care import load_care
from floorcare.services.plan_year import plan_year
from floorcare.services.publish_calendars import (
    BEFORE_ANY_PLAN,
    CLOCKS_CHANGE,
    calendar_sheet,
    publish_calendars,
)
from tests.services.conftest import TODAY, care
from tests.services.watched import WatchedStore
from tests.store.sample import LATER, NOW, due, site_book, visit

NIGHT = date(2026, 3, 12)


def sheet_of(*visits, surfaces, book=None):
    return calendar_sheet(book or site_book("NORTH"), visits, surfaces, domain="floors.example")


def event_of(one, surfaces, book=None):
    (event,) = sheet_of(one, surfaces=surfaces, book=book).events
    return event


def test_there_is_a_calendar_for_each_site_or_for_those_asked_for(planned, surfaces):
    sheets = publish_calendars(planned, surfaces)
    assert [code for code, _ in sheets] == ["NORTH", "SOUTH"]
    assert publish_calendars(planned, surfaces, sites=["SOUTH"]) == sheets[1:]
    names = {code: sheet.name for code, sheet in sheets}
    assert names["NORTH"] == "Floor care, North hall"
    with planned.work() as work:
        assert {sheet.domain for _, sheet in sheets} == {work.installation().domain}
        uuids = {v.uuid for v in work.visits()}
    assert {event.uid for _, sheet in sheets for event in sheet.events} == uuids


def test_a_site_that_is_not_kept_is_named(planned, surfaces):
    with pytest.raises(NotKnown, match=r"There is no site NOWHERE\."):
        publish_calendars(planned, surfaces, sites=["NORTH", "NOWHERE"])


def test_a_visit_is_told_with_its_instants_place_reason_and_closing(surfaces):
    book = site_book("NORTH")
    site = replace(book.site, address="12 Quay Street", latitude=52.5, longitude=13.4)
    event = event_of(visit("NORTH", NIGHT), surfaces, replace(book, site=site))
    # 22:00 in Berlin in winter is 21:00 UTC
    assert event.starts_at == datetime(2026, 3, 12, 21, 0, tzinfo=UTC)
    assert event.ends_at == event.starts_at + timedelta(minutes=150)
    assert event.summary == "Floor care, proposed: Hall, lane"
    assert event.location == "North hall, 12 Quay Street"
    assert (event.latitude, event.longitude) == (52.5, 13.4)
    assert event.categories == ("recoat",)
    proposed, first, closing, *_ = event.description
    assert proposed.startswith("Proposed, not yet agreed")
    assert first == due().reason.customer
    assert closing.startswith("Hall, lane (recoat): closed 22:15 to Fri 0")
    assert (event.sequence, event.changed_at) == (0, NOW)


def test_the_customer_is_not_told_that_a_breach_is_expected(planned, surfaces):
    for _, sheet in publish_calendars(planned, surfaces):
        for event in sheet.events:
            text = " ".join((event.summary, *event.description))
            assert "GU" not in text
            assert "promise" not in text
            assert "%" not in text.replace("% of it", "")


@pytest.mark.parametrize(
    ("zone", "night", "hour_utc"),
    [
        ("Europe/Berlin", date(2026, 3, 12), 21),
        ("Europe/Berlin", date(2026, 7, 9), 20),
        ("America/Chicago", date(2026, 7, 9), 27),
        ("Pacific/Auckland", date(2026, 7, 9), 10),
    ],
)
def test_a_night_starts_by_the_sites_own_clock_summer_and_winter(zone, night, hour_utc, surfaces):
    book = site_book("NORTH")
    book = replace(book, site=replace(book.site, time_zone=zone))
    event = event_of(replace(visit("NORTH", NIGHT), night=night), surfaces, book)
    assert event.night == night
    assert event.starts_at == datetime(night.year, night.month, night.day, tzinfo=UTC) + timedelta(
        hours=hour_utc
    )


def test_lines_of_one_zone_are_one_closing_and_one_reason_is_told_once(surfaces):
    dues = [replace(due(target=NIGHT), work=w) for w in (Work.BURNISH, Work.READING_ROUND)]
    event = event_of(visit("NORTH", NIGHT, *dues), surfaces)
    assert sum("closed" in line for line in event.description) == 1
    assert sum(line == due().reason.customer for line in event.description) == 1
    assert event.categories == ("burnish", "reading round")
    assert any("(burnish, reading round)" in line for line in event.description)


def test_many_areas_are_counted_in_the_title_and_all_told_below(surfaces):
    zones = ("A", "B", "C", "D", "E", "F", "G", "H")
    dues = [due(zone=zone, target=NIGHT) for zone in zones]
    event = event_of(visit("NORTH", NIGHT, *dues), surfaces, site_book("NORTH", zones=zones))
    assert event.summary == (
        "Floor care, proposed: Hall, a; Hall, b; Hall, c; Hall, d; Hall, e; Hall, f and 2 more"
    )
    assert sum("closed" in line for line in event.description) == 8


@pytest.mark.parametrize(
    ("changes", "proposed", "asked", "cancelled"),
    [
        ({}, True, False, False),
        ({"agreement": Agreement.ASKED}, True, True, False),
        ({"agreement": Agreement.AGREED}, False, False, False),
        ({"state": VisitState.HELD}, False, False, False),
        ({"state": VisitState.DONE}, False, False, False),
        ({"state": VisitState.CANCELLED}, True, False, True),
        ({"state": VisitState.CANCELLED, "agreement": Agreement.AGREED}, False, False, True),
        ({"state": VisitState.CANCELLED, "commitment": Commitment.NIGHT}, False, False, True),
    ],
)
def test_what_a_subscriber_may_be_shown_follows_from_where_the_visit_stands(
    changes, proposed, asked, cancelled, surfaces
):
    event = event_of(replace(visit("NORTH", NIGHT), **changes), surfaces)
    assert (event.proposed, event.asked, event.cancelled) == (proposed, asked, cancelled)


def test_before_any_plan_a_calendar_is_empty_and_stamped_alike(loaded, surfaces):
    for _, sheet in publish_calendars(loaded, surfaces):
        assert (sheet.events, sheet.revision) == ((), 0)
        assert (sheet.revised_at, sheet.as_of) == (BEFORE_ANY_PLAN, BEFORE_ANY_PLAN.date())


def test_the_revision_rises_with_every_change_and_with_nothing_else(planned, surfaces):
    before = dict(publish_calendars(planned, surfaces))
    assert dict(publish_calendars(planned, surfaces)) == before
    brought = care()
    north, south = brought.books
    with planned.work() as work:
        night = next(v.night for v in work.visits(first=TODAY) if v.site == "SOUTH")
    shut = (*south.site.shut_days, ShutDay(from_on=night, to_on=night, why="inventory"))
    south = replace(south, site=replace(south.site, shut_days=shut))
    load_care(planned, replace(brought, books=(north, south)), who="office", now=LATER)
    assert dict(publish_calendars(planned, surfaces)) == before, "nothing is planned anew yet"
    account = plan_year(planned, surfaces, today=TODAY, now=LATER, who="planner")
    after = dict(publish_calendars(planned, surfaces))
    moved = [c for c in account.changes if c.site == "SOUTH" and c.kind is ChangeKind.MOVED]
    assert night in {c.night_before for c in moved}
    assert after["SOUTH"].revision >= before["SOUTH"].revision + len(moved)
    assert (after["SOUTH"].revised_at, after["SOUTH"].as_of) == (LATER, LATER.date())
    was = {e.uid: e for e in before["SOUTH"].events}
    for event in after["SOUTH"].events:
        if event.uid in {c.visit for c in moved}:
            assert event.sequence == was[event.uid].sequence + 1
            assert event.changed_at == LATER


def test_the_revision_counts_a_called_off_visit_as_a_change(surfaces):
    stands = visit("NORTH", NIGHT)
    gone = replace(stands, state=VisitState.CANCELLED, sequence=1, changed_at=LATER)
    before = sheet_of(stands, surfaces=surfaces)
    after = sheet_of(gone, surfaces=surfaces)
    assert after.revision == before.revision + 1
    assert (before.revised_at, after.revised_at) == (NOW, LATER)


def test_it_reads_one_moment_and_writes_nothing(planned, surfaces):
    watched = WatchedStore(planned)
    publish_calendars(watched, surfaces)
    assert (watched.blocks, watched.commits) == ([False], 0)


def closed_said(one, surfaces, **more):
    book = site_book("NORTH")
    (event,) = calendar_sheet(book, [one], surfaces, domain="floors.example", **more).events
    return event, next(line for line in event.description if ": closed " in line)


def test_a_visit_moved_to_another_hour_tells_other_closings(surfaces):
    _, at_ten = closed_said(visit("NORTH", NIGHT), surfaces)
    _, at_one = closed_said(replace(visit("NORTH", NIGHT), starts_minute=1500), surfaces)
    assert "closed 22:15 to Fri 00:20" in at_ten
    assert "closed Fri 01:15 to Fri 03:20" in at_one


@pytest.mark.parametrize(
    ("night", "said", "before", "after"),
    [
        # Berlin: 2:00 becomes 3:00 on 29 March 2026, 3:00 becomes 2:00 on 25 October 2026
        (date(2026, 3, 28), "closed Sun 01:15 CET to Sun 04:20 CEST", "CET", "CEST"),
        (date(2026, 10, 24), "closed Sun 01:15 CEST to Sun 02:20 CET", "CEST", "CET"),
    ],
)
def test_on_the_nights_the_clocks_change_each_time_says_which_it_is(
    night, said, before, after, surfaces
):
    one = replace(visit("NORTH", night), starts_minute=1500)
    event, closed = closed_said(one, surfaces)
    assert said in closed
    assert CLOCKS_CHANGE.format(before, after) in event.description
    assert event.ends_at - event.starts_at == timedelta(minutes=150)


def test_the_hour_at_which_a_crew_comes_outranks_the_plans(surfaces):
    one = visit("NORTH", NIGHT)
    starts_at = datetime(2026, 3, 12, 23, 0, tzinfo=UTC)
    crew = Assignment(
        visit=one.uuid,
        crew="N-1",
        on=NIGHT,
        starts_at=starts_at,
        ends_at=starts_at + timedelta(minutes=150),
    )
    event, closed = closed_said(one, surfaces, assignments=[crew])
    assert event.starts_at == starts_at
    assert "closed Fri 00:15 to Fri 02:20" in closed
