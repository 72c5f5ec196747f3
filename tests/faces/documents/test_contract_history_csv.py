import csv
import dataclasses
import io

from floorcare.faces.documents.contract_history_csv import HEADER, write_contract_history_csv
from floorcare.services.show_contracts import ContractHistory
from tests.golden.contract_sheets import HISTORY, ROWS


def rows(history: ContractHistory) -> list[dict[str, str]]:
    text = write_contract_history_csv(history).decode("utf-8-sig")
    return list(csv.DictReader(io.StringIO(text, newline=""), strict=True))


def test_there_is_a_row_for_each_zone_work_and_night():
    found = rows(HISTORY)
    assert len(found) == len(ROWS)
    assert list(found[0]) == list(HEADER)
    assert {row["contract"] for row in found} == {"K-7"}


def test_figures_are_numbers_and_what_is_not_known_is_empty():
    coat, burnished, cleaned, part, slip, *_ = rows(HISTORY)
    assert (coat["date known"], coat["about days"], coat["share of zone %"]) == (
        "about",
        "15",
        "100.0",
    )
    assert (burnished["value"], burnished["share of reference %"]) == ("53.24", "94.1")
    assert (cleaned["state when read"], cleaned["share of reference %"]) == ("after cleaning", "")
    assert (part["share of zone %"], part["about days"]) == ("40.0", "")
    assert (slip["measure"], slip["limit"], slip["passes"]) == ("wet DCOF", "0.45", "no")
    assert (coat["passes"], coat["value"], coat["limit"]) == ("", "", "")


def test_no_fee_stands_in_the_table():
    assert not any("fee" in name for name in HEADER)
    assert b"1850" not in write_contract_history_csv(HISTORY)


def test_a_performer_typed_like_a_formula_is_inert():
    first = dataclasses.replace(ROWS[0], performer="=1+1")
    (row,) = rows(dataclasses.replace(HISTORY, rows=(first,)))
    assert row["by"] == "'=1+1"


def test_a_term_without_rows_is_a_heading():
    assert rows(dataclasses.replace(HISTORY, rows=())) == []
