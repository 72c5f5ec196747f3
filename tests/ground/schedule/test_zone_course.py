from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from floorcare.ground.rules.wear_dues import forecast
from floorcare.ground.schedule.course import CourseTick, ZoneCourse
from floorcare.ground.schedule.outlook import zone_outlooks
from floorcare.ground.schedule.zone_course import (
    AHEAD_DAYS,
    PAST_DAYS,
    floors_today,
    zone_courses,
)
from floorcare.ground.trade.book import DateKnown, TreatmentDone
from floorcare.ground.trade.reading import SurfaceState
from floorcare.ground.trade.routine import Proof
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Visit, VisitLine
from floorcare.ground.wear.fleet import Fleet, fit_fleet
from tests.builders import (
    DAY,
    TODAY,
    a_book,
    a_case,
    a_due,
    look_promised,
    polished,
    read_down,
    routinely,
)


def fleet_of(*cases) -> Fleet:
    return fit_fleet([(c.site, c.book) for c in cases], polished(), TODAY, draws=64)


def courses(*cases, visits=()) -> tuple[ZoneCourse, ...]:
    fleet = fleet_of(*cases)
    return zone_courses(fleet, cases, forecast(fleet, cases, 200), visits)


def course(book=None, *, visits=()) -> ZoneCourse:
    (one,) = courses(a_case(book), visits=visits)
    return one


def a_visit(on: date, work: Work = Work.RECOAT, area_m2: float | None = 400.0) -> Visit:
    due = a_due(work, target=on, area_m2=area_m2)
    line = VisitLine(zone="LANE", work=work, minutes=60, area_m2=area_m2, due=due)
    return Visit(
        uuid=f"visit-{on}",
        site="NORTH",
        night=on,
        starts_minute=1320,
        minutes=90,
        people=2,
        lines=(line,),
    )


def test_a_course_looks_a_year_back_and_half_a_year_ahead() -> None:
    one = course()
    assert (one.site, one.zone, one.today) == ("NORTH", "LANE", TODAY)
    assert one.first_on == TODAY - PAST_DAYS * DAY
    assert one.last_on == TODAY + AHEAD_DAYS * DAY
    assert len(one.median_gu) == AHEAD_DAYS + 1
    assert one.past_from + (len(one.past_gu) - 1) * DAY == TODAY


def test_it_starts_where_the_outlook_stands_with_the_same_band() -> None:
    case = a_case()
    fleet = fleet_of(case)
    ahead = forecast(fleet, [case], 200)
    (outlook,) = zone_outlooks(fleet, [case], ahead)
    (one,) = zone_courses(fleet, [case], ahead, ())
    (floor,) = floors_today(fleet, ahead)
    widest = one.bands[-1]
    assert widest.level == 0.9
    assert one.median_gu[0] == pytest.approx(outlook.gloss_gu)
    assert (widest.low_gu[0], widest.high_gu[0]) == pytest.approx((outlook.low_gu, outlook.high_gu))
    assert floor.bands[-1] == pytest.approx((0.9, outlook.low_gu, outlook.high_gu))
    assert one.past_gu[-1] == pytest.approx(one.median_gu[0], rel=0.02)


def test_the_narrower_band_lies_inside_the_wider_on_every_day() -> None:
    narrow, middle, wide = course().bands
    assert [b.level for b in (narrow, middle, wide)] == [0.5, 0.8, 0.9]
    for inner, outer in ((narrow, middle), (middle, wide)):
        assert (np.array(inner.low_gu) >= np.array(outer.low_gu)).all()
        assert (np.array(inner.high_gu) <= np.array(outer.high_gu)).all()


def test_a_planned_recoat_lifts_the_forecast_from_its_night_on() -> None:
    on = TODAY + 30 * DAY
    without, recoated = course(), course(visits=(a_visit(on),))
    assert recoated.median_gu[29] == pytest.approx(without.median_gu[29])
    assert recoated.median_gu[30] > without.median_gu[30] + 1
    assert CourseTick(on=on, work=Work.RECOAT, planned=True) in recoated.ticks


def test_parts_lift_it_only_when_together_they_treat_the_whole() -> None:
    first, second = TODAY + 20 * DAY, TODAY + 21 * DAY
    parts = (a_visit(first, area_m2=200.0), a_visit(second, area_m2=200.0))
    half, whole = course(visits=parts[:1]), course(visits=parts)
    assert half.median_gu == course().median_gu
    assert whole.median_gu[20] == pytest.approx(half.median_gu[20])
    assert whole.median_gu[21] > half.median_gu[21] + 1
    assert [(t.on, t.completes) for t in whole.ticks] == [(first, False), (second, True)]


