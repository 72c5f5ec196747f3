"""Readings judged: what enters the estimate, what is kept aside, what a person is asked."""

from datetime import date

import numpy as np
import pytest

from floorcare.ground.trade.reading import Measure, Reading, SurfaceState
from floorcare.ground.wear.books.judged import (
    JudgedRounds,
    gross_findings,
    group_rounds,
    judge_rounds,
    main_geometry,
    reading_error,
)
from floorcare.ground.wear.estimate import estimate
from tests.ground.wear.fleets import LAW, make_fleet

CLEANED, BURNISHED, WET = (
    SurfaceState.AFTER_CLEANING,
    SurfaceState.AFTER_BURNISH,
    SurfaceState.WET,
)


def gloss(
    on: date, *values: float, state: SurfaceState = CLEANED, angle: int = 60, zone: str = "A"
) -> tuple[Reading, ...]:
    return tuple(
        Reading(
            zone=zone,
            station=str(place),
            taken_on=on,
            taken_minute=60,
            measure=Measure.GLOSS,
            geometry_deg=angle,
            value=value,
            state=state,
        )
        for place, value in enumerate(values)
    )


def judged(*rounds: tuple[Reading, ...], reset: tuple[date, ...] = ()) -> JudgedRounds:
    return judge_rounds(tuple(r for each in rounds for r in each), LAW, {"A": reset})


def problems(found: JudgedRounds) -> list[str]:
    assert all(finding.weight == "asks" for finding in found.findings)
    return [finding.problem for finding in found.findings]


MARCH, APRIL, MAY = date(2026, 3, 2), date(2026, 4, 2), date(2026, 5, 4)


def test_stations_of_a_round_become_their_trimmed_mean() -> None:
    (round_value,) = judged(gloss(MARCH, 52, 48, 50, 71, 47)).believed
    assert (round_value.value, round_value.stations) == (50.0, 5)


def test_rounds_stand_in_order_of_time_within_a_zone() -> None:
    found = judged(
        gloss(APRIL, 50), gloss(MARCH, 55, state=BURNISHED), gloss(MARCH, 50), gloss(MAY, 49)
    )
    assert [(r.on, r.state) for r in found.believed] == [
        (MARCH, CLEANED),
        (MARCH, BURNISHED),
        (APRIL, CLEANED),
        (MAY, CLEANED),
    ]


def test_only_the_most_common_geometry_enters_and_the_other_is_said_once() -> None:
    found = judged(
        gloss(MARCH, 50),
        gloss(APRIL, 49),
        gloss(APRIL, 21, angle=20),
        gloss(MAY, 20, angle=20),
        gloss(MAY, 48),
    )
    assert [r.geometry_deg for r in found.believed] == [60, 60, 60]
    assert [r.geometry_deg for r in found.aside] == [20, 20]
    assert problems(found) == [
        "zone A is read at 60°; its readings at 20° are kept but not used, first on 2026-04-02"
    ]
    assert main_geometry(group_rounds(gloss(MARCH, 5, angle=85) + gloss(MARCH, 5, angle=60))) == {
        "A": 60
    }


def test_a_wet_floor_and_a_zero_are_kept_but_not_used() -> None:
    found = judged(gloss(MARCH, 60, state=WET), gloss(APRIL, 0), gloss(MAY, 50))
    assert [r.on for r in found.believed] == [MAY]
    assert problems(found) == [
        "zone A was wet when it was read on 2026-03-02; the reading is kept but not used",
        "zone A has a gloss of zero on 2026-04-02; it is kept but not used",
    ]


@pytest.mark.parametrize(("value", "said"), [(70.0, 0), (70.1, 1), (10.0, 0), (9.9, 1)])
def test_sixty_degrees_outside_its_range_is_said_once_a_zone(value: float, said: int) -> None:
    found = judged(gloss(MARCH, value), gloss(APRIL, value))
    assert len(found.findings) == said
    if said:
        assert "outside the range of that angle 2 times, last on 2026-04-02" in problems(found)[0]
        assert found.findings[0].mend.startswith(f"read this zone at {20 if value > 70 else 85}°")


def test_a_rise_without_work_is_asked_about_and_kept() -> None:
    found = judged(gloss(MARCH, 40, 40, 40), gloss(APRIL, 52, 52, 52))
    assert len(found.believed) == 2
    assert problems(found) == [
        "zone A rose from 40.0 GU on 2026-03-02 to 52.0 GU on 2026-04-02 without a burnish, recoat"
        " or re-polish between"
    ]


def test_a_rise_within_three_reading_errors_is_not_asked_about() -> None:
    error = np.sqrt(2) * reading_error(LAW, 3)
    for factor, asked in ((2.9, 0), (3.1, 1)):
        high = 40 * float(np.exp(factor * error))
        assert len(judged(gloss(MARCH, 40, 40, 40), gloss(APRIL, high, high, high)).findings) == (
            asked
        )


@pytest.mark.parametrize(
    ("first", "then", "reset", "asked"),
    [
        (CLEANED, CLEANED, date(2026, 3, 20), 0),
        (CLEANED, CLEANED, MARCH, 0),
        (BURNISHED, CLEANED, MARCH, 1),
        (CLEANED, BURNISHED, APRIL, 0),
        (CLEANED, CLEANED, APRIL, 1),
        (CLEANED, CLEANED, MAY, 1),
    ],
)
def test_work_between_two_rounds_explains_a_rise(
    first: SurfaceState, then: SurfaceState, reset: date, asked: int
) -> None:
    found = judged(gloss(MARCH, 40, state=first), gloss(APRIL, 60, state=then), reset=(reset,))
    assert len(found.findings) == asked


def test_a_rise_belongs_to_one_zone() -> None:
    assert not judged(gloss(MARCH, 30), gloss(APRIL, 60, zone="B")).findings


def test_other_measures_are_grouped_and_kept_aside_without_remark() -> None:
    grade = Reading(
        zone="A",
        station="",
        taken_on=MARCH,
        taken_minute=0,
        measure=Measure.GRADE,
        value=4,
        state=CLEANED,
    )
    slip = Reading(
        zone="A",
        station="",
        taken_on=MARCH,
        taken_minute=0,
        measure=Measure.SLIP,
        value=0.5,
        state=CLEANED,
        method="wet DCOF",
    )
    found = judge_rounds((grade, slip), LAW, {})
    assert found.believed == ()
    assert [r.measure for r in found.aside] == [Measure.GRADE]
    assert found.findings == ()


def test_a_gross_reading_is_named_with_zone_date_and_value() -> None:
    columns = make_fleet(zones=2, days=300, ahead=1, seed=8, readings=9).columns
    wrong = columns.reading_ln.copy()
    wrong[12] += np.log(10)
    fit = estimate(
        type(columns)(
            **{name: getattr(columns, name) for name in columns.__slots__} | {"reading_ln": wrong}
        ),
        LAW,
    )
    found = gross_findings(fit, ("A", "B"), date(2026, 1, 1))
    day = date.fromordinal(date(2026, 1, 1).toordinal() + int(columns.reading_day[12]))
    mine = [f for f in found if f"zone B: the reading of {day} is" in f.problem]
    assert len(mine) == 1
    assert mine[0].value == f"{np.exp(wrong[12]):.1f} GU"
    assert mine[0].weight == "asks"
    assert len(found) == fit.gross.sum()
