import pytest

from floorcare.faces.intake.export_headings import (
    known_headings,
    measure_of,
    proposed,
    role_of,
    unit_in,
    unit_spelt,
    unread_headings,
)
from floorcare.faces.intake.export_mapping import ExportMapping, ExportNotes
from floorcare.faces.intake.export_table import ExportTable


def table(*heading, row=()):
    cells = [*row, *[""] * (len(heading) - len(row))]
    return ExportTable("e.csv", 1, heading, ((2, cells),))


def understood(*heading, kind="readings", row=(), **said):
    notes = ExportNotes("e.csv")
    return proposed(table(*heading, row=row), ExportMapping(kind, said), notes), notes


@pytest.mark.parametrize(
    ("heading", "measure"),
    [
        ("60°", 60),
        ("Gloss 60° (GU)", 60),
        ("GU20", 20),
        ("85 deg", 85),
        ("60° mean", ""),
        ("60° SD", ""),
        ("20/60", ""),
        ("75°", ""),
        ("160°", ""),
        ("DOI [%]", "DOI"),
        ("Battery", ""),
    ],
)
def test_an_angle_is_read_out_of_a_heading_only_where_it_is_plain(heading, measure):
    assert measure_of(heading) == measure


@pytest.mark.parametrize(
    ("heading", "unit"), [("60° (GU)", "GU"), ("60° [%]", "%"), ("60°", ""), ("Guide 60", "")]
)
def test_units_are_read_out_of_a_heading(heading, unit):
    assert unit_in(heading) == unit


def test_units_have_spellings():
    assert [unit_spelt(u) for u in ("gu", "Gloss Units", "GE", "%")] == ["GU", "GU", "GU", "%"]


def test_headings_are_known_in_any_order_and_spelling():
    mapping, notes = understood("60° (GU)", "serial_no", "OPERATOR", "Date", "Sample Name")
    assert mapping.table("columns") == {
        "instrument": "serial_no",
        "reader": "OPERATOR",
        "date": "Date",
        "place": "Sample Name",
    }
    assert (mapping.table("values"), notes.findings()) == ({"60° (GU)": 60}, ())


def test_two_columns_for_one_thing_are_asked():
    mapping, notes = understood("Sample", "Location", "Date")
    assert "place" not in mapping.table("columns")
    assert (notes.questions[0].key, notes.questions[0].choices) == ("place", ("Sample", "Location"))


def test_two_columns_of_one_angle_are_asked():
    mapping, notes = understood("Sample", "60° (GU)", "Gloss 60")
    assert not mapping.table("values")
    assert {q.key for q in notes.questions} == {"60° (GU)", "Gloss 60"}


def test_the_mapping_outranks_the_headings():
    mapping, notes = understood("Sample", "Location", columns={"place": "Location"})
    assert mapping.get("columns", "place") == "Location"
    assert not notes.stops
    assert unread_headings(table("Sample", "Location"), mapping) == ("Sample",)
    assert known_headings("readings", mapping) == {"Location"}


def test_a_column_the_file_has_not_is_told():
    _, notes = understood("Sample", columns={"place": "Spot"})
    assert (notes.findings()[0].value, notes.stops) == ("Spot", True)


def test_a_mapped_heading_that_stands_twice_is_told():
    _, notes = understood("Sample", "Sample", columns={"place": "Sample"})
    assert "two columns" in notes.findings()[0].problem


@pytest.mark.parametrize(
    ("headings", "row", "columns"),
    [
        (("Date", "Time"), (), {"date": "Date", "time": "Time"}),
        (("Timestamp", "Time"), (), {"moment": "Timestamp"}),
        (("Time",), ("2026-03-02 21:40",), {"moment": "Time"}),
        (("Time",), ("21:40",), {}),
    ],
)
def test_date_and_time_stand_in_one_column_or_two(headings, row, columns):
    assert understood(*headings, row=row)[0].table("columns") == columns


def test_a_counters_headings_are_others():
    mapping, _ = understood("Sensor", "Timestamp", "In", "Out", kind="traffic")
    assert set(mapping.table("columns")) == {"sensor", "moment", "in", "out"}
    assert role_of("readings", "In") == ""
