from datetime import date

import pytest

from floorcare.ground.trade.reading import Measure, SurfaceState
from tests.faces.intake.exports import TOLD, one, readings_of, told

PLAIN = "Sample,Date,Time,60° (GU)\n"


def test_a_plain_export_needs_only_the_state(tmp_path):
    text = PLAIN + "NORTH/LANE/P1,2026-02-03,21:40,41.2\nNORTH/LANE/P2,2026-02-03,21:41,40.8\n"
    export = readings_of(tmp_path, text, {})
    assert [(q.table, q.key) for q in export.questions] == [("fixed", "state")]
    assert export.readings == ()
    export = readings_of(tmp_path, text)
    first, second = export.readings
    assert (first.site, first.row, first.column) == ("NORTH", 2, "60° (GU)")
    r = first.reading
    assert (r.zone, r.station, r.taken_on, r.taken_minute) == ("LANE", "P1", date(2026, 2, 3), 1300)
    assert (r.value, r.geometry_deg, r.state) == (41.2, 60, SurfaceState.AFTER_CLEANING)
    assert (second.reading.value, export.findings) == (40.8, ())


def test_any_order_any_separator_decimal_commas_and_one_column_an_angle(tmp_path):
    text = (
        "85° (GE);Prüfer;20° (GE);Seriennummer;Datum;60° (GE);Messpunkt;Zustand;Lage\n"
        "20,5;Anna;17,3;G-1001;13.02.2026;41,2;P1;gewischt;Gang\n"
    )
    said = {
        "columns": {"station": "Messpunkt", "place": "Lage"},
        "places": {"Gang": "NORTH/LANE"},
        "states": {"gewischt": "after cleaning"},
    }
    export = readings_of(tmp_path, text, said)
    assert export.findings == ()
    assert {(t.reading.geometry_deg, t.reading.value) for t in export.readings} == {
        (20, 17.3),
        (60, 41.2),
        (85, 20.5),
    }
    assert {(t.reading.instrument, t.reading.reader) for t in export.readings} == {("M1", "Anna")}


def test_angles_and_units_may_stand_in_cells(tmp_path):
    text = "Place,When,Angle,Value,Unit\nNORTH/LANE/P1,2026-02-03 21:40,60°,41.2,GU\n"
    said = {"columns": {"moment": "When"}, "fixed": {"state": "wet"}}
    (typed,) = readings_of(tmp_path, text, said).readings
    assert (typed.reading.geometry_deg, typed.reading.state) == (60, SurfaceState.WET)


def test_all_that_is_not_said_is_asked_at_once_and_nothing_is_read(tmp_path):
    text = 'Sample,Date,Value\nNORTH/LANE/P1,03/04/2026,41.2\nNORTH/LANE/P2,03/04/2026,"40,8"\n'
    export = readings_of(tmp_path, text, {})
    asked = {(q.table, q.key) for q in export.questions}
    assert asked == {
        ("fixed", "geometry"),
        ("fixed", "state"),
        ("fixed", "unit"),
        ("table", "date_order"),
        ("table", "decimal"),
    }
    assert export.readings == ()
    assert all(f.file == "export.csv" and f.row and f.mend for f in export.findings)


def test_what_was_understood_can_be_used_again(tmp_path):
    text = PLAIN.replace(",", ";") + "NORTH/LANE/P1;13/02/2026;21:40;41,2\n"
    mapping = readings_of(tmp_path, text).mapping
    assert mapping.table("table") == {"decimal": ",", "date_order": "day first"}
    other = PLAIN.replace(",", ";") + "NORTH/LANE/P1;03/02/2026;21:40;41,2\n"
    (typed,) = readings_of(tmp_path, other, mapping.tables).readings
    assert typed.reading.taken_on == date(2026, 2, 3)


def test_a_state_nobody_knows_is_asked_once(tmp_path):
    text = "Sample,Date,60 GU,State\n" + "NORTH/LANE/P1,2026-02-03,41.2,shiny\n" * 3
    export = readings_of(tmp_path, text, {})
    asked = one(export)
    assert (asked.weight, asked.row, asked.column, asked.value) == ("stops", 2, "State", "shiny")
    assert 'shiny = "after cleaning"' in asked.mend


def test_values_no_reading_can_have_are_asked_until_the_mapping_leaves_them_out(tmp_path):
    text = PLAIN + "NORTH/LANE/P1,2026-02-03,,412\nNORTH/LANE/P2,2026-02-03,,40.8\n"
    export = readings_of(tmp_path, text)
    assert (one(export).weight, told(export)) == ("stops", [(2, "60° (GU)", "412")])
    assert "41.2" in one(export).problem
    export = readings_of(tmp_path, text, {**TOLD, "answers": {"outside": "leave out"}})
    assert (one(export).weight, len(export.readings)) == ("asks", 1)


