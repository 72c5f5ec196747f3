import dataclasses
from datetime import UTC, date, datetime, timedelta

import pytest

from floorcare.faces.feeds.subscription import LARGEST_BYTES, copy_name, in_window, size_finding
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
