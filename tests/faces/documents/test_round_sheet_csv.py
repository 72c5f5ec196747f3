import csv
import io

from floorcare.faces.documents.round_sheet_csv import HEADER, write_round_sheet_csv
from floorcare.faces.intake.columns import READINGS
from tests.golden.rounds import ROUND


def rows() -> list[dict[str, str]]:
    text = write_round_sheet_csv(ROUND).decode("utf-8-sig")
    return list(csv.DictReader(io.StringIO(text)))


def test_the_columns_are_those_readings_are_loaded_from():
    assert set(HEADER) <= {column.name for column in READINGS.columns}


def test_there_is_a_row_a_station_with_everything_read_left_empty():
    found = rows()
    assert [(r["site"], r["zone"], r["station"]) for r in found] == [
        *[("CLINIC", "WARD", "")] * 5,
        ("MARKET", "DOOR", "P1"),
        ("MARKET", "DOOR", "P2"),
        ("MARKET", "EDGE", "P1"),
        ("MARKET", "LANE", "'=P1"),
    ]
    for row in found:
        assert (row["measure"], row["geometry"]) == ("gloss", "60")
        for name in ("taken_at", "value", "state", "instrument", "reader", "witness"):
            assert row[name] == ""
