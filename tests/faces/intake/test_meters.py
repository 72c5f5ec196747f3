from datetime import date

import pytest

from floorcare.ground.trade.equipment import Calibration, Instrument, MeterBridge

READINGS = "site,zone,station,taken_at,measure,value,state,instrument"


def read(full, *rows):
    full.write(
        "readings.csv",
        "\n".join((READINGS, *(f"MARKET,LANE,P1,{row}" for row in rows))) + "\n",
    )


def test_an_instrument_carries_every_calibration_of_its_rows(full):
    full.add("instruments.csv", "M-7,Gloss meter 7,gloss,,2024-09-01,2025-08-31")
    first, _ = full.right().instruments
    assert first == Instrument(
        code="M-7",
        name="Gloss meter 7",
        measure="gloss",
        serial="70311",
        calibrations=(
            Calibration(done_on=date(2024, 9, 1), valid_to=date(2025, 8, 31)),
            Calibration(done_on=date(2025, 9, 1), valid_to=date(2026, 8, 31)),
        ),
    )


def test_a_bridge_is_what_the_second_meter_reads_more(full):
    assert full.right().bridges == (
        MeterBridge(first="M-7", second="M-8", on=date(2026, 2, 3), offset_gu=-1.4, stations=6),
    )


def test_readings_outside_every_calibration_are_asked_about_once_a_meter(full):
    read(
        full,
        "2026-03-02 21:40,gloss,41,after burnish,M-7",
        "2026-09-01 21:40,gloss,40,after burnish,M-7",
        "2026-10-01 21:40,gloss,39,after burnish,M-7",
        "2025-08-31 21:40,gloss,44,after burnish,M-8",
        "2026-10-01 21:50,gloss,39,after burnish,M-9",
    )
    seven, eight = full.findings()
    assert (seven.file, seven.row, seven.column) == ("readings.csv", 3, "instrument")
    assert (seven.value, seven.weight) == ("M-7", "asks")
    assert "covers 2 readings, of which this row is the first" in seven.problem
    assert seven.mend == "add the calibration to instruments.csv, or have the meter calibrated"
    assert (eight.row, eight.value) == (5, "M-8")
    assert "covers 1 reading," in eight.problem


def test_a_meter_without_any_calibration_is_asked_about_when_it_was_read_with(full):
    full.write("instruments.csv", "instrument,name,measure\nM-7,Seven,gloss\nM-8,Eight,gloss\n")
    assert full.findings() == ()
    read(full, "2026-03-02 21:40,gloss,41,after burnish,M-7")
    assert full.one().value == "M-7"


def test_without_instruments_csv_calibrations_are_not_asked_about(full):
    full.drop("instruments.csv", "bridges.csv")
    read(full, "2025-03-02 21:40,gloss,41,after burnish,M-7")
    assert full.findings() == ()


def test_two_meters_may_read_one_station_in_the_same_minute(full):
    read(
        full,
        "2026-03-02 21:40,gloss,41,after burnish,M-7",
        "2026-03-02 21:40,gloss,42,after burnish,M-8",
    )
    assert len(full.right().books[0].zone("LANE").readings) == 2


@pytest.mark.parametrize(
    ("row", "contradicts"),
    [
        ("M-7,M-8,2026-08-01,1.7,6", True),
        ("M-8,M-7,2026-08-01,-1.7,6", True),
        ("M-7,M-8,2026-08-01,1.6,6", False),
        ("M-8,M-7,2026-08-01,1.4,6", False),
        ("M-7,M-8,2025-02-03,9,6", True),
        ("M-7,M-8,2025-02-02,9,6", False),
    ],
)
def test_bridges_of_one_pair_within_a_year_may_not_lie_more_than_3_gu_apart(full, row, contradicts):
    full.add("bridges.csv", row)
    found = full.findings()
    assert bool(found) is contradicts
    for finding in found:
        assert (finding.file, finding.row, finding.weight) == ("bridges.csv", 3, "asks")
        assert finding.problem.startswith("row 2 says ")
        assert finding.mend.startswith("read both meters at the same stations again")


@pytest.mark.parametrize(
    ("name", "old", "new", "column", "mend"),
    [
        ("instruments.csv", "2026-08-31", "2025-08-31", "valid_to", "correct one of the two"),
        ("instruments.csv", "2025-09-01", "", "calibrated_on", "fill it in"),
        ("instruments.csv", "2026-08-31", "", "valid_to", "fill it in"),
        ("instruments.csv", "2025-09-01,2026", "2026-12-01,2027", "calibrated_on", "correct the"),
        ("instruments.csv", "7,gloss", "7,glos", "measure", 'write "gloss" if that is meant'),
        ("bridges.csv", "M-8", "M8", "second", 'write "M-8" if that is meant'),
        ("bridges.csv", "M-8", "M-7", "second", "name the other meter"),
        ("bridges.csv", "2026-02-03", "2026-12-03", "on", "correct the date"),
        ("bridges.csv", ",6", ",0", "stations", "correct the number"),
    ],
)
def test_what_cannot_be_of_a_meter_is_a_finding_with_its_mend(full, name, old, new, column, mend):
    full.change(name, old, new)
    finding = full.one()
    assert (finding.file, finding.row, finding.column) == (name, 2, column)
    assert finding.weight == "stops"
    assert finding.mend.startswith(mend)


@pytest.mark.parametrize(
    ("row", "column"),
    [
        ("M-7,Another name,gloss,70311,2024-09-01,2025-08-31", "name"),
        ("M-7,Gloss meter 7,DOI,70311,2024-09-01,2025-08-31", "measure"),
        ("M-7,Gloss meter 7,gloss,99999,2024-09-01,2025-08-31", "serial"),
        ("M-7,Gloss meter 7,gloss,70311,2025-09-01,2026-02-01", "instrument"),
    ],
)
def test_rows_of_one_meter_may_not_contradict_each_other(full, row, column):
    full.add("instruments.csv", row)
    finding = full.one()
    assert (finding.row, finding.column, finding.weight) == (4, column, "stops")
    assert "row 2" in finding.problem


def test_the_same_bridge_either_way_round_is_given_twice(full):
    full.add("bridges.csv", "M-8,M-7,2026-02-03,1.4,6")
    assert "given twice; the first stands in row 2" in full.one().problem
