from dataclasses import fields, is_dataclass, replace
from datetime import date, timedelta

import pytest

from floorcare.errors import NotKnown
from floorcare.ground.trade.treatment import Work
from floorcare.ground.wear.reading_rounds import RoundCost
from floorcare.services.choose_rounds import RoundSheet, choose_rounds
from floorcare.services.load_care import load_care
from tests.services.conftest import TODAY, care
from tests.services.watched import WatchedStore
from tests.store.sample import NOW, added, due, plan, site_book, visit, zone_book

DAY = timedelta(days=1)


def round_of(store, surfaces, branch="EAST", **asked) -> RoundSheet:
    asked = {"today": TODAY, **asked}
    return next(s for s in choose_rounds(store, surfaces, **asked) if s.branch_code == branch)


def unmarked(book):
    """The same zone read as a whole, without stations."""
    readings = tuple(replace(reading, station="") for reading in book.readings)
    return replace(book, stations=(), readings=readings)


@pytest.fixture
def grown(loaded):
    """NORTH with three zones more: two read like the first, one never; SCHOOL with one."""
    north = care().books[0]
    lanes = [unmarked(zone_book(code)) for code in ("AISLE", "EDGE")]
    new = replace(zone_book("NEW"), readings=())
    north = replace(north, zones=(*sorted((*north.zones, *lanes, new), key=lambda z: z.zone.code),))
    school = site_book("SCHOOL", "EAST", ("GYM",))
    old = care()
    books = (north, old.books[1], school)
    load_care(loaded, replace(old, books=books), who="office", now=NOW)
    return loaded


def test_each_branch_has_a_round_of_its_own_with_its_minutes_counted(grown, surfaces):
    east, west = choose_rounds(grown, surfaces, today=TODAY)
    assert (east.branch, east.on, east.by, east.budget_minutes) == ("East", TODAY, TODAY, 240)
    assert [(s.site, [z.zone for z in s.zones], s.minutes) for s in east.sites] == [
        ("NORTH", ["NORTH/AISLE", "NORTH/EDGE", "NORTH/LANE", "NORTH/NEW"], 4 * 7 + 5),
        ("SCHOOL", ["SCHOOL/GYM"], 12),
    ]
    assert east.minutes == 5 * 7 + 2 * 5
    assert (west.sites, west.left, west.minutes, west.unpromised) == ((), (), 0, 1)


def test_a_small_budget_takes_the_first_reading_and_says_what_is_left_and_how_old(grown, surfaces):
    east = round_of(grown, surfaces, budget_minutes=19)
    reasons = {z.zone: z.reason for z in east.zones}
    decides = "a reading may decide whether it is due"
    assert reasons == {"NORTH/NEW": "first reading", "NORTH/AISLE": decides}
    assert [z.zone for z in east.left] == ["NORTH/EDGE", "NORTH/LANE", "SCHOOL/GYM"]
    assert {z.age_days for z in east.left} == {(TODAY - date(2025, 9, 1)).days}
    assert {z.last_read_on for z in east.left} == {date(2025, 9, 1)}
    (new,) = [z for z in east.zones if z.zone == "NORTH/NEW"]
    assert (new.age_days, new.last_read_on) == (None, None)


def test_minutes_a_zone_and_a_site_may_be_changed(grown, surfaces):
    cost = RoundCost(zone_minutes=8, site_minutes=10)
    east = round_of(grown, surfaces, budget_minutes=44, cost=cost)
    assert east.minutes == 4 * 8 + 10 <= 44
    assert (east.zone_minutes, east.site_minutes) == (8, 10)


def test_a_zone_shows_its_stations_or_as_many_boxes_as_a_round_reads(grown, surfaces):
    zones = {z.zone: z for z in round_of(grown, surfaces).zones}
    assert [(s.code, s.note) for s in zones["NORTH/LANE"].stations] == [("P1", "door"), ("P2", "")]
    assert [s.code for s in zones["NORTH/EDGE"].stations] == [""] * 5
    assert {z.geometry_deg for z in zones.values()} == {60}
    assert (zones["NORTH/LANE"].area_name, zones["NORTH/LANE"].zone_name) == ("Hall", "Hall, lane")


def test_ages_are_those_of_the_day_the_round_is_walked_by(grown, surfaces):
    later = round_of(grown, surfaces, by=TODAY + 21 * DAY)
    lane = next(z for z in later.zones if z.zone == "NORTH/LANE")
    assert lane.age_days == (TODAY - date(2025, 9, 1)).days + 21
    assert lane.last_read_on == date(2025, 9, 1)
    assert later.by == TODAY + 21 * DAY


def test_what_a_visit_reads_by_then_costs_the_round_nothing(grown, surfaces):
    night = TODAY + 10 * DAY
    reading = replace(due("NORTH", target=night), work=Work.READING_ROUND, needs=frozenset())
    reads = visit("NORTH", night, reading)
    with grown.work(writes=True) as work:
        work.put_plan(
            plan(),
            visits=(reads,),
            changes=(added(reads),),
            unplaced=(),
            revisions=work.revisions(),
            who="planner",
            now=NOW,
        )
        work.commit()
    before = round_of(grown, surfaces, by=night - DAY)
    assert next(z.planned_on for z in before.zones if z.zone == "NORTH/LANE") == night
    assert before.read_anyway == ()
    after = round_of(grown, surfaces, by=night)
    assert "NORTH/LANE" not in [z.zone for z in after.zones]
    assert [z.zone for z in after.read_anyway] == ["NORTH/LANE"]


def words_in(value) -> set[str]:
    """The names of every field under a record."""
    if is_dataclass(value):
        return {f.name for f in fields(value)} | {
            name for f in fields(value) for name in words_in(getattr(value, f.name))
        }
    if isinstance(value, tuple):
        return {name for each in value for name in words_in(each)}
    return set()


def test_nothing_that_was_read_or_is_expected_is_given_away(grown, surfaces):
    east = round_of(grown, surfaces)
    assert not {name for name in words_in(east) if "gu" in name.split("_") or "ln" in name}
    assert "52.5" not in repr(east)


def test_the_same_day_gives_the_same_rounds(grown, surfaces):
    assert choose_rounds(grown, surfaces, today=TODAY) == choose_rounds(
        grown, surfaces, today=TODAY
    )


def test_a_round_of_named_sites_leaves_the_others_and_their_branches_out(grown, surfaces):
    (east,) = choose_rounds(grown, surfaces, today=TODAY, sites=["SCHOOL"])
    assert [z.zone for z in (*east.zones, *east.left)] == ["SCHOOL/GYM"]


def test_a_site_nobody_knows_is_said(grown, surfaces):
    with pytest.raises(NotKnown, match='no site "MOON"; there are NORTH, SCHOOL, SOUTH'):
        choose_rounds(grown, surfaces, today=TODAY, sites=["MOON"])


def test_a_site_no_branch_serves_that_day_is_said(grown, surfaces):
    with pytest.raises(NotKnown, match="No branch serves NORTH on 2023-01-01"):
        choose_rounds(grown, surfaces, today=date(2023, 1, 1), sites=["NORTH"])


def test_it_reads_in_one_block_and_writes_nothing(grown, surfaces):
    watched = WatchedStore(grown)
    choose_rounds(watched, surfaces, today=TODAY)
    assert watched.blocks == [False]
    assert watched.commits == 0
