from datetime import date, timedelta

import pytest

from tests.faces.intake.exports import counts_of, one, told

HOURLY = "Counter,Start,In,Out\n"


def hourly(days=3, sensor="NORTH/LANE", persons=10, first=date(2026, 2, 2)):
    return "".join(
        f"{sensor},{first + timedelta(days=day)} {hour:02d}:00,{persons + hour},{persons}\n"
        for day in range(days)
        for hour in range(6, 22)
    )


ADD = {"counting": {"in_and_out": "add"}}


@pytest.mark.parametrize(
    ("how", "persons"), [("add", 16 * 20 + 216), ("halve", 268), ("in", 376), ("out", 160)]
)
def test_in_and_out_make_passes_as_the_mapping_says(tmp_path, how, persons):
    text = HOURLY + hourly()
    said = {"columns": {"moment": "Start"}}
    export = counts_of(tmp_path, text, said)
    assert [(q.table, q.key) for q in export.questions] == [("counting", "in_and_out")]
    export = counts_of(tmp_path, text, {**said, "counting": {"in_and_out": how}})
    (counts,) = export.counts
    assert (counts.place, counts.kind, len(counts.days)) == ("NORTH/LANE", "foot", 3)
    assert {day.persons for day in counts.days} == {float(persons)}
    assert export.mapping.table("counting")["bucket_minutes"] == 60


def test_daily_counts_of_one_column_need_no_mapping(tmp_path):
    text = "Sensor;Date;Visitors\n" + "".join(
        f"NORTH/LANE;2026-02-0{day};1.{day}30\n" for day in range(1, 8)
    )
    export = counts_of(tmp_path, text)
    assert (export.findings, export.counts[0].days[0].persons) == ((), 1130.0)
    assert export.mapping.table("counting") == {"in_and_out": "count", "bucket_minutes": 1440}


def test_sensors_are_mapped_to_zone_and_kind_and_an_unknown_one_is_asked(tmp_path):
    text = "Sensor,Date,Count\n" + "".join(
        f"Mast {mast},2026-02-0{day},{day * mast}\n" for mast in (1, 2, 3) for day in range(1, 8)
    )
    export = counts_of(tmp_path, text, {"sensors": {"Mast 1": "NORTH/LANE", "Mast 3": ""}})
    assert told(export) == [(9, "Sensor", "Mast 2")]
    assert '"Mast 2" = "SITE/ZONE" under [sensors]' in one(export).mend
    said = {
        "sensors": {"Mast 1": "NORTH/LANE", "Mast 2": "SOUTH/LANE", "Mast 3": ""},
        "kinds": {"Mast 2": "trolley"},
    }
    export = counts_of(tmp_path, text, said)
    assert [(c.place, c.kind) for c in export.counts] == [
        ("NORTH/LANE", "foot"),
        ("SOUTH/LANE", "trolley"),
    ]
    assert export.left_out == 7


@pytest.mark.parametrize(("how", "persons"), [("add", 30.0), ("average", 15.0), ("largest", 20.0)])
def test_several_sensors_of_one_zone_are_put_together_as_the_mapping_says(tmp_path, how, persons):
    text = "Sensor,Date,Count\n" + "".join(
        f"Mast {mast},2026-02-0{day},{10 * mast}\n" for mast in (1, 2) for day in range(1, 8)
    )
    sensors = {"sensors": {"Mast 1": "NORTH/LANE", "Mast 2": "NORTH/LANE"}}
    assert counts_of(tmp_path, text, sensors).questions[0].key == "several_sensors"
    said = {**sensors, "counting": {"several_sensors": how}}
    (counts,) = counts_of(tmp_path, text, said).counts
    assert {day.persons for day in counts.days} == {persons}


def test_a_file_of_one_counter_takes_its_zone_from_the_mapping(tmp_path):
    text = "Date,Count\n" + "".join(f"2026-02-0{day},{day}\n" for day in range(1, 8))
    export = counts_of(tmp_path, text)
    assert (export.questions[0].table, export.counts) == ("sensors", ())
    export = counts_of(tmp_path, text, {"fixed": {"sensor": "NORTH/LANE"}})
    assert export.counts[0].place == "NORTH/LANE"


def test_a_negative_count_is_asked_about(tmp_path):
    text = "Sensor,Date,Count\n" + "".join(
        f"NORTH/LANE,2026-02-0{day},{-4 if day == 2 else day}\n" for day in range(1, 8)
    )
    assert told(counts_of(tmp_path, text)) == [(3, "Count", "-4")]
    export = counts_of(tmp_path, text, {"answers": {"negative": "leave out"}})
    assert ("asks", "Count") in [(f.weight, f.column) for f in export.findings]


@pytest.mark.parametrize(
    ("row", "column"),
    [
        ("NORTH/LANE,2026-02-03,", "Count"),
        ("NORTH/LANE,2026-02-03,4.5", "Count"),
        ("NORTH/LANE,2026-02-03,many", "Count"),
        ("NORTH/LANE,2026-02-31,4", "Date"),
    ],
)
def test_a_row_that_cannot_be_read_is_named_and_the_rest_is_taken(tmp_path, row, column):
    text = "Sensor,Date,Count\nNORTH/LANE,2026-02-01,5\nNORTH/LANE,2026-02-02,6\n" + row + "\n"
    export = counts_of(tmp_path, text)
    assert [(r, c) for r, c, _ in told(export)] == [(4, column)]
    assert len(export.counts[0].days) == 2


def test_a_file_without_counts_asks_for_the_column(tmp_path):
    export = counts_of(tmp_path, "Sensor,Date,Battery\nNORTH/LANE,2026-02-01,5\n")
    assert [(q.table, q.key) for q in export.questions] == [("columns", "count")]


def test_counts_in_utc_fall_on_the_sites_own_day(tmp_path):
    rows = "".join(f"NORTH/LANE,2026-02-0{day}T23:00Z,{day}\n" for day in range(1, 8))
    export = counts_of(tmp_path, "Sensor,Timestamp,Count\n" + rows)
    assert export.counts[0].days[0].on == date(2026, 2, 2)


def test_what_is_no_table_stops(tmp_path):
    export = counts_of(tmp_path, "no table\n")
    assert (export.counts, export.findings[0].weight) == ((), "stops")


def test_a_negative_number_of_one_way_is_not_hidden_by_the_other(tmp_path):
    text = "Sensor,Date,In,Out\n" + "".join(
        f"NORTH/LANE,2026-02-0{day},{day},{-2 if day == 5 else 9}\n" for day in range(1, 8)
    )
    said = {"counting": {"in_and_out": "add"}}
    assert told(counts_of(tmp_path, text, said)) == [(6, "Out", "-2")]
    assert counts_of(tmp_path, text, {"counting": {"in_and_out": "in"}}).findings == ()
