from dataclasses import replace
from datetime import date, timedelta

import pytest

from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Agreement, Commitment, VisitState
from floorcare.services.sheets import ReadingPlace
from floorcare.services.visit_sheets import REOPENING, TESTED_REOPENING, visit_sheet, visits_of
from floorcare.store.surfaces import load_cautions
from tests.store.sample import due, portfolio, site_book, visit, with_zone

CAUTIONS = load_cautions()
EAST = portfolio().branches[0]
NIGHT = date(2026, 3, 12)


def lines_for(*works: Work, zones=("LANE",)):
    dues = [replace(due(target=NIGHT, zone=zone), work=work) for zone in zones for work in works]
    return visit("NORTH", NIGHT, *dues)


def sheet_of(one, surfaces, book=None):
    book = book or site_book("NORTH", zones=tuple({line.zone for line in one.lines}))
    return visit_sheet(one, book, EAST, {"MARKET": "The Market Halls"}, surfaces, CAUTIONS)


def test_a_crew_reads_where_when_and_how_to_get_in(surfaces):
    book = site_book("NORTH")
    site = replace(book.site, address="12 Quay Street", access_note="ring twice", notice_days=9)
    sheet = sheet_of(lines_for(Work.RECOAT), surfaces, replace(book, site=site))
    assert (sheet.site, sheet.site_name, sheet.branch) == ("NORTH", "North hall", "East")
    assert sheet.customer == "The Market Halls"
    assert (sheet.address, sheet.access_note) == ("12 Quay Street", "ring twice")
    assert sheet.access_window == "22:00 to 06:00, permits loud, wet"
    assert "9 days ahead" in sheet.notice
    assert sheet.reopening == REOPENING
    assert (sheet.night, sheet.starts_minute, sheet.people) == (NIGHT, 1320, 2)


@pytest.mark.parametrize(
    "works",
    [
        (Work.RECOAT,),
        (Work.BURNISH, Work.READING_ROUND),
        (Work.FINE_BURNISH,),
        (Work.REPOLISH,),
        (Work.READING_ROUND,),
    ],
)
def test_a_zone_closes_before_its_work_and_reopens_after_it(works, surfaces):
    one = lines_for(*works, zones=("EDGE", "LANE"))
    sheet = sheet_of(one, surfaces)
    assert len(sheet.zones) == 2 * len(works)
    for line in sheet.zones:
        assert sheet.starts_minute <= line.closes_minute < line.starts_minute
        assert line.starts_minute < line.ends_minute <= line.reopens_minute
        assert line.reopens_minute < sheet.ends_minute
    assert [z.starts_minute for z in sheet.zones] == sorted(z.starts_minute for z in sheet.zones)


def test_a_treatment_brings_its_steps_machines_tools_and_products(surfaces):
    (line,) = sheet_of(lines_for(Work.RECOAT), surfaces).zones
    method = surfaces["polished_concrete"].rung(Work.RECOAT)
    assert [step.name for step in line.steps] == [step.name for step in method.steps]
    assert any(step.machine for step in line.steps)
    assert any(step.product == "protector" for step in line.steps)
    assert any(step.wait_minutes for step in line.steps)
    assert sum(step.minutes for step in line.steps) > 0
    (protector,) = [q for q in line.quantities if q.product == "protector"]
    assert protector.litres > 0
    assert (line.area_m2, line.zone_name, line.area_name) == (420.5, "Hall, lane", "Hall")
    assert line.reason_inside == due().reason.inside


def test_without_an_area_no_minutes_of_a_step_are_claimed(surfaces):
    one = lines_for(Work.RECOAT)
    one = replace(one, lines=tuple(replace(line, area_m2=None) for line in one.lines))
    (line,) = sheet_of(one, surfaces).zones
    assert {step.minutes for step in line.steps} == {0}
    assert line.person_minutes == 240