def test_what_stands_for_tonight_counts_once() -> None:
    tonight = TreatmentDone(work=Work.RECOAT, done_on=TODAY, share=0.5, visit=f"visit-{TODAY}")
    book = a_book(done=(tonight,))
    one = course(book, visits=(a_visit(TODAY, area_m2=200.0),))
    assert [t.completes for t in one.ticks] == [False], "half of it twice is not the whole"
    assert one.ticks[0].planned


def test_readings_stand_with_their_state_and_the_one_that_fits_nothing_is_gross() -> None:
    readings = read_down(50.0)
    last = readings[-1].taken_on
    wild = tuple(
        replace(r, value=21.0) if r.taken_on == readings[6].taken_on else r for r in readings
    )
    shown = course(a_book(readings=wild)).readings
    assert [r.on for r in shown] == sorted({r.taken_on for r in readings})
    assert [r.gross for r in shown].count(True) == 1
    assert next(r for r in shown if r.gross).gloss_gu == pytest.approx(21.0)
    assert (shown[-1].on, shown[-1].stations) == (last, 3)
    assert shown[-1].state is SurfaceState.AFTER_BURNISH


def test_work_done_stands_as_ticks_and_says_where_its_date_is_not_certain() -> None:
    done = (
        TreatmentDone(work=Work.RECOAT, done_on=TODAY - 500 * DAY),
        TreatmentDone(
            work=Work.REPOLISH, done_on=TODAY - 90 * DAY, known=DateKnown.ABOUT, about_days=20
        ),
        TreatmentDone(work=Work.BURNISH, done_on=TODAY - 9 * DAY),
    )
    assert course(a_book(done=done)).ticks == (
        CourseTick(on=TODAY - 90 * DAY, work=Work.REPOLISH, planned=False, about=True),
        CourseTick(on=TODAY - 9 * DAY, work=Work.BURNISH, planned=False),
    )


def test_only_routines_that_run_and_change_the_floor_are_rhythms() -> None:
    routines = (
        routinely(Work.CLEAN, "FREQ=DAILY"),
        routinely(Work.BURNISH, "FREQ=WEEKLY;BYDAY=TU,FR"),
        routinely(Work.FINE_BURNISH, "FREQ=WEEKLY", proof=Proof.KNOWN_MISSED),
        routinely(Work.RECOAT, "FREQ=WEEKLY;INTERVAL=26"),
    )
    (rhythm,) = course(a_book(routines=routines)).rhythms
    assert (rhythm.work, rhythm.every_days) == (Work.BURNISH, pytest.approx(3.5))


def test_the_promise_stands_with_its_term_and_the_state_it_refers_to() -> None:
    line = look_promised(60.0, reference_state=SurfaceState.AFTER_CLEANING)
    one = course(a_book(promises=(line,)))
    assert (one.promise_gu, one.reference_gu) == (pytest.approx(48.0), 60.0)
    assert (one.promised_from, one.promised_to) == (line.starts_on, line.ends_on)
    assert one.state is SurfaceState.AFTER_CLEANING
    none = course(a_book(promises=()))
    assert none.promise_gu is none.reference_gu is none.promised_from is none.promised_to is None


def test_a_floor_never_read_shows_its_work_and_no_figure() -> None:
    on = TODAY + 30 * DAY
    case = a_case(a_book(readings=()))
    fleet = fleet_of(case)
    ahead = forecast(fleet, [case], 200)
    (one,) = zone_courses(fleet, [case], ahead, (a_visit(on),))
    assert one.past_gu == one.median_gu == one.bands == one.readings == ()
    assert [t.on for t in one.ticks] == [on]
    (floor,) = floors_today(fleet, ahead)
    assert floor.haze is floor.film is floor.scratch is floor.haze_times is floor.wear_times is None
    assert floor.bands == ()


def test_a_floor_that_falls_faster_than_its_surface_usually_does_says_so() -> None:
    slow, fast = (
        a_case(a_book(readings=read_down(50.0, fall=0.1))),
        a_case(a_book(readings=read_down(50.0, fall=2.5)), site="EAST"),
    )
    fleet = fleet_of(slow, fast)
    gentle, harsh = floors_today(fleet, forecast(fleet, [slow, fast], 60))
    assert gentle.wear_times < harsh.wear_times
    assert harsh.wear_times > 1.0
    assert 0 <= harsh.haze <= 1
    assert 0 <= harsh.film <= 1
    assert harsh.scratch > 0


def test_a_zones_course_does_not_depend_on_its_neighbours() -> None:
    first, second = a_case(a_book()), a_case(a_book(readings=read_down(44.0)), site="EAST")
    (alone,), (beside, _) = courses(first), courses(first, second)
    assert beside.median_gu == pytest.approx(alone.median_gu)
    assert beside.past_gu == pytest.approx(alone.past_gu)
