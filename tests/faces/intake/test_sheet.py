import datetime as dt

import pytest

from floorcare.faces.intake.care import read_care
from floorcare.faces.intake.sheet import site_code
from floorcare.ground.trade.book import DateKnown
from floorcare.ground.trade.codes import code_problem
from floorcare.ground.trade.routine import Performer
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.zone import Opening

TODAY = dt.date(2026, 11, 24)
HEADING = "site,what,every,last done about,minutes\n"
SURFACES = frozenset({"polished_concrete"})


def read(desk, text, *, surfaces=SURFACES, time_zone="Europe/Berlin"):
    path = desk.write("my floors.csv", text)
    return read_care(path, surfaces=surfaces, today=TODAY, time_zone=time_zone)


def stopping(taken):
    return [f for f in taken.findings if f.weight == "stops"]


def test_a_sheet_alone_is_enough_for_a_portfolio(desk):
    taken = read(
        desk,
        HEADING
        + "Market hall,polish,every 2 years,2025,960\n"
        + "Market hall,Recoating,every 6 months,March 2026,300\n"
        + "College,burnishing,every 2 weeks,2026-11-12,90\n"
        + "College,gloss readings,monthly,spring 2026,30\n",
    )
    assert (taken.kind, taken.rows, taken.files) == ("sheet", 4, ("my floors.csv",))
    assert not taken.stops
    college, market = taken.portfolio.books
    assert (market.site.code, market.site.name) == ("MARKET-HALL", "Market hall")
    assert market.site.time_zone == "Europe/Berlin"
    assert market.site.branch_on(TODAY) == "base"
    assert [b.code for b in taken.portfolio.branches] == ["base"]
    (zone,) = market.zones
    assert (zone.zone.code, zone.zone.opening) == ("floor", Opening.UNKNOWN)
    assert zone.zone.spans[0].surface == "polished_concrete"
    assert zone.zone.spans[0].area_m2 is None
    assert [(d.work, d.done_on, d.about_days) for d in zone.done] == [
        (Work.REPOLISH, dt.date(2025, 7, 1), 182),
        (Work.RECOAT, dt.date(2026, 3, 15), 15),
    ]
    assert {d.known for d in zone.done} == {DateKnown.ABOUT}
    recoat = next(r for r in zone.routines if r.work is Work.RECOAT)
    assert (recoat.rule, recoat.starts_on) == ("FREQ=MONTHLY;INTERVAL=6", dt.date(2026, 3, 15))
    assert (recoat.performer, recoat.minutes, recoat.about_days) == (Performer.US, 300, 15)
    (burnish,) = college.zones[0].done
    assert (burnish.known, burnish.about_days) == (DateKnown.KNOWN, 0)
    assert [r.work for r in college.zones[0].routines] == [Work.READING_ROUND, Work.BURNISH]


def test_what_a_sheet_does_not_say_is_asked_about(desk):
    taken = read(desk, HEADING + "Market hall,clean,daily,2026-11-23,60\n", time_zone="")
    assert [f.weight for f in taken.findings] == ["asks", "asks"]
    assert "access windows" in taken.findings[0].problem
    assert "UTC" in taken.findings[1].problem
    assert taken.portfolio.books[0].site.time_zone == "UTC"


def test_work_of_which_the_last_date_is_not_known_starts_today_and_is_asked_about(desk):
    taken = read(desk, HEADING + "Market hall,clean,daily,,60\n")
    (routine,) = taken.portfolio.books[0].zones[0].routines
    assert routine.starts_on == TODAY
    assert taken.portfolio.books[0].zones[0].done == ()
    assert taken.findings[-1].column == "last done about"


@pytest.mark.parametrize(
    ("row", "column"),
    [
        ("Market hall,make it nice,daily,2026,60", "what"),
        ("Market hall,clean,now and then,2026,60", "every"),
        ("Market hall,clean,daily,sometime,60", "last done about"),
        ("Market hall,clean,daily,2027-05-01,60", "last done about"),
        ("Market hall,clean,daily,03/04/2026,60", "last done about"),
        ("Market hall,clean,daily,2026,", "minutes"),
        ("Market hall,clean,daily,2026,-60", "minutes"),
        (",clean,daily,2026,60", "site"),
        (f"{'n' * 100_000},clean,daily,2026,60", "site"),
        ("Market\x07 hall,clean,daily,2026,60", "site"),
    ],
)
def test_a_bad_cell_of_a_sheet_is_a_finding(desk, row, column):
    taken = read(desk, HEADING + row + "\n")
    (finding,) = stopping(taken)
    assert (finding.row, finding.column) == (2, column)
    assert finding.allowed
    assert finding.mend
    assert taken.portfolio.books == ()


def test_two_names_that_make_one_code_are_a_finding(desk):
    taken = read(
        desk,
        HEADING
        + "Market hall,clean,daily,2026-11-01,60\n"
        + "market-hall,burnish,weekly,2026-11-01,60\n",
    )
    (finding,) = stopping(taken)
    assert (finding.row, finding.column) == (3, "site")
    assert '"Market hall" in row 2' in finding.problem


def test_the_same_work_at_the_same_rhythm_twice_is_a_finding(desk):
    taken = read(
        desk,
        HEADING
        + "Market hall,clean,daily,2026-11-01,60\n"
        + "Market hall,cleaning,daily,2026-11-02,50\n",
    )
    (finding,) = stopping(taken)
    assert "the first stands in row 2" in finding.problem


def test_an_unknown_time_zone_is_a_finding(desk):
    taken = read(desk, HEADING + "A,clean,daily,2026,60\n", time_zone="Berlin time")
    assert stopping(taken)[0].value == "Berlin time"


def test_a_sheet_without_rows_is_a_finding(desk):
    assert stopping(read(desk, HEADING))[0].problem == "there is no row"


def test_a_sheet_without_a_column_is_a_finding(desk):
    (finding,) = stopping(read(desk, "site,what,every,minutes x\nA,clean,daily,60\n"))
    assert finding.column == "minutes"
    assert 'rename "minutes x"' in finding.mend


def test_a_sheet_needs_the_surface_it_takes_every_floor_for(desk):
    taken = read(desk, HEADING + "A,clean,daily,2026,60\n", surfaces=frozenset({"terrazzo"}))
    assert "polished_concrete" in stopping(taken)[0].problem


@pytest.mark.parametrize(
    ("name", "code"),
    [
        ("Market hall", "MARKET-HALL"),
        ("Größe & Söhne", "GROSSE-SOHNE"),
        ("  St. Mary's  ", "ST-MARY-S"),
    ],
)
def test_a_code_is_made_of_a_name(name, code):
    assert site_code(name) == code


@pytest.mark.parametrize("name", ["市場", "n" * 120, "a" * 39 + " - b", "!!!"])
def test_a_code_is_always_a_code_and_its_own(name):
    assert code_problem(site_code(name)) == ""
    assert site_code(name) != site_code(name + "x")