def test_a_reading_round_lists_its_stations_and_needs_no_product(surfaces):
    sheet = sheet_of(lines_for(Work.READING_ROUND), surfaces)
    assert sheet.reading_places == (
        ReadingPlace(zone="NORTH/LANE", station="P1"),
        ReadingPlace(zone="NORTH/LANE", station="P2"),
    )
    (line,) = sheet.zones
    assert (line.steps, line.quantities) == ((), ())
    assert sheet_of(lines_for(Work.RECOAT), surfaces).reading_places == ()


def test_a_zone_without_stations_is_read_as_a_whole(surfaces):
    book = with_zone(site_book("NORTH"), stations=())
    sheet = sheet_of(lines_for(Work.READING_ROUND), surfaces, book)
    assert sheet.reading_places == (ReadingPlace(zone="NORTH/LANE", station=""),)


def test_the_cautions_of_what_is_done_stand_on_the_list(surfaces):
    wet = sheet_of(lines_for(Work.RECOAT), surfaces).cautions
    assert {CAUTIONS["wet_floor"], CAUTIONS["chemicals"]} <= set(wet)
    dusty = sheet_of(lines_for(Work.REPOLISH), surfaces).cautions
    assert CAUTIONS["silica"] in dusty
    assert CAUTIONS["silica"] not in wet
    assert sheet_of(lines_for(Work.READING_ROUND), surfaces).cautions == ()
    alone = replace(lines_for(Work.READING_ROUND), people=1)
    assert sheet_of(alone, surfaces).cautions == (CAUTIONS["lone_work"],)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({}, "proposed, may still move"),
        ({"commitment": Commitment.NIGHT}, "proposed"),
        ({"agreement": Agreement.ASKED}, "proposed, asked"),
        ({"agreement": Agreement.REFUSED}, "proposed, refused, may still move"),
        ({"state": VisitState.HELD, "agreement": Agreement.AGREED}, "held, agreed"),
    ],
)
def test_the_state_is_said_in_words(changes, words, surfaces):
    sheet = sheet_of(replace(lines_for(Work.RECOAT), **changes), surfaces)
    assert sheet.state == words
    assert sheet.stands is ("may still move" not in words)


def test_a_visit_after_its_latest_night_says_so(surfaces):
    late = replace(lines_for(Work.RECOAT), night=date(2026, 4, 1))
    assert sheet_of(late, surfaces).state.endswith("late: wanted by 26 March 2026")


def test_a_slip_test_warns_of_its_water_and_of_reopening_what_fails(surfaces):
    sheet = sheet_of(lines_for(Work.SLIP_TEST), surfaces)
    assert sheet.cautions == (CAUTIONS["wet_floor"],)
    assert sheet.reopening == f"{REOPENING} {TESTED_REOPENING}"


def test_a_visit_is_the_branchs_that_serves_its_site_that_night():
    book = site_book("NORTH", "EAST")
    moved = (
        replace(book.site.branches[0], to_on=NIGHT - timedelta(days=1)),
        replace(book.site.branches[0], branch="WEST", from_on=NIGHT),
    )
    book = replace(book, site=replace(book.site, branches=moved))
    nights = [visit("NORTH", NIGHT - timedelta(days=n), due()) for n in (0, 1)]
    off = replace(nights[1], state=VisitState.CANCELLED)
    assert visits_of(EAST, [book], [*nights, off]) == (nights[1],)
    assert visits_of(replace(EAST, code="WEST"), [book], nights) == (nights[0],)


def test_the_crew_leaves_when_the_clock_shows_it_also_on_the_night_the_clocks_go_back(surfaces):
    def ends(night):
        one = replace(visit("NORTH", night), starts_minute=1500)
        branch = portfolio().branches[0]
        return visit_sheet(one, site_book("NORTH"), branch, {}, surfaces, load_cautions())

    ordinary, autumn = ends(date(2026, 10, 17)), ends(date(2026, 10, 24))
    assert ordinary.ends_minute > 1440 + 180
    assert autumn.ends_minute == ordinary.ends_minute - 60
