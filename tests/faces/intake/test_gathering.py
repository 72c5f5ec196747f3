import datetime as dt

import pytest

RIGHT_ROWS = {"zones.csv": 2}
"""Rows of the right folder's files; one where none is named."""


def test_a_site_that_is_not_known_is_named_with_those_near_it(folder):
    folder.add("stations.csv", "MARKT,LANE,P2,")
    finding = folder.one()
    assert (finding.row, finding.column, finding.value) == (3, "site", "MARKT")
    assert finding.mend == 'write "MARKET" if that is meant'


def test_a_zone_that_is_not_known_is_named_with_those_near_it(folder):
    folder.add("stations.csv", "MARKET,LAME,P2,", "MARKET,QUAY,P2,")
    near, far = folder.findings()
    assert near.mend == 'write "LANE" if that is meant'
    assert far.mend == "add the zone to zones.csv or correct the code"
    assert "site MARKET has no zone of this code" in near.problem


@pytest.mark.parametrize(
    ("name", "row", "column"),
    [
        ("branches.csv", "NORTH,Again,Europe/Berlin", "branch"),
        ("customers.csv", "HARBOUR,Again", "customer"),
        ("sites.csv", "MARKET,HARBOUR,Again,NORTH,Europe/Berlin", "site"),
        ("areas.csv", "MARKET,HALL,Again", "area"),
        ("zones.csv", "MARKET,LANE,Main lane,polished_concrete,9,light,HALL,2025-01-01", "zone"),
        ("stations.csv", "MARKET,LANE,P1,again", "station"),
        ("readings.csv", "MARKET,LANE,P1,2026-03-02 21:40,gloss,44,after burnish", "taken_at"),
        ("treatments_done.csv", "MARKET,LANE,recoat,2025-06-01,known,", "done_on"),
        ("routines.csv", "MARKET,LANE,clean,daily,2025-01-01,us", "work"),
    ],
)
def test_what_is_given_twice_names_the_row_of_the_first(folder, name, row, column):
    folder.add(name, row)
    finding = folder.one()
    assert (finding.file, finding.column) == (name, column)
    assert "given twice; the first stands in row 2" in finding.problem
    assert finding.row == RIGHT_ROWS.get(name, 1) + 2


@pytest.mark.parametrize(
    ("name", "old", "new", "column"),
    [
        ("promises.csv", "2027-12-31", "2024-12-31", "ends_on"),
        ("shut_days.csv", "2027-01-01", "2026-12-01", "to_on"),
    ],
)
def test_what_ends_before_it_starts_is_refused(folder, name, old, new, column):
    folder.change(name, old, new)
    finding = folder.one()
    assert (finding.file, finding.column, finding.value) == (name, column, new)
    assert "ends before it starts" in finding.problem


def test_whatever_happened_lies_in_the_past(folder):
    folder.change("readings.csv", "2026-03-02", "2026-11-25")
    folder.change("treatments_done.csv", "2025-06-01", "2027-06-01")
    reading, treatment = folder.findings()
    assert reading.problem == treatment.problem == "the date is in the future"
    assert reading.allowed == "up to 2026-11-24"


def test_a_reading_of_today_is_taken(folder):
    folder.change("readings.csv", "2026-03-02", "2026-11-24")
    assert folder.read().portfolio.books[0].zone("LANE").readings[0].taken_on == dt.date(
        2026, 11, 24
    )


def test_a_row_broken_by_quotation_marks_brings_no_followers(folder):
    folder.write("zones.csv", 'site,zone,name,surface,area_m2,traffic\nMARKET,LANE,"Main\n')
    assert folder.one().problem == "a quotation mark is opened and never closed"
