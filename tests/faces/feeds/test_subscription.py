import dataclasses
from datetime import UTC, date, datetime, timedelta

import pytest

from floorcare.faces.feeds.subscription import (
    LARGEST_BYTES,
    copy_name,
    held,
    in_window,
    size_finding,
)
from floorcare.services.sheets import CalendarEvent

TODAY = date(2026, 3, 2)
EVENT = CalendarEvent(
    uid="a", night=TODAY, sequence=0, changed_at=datetime(2026, 1, 1, tzinfo=UTC), summary="x"
)


@pytest.mark.parametrize(
    ("days", "held", "called_off"),
    [
        (-181, False, False),
        (-180, True, False),
        (-8, True, False),
        (-7, True, True),
        (0, True, True),
        (180, True, True),
        (181, False, False),
    ],
)
def test_pitfalls_4_and_12_past_visits_stay_and_called_off_ones_a_week(days, held, called_off):
    event = dataclasses.replace(EVENT, night=TODAY + timedelta(days=days))
    assert in_window(event, TODAY) is held
    assert in_window(dataclasses.replace(event, cancelled=True), TODAY) is called_off


def test_a_visit_of_several_days_counts_to_its_last():
    start = TODAY - timedelta(days=183)
    event = dataclasses.replace(EVENT, night=start, last_day=start + timedelta(days=3))
    assert in_window(event, TODAY)


@pytest.mark.parametrize(
    ("scope", "name"),
    [
        ("NORTH-1", "NORTH-1-copy-2026-03-02.ics"),
        ("../etc/x", "etc-x-copy-2026-03-02.ics"),
        ("…", "calendar-copy-2026-03-02.ics"),
    ],
)
def test_pitfall_23_a_copy_says_that_it_is_one(scope, name):
    assert copy_name(scope, TODAY) == name


def test_pitfall_13_a_calendar_too_large_is_asked_about():
    assert size_finding("north", b"x" * LARGEST_BYTES) is None
    finding = size_finding("north", b"x" * (LARGEST_BYTES + 1))
    assert finding.weight == "asks"
    assert "700,001 bytes" in str(finding)


def shown(today=TODAY, *, switched_on=True, **changes):
    """Whether a calendar of that day shows the visit; proposed ones may be switched on."""
    event = dataclasses.replace(EVENT, **changes)
    return held((event,), today, proposed=switched_on) == (event,)


@pytest.mark.parametrize(("days", "near"), [(0, True), (56, True), (57, False), (179, False)])
def test_a_visit_that_is_only_proposedis_shown_within_eight_weeks(days, near):
    night = TODAY + timedelta(days=days)
    assert shown(night=night, proposed=True) is near
    assert not shown(night=night, proposed=True, switched_on=False)


@pytest.mark.parametrize("switched_on", [True, False])
@pytest.mark.parametrize("days", [0, 57, 180])
def test_what_is_held_agreed_or_asked_is_shown_as_far_as_the_calendar_reaches(days, switched_on):
    night = TODAY + timedelta(days=days)
    assert shown(night=night, switched_on=switched_on)
    assert shown(night=night, switched_on=switched_on, proposed=True, asked=True)
    assert not shown(night=TODAY + timedelta(days=181), switched_on=switched_on)


def test_a_called_off_visit_is_shown_where_it_could_be_seen_before():
    called_off = {"cancelled": True, "proposed": True, "night": TODAY + timedelta(days=40)}
    at = datetime(2026, 3, 1, 9, 0, tzinfo=UTC)
    assert shown(changed_at=at, **called_off)
    assert not shown(changed_at=at, switched_on=False, **called_off), (
        "proposed ones were never shown"
    )
    assert shown(changed_at=at, today=TODAY + timedelta(days=47), **called_off)
    assert not shown(changed_at=at, today=TODAY + timedelta(days=48), **called_off)


def test_nobody_is_told_of_the_end_of_a_visit_that_nobody_was_shown():
    night = TODAY + timedelta(days=100)
    early = {"changed_at": datetime(2026, 3, 1, tzinfo=UTC), "night": night, "cancelled": True}
    assert not shown(proposed=True, **early)
    assert not shown(proposed=True, today=night - timedelta(days=10), **early), "nor later"
    assert shown(**early), "what had been held or agreed was shown all along"
    late = early | {"changed_at": datetime(2026, 5, 1, tzinfo=UTC)}
    assert shown(proposed=True, today=night - timedelta(days=10), **late)


def test_the_order_of_the_visits_is_kept():
    events = [
        dataclasses.replace(EVENT, uid=uid, night=TODAY + timedelta(days=days))
        for uid, days in (("b", 3), ("gone", -300), ("a", 1))
    ]
    assert [e.uid for e in held(events, TODAY, proposed=True)] == ["b", "a"]
