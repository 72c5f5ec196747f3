import csv
import io
from dataclasses import replace

from floorcare.faces.documents.material_order_csv import write_material_order_csv
from tests.golden.loads import ORDERED


def table(sheet=ORDERED):
    text = write_material_order_csv(sheet).decode("utf-8-sig")
    return list(csv.DictReader(io.StringIO(text)))


def test_each_material_has_a_row_and_what_is_not_reckoned_stands_below():
    late, enough, left_out = table()
    assert (late["packs"], late["quantity"], late["order by"], late["overdue"]) == (
        "1",
        "10.0",
        "2026-02-23",
        "yes",
    )
    assert (enough["unit"], enough["short on"], enough["amount"]) == ("pieces", "", "")
    assert left_out["material"] == "'=sealer"
    assert left_out["finding"].startswith("supplies.csv: nobody said")


def test_us_branches_read_gallons_and_pieces_stay_pieces():
    late, enough, _ = table(replace(ORDERED, units="US"))
    assert (late["unit"], late["quantity"]) == ("gal", "2.64")
    assert (enough["unit"], enough["held"]) == ("pieces", "20.0")
