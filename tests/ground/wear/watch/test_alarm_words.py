from dataclasses import replace
from datetime import date

import pytest

from floorcare.ground.wear.watch.alarm import Alarm, AlarmKind
from floorcare.ground.wear.watch.alarm_words import counts_said, said

FASTER = Alarm(
    kind=AlarmKind.TRAFFIC,
    zones=("MILL/LANE",),
    since=date(2026, 5, 1),
    expected=47.2,
    seen=42.9,
    errors=-3.6,
    strength=4.4,
)


def test_a_zone_that_wears_faster_is_said_with_both_figures_and_a_question():
    alarm = said(FASTER, counted=False)
    assert alarm.says == (
        "MILL/LANE wears faster than its rates say since about 2026-05-01: 43 GU where 47 was to be"
        " expected, 3.6 errors below."
    )
    assert alarm.asks.startswith("Is it walked more")
    assert "count its footfall" in alarm.mend
    assert "look at its counter" in said(FASTER, counted=True).mend


def test_a_treatment_that_did_not_hold_names_its_night_and_who_did_it():
    alarm = said(
        replace(FASTER, kind=AlarmKind.TREATMENT, work="recoat", done_by="crew 2, visit 018f")
    )
    assert "its recoat of 2026-05-01 by crew 2, visit 018f had done little" in alarm.says
    assert "Ask the crew" in alarm.mend


def test_a_routine_burnish_that_fails_is_asked_about_as_a_round():
    alarm = said(replace(FASTER, kind=AlarmKind.TREATMENT, work="burnish"))
    assert "did only part of its work since about 2026-05-01" in alarm.says
    assert "Go with the round once" in alarm.mend


@pytest.mark.parametrize(
    ("against", "asks"), [(("GM-2",), "Is it GM-2 that is off"), ((), "Is the meter right")]
)
def test_a_meter_is_said_with_its_zones_and_what_it_was_compared_with(against, asks):
    zones = tuple(f"MILL/Z{n}" for n in range(5))
    alarm = said(
        replace(
            FASTER,
            kind=AlarmKind.INSTRUMENT,
            instrument="GM-1",
            against=against,
            zones=zones,
            strength=5.1,
        ),
        grows=True,
    )
    assert "Meter GM-1 reads more and more low" in alarm.says
    assert "on average 4.3 GU (5.1 errors), in 5 zones: MILL/Z0, MILL/Z1, MILL/Z2 and 2 more." in (
        alarm.says
    )
    assert alarm.asks.startswith(asks)


def test_counts_are_said_as_times_as_much():
    counts = replace(
        FASTER, expected=1000.0, seen=1500.0, errors=None, strength=1.5, unit="passes a day"
    )
    alarm = counts_said(counts, a_year_ago=True)
    assert "walked 1.5 times as much as a year before" in alarm.says
    assert "1,500 weighted passes a day where 1,000 were counted" in alarm.says
    assert str(alarm) == f"{alarm.says} {alarm.asks} {alarm.mend}"