@pytest.mark.parametrize(
    ("row", "column", "value"),
    [
        ("NORTH/LANE/P1,2026-02-03,,nan", "60° (GU)", "nan"),
        ("NORTH/LANE/P1,2026-02-03,,", "60° (GU)", ""),
        ("NORTH/LANE/P1,2026-02-03,,forty", "60° (GU)", "forty"),
        ("NORTH/LANE/P1,2026-02-31,,41", "Date", "2026-02-31"),
        ("NORTH/LANE/P1,,,41", "Date", ""),
        ("NORTH/LANE/P1,2026-02-03,25:10,41", "Date", "2026-02-03 25:10"),
        ("NORTH/LANE/P9,2026-02-03,,41", "Sample", "NORTH/LANE/P9"),
        ("Attic,2026-02-03,,41", "Sample", "Attic"),
        (",2026-02-03,,41", "Sample", ""),
    ],
)
def test_a_row_that_cannot_be_read_is_named_and_the_rest_is_taken(tmp_path, row, column, value):
    text = f"{PLAIN}NORTH/LANE/P2,2026-02-03,,40.8\n{row}\n"
    export = readings_of(tmp_path, text)
    assert told(export) == [(3, column, value)]
    assert (one(export).weight, len(export.readings)) == ("asks", 1)
    assert "left out" in one(export).problem


def test_a_strange_place_is_told_once_and_can_be_left_out_on_purpose(tmp_path):
    text = PLAIN + "Attic,2026-02-03,,41\n" * 3 + "NORTH/LANE/P2,2026-02-03,,40.8\n"
    export = readings_of(tmp_path, text)
    assert "in 2 rows more" in one(export).problem
    assert 'Attic = "SITE/ZONE/STATION" under [places]' in one(export).mend
    assert [(q.table, q.key) for q in export.questions] == [("places", "Attic")]
    export = readings_of(tmp_path, text, {**TOLD, "places": {"Attic": ""}})
    assert (export.findings, export.left_out, len(export.readings)) == ((), 3, 1)


def test_rows_repeated_in_the_file_are_counted(tmp_path):
    text = PLAIN + "NORTH/LANE/P1,2026-02-03,,41\n" * 3
    export = readings_of(tmp_path, text)
    assert (len(export.readings), export.repeated, export.findings) == (1, 2, ())


def test_an_angle_not_read_at_some_places_is_told_once(tmp_path):
    text = "Sample,Date,60° (GU),20° (GU)\n" + "".join(
        f"NORTH/LANE/P1,2026-02-0{at},41,{17 if at % 3 else ''}\n" for at in range(1, 7)
    )
    export = readings_of(tmp_path, text)
    assert ("2 rows have no value" in one(export).problem, len(export.readings)) == (True, 10)


def test_image_clarity_beside_gloss_keeps_its_own_measure(tmp_path):
    text = "Sample,Date,60° (GU),DOI\nNORTH/LANE/P1,2026-02-03,41,77\n"
    measures = {
        t.reading.measure: t.reading.geometry_deg for t in readings_of(tmp_path, text).readings
    }
    assert measures == {Measure.GLOSS: 60, Measure.DOI: 0}


def test_a_time_with_an_offset_becomes_the_sites_own(tmp_path):
    text = "Sample,Timestamp,60° (GU)\nNORTH/LANE/P1,2026-02-03T23:30Z,41\n"
    (typed,) = readings_of(tmp_path, text).readings
    assert (typed.reading.taken_on, typed.reading.taken_minute) == (date(2026, 2, 4), 30)


def test_headings_nothing_is_read_from_are_named(tmp_path):
    text = "Sample,Date,60° (GU),Battery,60° SD\nNORTH/LANE/P1,2026-02-03,41,88,0.4\n"
    assert readings_of(tmp_path, text).unread == ("Battery", "60° SD")


@pytest.mark.parametrize("text", [b"\x00\x01", "", "no table here\n", b"PK\x03\x04"])
def test_what_is_no_table_stops(tmp_path, text):
    export = readings_of(tmp_path, text)
    assert (export.readings, export.findings[0].weight) == ((), "stops")


def test_progress_is_told(tmp_path):
    from floorcare.faces.intake.export_mapping import ExportMapping
    from floorcare.faces.intake.export_readings import read_meter_export
    from tests.faces.intake.exports import BOOKS, METERS

    path = tmp_path / "e.csv"
    path.write_text(PLAIN + "NORTH/LANE/P1,2026-02-03,,41\n" * 5001, encoding="utf-8")
    seen = []
    mapping = ExportMapping("readings", TOLD)
    read_meter_export(path, mapping, BOOKS, METERS, tell=lambda d, t: seen.append((d, t)))
    assert seen == [(5000, 5001), (5001, 5001)]


def test_a_number_alone_makes_no_heading(tmp_path):
    text = "Mast,When,Count\nNorth,2026-02-03,60\nNorth,2026-02-04,20\n"
    assert {f.row for f in readings_of(tmp_path, text).findings} == {1}
    text = "Sample,Date,60\nNORTH/LANE/P1,2026-02-03,41.2\n"
    (typed,) = readings_of(tmp_path, text).readings
    assert typed.reading.geometry_deg == 60
