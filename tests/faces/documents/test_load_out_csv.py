import csv
import io

from floorcare.faces.documents.load_out_csv import write_load_out_csv
from tests.golden.loads import LOADED


def test_each_thing_has_a_row_with_the_stop_it_is_for():
    text = write_load_out_csv(LOADED).decode("utf-8-sig")
    rows = list(csv.DictReader(io.StringIO(text)))
    assert [(row["site"], row["kind"], row["code"]) for row in rows] == [
        ("MARKET", "machine", "SC-1"),
        ("MARKET", "tool", "white_pad"),
        ("MARKET", "product", "neutral_cleaner"),
        ("MARKET", "to recover", ""),
        ("CLINIC", "machine", "rotary"),
        ("CLINIC", "tool", "resin_800"),
        ("CLINIC", "to recover", ""),
    ]
    product = rows[2]
    assert (product["volume L"], product["water L"], product["estimate"]) == ("0.5", "64.0", "yes")
    assert (rows[5]["pieces"], rows[5]["sets used up"]) == ("3", "")
    assert all(None not in row for row in rows)
