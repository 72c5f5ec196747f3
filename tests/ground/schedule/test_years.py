from dataclasses import replace
from datetime import date, timedelta

import pytest

from floorcare.ground.schedule.branch_year import LOOK_WEEKS, BranchYear, look_ahead, survey_branch
from floorcare.ground.schedule.years import year_of
from floorcare.ground.trade.equipment import Instrument
from floorcare.ground.trade.site import BranchSpan, TravelLeg
from floorcare.ground.trade.traffic import TrafficRow
from floorcare.ground.trade.visit import VisitState
from floorcare.ground.wear.books.meters import NO_METERS, Meters
from tests.builders import (
    DAY,
    TODAY,
    a_book,
    a_branch,
    a_site_book,
    look_promised,
    polished,
    read_down,
)
from tests.store.sample import visit
from tests.taught import NOISE, taught

SURFACES = {"polished_concrete": polished()}


def of_branch(*books, visits=(), pooled=None, **more) -> BranchYear:
    own = {"surfaces": SURFACES, "pooled": pooled or {}, "today": TODAY, **more}
    return year_of(a_branch(), books=books, visits=visits, **own)


def served_by(branch: str, code: str = "NORTH", **more):
    book = a_site_book(code, a_book("LANE", readings=read_down(50.0), **more))
    spans = (BranchSpan(branch=branch, from_on=TODAY - 400 * DAY),)
    return replace(book, site=replace(book.site, branches=spans))


def test_a_year_holds_the_sites_its_branch_serves_today():
    mine, other = served_by(a_branch().code), served_by("ELSEWHERE", "SOUTH")
    year = of_branch(mine, other)
    assert year.books == (mine,)
    assert year.branch == a_branch()
    assert (year.today, year.planned_to) == (TODAY, None)


def test_what_stands_is_of_these_sites_from_today_on_and_not_cancelled():
    yesterday, tonight, off, later = (
        replace(visit("NORTH"), night=TODAY + days * DAY) for days in (-1, 0, 3, 9)
    )
    called_off = replace(off, state=VisitState.CANCELLED)
    elsewhere = replace(visit("SOUTH"), night=later.night)
    visits = (yesterday, tonight, called_off, later, elsewhere)
    year = of_branch(served_by(a_branch().code), visits=visits)
    assert year.standing == (tonight, later)


def test_a_horizon_may_be_asked_for():
    book = served_by(a_branch().code)
    assert of_branch(book).last_on == TODAY + timedelta(weeks=LOOK_WEEKS)
    asked = of_branch(book, last_on=TODAY + 40 * DAY, planned_to=TODAY + 30 * DAY)
    assert (asked.last_on, asked.planned_to) == (TODAY + 40 * DAY, TODAY + 30 * DAY)


def test_pooled_values_reach_the_fit_and_every_forecast():
    book = served_by(a_branch().code, promises=(look_promised(),))
    year = of_branch(book, pooled={"polished_concrete": taught(), "terrazzo": taught()})
    ((fleet, _, ahead),) = look_ahead(year)
    assert fleet.fit.law.drift_sd == NOISE.drift_sd
    assert ahead.course.law == fleet.fit.law
    (learned,), (own,) = survey_branch(year), survey_branch(of_branch(book))
    assert learned.promise_gu == own.promise_gu
    assert (learned.low_gu, learned.high_gu) != (own.low_gu, own.high_gu)
    other = of_branch(book, pooled={"terrazzo": taught()})
    assert survey_branch(other) == (own,)


def test_meters_and_the_site_s_year_reach_every_zone_of_the_year():
    counts = tuple(
        TrafficRow(
            kind="foot",
            per_day=2000.0 if month == 12 else 1000.0,
            counted=True,
            from_on=date(2025, month, 1),
            to_on=date(2025, month, 28),
        )
        for month in range(1, 13)
    )
    book = served_by(a_branch().code, traffic=counts)
    book = replace(book, zones=(*book.zones, a_book("SIDE")))
    meters = Meters(instruments=(Instrument(code="M1", name="meter", measure="gloss"),))
    year = of_branch(book, meters=meters)
    assert year.meters == meters
    lane, side = (zone.by_month for zone in year.books[0].zones)
    assert lane == side
    assert side[11] == pytest.approx(2.0 * side[0])
    # what no calibration covers is asked about wherever the year is looked at
    asked = [f.problem for fleet, _, _ in look_ahead(year) for f in fleet.findings]
    assert any(problem.startswith("no calibration of meter M1 covers") for problem in asked)
    assert of_branch(book).meters == NO_METERS


def test_a_year_drives_by_its_own_branchs_typed_drives():
    mine = served_by(a_branch().code)
    leg = TravelLeg(branch=a_branch().code, leaves="", reaches="NORTH", minutes=50)
    other = replace(leg, branch="ELSEWHERE", minutes=5)
    assert of_branch(mine, legs=(other, leg)).round_trips() == {"NORTH": 100}
